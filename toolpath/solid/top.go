package solid

import (
	"math/big"

	"stopshort/toolpath/measure"
)

// TopOver is the height of a body's top over a place seen from above, rounded
// down for a lying cylinder; ok is false where the place is beside the body.
func TopOver(b Body, p Point) (top measure.Length, ok bool) {
	box := Bounds(b)
	if p.X < box.Low.X || p.X > box.High.X || p.Y < box.Low.Y || p.Y > box.High.Y {
		return 0, false
	}
	c, round := b.(Cylinder)
	if !round {
		return box.High.Z, true
	}
	a, straight := c.Axis()
	switch {
	case !straight:
		return box.High.Z, true
	case a == Z:
		at := c.From
		at.Z = 0
		p.Z = 0
		return box.High.Z, Near(at, at, p, c.Radius)
	}
	side := X + Y - a
	d := square(c.Radius)
	d.Sub(d, square(p.Along(side)-c.From.Along(side)))
	return c.From.Z + measure.Length(new(big.Int).Sqrt(d).Int64()), true
}
