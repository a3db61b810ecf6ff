package measure

import "math/big"

// Part is a fraction between -1 and 1, held to 2^-96: a sine or a cosine.
// The zero Part is not valid; see [Angle.SinCos].
type Part struct{ n *big.Int }

const partBits = 96

// pi to 2^-128, rounded down: floor(pi * 2^128). The digits are those of the
// binary expansion (hexadecimal 3.243F6A88 85A308D3 13198A2E 03707344 A4...),
// checked in the tests against Machin's formula.
var piBits, _ = new(big.Int).SetString("3243F6A8885A308D313198A2E03707344", 16)

// SinCos is the sine and the cosine of the angle, each within 2^-80 of the
// truth, in whole numbers so that every processor gives the same. Right angles
// give exactly 0, 1 and -1.
func (a Angle) SinCos() (sin, cos Part) {
	a %= FullTurn
	if a < 0 {
		a += FullTurn
	}
	quarter, rest := a/(90*Degree), a%(90*Degree)
	s, c := sincosQuarter(rest)
	switch quarter {
	case 1:
		s, c = c, new(big.Int).Neg(s)
	case 2:
		s, c = new(big.Int).Neg(s), new(big.Int).Neg(c)
	case 3:
		s, c = new(big.Int).Neg(c), s
	}
	return Part{s}, Part{c}
}

// sincosQuarter sums the two power series for an angle from nought to below a
// right angle. Below pi/2 the terms fall faster than 1.6^k/k!, so that those
// left out once a term is nought add less than one unit; each of some forty
// terms is cut off by less than one unit of 2^-128.
func sincosQuarter(a Angle) (s, c *big.Int) {
	const bits = 128
	x := new(big.Int).Mul(piBits, big.NewInt(int64(a)))
	x.Quo(x, big.NewInt(int64(180*Degree)))
	s, c = new(big.Int), new(big.Int)
	term := new(big.Int).Lsh(big.NewInt(1), bits)
	for k := int64(0); term.Sign() != 0; k++ {
		to := c
		if k%2 == 1 {
			to = s
		}
		if k%4 < 2 {
			to.Add(to, term)
		} else {
			to.Sub(to, term)
		}
		term.Mul(term, x)
		term.Rsh(term, bits)
		term.Quo(term, big.NewInt(k+1))
	}
	return s.Rsh(s, bits-partBits), c.Rsh(c, bits-partBits)
}

// Of is the part of a length, within one tenth of a nanometre.
func (p Part) Of(l Length) Length {
	v := new(big.Int).Mul(p.n, big.NewInt(int64(l)))
	half := new(big.Int).Lsh(big.NewInt(1), partBits-1)
	v.Add(v, half)
	v.Rsh(v, partBits) // floor, so with the half above: to nearest
	return Length(v.Int64())
}

// Under is a length divided by the part, within one tenth of a nanometre, and
// kept within ten times [MaxLength]. The part must not be nought.
func (p Part) Under(l Length) Length {
	v := new(big.Int).Lsh(big.NewInt(int64(l)), partBits)
	v.Quo(v, p.n)
	if most := int64(10 * MaxLength); !v.IsInt64() || v.Int64() > most || v.Int64() < -most {
		if v.Sign() < 0 {
			most = -most
		}
		return Length(most)
	}
	return Length(v.Int64())
}

// Over is l times p divided by q, rounded the way asked: with [Floor] never
// above the truth and with [Ceil] never below it, though p and q are held to
// 2^-80 only. It is kept within ten times [MaxLength]. q must not be nought.
//
// The bound: p and q each lie within e = 2^-80 of the truth, so that the truth
// lies between l(p-e)/(q+e) and l(p+e)/(q-e), in sizes. Parts that are exactly
// 0 or 1 come of right angles alone (the least other angle is 4.8e-12, whose
// cosine is 1.2e-23 below one, more than e) and have no error.
func (p Part) Over(q Part, l Length, way Rounding) Length {
	neg := (p.n.Sign() < 0) != (q.n.Sign() < 0) != (l < 0)
	if neg && way == Floor {
		way = Ceil
	} else if neg && way == Ceil {
		way = Floor
	}
	shift := int64(0) // of p upwards and q downwards, in e
	switch way {
	case Floor:
		shift = -1
	case Ceil:
		shift = 1
	}
	n := new(big.Int).Abs(big.NewInt(int64(l)))
	n.Mul(n, p.moved(shift))
	most := big.NewInt(int64(10 * MaxLength))
	v, d := new(big.Int).Set(most), q.moved(-shift)
	if d.Sign() > 0 {
		r := new(big.Int)
		v.QuoRem(n, d, r)
		r.Lsh(r, 1)
		if way == Ceil && r.Sign() > 0 || way == Nearest && r.Cmp(d) >= 0 {
			v.Add(v, big.NewInt(1))
		}
	}
	if v.Cmp(most) > 0 {
		v = most
	}
	if neg {
		return -Length(v.Int64())
	}
	return Length(v.Int64())
}

// moved is the part's size in 2^-96, moved by so many times its error and not
// below nought.
func (p Part) moved(errors int64) *big.Int {
	v := new(big.Int).Abs(p.n)
	if v.Sign() == 0 || v.BitLen() > partBits { // exactly 0 or 1
		return v
	}
	v.Add(v, new(big.Int).Lsh(big.NewInt(errors), partBits-80))
	if v.Sign() < 0 {
		v.SetInt64(0)
	}
	return v
}

// Sign is -1, 0 or 1.
func (p Part) Sign() int { return p.n.Sign() }
