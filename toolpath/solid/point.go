package solid

import "stopshort/toolpath/measure"

// Point is a place in a set-up's frame, or a displacement.
type Point struct{ X, Y, Z measure.Length }

// Plus is p moved by q.
func (p Point) Plus(q Point) Point { return Point{p.X + q.X, p.Y + q.Y, p.Z + q.Z} }

// Minus is the displacement from q to p.
func (p Point) Minus(q Point) Point { return Point{p.X - q.X, p.Y - q.Y, p.Z - q.Z} }

// Axis is one of the three axes of a frame.
type Axis uint8

const (
	X Axis = iota
	Y
	Z
)

func (a Axis) String() string { return [...]string{"X", "Y", "Z"}[a] }

// Along is the coordinate of p on the axis.
func (p Point) Along(a Axis) measure.Length {
	switch a {
	case X:
		return p.X
	case Y:
		return p.Y
	}
	return p.Z
}

// With is p with its coordinate on the axis replaced.
func (p Point) With(a Axis, v measure.Length) Point {
	switch a {
	case X:
		p.X = v
	case Y:
		p.Y = v
	default:
		p.Z = v
	}
	return p
}
