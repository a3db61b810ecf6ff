package plan

import (
	"golang.org/x/exp/slices"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
)

// Side is a direction along an axis, seen from above: X and Y are 1, 0 or -1.
type Side struct{ X, Y measure.Length }

// Sides are the four, in the order right, left, back, front.
var Sides = [4]Side{{1, 0}, {-1, 0}, {0, 1}, {0, -1}}

// Along is how far a place lies in the direction.
func (s Side) Along(p outline.Point) measure.Length { return s.X*p.X + s.Y*p.Y }

// Ahead is the way that a loop with the metal on its left takes there.
func (s Side) Ahead() Side { return Side{-s.Y, s.X} }

// Moved is a place moved a distance in the direction.
func (s Side) Moved(p outline.Point, by measure.Length) outline.Point {
	return outline.Point{X: p.X + s.X*by, Y: p.Y + s.Y*by}
}

// FromExtreme is the loop begun at the first place that lies furthest to a side.
// There it runs straight ahead, so that a cutter may come to it and leave it on
// arcs from that side with nothing of the part in their way. ok is false where
// the loop has a corner there.
func FromExtreme(l outline.Loop, side Side) (begun outline.Loop, ok bool) {
	low, high := l.Bounds()
	most := max(side.Along(low), side.Along(high))
	// An arc that passes the direction is cut there: centre and radius are whole.
	for i, p := range l {
		if p.Kind != outline.Arc {
			continue
		}
		top := side.Moved(p.Centre, p.Radius)
		if side.Along(top) == most && top != p.From && top != p.To && inSpan(p, side) {
			a, b := p, p
			a.To, b.From, b.Joint = top, top, outline.Smooth
			cut := append(slices.Clone(l[:i]), a, b)
			cut = append(cut, l[i+1:]...)
			return cut.From(i + 1), true
		}
	}
	first := -1
	for i, p := range l {
		if side.Along(p.From) == most && side.Along(l[(i+len(l)-1)%len(l)].From) != most {
			if first < 0 || side.Ahead().Along(p.From) < side.Ahead().Along(l[first].From) {
				first = i
			}
		}
	}
	if first < 0 {
		return nil, false
	}
	return l.From(first), l[first].Joint == outline.Smooth
}

// inSpan tells whether an anticlockwise arc of at most half a turn passes the
// direction.
func inSpan(p outline.Piece, side Side) bool {
	left := func(v outline.Point) measure.Length { return side.X*v.Y - side.Y*v.X }
	a := outline.Point{X: p.From.X - p.Centre.X, Y: p.From.Y - p.Centre.Y}
	b := outline.Point{X: p.To.X - p.Centre.X, Y: p.To.Y - p.Centre.Y}
	return left(a) < 0 && left(b) > 0
}
