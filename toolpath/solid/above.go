package solid

import (
	"math/big"

	"stopshort/toolpath/measure"
)

// Near tells whether p is within a distance of the straight line from a to b,
// all seen from above, in whole numbers.
func Near(a, b, p Point, r measure.Length) bool {
	n, d := SquareApart(a, b, p)
	return n.Cmp(new(big.Int).Mul(square(r), d)) <= 0
}

// SquareApart is the square of the distance from p to the stretch from a to b, seen
// from above, as a fraction n/d.
func SquareApart(a, b, p Point) (n, d *big.Int) {
	mul := func(x, y measure.Length) *big.Int {
		return new(big.Int).Mul(big.NewInt(int64(x)), big.NewInt(int64(y)))
	}
	ux, uy := b.X-a.X, b.Y-a.Y
	vx, vy := p.X-a.X, p.Y-a.Y
	uu := sum(square(ux), square(uy))
	uv := sum(mul(ux, vx), mul(uy, vy))
	one := big.NewInt(1)
	switch {
	case uv.Sign() <= 0:
		return sum(square(vx), square(vy)), one
	case uv.Cmp(uu) >= 0:
		return sum(square(p.X-b.X), square(p.Y-b.Y)), one
	}
	cross := new(big.Int).Sub(mul(ux, vy), mul(uy, vx))
	return cross.Mul(cross, cross), uu
}

func square(l measure.Length) *big.Int {
	b := big.NewInt(int64(l))
	return b.Mul(b, b)
}

func sum(a, b *big.Int) *big.Int { return a.Add(a, b) }
