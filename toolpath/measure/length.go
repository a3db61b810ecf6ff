package measure

import (
	"fmt"
	"math/bits"
)

// Length is a distance or a position: a whole number of tenths of a nanometre.
// Values that are read lie within plus and minus [MaxLength]; sums and
// differences of a few of them cannot overflow.
type Length int64

// Exact lengths. 1 in is 25.4 mm by definition (International yard and pound
// agreement, 1959; also ISO 31-1), so all of these are whole.
const (
	TenthNanometre Length = 1
	Micrometre     Length = 10_000
	Millimetre     Length = 10_000_000
	Thou           Length = 254_000
	Inch           Length = 254_000_000
	Foot           Length = 12 * Inch
	Metre          Length = 1_000 * Millimetre

	// MaxLength bounds every length that is read: 100 m. Its square fits 128
	// bits with room, and a float64 holds it exactly.
	MaxLength = 100 * Metre
)

// Rounding says which way a figure falls when it is put on a grid.
type Rounding uint8

const (
	Nearest Rounding = iota // to the nearest step, a half away from nought
	Floor                   // to the step at or below
	Ceil                    // to the step at or above
)

// Abs is the length without its sign.
func (l Length) Abs() Length {
	if l < 0 {
		return -l
	}
	return l
}

// Round puts l on the grid of whole steps from nought. The step must be
// positive.
func (l Length) Round(step Length, way Rounding) Length {
	return Length(divide(int64(l), int64(step), way)) * step
}

// Half is l divided by two, rounded the way asked; nothing is lost where l is
// even, as every diameter that was read is.
func (l Length) Half(way Rounding) Length { return Length(divide(int64(l), 2, way)) }

// divide is n/d rounded the way asked, for d > 0.
func divide(n, d int64, way Rounding) int64 {
	if d <= 0 {
		panic(fmt.Sprintf("measure: division by %d", d))
	}
	q, r := n/d, n%d
	if r < 0 { // make q the floor and 0 <= r < d
		q, r = q-1, r+d
	}
	switch way {
	case Ceil:
		if r > 0 {
			q++
		}
	case Nearest:
		// half away from nought: up for a positive n, down for a negative one
		if r > d-r || (r == d-r && n > 0) {
			q++
		}
	}
	return q
}

// MulDiv is l*num/den rounded the way asked, with the product held in 128
// bits. den must not be nought. It panics where the result is beyond 2^62
// (460 km), which no product of figures that were read is.
func (l Length) MulDiv(num, den int64, way Rounding) Length {
	if den == 0 {
		panic(fmt.Sprintf("measure: ratio %d/%d", num, den))
	}
	neg := (l < 0) != (num < 0) != (den < 0)
	d := size(den)
	hi, lo := bits.Mul64(size(int64(l)), size(num))
	if hi >= d {
		panic("measure: product overflows")
	}
	q, r := bits.Div64(hi, lo, d)
	up := false // whether the magnitude grows by one
	switch way {
	case Floor:
		up = neg && r > 0
	case Ceil:
		up = !neg && r > 0
	default:
		up = r > 0 && r >= d-r
	}
	if q >= 1<<62 {
		panic("measure: product overflows")
	}
	if up {
		q++
	}
	if neg {
		return -Length(q)
	}
	return Length(q)
}

// size is n without its sign; for the least int64 too.
func size(n int64) uint64 {
	if n < 0 {
		return -uint64(n)
	}
	return uint64(n)
}
