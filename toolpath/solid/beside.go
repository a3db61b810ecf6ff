package solid

import (
	"math"

	"stopshort/toolpath/measure"
)

// Beside is how far the places of an arc keep from a body, seen from above: no
// cutter's radius is taken off yet, and a place inside the body counts below
// nought, by its way out.
type Beside struct {
	// Low is no more than the least distance of any place of the band, High no
	// less than the least distance of the way itself. Where the radii differ
	// the two cannot meet; how far Low could still be raised is told by Reach,
	// which is no less than the least distance of the band.
	Low, High, Reach measure.Length
	// Dir is a direction (of length 1, nearly) that Low is proved along, from
	// the body to the way; where it is proved along all directions of the sector,
	// that in which errors of X and Y count the most. Settled tells that they do
	// count so where the way is nearest, within 0.1 micrometre.
	Dir     [2]float64
	Settled bool
}

// shape is a box or an upright cylinder seen from above: all within grow of a
// rectangle, which for a cylinder is one point.
type shape struct {
	rectangle
	grow measure.Length
}

func seenFromAbove(b Body) (shape, bool) {
	if !sane(b) {
		return shape{}, false
	}
	switch b := b.(type) {
	case Box:
		return shape{rectangle{b.Low.X, b.High.X, b.Low.Y, b.High.Y}, 0}, true
	case Cylinder:
		axis, ok := b.Axis()
		return shape{rectangle{b.From.X, b.From.X, b.From.Y, b.From.Y}, b.Radius}, ok && axis == Z
	}
	return shape{}, false
}

// Upright tells whether a body is one that [Arc.Beside] judges: a box or an
// upright cylinder.
func Upright(b Body) bool {
	_, ok := seenFromAbove(b)
	return ok
}

func (s shape) corners() []Point {
	if s.l == s.r && s.b == s.t {
		return []Point{{X: s.l, Y: s.b}}
	}
	return []Point{{X: s.l, Y: s.b}, {X: s.r, Y: s.b}, {X: s.r, Y: s.t}, {X: s.l, Y: s.t}}
}

// farthest is the corner farthest along d.
func (s shape) farthest(d Point) Point {
	p := Point{X: s.l, Y: s.b}
	if d.X > 0 {
		p.X = s.r
	}
	if d.Y > 0 {
		p.Y = s.t
	}
	return p
}

// nearest is the point of the rectangle nearest to p.
func (s shape) nearest(p Point) Point {
	return Point{X: min(max(p.X, s.l), s.r), Y: min(max(p.Y, s.b), s.t)}
}

// beyond is no less than the distance of a place that need not be whole. That
// is the greater of what it lies beyond the rectangle's sides in X and in Y, or
// the root of their squares where it lies beyond both; it never falls where one
// of the two grows, so that both may be taken from above.
func (s shape) beyond(x, y interval) measure.Length {
	gx := whole(s.l).minus(x).max(x.minus(whole(s.r))).hi
	gy := whole(s.b).minus(y).max(y.minus(whole(s.t))).hi
	if gx > 0 && gy > 0 {
		return ceil(hypot(point(gx), point(gy)).hi) - s.grow
	}
	return ceil(math.Max(gx, gy)) - s.grow
}

// Beside is the distance from the way to a body seen from above. For a body
// that is not [Upright] nothing is claimed: Low is below -Far, High above Far.
//
// Any direction d proves a distance, as everywhere in this package: what the
// band reaches against d, less what the body reaches along it. Tried are the
// axes and the directions from the body's nearest point to both ends and to the
// centre. The other proof goes along all directions u of the sector at once: a
// place of the band at u lies at least the inner radius along u from the centre,
// and the body reaches along u no further than the most over its corners v
// of u.(v-c). Either is exact where the way runs on a tangent to the body or
// comes nearest at an end; the second, about a corner or an upright bore, all
// along the way.
func (a Arc) Beside(b Body) Beside {
	s, ok := seenFromAbove(b)
	if !ok {
		return Beside{Low: -beyond, High: beyond, Reach: beyond}
	}
	out := Beside{Low: -beyond, High: beyond, Reach: beyond}
	try := func(d Point) {
		low := floor(a.least(d, s.farthest(d).Minus(a.centre)).lo) - s.grow
		if low > out.Low {
			u := d.vector().unit()
			out.Low, out.Dir, out.Settled = low, [2]float64{u[0], u[1]}, true
		}
	}
	for k := 0; k < len(even); k += 2 {
		try(even[k])
	}
	for _, p := range [...]Point{a.centre, a.nearEnd(a.from), a.nearEnd(a.to)} {
		if d := p.Minus(s.nearest(p)).With(Z, 0); d.X != 0 && d.Y != 0 { // along an axis was tried
			try(d)
		}
	}
	a.measure(a.from, a.starts, s, &out)
	a.measure(a.to, a.ends, s, &out)
	reach := interval{math.Inf(-1), math.Inf(-1)}
	for _, v := range s.corners() {
		reach = reach.max(a.most(v.Minus(a.centre)))
	}
	if low := floor(a.inner.length.minus(reach).lo) - s.grow; low > out.Low {
		d := a.askew()
		u := d.vector().unit()
		out.Low, out.Dir = low, [2]float64{u[0], u[1]}
		out.Settled = a.measure(d, false, s, &out) <= low+fine
	}
	return out
}

