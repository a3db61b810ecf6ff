package outline

import "math/big"

// surd is the number (p + q√d)/w, exact: all four whole, d not negative and w
// above nought. floor is the whole number at or below it; it settles most
// comparisons. Coordinates that are read lie within 2^40 and sums of them
// within 2^43, so that floor has room.
type surd struct {
	p, q, d, w *big.Int
	floor      int64
}

var nought, one, two = new(big.Int), big.NewInt(1), big.NewInt(2)

func newSurd(p, q, d, w *big.Int) surd {
	if q.Sign() == 0 || d.Sign() == 0 {
		q, d = nought, nought
	}
	s := surd{p: p, q: q, d: d, w: w}
	s.floor = floorOf(p, q, d, w).Int64()
	return s
}

func wholeSurd(n int64) surd {
	return surd{p: big.NewInt(n), q: nought, d: nought, w: one, floor: n}
}

// floorOf is the whole number at or below (p + q√d)/w. Since w and p are whole
// it is that of (p + f)/w with f the whole number at or below q√d.
func floorOf(p, q, d, w *big.Int) *big.Int {
	f := new(big.Int).Set(p)
	if q.Sign() != 0 {
		n := mul(mul(q, q), d)
		r := new(big.Int).Sqrt(n)
		if q.Sign() < 0 {
			if mul(r, r).Cmp(n) < 0 {
				r.Add(r, one)
			}
			r.Neg(r)
		}
		f.Add(f, r)
	}
	return floorDiv(f, w)
}

// floorDiv is the whole number at or below a/b, for b > 0. Euclid's division
// is that.
func floorDiv(a, b *big.Int) *big.Int { return new(big.Int).Div(a, b) }

// nearest is the whole number nearest to the surd, a half away from nought.
func (s surd) nearest() int64 {
	sign := signOf(s.p, s.q, s.d)
	p, q := new(big.Int).Mul(s.p, two), new(big.Int).Mul(s.q, two)
	if sign < 0 {
		p.Neg(p)
		q.Neg(q)
	}
	n := floorOf(p.Add(p, s.w), q, s.d, mul(two, s.w)).Int64()
	if sign < 0 {
		return -n
	}
	return n
}

// scaled is the whole number at or below the surd times 2^bits.
func (s surd) scaled(bits uint) *big.Int {
	return floorOf(new(big.Int).Lsh(s.p, bits), new(big.Int).Lsh(s.q, bits), s.d, s.w)
}

// compare is the sign of s - o.
func (s surd) compare(o surd) int {
	switch {
	case s.floor < o.floor:
		return -1
	case s.floor > o.floor:
		return 1
	}
	// Over the common w: a + b√d - c√e.
	a := sub(mul(s.p, o.w), mul(o.p, s.w))
	return signOfTwo(a, mul(s.q, o.w), s.d, new(big.Int).Neg(mul(o.q, s.w)), o.d)
}

// compareWhole is the sign of s - n.
func (s surd) compareWhole(n int64) int {
	if s.floor < n {
		return -1
	}
	if s.floor > n {
		return 1
	}
	return signOf(sub(s.p, mul(big.NewInt(n), s.w)), s.q, s.d)
}

// mirrored is 2n - s: the same distance on the other side of n.
func (s surd) mirrored(n int64) surd {
	p := sub(mul(big.NewInt(2*n), s.w), s.p)
	return newSurd(p, new(big.Int).Neg(s.q), s.d, s.w)
}

// signOf is the sign of a + b√d.
func signOf(a, b, d *big.Int) int {
	sa, sb := a.Sign(), b.Sign()*d.Sign()
	switch {
	case sb == 0:
		return sa
	case sa == 0 || sa == sb:
		return sb
	}
	// Opposite signs: the one with the greater square wins.
	return sa * mul(a, a).Cmp(mul(mul(b, b), d))
}

// signOfTwo is the sign of a + b√d + c√e.
func signOfTwo(a, b, d, c, e *big.Int) int {
	sa, sb, sc := a.Sign(), b.Sign()*d.Sign(), c.Sign()*e.Sign()
	bb, cc := mul(mul(b, b), d), mul(mul(c, c), e)
	st := sb // the sign of b√d + c√e
	switch {
	case sb == 0:
		st = sc
	case sc != 0 && sc != sb:
		st = sb * bb.Cmp(cc)
	}
	if st == 0 || sa == st {
		return sa
	}
	if sa == 0 {
		return st
	}
	// Opposite signs: a² against (b√d + c√e)² = bb + cc + 2bc√(de).
	rest := sub(sub(mul(a, a), bb), cc)
	return sa * signOf(rest, new(big.Int).Mul(mul(b, c), big.NewInt(-2)), mul(d, e))
}

func mul(a, b *big.Int) *big.Int { return new(big.Int).Mul(a, b) }
func add(a, b *big.Int) *big.Int { return new(big.Int).Add(a, b) }
func sub(a, b *big.Int) *big.Int { return new(big.Int).Sub(a, b) }
