package outline

import (
	"fmt"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// Point is a place in the plane of an outline: X right, Y away from the
// operator.
type Point struct{ X, Y measure.Length }

// At is the point at a height.
func (p Point) At(z measure.Length) solid.Point { return solid.Point{X: p.X, Y: p.Y, Z: z} }

func (p Point) minus(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Shape is all points no further than Radius from the box Low to High. A disc
// has a box that is its centre; a rectangle has no radius; a rectangle grown
// has both. Make one with [Disc] or [Rect].
type Shape struct {
	Low, High Point
	Radius    measure.Length
}

// Disc is all points no further than the radius from the centre.
func Disc(centre Point, radius measure.Length) Shape { return Shape{centre, centre, radius} }

// Rect is the rectangle from low to high, its sides along the axes.
func Rect(low, high Point) Shape { return Shape{low, high, 0} }

// Grow is the shape with everything that lies within the length of it. Its
// corners become round. A length below nought takes the same from its radius.
func (s Shape) Grow(by measure.Length) Shape {
	s.Radius += by
	return s
}

// IsDisc tells a disc from a rectangle, grown or not.
func (s Shape) IsDisc() bool { return s.Low == s.High }

// Bounds is the least rectangle that holds the shape.
func (s Shape) Bounds() (low, high Point) {
	r := s.Radius
	return Point{s.Low.X - r, s.Low.Y - r}, Point{s.High.X + r, s.High.Y + r}
}

func (s Shape) String() string {
	if s.IsDisc() {
		return fmt.Sprintf("disc of radius %s about (%s, %s)", s.Radius, s.Low.X.MM(), s.Low.Y.MM())
	}
	t := fmt.Sprintf("rectangle from (%s, %s) to (%s, %s)", s.Low.X.MM(), s.Low.Y.MM(), s.High.X.MM(), s.High.Y.MM())
	if s.Radius != 0 {
		t += " with " + s.Radius.String() + " round it"
	}
	return t
}

// check refuses a shape that has no inside, or is out of reach. It must have
// passed before anything is worked out: all else relies on the bounds.
func (s Shape) check() error {
	for _, l := range []measure.Length{s.Low.X, s.Low.Y, s.High.X, s.High.Y, s.Radius} {
		if l < -measure.MaxLength || l > measure.MaxLength {
			return fmt.Errorf("%s mm is beyond what is read: write a length of at most %s mm", l.MM(), measure.MaxLength.MM())
		}
	}
	switch {
	case s.Radius < 0:
		return fmt.Errorf("%s mm is no radius: write one above nought", s.Radius.MM())
	case s.Low.X > s.High.X:
		return fmt.Errorf("low X %s mm is above high X %s mm: write the lower one first", s.Low.X.MM(), s.High.X.MM())
	case s.Low.Y > s.High.Y:
		return fmt.Errorf("low Y %s mm is above high Y %s mm: write the lower one first", s.Low.Y.MM(), s.High.Y.MM())
	case s.Radius == 0 && s.IsDisc():
		return fmt.Errorf("0 mm is no radius: write one above nought")
	case s.Radius == 0 && (s.Low.X == s.High.X || s.Low.Y == s.High.Y):
		return fmt.Errorf("0 mm across: write a rectangle that is wider than nought both ways")
	}
	return nil
}
