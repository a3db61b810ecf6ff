package solid

import "math"

func (c Cylinder) along() Point { return c.To.Minus(c.From) }

// support: through the flat ends. The disc of radius R across the axis a
// reaches R |d x a| / |a| along d.
func (c Cylinder) support(d vector) interval {
	ends := d.dotted(c.From).max(d.dotted(c.To))
	if c.Radius == 0 {
		return ends
	}
	r := whole(c.Radius)
	if axis, ok := c.Axis(); ok {
		return ends.plus(r.times(hypot(point(d[(axis+1)%3]), point(d[(axis+2)%3]))))
	}
	if c.From == c.To { // not a cylinder: a ball is the most it can be
		return ends.plus(r.times(d.norm()))
	}
	a := c.along().intervals()
	return ends.plus(r.times(norm(crossed(d.intervals(), a))).over(norm(a)))
}

func (c Cylinder) far(d vector) (vector, float64) {
	a := c.along().vector().unit()
	along := d.dot(a)
	at := c.From.vector()
	if along > 0 {
		at = c.To.vector()
	}
	across := d.minus(a.times(along))
	if l := across.length(); l > float64(1e-12*d.length()) {
		at = at.plus(across.times(float64(c.Radius) / l))
	}
	return at, 0
}

func (c Cylinder) centre() vector {
	return c.From.vector().plus(c.To.vector()).times(0.5)
}

// depth: from the distance to the axis and to the two ends. A point that lies
// e beyond an end and f beyond the radius is hypot(e, f) from the rim, which
// is in the body.
func (c Cylinder) depth(p vector, _ float64) float64 {
	f := c.From.intervals()
	q := [3]interval{
		point(p[0]).minus(f[0]), point(p[1]).minus(f[1]), point(p[2]).minus(f[2]),
	}
	var along, length, off interval
	if axis, ok := c.Axis(); ok {
		along = q[axis]
		length = whole(c.along().Along(axis))
		if length.lo < 0 {
			along, length = along.neg(), length.neg()
		}
		off = hypot(q[(axis+1)%3], q[(axis+2)%3])
	} else {
		a := c.along().intervals()
		length = norm(a)
		along = dots(q, a).over(length)
		off = norm(crossed(q, a)).over(length)
	}
	end := along.min(length.minus(along)).lo
	side := whole(c.Radius).minus(off).lo
	return inner(end, side)
}

// inner is the depth where the room to the ends and to the side is known: both
// below nought are the sides of a right angle.
func inner(end, side float64) float64 {
	if math.IsNaN(end) || math.IsNaN(side) {
		return math.Inf(-1)
	}
	if end < 0 && side < 0 {
		return -hypot(point(end), point(side)).hi
	}
	return math.Min(end, side)
}

func (b Box) support(d vector) interval {
	at := b.Low
	for _, a := range [...]Axis{X, Y, Z} {
		if d[a] > 0 {
			at = at.With(a, b.High.Along(a))
		}
	}
	return d.dotted(at)
}

func (b Box) far(d vector) (vector, float64) {
	l, h := b.Low.vector(), b.High.vector()
	for i := range l {
		if d[i] > 0 {
			l[i] = h[i]
		}
	}
	return l, 0
}

func (b Box) centre() vector { return b.Low.vector().plus(b.High.vector()).times(0.5) }

func (b Box) depth(p vector, _ float64) float64 {
	l, h := b.Low.intervals(), b.High.intervals()
	least, out := math.Inf(1), interval{}
	for i := range p {
		r := point(p[i]).minus(l[i]).min(h[i].minus(point(p[i]))).lo
		if math.IsNaN(r) {
			return math.Inf(-1)
		}
		if r < 0 {
			out = out.plus(product(r, r))
		}
		least = math.Min(least, r)
	}
	if out.hi > 0 {
		return -out.root().hi
	}
	return least
}

// radius is the greatest radius of the part.
func (p Part) radius() (r interval) { return whole(max(p.LowRadius, p.HighRadius)) }

// flat tells that the part is a cylinder.
func (p Part) flat() bool { return p.LowRadius == p.HighRadius }

// support: the sweep is the hull of four discs, the part's two ends at both
// ends of the move.
func (s Sweep) support(d vector) interval {
	ends := d.dotted(s.From).max(d.dotted(s.To))
	flat := hypot(point(d[0]), point(d[1]))
	up := point(d[2])
	p := s.Part
	low := up.times(whole(p.Low)).plus(flat.times(whole(p.LowRadius)))
	high := up.times(whole(p.High)).plus(flat.times(whole(p.HighRadius)))
	return ends.plus(low.max(high))
}

func (s Sweep) far(d vector) (vector, float64) {
	at, done := s.From.vector(), 0.0
	if t := s.To.vector(); d.dot(t.minus(at)) > 0 {
		at, done = t, 1
	}
	p := s.Part
	flat := math.Sqrt(float64(d[0]*d[0]) + float64(d[1]*d[1]))
	h, r := float64(p.Low), float64(p.LowRadius)
	if float64(d[2]*h)+float64(flat*r) < float64(d[2]*float64(p.High))+float64(flat*float64(p.HighRadius)) {
		h, r = float64(p.High), float64(p.HighRadius)
	}
	at[2] += h
	if flat > float64(1e-12*math.Abs(d[2])) {
		at[0] += float64(r * (d[0] / flat))
		at[1] += float64(r * (d[1] / flat))
	}
	return at, done
}

func (s Sweep) centre() vector { return s.middle(0.5) }

// middle is the middle of the part's wider half, with some of the move done.
func (s Sweep) middle(done float64) vector {
	f, t := s.From.vector(), s.To.vector()
	c := f.plus(t.minus(f).times(done))
	at := 0.5
	if s.Part.HighRadius > s.Part.LowRadius {
		at = 0.75
	} else if s.Part.HighRadius < s.Part.LowRadius {
		at = 0.25
	}
	c[2] += float64(s.Part.Low) + float64(at*float64(s.Part.High-s.Part.Low))
	return c
}

// depth: in the part as it stands at a place of the move, which is all inside
// the sweep. A cone's side is met at a slant: where there is f of room level
// and the side goes in by k over a height h, there is f h/hypot(h, k) across
// it. Of a p above or below the part, the room to the side counts at the end
// that is nearer.
func (s Sweep) depth(p vector, done float64) float64 {
	done = math.Min(math.Max(done, 0), 1)
	if math.IsNaN(done) {
		done = 0
	}
	f, m := s.From.intervals(), s.To.Minus(s.From).intervals()
	var q [3]interval
	for i := range q {
		q[i] = point(p[i]).minus(f[i].plus(m[i].times(point(done))))
	}
	part := s.Part
	low, high := whole(part.Low), whole(part.High)
	end := q[2].minus(low).min(high.minus(q[2])).lo
	off := hypot(q[0], q[1])
	r := whole(part.LowRadius)
	if part.flat() {
		return inner(end, r.minus(off).lo)
	}
	rise := high.minus(low)
	if !(rise.lo > 0) { // a disc
		return inner(end, part.radius().minus(off).lo)
	}
	z := q[2].max(low).min(high)
	grow := whole(part.HighRadius).minus(r)
	side := r.plus(grow.times(z.minus(low)).over(rise)).minus(off).lo
	if side > 0 {
		side = point(side).times(rise).over(hypot(rise, grow)).lo
	}
	return inner(end, side)
}
