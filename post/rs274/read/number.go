package read

import (
	"math/bits"
	"time"

	"stopshort/toolpath/measure"
)

// number is a number as it stands in the text: digits divided by ten so many
// times. Noughts at either end are gone, so that a number has one form; nought
// is never negative.
type number struct {
	digits uint64 // at most 18 of them
	tens   uint8  // at most 18
	neg    bool
}

// maxDigits is the most digits that matter in a number. Tenths of a nanometre up
// to 100 m need 12.
const maxDigits = 18

var powersOfTen = [maxDigits + 1]uint64{
	1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9,
	1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18,
}

// parseNumber reads a number at the head of b: an optional sign, digits, at most
// one point among them. Spaces and tabs may stand anywhere and mean nothing
// (NISTIR 6556, 3.3.2). It gives how much of b it took.
func parseNumber(b []byte) (n number, took int, err *Error) {
	i := skipBlanks(b, 0)
	if i < len(b) && (b[i] == '+' || b[i] == '-') {
		n.neg = b[i] == '-'
		i = skipBlanks(b, i+1)
	}
	if i < len(b) && (b[i] == '#' || b[i] == '[') {
		return n, i, fault(NotFollowed, "a parameter or an expression cannot be followed: write a number")
	}
	any, point := false, false
	digits, tens := uint64(0), 0
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
		for ; noughts > 0; noughts-- {
			digits, tens = digits*10, tens+1
			if digits >= powersOfTen[maxDigits] || tens > maxDigits {
				return n, i, tooFine()
			}
		}
		digits = digits*10 + uint64(c-'0')
		if point {
			tens++
		}
		if digits >= powersOfTen[maxDigits] || tens > maxDigits {
			return n, i, tooFine()
		}
	}
	if !any {
		return n, i, fault(BadNumber, "a letter without a number")
	}
	n.digits, n.tens = digits, uint8(tens)
	n.neg = n.neg && digits != 0
	return n, i, nil
}

func tooFine() *Error {
	return fault(NotFollowed, "a number of more than %d digits cannot be held", maxDigits)
}

func skipBlanks(b []byte, i int) int {
	for i < len(b) && (b[i] == ' ' || b[i] == '\t') {
		i++
	}
	return i
}

// times is the number's size times unit; ok is false where that is not whole or
// is over most, which must be positive and under 1e18.
func (n number) times(unit, most int64) (v int64, ok bool) {
	hi, lo := bits.Mul64(n.digits, uint64(unit))
	d := powersOfTen[n.tens]
	if hi >= d {
		return 0, false
	}
	q, r := bits.Div64(hi, lo, d)
	if r != 0 || q > uint64(most) {
		return 0, false
	}
	if n.neg {
		return -int64(q), true
	}
	return int64(q), true
}

// whole is the number where it is whole and at most most, either way.
func (n number) whole(most int64) (int64, bool) { return n.times(1, most) }

// length is the number of units, exact.
func (n number) length(letter byte, unit measure.Length) (measure.Length, *Error) {
	v, ok := n.times(int64(unit), int64(measure.MaxLength))
	if !ok {
		return 0, fault(NotFollowed, "%c cannot be held: it is over 100 m or finer than a tenth of a nanometre", letter)
	}
	return measure.Length(v), nil
}

// feed is the number of units a minute, exact.
func (n number) feed(unit measure.Length) (measure.Feed, *Error) {
	v, ok := n.times(int64(unit), int64(measure.MaxLength))
	if !ok {
		return 0, fault(NotFollowed, "the feed cannot be held: it is over 100 m a minute or finer than a tenth of a nanometre a minute")
	}
	return measure.Feed(v), nil
}

// speed is the number of turns a minute, exact.
func (n number) speed() (measure.Speed, *Error) {
	v, ok := n.times(int64(measure.RPM), 1_000_000*int64(measure.RPM))
	if !ok {
		return 0, fault(NotFollowed, "the speed cannot be held: it is over 1000000 or finer than a thousandth of a turn a minute")
	}
	return measure.Speed(v), nil
}

// time is the number of units of time, exact to a nanosecond.
func (n number) time(unit time.Duration) (measure.Time, *Error) {
	v, ok := n.times(int64(unit), int64(24*time.Hour))
	if !ok {
		return 0, fault(NotFollowed, "the dwell cannot be held: it is over a day or finer than a nanosecond")
	}
	return measure.Time(v), nil
}