// nearEnd is about where the band ends in a direction: the place itself where
// the way passes it. It serves to find a direction, which may be any.
func (a Arc) nearEnd(e Point) Point {
	if ee := dotXY(e, e); ee == a.inner.square || ee == a.outer.square {
		return a.centre.Plus(e)
	}
	p := e.vector().unit().times(a.inner.length.hi)
	return a.centre.Plus(Point{X: measure.Length(math.Round(p[0])), Y: measure.Length(math.Round(p[1]))})
}

// measure lowers the upper bounds by what lies in one direction of the sector,
// at both radii. passed tells that the way passes the point at which the
// direction ends; elsewhere it lies between the radii, and its distance is no
// more than the greater of the two, since the distance from a convex body is a
// convex function. The less of the two is what the band has there, which is
// given back.
func (a Arc) measure(e Point, passed bool, s shape, out *Beside) (band measure.Length) {
	ee := dotXY(e, e)
	far, own := measure.Length(-beyond), measure.Length(beyond)
	band = beyond
	for i, r := range [...]radius{a.inner, a.outer} {
		var d measure.Length
		switch {
		case i == 1 && a.inner.square == a.outer.square:
			continue
		case r.square == ee:
			p := a.centre.Plus(e)
			off, _ := s.off(p.X, p.Y)
			d = measure.Length(off.ceil()) - s.grow
			own = d
		default:
			x := r.length.times(wideOf(e.X).over(ee))
			y := r.length.times(wideOf(e.Y).over(ee))
			d = s.beyond(whole(a.centre.X).plus(x), whole(a.centre.Y).plus(y))
		}
		far, band = max(far, d), min(band, d)
	}
	if passed {
		far = min(far, own)
	}
	out.High, out.Reach = min(out.High, far), min(out.Reach, band)
	return band
}

// Gap is the distance between a part of the cutter on the way and the body,
// from what the way keeps beside it. A level way round an upright body is the
// same at every height of the part, so that the distance in space is that of
// the part, standing as far from the body as the way's nearest place does, from
// a wall as high as the body is. That is worked out in whole numbers for a
// part that is a cylinder, and by [Between] for one that is not.
func (w Beside) Gap(a Arc, p Part, b Body) Gap {
	k := Bounds(b)
	if !p.flat() {
		return w.slanted(a, p, k)
	}
	rise, up := a.centre.Z+p.Low-k.High.Z, 1.0
	if down := k.Low.Z - a.centre.Z - p.High; down > rise {
		rise, up = down, -1
	}
	low, high := w.Low-p.LowRadius, w.High-p.LowRadius
	g := Gap{Low: low, High: max(high, rise), Dir: [3]float64{w.Dir[0], w.Dir[1], 0}}
	switch {
	case low > 0 && rise > 0:
		long, _ := Hypot(low, rise)
		side, above := float64(low)/float64(long), float64(rise)/float64(long)
		g.Low = long
		g.Dir = [3]float64{float64(w.Dir[0] * side), float64(w.Dir[1] * side), float64(up * above)}
	case rise > low:
		g.Low, g.Dir = rise, [3]float64{0, 0, up}
	}
	if high > 0 && rise > 0 {
		long, exact := Hypot(high, rise)
		if !exact {
			long++
		}
		g.High = long
	}
	return g
}

// slanted is Gap for a part that is not a cylinder: [Between], for the part
// standing beside a wall that fills all behind X nought.
func (w Beside) slanted(a Arc, p Part, k Box) Gap {
	wall := Box{Low: Point{-Far, -Far, k.Low.Z}, High: Point{0, Far, k.High.Z}}
	at := func(x measure.Length) Gap {
		q := Point{X: x, Z: a.centre.Z}
		return Between(Sweep{Part: p, From: q, To: q}, wall, Far)
	}
	g := at(min(w.Low, Far)) // nearer than it is, or by no more than it can be
	g.Dir = [3]float64{float64(w.Dir[0] * g.Dir[0]), float64(w.Dir[1] * g.Dir[0]), g.Dir[2]}
	if w.High != w.Low || g.Low != g.High {
		g.High = at(max(w.High, -Far)).High
	}
	g.Exact = false
	return g
}
