package solid

import (
	"math"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/measure"
)

// Arc is a level way about a centre, seen from above, or a piece of one. Its
// ends are whole points, so that the two radii may differ by their rounding;
// nothing more is taken for granted of the way than that it begins and ends at
// its ends and keeps to the band between the two radii, in the sector from one
// end to the other. Pieces are cut out by directions in whole numbers, so that
// they lose nothing and gain nothing.
type Arc struct {
	centre       Point // its Z is the height
	from, to     Point // the directions of its ends from the centre, anticlockwise
	around       bool  // the whole circle: any direction
	starts, ends bool  // from and to are not only directions: the way passes the points
	inner, outer radius
}

// radius is a length whose square is whole.
type radius struct {
	square wide
	length interval
}

// NewArc is the way from one point to another about a centre, at the height of
// the first. Where both lie in one direction from the centre it is a full
// circle. ok is false where a coordinate lies beyond [Far].
func NewArc(from, to, centre Point, clockwise bool) (a Arc, ok bool) {
	if !from.reachable() || !to.reachable() || !centre.reachable() {
		return Arc{}, false
	}
	a.centre = centre.With(Z, from.Z)
	a.from, a.to = from.Minus(centre).With(Z, 0), to.Minus(centre).With(Z, 0)
	if clockwise {
		a.from, a.to = a.to, a.from
	}
	a.starts, a.ends = true, true
	a.inner.square, a.outer.square = dotXY(a.from, a.from), dotXY(a.to, a.to)
	if a.outer.square.less(a.inner.square) {
		a.inner, a.outer = a.outer, a.inner
	}
	if a.inner.square.sign() == 0 { // an end at the centre has no direction
		a.from, a.to = Point{X: 1}, Point{X: 1}
		a.starts, a.ends = false, false
	}
	a.around = crossXY(a.from, a.to).sign() == 0 && dotXY(a.from, a.to).sign() > 0
	a.inner.length = a.inner.square.root()
	a.outer.length = a.outer.square.root()
	return a, true
}

func dotXY(p, q Point) wide {
	return wideProduct(int64(p.X), int64(q.X)).plus(wideProduct(int64(p.Y), int64(q.Y)))
}

func crossXY(p, q Point) wide {
	return wideProduct(int64(p.X), int64(q.Y)).minus(wideProduct(int64(p.Y), int64(q.X)))
}

func (p Point) opposite() Point { return Point{}.Minus(p) }

// holds tells that a direction lies in the sector, its ends counted in.
func (a Arc) holds(d Point) bool {
	if a.around {
		return true
	}
	after, before := crossXY(a.from, d).sign(), crossXY(d, a.to).sign()
	switch turn := crossXY(a.from, a.to).sign(); {
	case turn > 0: // less than half a turn
		return after >= 0 && before >= 0
	case turn == 0: // half a turn
		return after >= 0
	}
	return after >= 0 || before >= 0
}

// Bounds is a box that holds the whole way, its faces rounded outward.
func (a Arc) Bounds() Box {
	reach := func(d Point) measure.Length {
		return ceil(a.least(d.opposite(), Point{}).neg().hi)
	}
	return Box{
		Low:  a.centre.Minus(Point{X: reach(Point{X: -1}), Y: reach(Point{Y: -1})}),
		High: a.centre.Plus(Point{X: reach(Point{X: 1}), Y: reach(Point{Y: 1})}),
	}
}

// even is the directions at which errors of X and Y count the most and the
// least.
var even = [...]Point{{X: 1}, {X: 1, Y: 1}, {Y: 1}, {X: -1, Y: 1}, {X: -1}, {X: -1, Y: -1}, {Y: -1}, {X: 1, Y: -1}}

