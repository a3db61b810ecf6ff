package recipe

import (
	"math/big"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// line is a straight run seen from above, in whole numbers: along an axis it is
// exact, at an angle each coordinate is within one tenth of a nanometre.
type line struct {
	from   solid.Point
	dx, dy measure.Length
	length measure.Length // rounded down
	square *big.Int       // of the length
}

func newLine(from, to solid.Point) line {
	l := line{from: from, dx: to.X - from.X, dy: to.Y - from.Y}
	l.square = new(big.Int).Add(square(l.dx), square(l.dy))
	l.length = measure.Length(new(big.Int).Sqrt(l.square).Int64())
	return l
}

// straight tells whether the line lies along X or Y.
func (l line) straight() bool { return l.dx == 0 || l.dy == 0 }

// at is the point a distance along the line from its start.
func (l line) at(d measure.Length) solid.Point { return l.off(l.from, d, 0) }

// off is p moved d along the line and o to its left.
func (l line) off(p solid.Point, d, o measure.Length) solid.Point {
	return solid.Point{
		X: p.X + l.part(d, l.dx) - l.part(o, l.dy),
		Y: p.Y + l.part(d, l.dy) + l.part(o, l.dx),
		Z: p.Z,
	}
}

// sideways is how far an offset from the line reaches along an axis, rounded
// up.
func (l line) sideways(o measure.Length, a solid.Axis) measure.Length {
	c := l.dx
	if a == solid.X {
		c = l.dy
	}
	if c == 0 {
		return 0
	}
	return l.part(o, c).Abs() + 1
}

// part is d*c over the line's length, towards nought.
func (l line) part(d, c measure.Length) measure.Length {
	v := new(big.Int).Mul(square(d), square(c))
	v.Quo(v, l.square).Sqrt(v)
	if (d < 0) != (c < 0) {
		return -measure.Length(v.Int64())
	}
	return measure.Length(v.Int64())
}

func square(l measure.Length) *big.Int {
	b := big.NewInt(int64(l))
	return b.Mul(b, b)
}

// rootUp is the square root of long^2 - short^2, rounded up; long must not be
// less than short.
func rootUp(long, short measure.Length) measure.Length {
	d := square(long)
	d.Sub(d, square(short))
	return solid.RootUp(d)
}
