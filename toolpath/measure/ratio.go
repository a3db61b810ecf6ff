package measure

import (
	"fmt"
	"math"
	"math/big"
)

// Ratio is an exact fraction, kept in lowest terms with Den > 0: a screw's
// lead in tenths of a nanometre for one turn (14/11 mm), the lines of a dial
// (62.5), an error for each length (0.02 mm in 300 mm). The zero Ratio is not
// valid; see [NewRatio].
type Ratio struct{ Num, Den int64 }

// NewRatio is num/den in lowest terms. den must not be nought; it panics also
// where a part of the result is -2^63 made positive.
func NewRatio(num, den int64) Ratio {
	if den == 0 {
		panic("measure: ratio with nothing below the line")
	}
	n, d := size(num), size(den)
	g := gcd(n, d)
	n, d = n/g, d/g
	if n > math.MaxInt64 || d > math.MaxInt64 {
		panic(fmt.Sprintf("measure: ratio %d/%d does not fit", num, den))
	}
	if (num < 0) != (den < 0) {
		return Ratio{-int64(n), int64(d)}
	}
	return Ratio{int64(n), int64(d)}
}

// gcd is the greatest common divisor; b must not be nought.
func gcd(a, b uint64) uint64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// IsZero tells whether the ratio is nought or was never set.
func (r Ratio) IsZero() bool { return r.Num == 0 }

// Over is r divided by s, exact. It fails where the result does not fit 63
// bits above and below the line.
func (r Ratio) Over(s Ratio) (Ratio, error) {
	if s.Num == 0 {
		return Ratio{}, fmt.Errorf("a ratio divided by nought")
	}
	n := new(big.Int).Mul(big.NewInt(r.Num), big.NewInt(s.Den))
	d := new(big.Int).Mul(big.NewInt(r.Den), big.NewInt(s.Num))
	q := new(big.Rat).SetFrac(n, d)
	if !q.Num().IsInt64() || !q.Denom().IsInt64() {
		return Ratio{}, fmt.Errorf("the ratio %s is too fine to hold", q.RatString())
	}
	return Ratio{q.Num().Int64(), q.Denom().Int64()}, nil
}

// Steps is how many times the ratio r (tenths of a nanometre for one) goes
// into l, rounded the way asked. r must not be nought.
func (r Ratio) Steps(l Length, way Rounding) int64 {
	return int64(l.MulDiv(r.Den, r.Num, way))
}

// Times is n of r as a length, rounded the way asked.
func (r Ratio) Times(n int64, way Rounding) Length {
	return Length(n).MulDiv(r.Num, r.Den, way)
}

// Of is l times r, rounded the way asked; nothing of it where r was not said.
func (r Ratio) Of(l Length, way Rounding) Length {
	if r.IsZero() {
		return 0
	}
	return l.MulDiv(r.Num, r.Den, way)
}