// Split is the pieces of the way, cut where its distance to the body can turn
// from less to more: in the directions of the axes, of the box's corners and of
// the cylinder's axis; and where errors can, in those half way between the axes.
// A piece without such a direction inside it is halved. None is left where it is
// too short for that, or the body is neither a box nor an upright cylinder.
func (a Arc) Split(b Body) []Arc {
	s, ok := seenFromAbove(b)
	if !ok {
		return nil
	}
	var cuts []Point
	try := func(d Point) {
		if d != (Point{}) && a.holds(d) && a.half(d) > 0 && (a.around || !sameWay(d, a.to)) {
			cuts = append(cuts, d)
		}
	}
	for _, d := range even {
		try(d)
	}
	for _, v := range s.corners() {
		try(v.Minus(a.centre).With(Z, 0))
	}
	slices.SortFunc(cuts, func(p, q Point) int {
		if i, j := a.half(p), a.half(q); i != j {
			return i - j
		}
		return -crossXY(p, q).sign()
	})
	cuts = slices.CompactFunc(cuts, sameWay)
	if len(cuts) == 0 {
		m, ok := a.middle()
		if !ok {
			return nil
		}
		cuts = []Point{m}
	}
	out := make([]Arc, 0, len(cuts)+1)
	rest := a
	rest.around = false
	for _, d := range cuts {
		first := rest
		first.to, first.ends = d, false
		rest.from, rest.starts = d, false
		out = append(out, first)
	}
	return append(out, rest)
}

func sameWay(p, q Point) bool { return crossXY(p, q).sign() == 0 && dotXY(p, q).sign() > 0 }

// half tells in which part of a turn a direction comes, going anticlockwise from
// the start: at it 0, in the first half 1, opposite 2, in the second half 3.
func (a Arc) half(d Point) int {
	switch c := crossXY(a.from, d).sign(); {
	case c > 0:
		return 1
	case c < 0:
		return 3
	case dotXY(a.from, d).sign() < 0:
		return 2
	}
	return 0
}

// middle is a direction about half way, of an arc of less than half a turn; ok
// is false where no whole one was found between the ends. Any direction between
// them will do, so that it may come from floating point.
func (a Arc) middle() (Point, bool) {
	f, t := a.from.vector().unit(), a.to.vector().unit()
	m := f.plus(t).unit().times(1 << 40)
	d := Point{X: measure.Length(math.Round(m[0])), Y: measure.Length(math.Round(m[1]))}
	return d, !a.around && crossXY(a.from, d).sign() > 0 && crossXY(d, a.to).sign() > 0
}

// least holds the least of d.(p-w) / |d| over all places p of the band, taken
// from the centre: how far the way reaches against d from a point w.
//
// In the sector the cosine to d is least at one of its two ends, unless -d lies
// in it; of the two radii the inner one counts where the cosine is not negative,
// else the outer.
func (a Arc) least(d, w Point) interval {
	dd, dw := dotXY(d, d), dotXY(d, w)
	if a.holds(d.opposite()) {
		return a.outer.length.plus(dw.over(dd)).neg()
	}
	end := func(e Point) interval {
		t, ee := dotXY(d, e), dotXY(e, e)
		r := a.inner
		if t.sign() < 0 {
			r = a.outer
		}
		if r.square == ee { // the end itself: whole up to the root
			return t.minus(dw).over(dd)
		}
		return r.length.times(t.interval().over(ee.root().times(dd.root()))).minus(dw.over(dd))
	}
	return end(a.from).min(end(a.to))
}

// most holds the greatest of u.w over all directions u of the sector, of length
// 1: it is the length of w where that is one of them, else at an end.
func (a Arc) most(w Point) interval {
	w.Z = 0
	if w == (Point{}) {
		return interval{}
	}
	if a.holds(w) {
		return dotXY(w, w).root()
	}
	return dotXY(a.from, w).over(dotXY(a.from, a.from)).max(dotXY(a.to, w).over(dotXY(a.to, a.to)))
}

// askew is the direction of the sector in which errors of X and Y count the
// most: the sum of its two parts is the greatest. Between an axis and the
// direction half way to the next that sum grows evenly.
func (a Arc) askew() Point {
	for k := 1; k < len(even); k += 2 {
		if a.holds(even[k]) {
			return even[k]
		}
	}
	f, t := a.from.vector().unit(), a.to.vector().unit()
	if math.Abs(f[0])+math.Abs(f[1]) >= math.Abs(t[0])+math.Abs(t[1]) {
		return a.from
	}
	return a.to
}
