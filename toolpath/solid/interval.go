package solid

import "math"

// interval holds a real number: lo <= x <= hi. Every operation rounds outward,
// and only where it has to.
//
// Why it is enough. Let s be the float nearest to the true result x. The error
// e = x - s has a sign that can be had exactly: for a sum it is itself a float,
// found by Knuth's two-sum; for a product, a quotient and a root it is the sign
// of fma(a, b, -s), fma(-s, b, a) (turned by the sign of b) and fma(-s, s, a),
// since a fused operation rounds once and so never changes a sign or makes
// nought of what is not nought, unless it underflows. If e is not negative, s
// itself is a lower bound; if it is, the float below s is one, because s is the
// float nearest to x. Likewise above. Where nothing was rounded, e is nought
// and an interval of one point stays one: whole numbers stay whole.
//
// Underflow: the error of a product is a multiple of the product of the two
// last places, at least 2^-107 times the product; that of a quotient or a root
// is compared at the scale of the operand in the same way. So with that operand
// at least 2^-900 nothing of the error falls below 2^-1074, the least float.
// Below 2^-900 the result is widened without asking.
//
// Overflow makes the error a NaN, which counts as rounded: the infinite bound
// on the inner side becomes the greatest float.
type interval struct{ lo, hi float64 }

const tiny = 0x1p-900

func point(x float64) interval { return interval{x, x} }

// whole is the interval of an integer. Floats hold all of them to 2^53.
func whole[T ~int64](n T) interval {
	f := float64(n)
	if n >= -1<<53 && n <= 1<<53 {
		return interval{f, f}
	}
	return interval{below(f), above(f)}
}

func below(x float64) float64 { return math.Nextafter(x, math.Inf(-1)) }
func above(x float64) float64 { return math.Nextafter(x, math.Inf(1)) }

// sumError is a+b-s for s the float sum: exact unless s is infinite.
func sumError(a, b, s float64) float64 {
	bb := s - a
	return (a - (s - bb)) + (b - bb)
}

func addDown(a, b float64) float64 {
	s := a + b
	if sumError(a, b, s) >= 0 {
		return s
	}
	return below(s)
}

func addUp(a, b float64) float64 {
	s := a + b
	if sumError(a, b, s) <= 0 {
		return s
	}
	return above(s)
}

func (x interval) plus(y interval) interval {
	return interval{addDown(x.lo, y.lo), addUp(x.hi, y.hi)}
}

func (x interval) neg() interval { return interval{-x.hi, -x.lo} }

func (x interval) minus(y interval) interval { return x.plus(y.neg()) }

// product is the interval of a*b.
func product(a, b float64) interval {
	if a == 0 || b == 0 {
		return interval{}
	}
	p := float64(a * b)
	if math.Abs(p) < tiny {
		return interval{below(p), above(p)}
	}
	return around(p, math.FMA(a, b, -p))
}

// around is the interval of s+e for an s that is the float nearest to it.
func around(s, e float64) interval {
	switch {
	case e == 0:
		return interval{s, s}
	case e > 0:
		return interval{s, above(s)}
	case e < 0:
		return interval{below(s), s}
	}
	return interval{below(s), above(s)} // overflow
}

func (x interval) times(y interval) interval {
	p := product(x.lo, y.lo)
	if x.lo == x.hi && y.lo == y.hi {
		return p
	}
	p = p.join(product(x.hi, y.hi))
	return p.join(product(x.lo, y.hi)).join(product(x.hi, y.lo))
}

func (x interval) square() interval {
	l, h := product(x.lo, x.lo), product(x.hi, x.hi)
	if x.lo >= 0 {
		return interval{l.lo, h.hi}
	}
	if x.hi <= 0 {
		return interval{h.lo, l.hi}
	}
	return interval{0, math.Max(l.hi, h.hi)}
}

// join is the least interval that holds both.
func (x interval) join(y interval) interval {
	return interval{math.Min(x.lo, y.lo), math.Max(x.hi, y.hi)}
}

// max holds the greater of the two numbers.
func (x interval) max(y interval) interval {
	return interval{math.Max(x.lo, y.lo), math.Max(x.hi, y.hi)}
}

// min holds the less of the two numbers.
func (x interval) min(y interval) interval {
	return interval{math.Min(x.lo, y.lo), math.Min(x.hi, y.hi)}
}

// quotient is the interval of a/b, b > 0.
func quotient(a, b float64) interval {
	if a == 0 {
		return interval{}
	}
	q := a / b
	if math.Abs(a) < tiny || math.Abs(q) < tiny {
		return interval{below(q), above(q)}
	}
	return around(q, math.FMA(-q, b, a))
}

// over is x/y. Where y is not surely above nought, nothing is known.
func (x interval) over(y interval) interval {
	if !(y.lo > 0) {
		return interval{math.Inf(-1), math.Inf(1)}
	}
	q := quotient(x.lo, y.lo)
	if x.lo == x.hi && y.lo == y.hi {
		return q
	}
	q = q.join(quotient(x.hi, y.hi))
	return q.join(quotient(x.lo, y.hi)).join(quotient(x.hi, y.lo))
}

func rootOf(a float64) interval {
	if a <= 0 {
		return interval{}
	}
	s := math.Sqrt(a)
	if a < tiny {
		return interval{below(s), above(s)}
	}
	return around(s, math.FMA(-s, s, a))
}

// root is the square root of a number that is not negative; what of x lies
// below nought is rounding.
func (x interval) root() interval {
	l := rootOf(x.lo)
	if x.lo == x.hi {
		return l
	}
	return interval{l.lo, rootOf(x.hi).hi}
}
