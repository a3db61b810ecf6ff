package solid

import (
	"math"

	"stopshort/toolpath/measure"
)

// Bounds is a box that holds the body, its faces rounded outward to whole
// tenths of a nanometre. It serves to leave out what is far away.
func Bounds(b Body) Box {
	switch b := b.(type) {
	case Box:
		return b
	case Cylinder:
		return b.BoundingBox()
	case Sweep:
		return b.bounds()
	}
	return Box{Point{-Far, -Far, -Far}, Point{Far, Far, Far}}
}

func (s Sweep) bounds() Box {
	r := max(s.Part.LowRadius, s.Part.HighRadius)
	l, h := corners(s.From, s.To)
	return Box{
		l.Plus(Point{-r, -r, s.Part.Low}),
		h.Plus(Point{r, r, s.Part.High}),
	}
}

func corners(p, q Point) (low, high Point) {
	return Point{min(p.X, q.X), min(p.Y, q.Y), min(p.Z, q.Z)},
		Point{max(p.X, q.X), max(p.Y, q.Y), max(p.Z, q.Z)}
}

// BoundingBox is the least box that holds the cylinder, its faces rounded
// outward: for an axis that lies along X, Y or Z it is exact, otherwise no
// face is more than one tenth of a nanometre too far out.
func (c Cylinder) BoundingBox() Box {
	l, h := corners(c.From, c.To)
	if axis, ok := c.Axis(); ok {
		r := Point{c.Radius, c.Radius, c.Radius}.With(axis, 0)
		return Box{l.Minus(r), h.Plus(r)}
	}
	for _, a := range [...]Axis{X, Y, Z} {
		var d vector
		d[a] = 1
		h = h.With(a, ceil(c.support(d).hi))
		l = l.With(a, floor(c.support(d.neg()).neg().lo))
	}
	return Box{l, h}
}

// Axis is the axis that the cylinder lies along; ok is false for one at an
// angle.
func (c Cylinder) Axis() (axis Axis, ok bool) {
	d := c.To.Minus(c.From)
	switch {
	case d.Y == 0 && d.Z == 0 && d.X != 0:
		return X, true
	case d.X == 0 && d.Z == 0 && d.Y != 0:
		return Y, true
	case d.X == 0 && d.Y == 0 && d.Z != 0:
		return Z, true
	}
	return X, false
}

// Contains tells that p is in the box or on its skin.
func (b Box) Contains(p Point) bool {
	return b.Low.X <= p.X && p.X <= b.High.X &&
		b.Low.Y <= p.Y && p.Y <= b.High.Y &&
		b.Low.Z <= p.Z && p.Z <= b.High.Z
}

// Overlaps tells that the boxes have a point in common; touching counts.
func (b Box) Overlaps(o Box) bool {
	return b.Low.X <= o.High.X && o.Low.X <= b.High.X &&
		b.Low.Y <= o.High.Y && o.Low.Y <= b.High.Y &&
		b.Low.Z <= o.High.Z && o.Low.Z <= b.High.Z
}

// beyond is more than any distance between points within [Far], and any of
// its sums with a few radii.
const beyond = 10 * Far

// floor is the whole length at or below x, never below -beyond; a NaN is that.
func floor(x float64) measure.Length {
	if !(x > -float64(beyond)) {
		return -beyond
	}
	return measure.Length(math.Floor(math.Min(x, float64(beyond))))
}

// ceil is the whole length at or above x, never above beyond; a NaN is that.
func ceil(x float64) measure.Length {
	if !(x < float64(beyond)) {
		return beyond
	}
	return measure.Length(math.Ceil(math.Max(x, -float64(beyond))))
}
