package solid

import "stopshort/toolpath/measure"

// Apart is the widest gap between two boxes along an axis, which is no more
// than their distance; below nought they overlap, and it is the least shift
// along an axis that would part them, with its sign turned.
func (b Box) Apart(o Box) measure.Length {
	return max(
		b.Low.X-o.High.X, o.Low.X-b.High.X,
		b.Low.Y-o.High.Y, o.Low.Y-b.High.Y,
		b.Low.Z-o.High.Z, o.Low.Z-b.High.Z,
	)
}

// With is the least box about two.
func (b Box) With(o Box) Box {
	return Box{
		Low:  Point{min(b.Low.X, o.Low.X), min(b.Low.Y, o.Low.Y), min(b.Low.Z, o.Low.Z)},
		High: Point{max(b.High.X, o.High.X), max(b.High.Y, o.High.Y), max(b.High.Z, o.High.Z)},
	}
}

// Corners is the box with two points as opposite corners.
func Corners(p, q Point) Box {
	return Box{
		Low:  Point{min(p.X, q.X), min(p.Y, q.Y), min(p.Z, q.Z)},
		High: Point{max(p.X, q.X), max(p.Y, q.Y), max(p.Z, q.Z)},
	}
}
