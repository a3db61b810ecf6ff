package outline

import (
	"math/big"

	"stopshort/toolpath/measure"
)

// edge is a side of a grown shape, or a quarter of one of its corners (of a
// disc: of its circle), with the shape on its left. Along it X or Y only grows
// or only falls, so that one coordinate tells places on it apart. Its ends are
// whole.
type edge struct {
	shape    int
	kind     Kind
	from, to Point
	centre   Point          // of an arc
	radius   measure.Length // of an arc
	quarter  int            // of an arc: 0 runs from 0 to 90 degrees, 3 from 270
}

// edges are the sides and corners of a shape, anticlockwise from the foot of
// its right side. Those of no length are left out.
func (s Shape) edges(number int) []edge {
	r := s.Radius
	corner := [4]Point{s.High, {s.Low.X, s.High.Y}, s.Low, {s.High.X, s.Low.Y}}
	start := [4]Point{{r, 0}, {0, r}, {-r, 0}, {0, -r}}
	var all []edge
	for q := range 4 {
		c := corner[(q+3)%4]
		from := Point{c.X + start[q].X, c.Y + start[q].Y}
		c = corner[q]
		to := Point{c.X + start[q].X, c.Y + start[q].Y}
		if from != to {
			all = append(all, edge{shape: number, kind: Line, from: from, to: to})
		}
		if r > 0 {
			end := start[(q+1)%4]
			all = append(all, edge{number, Arc, to, Point{c.X + end.X, c.Y + end.Y}, c, r, q})
		}
	}
	return all
}

// upright tells that places on the edge are told apart by Y.
func (e edge) upright() bool { return e.kind == Line && e.from.X == e.to.X }

// key is the coordinate of a place on the edge that tells it from others.
func (e edge) key(p place) surd {
	if e.upright() {
		return p.y
	}
	return p.x
}

// grows tells that the key grows along the edge.
func (e edge) grows() bool {
	if e.upright() {
		return e.from.Y < e.to.Y
	}
	return e.from.X < e.to.X
}

// spans tells that a place on the edge's line or circle is on the edge, its
// ends included.
func (e edge) spans(p place) bool {
	return beyond(p.x, min(e.from.X, e.to.X), max(e.from.X, e.to.X)) == 0 &&
		beyond(p.y, min(e.from.Y, e.to.Y), max(e.from.Y, e.to.Y)) == 0
}

// apart tells that the rectangles about two edges have no point in common, and
// so the edges have none.
func (e edge) apart(o edge) bool {
	return max(e.from.X, e.to.X) < min(o.from.X, o.to.X) || max(o.from.X, o.to.X) < min(e.from.X, e.to.X) ||
		max(e.from.Y, e.to.Y) < min(o.from.Y, o.to.Y) || max(o.from.Y, o.to.Y) < min(e.from.Y, e.to.Y)
}

// along is the direction of the edge at a place on it.
func (e edge) along(p place) arrow {
	if e.kind == Arc {
		return p.from(e.centre).left()
	}
	d := e.to.minus(e.from)
	return wholeArrow(int64(d.X), int64(d.Y))
}

// sameCurve tells that two edges lie on one line and run the same way along
// it, or on one circle. Of lines it asks only where they have a point in common.
func (e edge) sameCurve(o edge) bool {
	if e.kind != o.kind {
		return false
	}
	if e.kind == Arc {
		return e.centre == o.centre && e.radius == o.radius
	}
	return e.upright() == o.upright() && e.grows() == o.grows()
}

// between is a place on the edge strictly between two different ones, the
// first of them first along the edge.
func (e edge) between(a, b place) place {
	low, high := e.key(a), e.key(b)
	if !e.grows() {
		low, high = high, low
	}
	k, w := fraction(low, high)
	switch {
	case e.upright():
		return newPlace(mul(big.NewInt(int64(e.from.X)), w), nought, k, nought, nought, w)
	case e.kind == Line:
		return newPlace(k, nought, mul(big.NewInt(int64(e.from.Y)), w), nought, nought, w)
	}
	// y = cy ± √(r² - (x-cx)²), above the centre in the first two quarters.
	cx, cy := big.NewInt(int64(e.centre.X)), big.NewInt(int64(e.centre.Y))
	r := mul(big.NewInt(int64(e.radius)), w)
	x := sub(k, mul(cx, w))
	d := sub(mul(r, r), mul(x, x))
	sign := one
	if e.quarter >= 2 {
		sign = big.NewInt(-1)
	}
	return newPlace(k, nought, mul(cy, w), sign, d, w)
}

// fraction is a number k/w strictly between two different ones, w a power of
// two, near their middle where they are far apart.
func fraction(low, high surd) (k, w *big.Int) {
	for bits := uint(1); ; bits *= 2 {
		l, h := low.scaled(bits), high.scaled(bits)
		// low < l+1 and h <= high: any k from l+1 to h-1 lies between.
		if gap := sub(h, l); gap.Cmp(two) >= 0 {
			return l.Add(l, gap.Rsh(gap, 1)), new(big.Int).Lsh(one, bits)
		}
	}
}
