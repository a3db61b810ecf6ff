package write

import (
	"strconv"
	"time"

	"stopshort/toolpath/measure"
)

// grid is the steps in which a program's lengths and feeds are printed.
type grid struct {
	unit   measure.Unit // MM or In
	places int          // decimals of a coordinate
}

var powers = [...]int64{1, 10, 100, 1_000, 10_000, 100_000}

// step is the least length that shows; it is whole for up to 5 places, since an
// inch is 254 000 000.
func (g grid) step() measure.Length { return g.unit.Size() / measure.Length(powers[g.places]) }

// feedPlaces is the decimals of a feed: 0.1 mm/min or 0.01 in/min.
func (g grid) feedPlaces() int {
	if g.unit == measure.In {
		return 2
	}
	return 1
}

// steps is l counted in steps; ok is false where l lies between two.
func (g grid) steps(l measure.Length) (n int64, ok bool) {
	s := g.step()
	return int64(l / s), l%s == 0
}

// feedSteps is f counted in the steps of a feed.
func (g grid) feedSteps(f measure.Feed) (n int64, ok bool) {
	s := measure.Feed(int64(g.unit.Size()) / powers[g.feedPlaces()])
	return int64(f / s), f%s == 0
}

// fixed prints n steps with so many places, point and all. Nought has no sign.
func fixed(b []byte, n int64, places int) []byte {
	if n < 0 {
		b = append(b, '-')
		n = -n
	}
	b = strconv.AppendInt(b, n/powers[places], 10)
	b = append(b, '.')
	rest := n % powers[places]
	for p := places - 1; p >= 0; p-- {
		b = append(b, byte('0'+rest/powers[p]%10))
	}
	return b
}

// figure prints a length for a person, without its unit: to 0.0001 mm or
// 0.00001 in, noughts at the end left off down to 1 and 3 places.
func (g grid) figure(l measure.Length) string {
	places, least := 4, 1
	if g.unit == measure.In {
		places, least = 5, 3
	}
	step := g.unit.Size() / measure.Length(powers[places])
	b := fixed(nil, int64(l.Round(step, measure.Nearest)/step), places)
	for ; places > least && b[len(b)-1] == '0'; places-- {
		b = b[:len(b)-1]
	}
	return string(b)
}

// seconds prints a time with one place, or two where it needs them; ok is false
// where two are not enough.
func seconds(t measure.Time) (s string, ok bool) {
	switch {
	case t%(100*time.Millisecond) == 0:
		return string(fixed(nil, int64(t/(100*time.Millisecond)), 1)), true
	case t%(10*time.Millisecond) == 0:
		return string(fixed(nil, int64(t/(10*time.Millisecond)), 2)), true
	}
	return "", false
}
