package outline

import (
	"math/big"

	"stopshort/toolpath/measure"
)

// place is a point whose coordinates are surds over one d and one w, so that
// products of them are so again. It is exact.
type place struct{ x, y surd }

func wholePlace(p Point) place { return place{wholeSurd(int64(p.X)), wholeSurd(int64(p.Y))} }

func newPlace(px, qx, py, qy, d, w *big.Int) place {
	return place{newSurd(px, qx, d, w), newSurd(py, qy, d, w)}
}

func (p place) equals(o place) bool { return p.x.compare(o.x) == 0 && p.y.compare(o.y) == 0 }

// rounded is the point with both coordinates to the nearest tenth of a
// nanometre.
func (p place) rounded() Point {
	return Point{measure.Length(p.x.nearest()), measure.Length(p.y.nearest())}
}

// arrow is a direction with its parts a + b√d; the length is of no meaning.
type arrow struct{ ax, bx, ay, by, d *big.Int }

func wholeArrow(x, y int64) arrow {
	return arrow{big.NewInt(x), nought, big.NewInt(y), nought, nought}
}

// from is the direction from the whole point c to p.
func (p place) from(c Point) arrow {
	d := p.x.d
	if d.Sign() == 0 {
		d = p.y.d
	}
	return arrow{
		sub(p.x.p, mul(big.NewInt(int64(c.X)), p.x.w)), p.x.q,
		sub(p.y.p, mul(big.NewInt(int64(c.Y)), p.y.w)), p.y.q, d,
	}
}

// left is the arrow turned left by a right angle.
func (a arrow) left() arrow {
	return arrow{new(big.Int).Neg(a.ay), new(big.Int).Neg(a.by), a.ax, a.bx, a.d}
}

func (a arrow) back() arrow {
	return arrow{new(big.Int).Neg(a.ax), new(big.Int).Neg(a.bx), new(big.Int).Neg(a.ay), new(big.Int).Neg(a.by), a.d}
}

// cross is the sign of a x o: above nought where o points to the left of a.
// Both are at one place, so that one d serves, or one of them is whole.
func (a arrow) cross(o arrow) int {
	d := a.d
	if d.Sign() == 0 {
		d = o.d
	}
	plain := sub(product(a.ax, a.bx, o.ay, o.by, d), product(a.ay, a.by, o.ax, o.bx, d))
	root := sub(add(mul(a.ax, o.by), mul(a.bx, o.ay)), add(mul(a.ay, o.bx), mul(a.by, o.ax)))
	return signOf(plain, root, d)
}

// dot is the sign of a . o.
func (a arrow) dot(o arrow) int { return a.cross(o.left()) }

// product is the part without a root of (a + b√d)(c + e√d).
func product(a, b, c, e, d *big.Int) *big.Int { return add(mul(a, c), mul(mul(b, e), d)) }

// side tells where a place lies to a shape.
type side int

const (
	inside  side = -1
	onIt    side = 0
	outside side = 1
)

// side is exact: the place is held against the box, then, beyond one of its
// sides, against that side moved out by the radius, and beyond a corner against
// the corner's circle.
func (s Shape) side(p place) side {
	x, y := beyond(p.x, s.Low.X, s.High.X), beyond(p.y, s.Low.Y, s.High.Y)
	r := int64(s.Radius)
	switch {
	case x == 0 && y == 0:
		if r > 0 {
			return inside
		}
		for _, c := range []int{
			p.x.compareWhole(int64(s.Low.X)), p.x.compareWhole(int64(s.High.X)),
			p.y.compareWhole(int64(s.Low.Y)), p.y.compareWhole(int64(s.High.Y)),
		} {
			if c == 0 {
				return onIt
			}
		}
		return inside
	case y == 0 && x < 0:
		return side(-p.x.compareWhole(int64(s.Low.X) - r))
	case y == 0:
		return side(p.x.compareWhole(int64(s.High.X) + r))
	case x == 0 && y < 0:
		return side(-p.y.compareWhole(int64(s.Low.Y) - r))
	case x == 0:
		return side(p.y.compareWhole(int64(s.High.Y) + r))
	}
	c := s.Low
	if x > 0 {
		c.X = s.High.X
	}
	if y > 0 {
		c.Y = s.High.Y
	}
	a := p.from(c)
	rw := mul(big.NewInt(r), p.x.w)
	plain := add(product(a.ax, a.bx, a.ax, a.bx, a.d), product(a.ay, a.by, a.ay, a.by, a.d))
	root := mul(two, add(mul(a.ax, a.bx), mul(a.ay, a.by)))
	return side(signOf(sub(plain, mul(rw, rw)), root, a.d))
}

// beyond is -1 below the range, 1 above it and 0 in it, its ends included.
func beyond(v surd, low, high measure.Length) int {
	if v.compareWhole(int64(low)) < 0 {
		return -1
	}
	if v.compareWhole(int64(high)) > 0 {
		return 1
	}
	return 0
}
