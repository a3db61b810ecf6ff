package read

import (
	"math/bits"
	"time"

	"stopshort/toolpath/measure"
)

// number is a number as it stands in the text: digits divided by ten so many
// times. Nought is never negative.
type number struct {
	digits uint64 // under 1e18
	tens   uint8  // at most 18
	neg    bool
	more   bool // its size is larger, by less than one of its last place
	huge   bool // it has no value here: it is 1e18 or more
}

// maxDigits is the most digits that are held of a number. Tenths of a nanometre
// up to 100 m need 12.
const maxDigits = 18

var powersOfTen = [maxDigits + 1]uint64{
	1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9,
	1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18,
}

// parseNumber reads a number at the head of b: an optional sign, digits, at most
// one point among them. Spaces and tabs may stand anywhere and mean nothing
// (NISTIR 6556, 3.3.2). It gives how much of b it took; any is false where there
// is no digit.
func parseNumber(b []byte) (n number, took int, any bool) {
	i := skipBlanks(b, 0)
	if i < len(b) && (b[i] == '+' || b[i] == '-') {
		n.neg = b[i] == '-'
		i = skipBlanks(b, i+1)
	}
	point := false
	noughts := 0 // behind the point and not counted yet
	for ; i < len(b); i++ {
		c := b[i]
		if c == ' ' || c == '\t' {
			continue
		}
		if c == '.' && !point {
			point = true
			continue
		}
		if c < '0' || c > '9' {
			break
		}
		any = true
		if point && c == '0' {
			noughts++
			continue
		}
		n.add(c-'0', point, noughts)
		noughts = 0
	}
	n.neg = n.neg && (n.digits != 0 || n.more || n.huge)
	return n, i, any
}

// add puts one digit more behind the number, and noughts before it.
func (n *number) add(d byte, point bool, noughts int) {
	if !point {
		if n.huge = n.huge || n.digits >= powersOfTen[maxDigits-1]; !n.huge {
			n.digits = n.digits*10 + uint64(d)
		}
		return
	}
	if n.more {
		return
	}
	for k := noughts; k >= 0; k-- {
		if n.digits >= powersOfTen[maxDigits-1] || n.tens == maxDigits {
			n.more = true
			return
		}
		n.digits, n.tens = n.digits*10, n.tens+1
	}
	n.digits += uint64(d)
}

func skipBlanks(b []byte, i int) int {
	for i < len(b) && (b[i] == ' ' || b[i] == '\t') {
		i++
	}
	return i
}

// times is the number's size times unit; exact is false where that is not whole,
// and then v is less than 1 from the true value, towards nought unless digits were
// left out. ok is false where it is over most, which must be positive and under 1e18.
func (n number) times(unit, most int64) (v int64, exact, ok bool) {
	hi, lo := bits.Mul64(n.digits, uint64(unit))
	d := powersOfTen[n.tens]
	if hi >= d || n.huge {
		return 0, false, false
	}
	q, r := bits.Div64(hi, lo, d)
	// What is missing behind the last digit is under unit/d, and what is left of
	// the division under 1; both together may come to one more than unit/d.
	exact = r == 0 && !n.more
	if n.more && uint64(unit) > d {
		return 0, false, false // cannot be bounded by 1: no number of use is so long
	}
	if n.more && r+uint64(unit) > d {
		q++ // towards the far side: out by less than 1 either way
	}
	if q > uint64(most) || q == uint64(most) && !exact {
		return 0, false, false
	}
	if n.neg {
		return -int64(q), exact, true
	}
	return int64(q), exact, true
}

// whole is the number where it is whole and at most most, either way.
func (n number) whole(most int64) (int64, bool) {
	v, exact, ok := n.times(1, most)
	return v, ok && exact
}

// zero tells whether it is nought.
func (n number) zero() bool { return n.digits == 0 && !n.more && !n.huge }

// length is the number of units; slack is how far it may be from the true value.
func (n number) length(unit measure.Length) (v, slack measure.Length, ok bool) {
	x, exact, ok := n.times(int64(unit), int64(measure.MaxLength))
	if !exact {
		slack = 1
	}
	return measure.Length(x), slack, ok
}

// feed is the number of units a minute, rounded up; nought where it is not above
// nought or cannot be held.
func (n number) feed(unit measure.Length) measure.Feed {
	v, exact, ok := n.times(int64(unit), int64(measure.MaxLength))
	if !ok || n.neg {
		return 0
	}
	if !exact {
		v++
	}
	return measure.Feed(v)
}

// speed is the number of turns a minute, rounded up; nought where it is not
// above nought or over a million.
func (n number) speed() measure.Speed {
	v, exact, ok := n.times(int64(measure.RPM), 1_000_000*int64(measure.RPM))
	if !ok || n.neg {
		return 0
	}
	if !exact {
		v++
	}
	return measure.Speed(v)
}

// time is the number of units of time, rounded down to a nanosecond; at most a
// day.
func (n number) time(unit time.Duration) measure.Time {
	v, _, ok := n.times(int64(unit), int64(24*time.Hour))
	if n.neg {
		return 0
	}
	if !ok {
		return 24 * time.Hour
	}
	return measure.Time(v)
}
