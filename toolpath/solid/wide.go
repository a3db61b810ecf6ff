package solid

import (
	"math"
	"math/bits"
)

// wide is a signed whole number of 128 bits, in two's complement. Every length
// that gets here is within Far, so that differences and their doubles stay below
// 2^48, and sums of a few products of two of those below 2^99.
type wide struct {
	hi int64
	lo uint64
}

func wideProduct(a, b int64) wide {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	h := int64(hi)
	if a < 0 {
		h -= b
	}
	if b < 0 {
		h -= a
	}
	return wide{h, lo}
}

func (x wide) plus(y wide) wide {
	lo, carry := bits.Add64(x.lo, y.lo, 0)
	hi, _ := bits.Add64(uint64(x.hi), uint64(y.hi), carry)
	return wide{int64(hi), lo}
}

func (x wide) neg() wide {
	lo, borrow := bits.Sub64(0, x.lo, 0)
	hi, _ := bits.Sub64(0, uint64(x.hi), borrow)
	return wide{int64(hi), lo}
}

func (x wide) minus(y wide) wide { return x.plus(y.neg()) }

func (x wide) sign() int {
	switch {
	case x.hi < 0:
		return -1
	case x.hi == 0 && x.lo == 0:
		return 0
	}
	return 1
}

func (x wide) abs() wide {
	if x.hi < 0 {
		return x.neg()
	}
	return x
}

func (x wide) less(y wide) bool {
	return x.hi < y.hi || x.hi == y.hi && x.lo < y.lo
}

// float is about x, within a few parts in 2^53.
func (x wide) float() float64 {
	if x.hi < 0 {
		return -x.neg().float()
	}
	return float64(float64(x.hi)*0x1p64) + float64(x.lo)
}

// times is the product of two numbers that are not negative, in 256 bits, the
// greatest word first.
func (x wide) times(y wide) [4]uint64 {
	h1, l1 := bits.Mul64(x.lo, y.lo)
	h2, l2 := bits.Mul64(uint64(x.hi), y.lo)
	h3, l3 := bits.Mul64(x.lo, uint64(y.hi))
	h4, l4 := bits.Mul64(uint64(x.hi), uint64(y.hi))
	w1, c1 := bits.Add64(h1, l2, 0)
	w1, c2 := bits.Add64(w1, l3, 0)
	w2, c3 := bits.Add64(h2, h3, c1)
	w2, c4 := bits.Add64(w2, l4, c2)
	return [4]uint64{h4 + c3 + c4, w2, w1, l1}
}

func compare(x, y [4]uint64) int {
	for i := range x {
		if x[i] != y[i] {
			if x[i] < y[i] {
				return -1
			}
			return 1
		}
	}
	return 0
}

// surd is a number that need not be whole: floor <= x < floor+1, and whole
// tells that x is floor.
type surd struct {
	floor int64
	whole bool
}

func (s surd) ceil() int64 {
	if s.whole {
		return s.floor
	}
	return s.floor + 1
}

func (s surd) neg() surd { return surd{-s.ceil(), s.whole} }

func (s surd) less(o surd) bool {
	return s.floor < o.floor || s.floor == o.floor && s.whole && !o.whole
}

// wideRoot is the square root of a number that is not negative. The float root
// is a guess, and whole numbers settle it.
func wideRoot(x wide) surd {
	k := int64(math.Sqrt(x.float()))
	for x.less(wideProduct(k, k)) {
		k--
	}
	for !x.less(wideProduct(k+1, k+1)) {
		k++
	}
	return surd{k, wideProduct(k, k) == x}
}

// wideRatio is n divided by the square root of d, for n not negative and d
// above nought: the greatest k with k k d <= n n. The result must be below
// 2^48, as it is where d is the square of a vector and n a product of that
// vector with another. Then the float quotient is a guess good to less than
// one, and whole numbers settle it.
func wideRatio(n, d wide) surd {
	nn := n.times(n)
	k := int64(n.float() / math.Sqrt(d.float()))
	for k > 0 && compare(wideProduct(k, k).times(d), nn) > 0 {
		k--
	}
	for compare(wideProduct(k+1, k+1).times(d), nn) <= 0 {
		k++
	}
	return surd{k, compare(wideProduct(k, k).times(d), nn) == 0}
}
