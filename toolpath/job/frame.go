package job

import (
	"fmt"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// Frame takes the part's frame into a set-up's: one of the 24 right-angle
// turns, then a zero. Everything stays a whole number.
type Frame struct {
	from [3]solid.Axis // the part's axis that each of the set-up's axes runs along
	sign [3]measure.Length
	Zero solid.Point // the set-up's zero, in the part's frame
}

// directions are the words for an axis with its way.
var directions = []string{"+x", "-x", "+y", "-y", "+z", "-z"}

// direction is the axis and the way of one of the six words.
func direction(word string) (solid.Axis, measure.Length) {
	a := solid.Axis(word[1] - 'x')
	if word[0] == '-' {
		return a, -1
	}
	return a, 1
}

// NewFrame is the set-up in which the part's direction up points up and right
// points to the operator's right (words like "+y"). The two must not lie along
// one axis.
func NewFrame(up, right string, zero solid.Point) (Frame, error) {
	ua, us := direction(up)
	ra, rs := direction(right)
	if ua == ra {
		return Frame{}, fmt.Errorf("up %s and right %s lie along one line: right must be square to up", up, right)
	}
	// Y points away from the operator, and X, Y, Z are right-handed: Y = Z x X.
	ya := solid.X + solid.Y + solid.Z - ua - ra
	ys := us * rs
	if (int(ua)+1)%3 != int(ra) { // up x right runs against the cyclic order
		ys = -ys
	}
	return Frame{
		from: [3]solid.Axis{ra, ya, ua},
		sign: [3]measure.Length{rs, ys, us},
		Zero: zero,
	}, nil
}

// Turn is a displacement of the part's frame, in the set-up's.
func (f Frame) Turn(v solid.Point) solid.Point {
	return solid.Point{
		X: f.sign[0] * v.Along(f.from[0]),
		Y: f.sign[1] * v.Along(f.from[1]),
		Z: f.sign[2] * v.Along(f.from[2]),
	}
}

// Point is a point of the part's frame, in the set-up's.
func (f Frame) Point(p solid.Point) solid.Point { return f.Turn(p.Minus(f.Zero)) }

// Box is a box of the part's frame, in the set-up's.
func (f Frame) Box(b solid.Box) solid.Box {
	p, q := f.Point(b.Low), f.Point(b.High)
	for _, a := range []solid.Axis{solid.X, solid.Y, solid.Z} {
		if p.Along(a) > q.Along(a) {
			lo := q.Along(a)
			q, p = q.With(a, p.Along(a)), p.With(a, lo)
		}
	}
	return solid.Box{Low: p, High: q}
}

// Cylinder is a cylinder of the part's frame, in the set-up's.
func (f Frame) Cylinder(c solid.Cylinder) solid.Cylinder {
	return solid.Cylinder{From: f.Point(c.From), To: f.Point(c.To), Radius: c.Radius}
}

// Word is the part's direction ("+y") that a direction of the set-up's frame
// runs along, for messages.
func (f Frame) Word(a solid.Axis, way measure.Length) string {
	sign := "+"
	if f.sign[a]*way < 0 {
		sign = "-"
	}
	return sign + string(rune('x'+f.from[a]))
}

// Back is a point of the set-up's frame, in the part's.
func (f Frame) Back(p solid.Point) solid.Point {
	var q solid.Point
	for a := range f.from {
		q = q.With(f.from[a], f.sign[a]*p.Along(solid.Axis(a)))
	}
	return q.Plus(f.Zero)
}
