package outline

import "math"

// slack is more than floating point takes from any distance here, in tenths of
// a nanometre.
//
// The bound: whole coordinates of pieces lie within 2^42 (four times
// measure.MaxLength is below it), those of shapes within 2^40, radii within
// 2^42. So a place on an arc, the centre and a radius times a unit vector, lies
// within 2^43.6, and one rounding of a number of that size takes at most 2^-9.
// A place is the sum of two such, and its vector's own error, of direction and
// of length, adds 2^-8. A distance is a difference, a quotient of products by a
// length, or a root of squares: some six roundings more, each at most 2^-53 of a
// number below 2^45. All together stays below 2^-4. A direction that is a trifle
// off is none the less one that parts the arc in two.
const slack = 1.0 / 16

// vec is a place or a direction in floating point. Products are rounded before
// they are added, so that every processor finds the same.
type vec struct{ x, y float64 }

func (p Point) vec() vec { return vec{float64(p.X), float64(p.Y)} }

func (v vec) plus(w vec) vec             { return vec{v.x + w.x, v.y + w.y} }
func (v vec) minus(w vec) vec            { return vec{v.x - w.x, v.y - w.y} }
func (v vec) times(k float64) vec        { return vec{float64(v.x * k), float64(v.y * k)} }
func (v vec) dot(w vec) float64          { return float64(v.x*w.x) + float64(v.y*w.y) }
func (v vec) crossed(w vec) float64      { return float64(v.x*w.y) - float64(v.y*w.x) }
func (v vec) length() float64            { return math.Sqrt(v.dot(v)) }
func (v vec) unit() vec                  { return v.times(1 / v.length()) }
func (v vec) half(w vec) vec             { return vec{v.x + (w.x-v.x)/2, v.y + (w.y-v.y)/2} }
func clamp(v, low, high float64) float64 { return math.Max(low, math.Min(v, high)) }

// from is the distance of a place from the shape's box: nought in it.
func (s Shape) from(p vec) float64 {
	q := vec{
		clamp(p.x, float64(s.Low.X), float64(s.High.X)),
		clamp(p.y, float64(s.Low.Y), float64(s.High.Y)),
	}
	return p.minus(q).length()
}

func (s Shape) corners() [4]vec {
	return [4]vec{s.Low.vec(), Point{s.High.X, s.Low.Y}.vec(), s.High.vec(), Point{s.Low.X, s.High.Y}.vec()}
}

// fromStraight is the distance of the straight line from p to q from the
// shape's box. Two convex figures that do not meet are nearest at a corner of one of
// them; they meet where neither an axis nor the line itself parts them.
func (s Shape) fromStraight(p, q vec) float64 {
	near := math.Min(s.from(p), s.from(q))
	d := q.minus(p)
	long := d.length()
	if long < 1 { // no place on it is further than half its length from an end
		return near - long/2
	}
	left, right := false, false
	for _, c := range s.corners() {
		v := c.minus(p)
		off := v.crossed(d) / long
		left, right = left || off <= 0, right || off >= 0
		if t := v.dot(d) / long; t >= 0 && t <= long {
			near = math.Min(near, math.Abs(off))
		}
	}
	across := math.Max(p.x, q.x) >= float64(s.Low.X) && math.Min(p.x, q.x) <= float64(s.High.X) &&
		math.Max(p.y, q.y) >= float64(s.Low.Y) && math.Min(p.y, q.y) <= float64(s.High.Y)
	if across && left && right {
		return 0
	}
	return near
}

// deep is the shape that no piece may come near, and how near not: a piece that
// keeps off it lies no deeper than Tolerance within the grown shape. A radius
// that is less is made up by a smaller box; ok is false where nothing is left.
func (s Shape) deep() (d Shape, least float64, ok bool) {
	if s.Radius > Tolerance {
		return s, float64(s.Radius - Tolerance), true
	}
	// Of the box made smaller by k all places nearer than 1 lie no deeper than
	// the radius and k less 1, or 0.3 more at its corners.
	k := Tolerance - s.Radius
	s.Low, s.High = Point{s.Low.X + k, s.Low.Y + k}, Point{s.High.X - k, s.High.Y - k}
	return s, 1, s.Low.X <= s.High.X && s.Low.Y <= s.High.Y
}

// clears proves that no point of the piece lies deeper than Tolerance within
// the grown shape. Of an arc the driven curve lies within a tenth of its
// circle, since its ends do; so of the circle one more is asked.
func (p Piece) clears(grown Shape) bool {
	s, least, ok := grown.deep()
	if !ok {
		return true
	}
	if p.Kind == Line {
		return s.fromStraight(p.From.vec(), p.To.vec()) >= least+slack
	}
	if p.Sense == Clockwise {
		p = p.Reversed()
	}
	a := arc{p.Centre.vec(), float64(p.Radius), s, least + 1 + slack}
	return a.clears(p.From.minus(p.Centre).vec().unit(), p.To.minus(p.Centre).vec().unit())
}

// arc is a circle that is to keep off a shape's box.
type arc struct {
	centre vec
	radius float64
	shape  Shape
	least  float64
}

// clears proves it for the arc from one direction anticlockwise to another, at
// most half-way round. It cuts the arc in two until each part is proved by its
// chord, less what the arc stands out over it, or by its radii; or until a
// place on it is too near.
func (a arc) clears(from, to vec) bool {
	if a.radius-a.reach(from, to) >= a.least {
		return true
	}
	p, q := a.centre.plus(from.times(a.radius)), a.centre.plus(to.times(a.radius))
	// Half the chord squared is the bulge times the rest of the diameter, which
	// is the radius at least.
	long := q.minus(p).length() / 2
	bulge := float64(long*long) / a.radius
	if a.shape.fromStraight(p, q)-bulge >= a.least {
		return true
	}
	if long < 0.25 || a.shape.from(p) < a.least || a.shape.from(q) < a.least {
		return false
	}
	// The arc's middle: square to the chord, or, where that is short, between
	// the ends' directions.
	middle := to.minus(from)
	middle = vec{middle.y, -middle.x}
	if from.dot(to) > 0 {
		middle = from.plus(to)
	}
	middle = middle.unit()
	return a.clears(from, middle) && a.clears(middle, to)
}

// reach is how far the box goes at most along any direction of the arc, from
// the centre, and nought at least. The gap along a direction is never more than
// the distance; so the radius less this is a lower bound. Of a corner of the box about
// its own centre it is nought, and the bound the radius.
func (a arc) reach(from, to vec) float64 {
	most := 0.0
	for _, c := range a.shape.corners() {
		v := c.minus(a.centre)
		if from.crossed(v) > 0 && v.crossed(to) > 0 {
			most = math.Max(most, v.length())
		}
		most = math.Max(most, math.Max(from.dot(v), to.dot(v)))
	}
	return most
}

// keepsTo proves that every point of the piece is no further than Tolerance
// outside some grown shape. A straight line between two places that are so near
// to one shape is so near all along, since a convex shape's distance is a convex
// function; where one shape does not do the line is cut in two. An arc must be
// about a centre in a shape's box, with its radius.
func (p Piece) keepsTo(grown []Shape) bool {
	if p.Kind == Line {
		return covered(grown, p.From.vec(), p.To.vec())
	}
	for _, s := range grown {
		if p.Radius <= s.Radius+Tolerance-1 &&
			s.Low.X <= p.Centre.X && p.Centre.X <= s.High.X && s.Low.Y <= p.Centre.Y && p.Centre.Y <= s.High.Y {
			return true
		}
	}
	return false
}

func covered(grown []Shape, p, q vec) bool {
	long := q.minus(p).length()
	near := false
	for _, s := range grown {
		a, b := float64(s.Radius+Tolerance)-slack-s.from(p), float64(s.Radius+Tolerance)-slack-s.from(q)
		if a >= 0 && b >= 0 || long < 1 && math.Max(a, b) >= 1 {
			return true
		}
		near = near || a >= 0
	}
	m := p.half(q)
	return near && long >= 1 && covered(grown, p, m) && covered(grown, m, q)
}
