package solid

import "stopshort/toolpath/measure"

// fine is how near the two bounds of a gap are brought where nothing stops the
// search before: 0.1 micrometre.
const fine = 1000 * measure.TenthNanometre

// Between is the distance between a swept part and a body.
//
// The search stops as soon as Low reaches need, so Low may then be well below
// the distance and High well above. To have the distance itself, give [Far].
// Otherwise it goes on until the bounds are within 0.1 micrometre of each
// other. Every pair of separated solids that was tried gets there; where one
// does not, the bounds still hold.
//
// Where the solids overlap, the distance is the greatest gap along any
// direction, below nought: minus the least shift that parts them. Low is the
// greatest gap along the directions that were tried, which is never more. High
// is what could be proved from one point common to both: minus the sum of the
// radii of two balls about it, one inside each. Bounds of an overlap may stay
// far apart, unless the answer is exact.
//
// Exact answers: a flat part and a cylinder along X, Y or Z wherever
// [alongAxis] decides, and wherever both bounds meet.
//
// Coordinates and radii must lie within plus and minus [Far], radii must not
// be negative, a part or a box not be upside down, a cylinder not be without
// length. Of anything else nothing is claimed: Low is below -Far, High above Far.
func Between(a Sweep, b Body, need measure.Length) Gap {
	best := Gap{Low: -beyond, High: beyond, Dir: [3]float64{0, 0, 1}}
	if !a.sane() || !sane(b) {
		return best
	}
	if c, ok := b.(Cylinder); ok && a.Part.flat() {
		if axis, ok := c.Axis(); ok {
			g, high := alongAxis(a, c, axis)
			if high {
				return g
			}
			best.Low, best.Dir = g.Low, g.Dir
		}
	}
	p := pair{a: a, b: b, near: b, best: best}
	if box, ok := b.(Box); ok {
		if k := box.clip(a); k != box {
			p.near, p.clipped = k, true
		}
	}
	p.search(need)
	p.best.Exact = p.best.Low == p.best.High
	return p.best
}

func sane(b Body) bool {
	switch b := b.(type) {
	case Cylinder:
		return b.From != b.To && b.Radius >= 0 && b.Radius <= Far && b.From.reachable() && b.To.reachable()
	case Box:
		return b.Low.reachable() && b.High.reachable() &&
			b.Low.X <= b.High.X && b.Low.Y <= b.High.Y && b.Low.Z <= b.High.Z
	case Sweep:
		return b.sane()
	}
	return false
}

func (s Sweep) sane() bool {
	p := s.Part
	return p.Low <= p.High && p.LowRadius >= 0 && p.HighRadius >= 0 &&
		Point{p.Low, p.High, 0}.reachable() && Point{p.LowRadius, p.HighRadius, 0}.reachable() &&
		s.From.reachable() && s.To.reachable()
}

// clip is the part of a box within reach of the sweep, so that a face at Far
// does not swamp the arithmetic.
//
// The point of a box nearest to x is x brought within the box's faces. So the
// distance from the sweep to the box is the distance to what is left of it when
// every face is brought in, no further than the sweep's own bounds. Here those
// bounds are grown by their own size and by 100 mm, so that this stays true,
// and Dir with it, when the sweep is moved by as much.
func (b Box) clip(s Sweep) Box {
	k := s.bounds()
	size := k.High.Minus(k.Low)
	grow := size.X + size.Y + size.Z + 100*measure.Millimetre
	for _, a := range [...]Axis{X, Y, Z} {
		l, h := k.Low.Along(a)-grow, k.High.Along(a)+grow
		bl, bh := b.Low.Along(a), b.High.Along(a)
		b.Low = b.Low.With(a, min(max(l, bl), bh))
		b.High = b.High.With(a, min(max(h, bl), bh))
	}
	return b
}

// pair is a search for the gap between two bodies.
type pair struct {
	a       Sweep
	b       Body
	near    Body // the body searched: b, or what is left of a box by clip
	clipped bool
	best    Gap // what is proved so far
}

// gap is about the gap along d, for a d of length 1.
func (p *pair) gap(d vector) float64 {
	a, _ := p.a.far(d.neg())
	b, _ := p.near.far(d)
	return d.dot(a) - d.dot(b)
}

// prove raises Low to the gap along d, if that is more. Against a clipped box a
// gap counts where it is above nought: then it is a distance to the whole box
// too. Against the whole box it always counts.
func (p *pair) prove(d vector) {
	if d.isZero() {
		return
	}
	least, length := p.a.support(d.neg()).neg(), d.norm()
	l := floor(least.minus(p.near.support(d)).over(length).lo)
	if p.clipped && l <= 0 {
		l = floor(least.minus(p.b.support(d)).over(length).lo)
	}
	if l > p.best.Low {
		p.best.Low, p.best.Dir = l, d.unit()
	}
}

// witness lowers High by a pair of points: to their distance, and by how much
// each is outside its body.
func (p *pair) witness(w corner) {
	d := [3]interval{
		point(w.a[0]).minus(point(w.b[0])),
		point(w.a[1]).minus(point(w.b[1])),
		point(w.a[2]).minus(point(w.b[2])),
	}
	h := norm(d).hi
	if out := p.a.depth(w.a, w.doneA); out < 0 {
		h = addUp(h, -out)
	}
	if out := p.b.depth(w.b, w.doneB); out < 0 {
		h = addUp(h, -out)
	}
	p.best.High = min(p.best.High, ceil(h))
}

// common lowers High by one point: with balls about it inside the two bodies,
// of radii i and j, the gap along any direction is at most -i-j; where a body
// has only a point at a distance i, that counts as a radius of -i.
func (p *pair) common(q vector, doneA, doneB float64) (depth float64) {
	depth = addDown(p.a.depth(q, doneA), p.b.depth(q, doneB))
	p.best.High = min(p.best.High, ceil(-depth))
	return depth
}

// search brings the bounds together.
func (p *pair) search(need measure.Length) {
	d := p.obvious()
	p.prove(d)
	if p.best.Low >= need {
		p.witness(p.corner(d.unit()))
		return
	}
	n := nearest{pair: p, need: float64(need)}
	n.run(d.unit())
	p.prove(n.dir)
	w := n.points()
	p.witness(w)
	p.square(w)
	if !n.overlap || p.best.High-p.best.Low <= fine {
		return
	}
	h := hull{pair: p}
	p.prove(h.run())
	p.sink(w)
}

// obvious is the best of the directions that come to mind: the axes, and from
// what is nearest in the body's middle to the cutter. Of separated solids the
// answer is often one of them, and then it is whole.
func (p *pair) obvious() vector {
	best, most := vector{0, 0, 1}, -float64(beyond)
	try := func(d vector) {
		if d.isZero() {
			return
		}
		if g := p.gap(d.unit()); g > most {
			best, most = d, g
		}
	}
	for i := range 3 {
		var d vector
		d[i] = 1
		try(d)
		try(d.neg())
	}
	low := Point{Z: p.a.Part.Low}
	for _, q := range [...]Point{p.a.From.Plus(low), p.a.To.Plus(low)} {
		switch b := p.b.(type) {
		case Cylinder:
			d := q.Minus(b.From)
			if axis, ok := b.Axis(); ok {
				try(d.With(axis, 0).reduced())
				continue
			}
			u, v := b.along().vector().unit(), d.vector()
			try(v.minus(u.times(u.dot(v))))
			if q == p.a.From.Plus(low) {
				try(u)
				try(u.neg())
			}
		case Box:
			try(q.Minus(Point{
				min(max(q.X, b.Low.X), b.High.X),
				min(max(q.Y, b.Low.Y), b.High.Y),
				min(max(q.Z, b.Low.Z), b.High.Z),
			}).reduced())
		}
	}
	return best
}

// reduced is the direction of p in the least whole numbers, so that products
// with it are exact more often.
func (p Point) reduced() vector {
	a, b := p.X.Abs(), p.Y.Abs()
	for _, c := range [...]measure.Length{b, p.Z.Abs()} {
		for c != 0 {
			a, c = c, a%c
		}
	}
	if a > 1 {
		p = Point{p.X / a, p.Y / a, p.Z / a}
	}
	return p.vector()
}

// corner is a point of each body, and how much of its move is done there.
type corner struct {
	a, b, w      vector // w = a-b
	doneA, doneB float64
}

// corner is where the two bodies come nearest along d.
func (p *pair) corner(d vector) (k corner) {
	k.a, k.doneA = p.a.far(d.neg())
	k.b, k.doneB = p.near.far(d)
	k.w = k.a.minus(k.b)
	return k
}

// square tries whole places for the points of a gap along an axis: face to
// face they lie straight across, and the gap is exact.
func (p *pair) square(w corner) {
	for i := range 3 {
		if d := p.best.Dir[i]; d != 1 && d != -1 {
			continue
		}
		a := vector{float64(floor(w.a[0] + 0.5)), float64(floor(w.a[1] + 0.5)), float64(floor(w.a[2] + 0.5))}
		b := a
		b[i] = float64(floor(w.b[i] + 0.5))
		p.witness(corner{a: a, b: b, doneA: w.doneA, doneB: w.doneB})
	}
}

// sink looks for a point deep inside both bodies: from a point that is in both,
// or nearly, and where that gains nothing (in the point of a cone) from the
// middles of the bodies.
func (p *pair) sink(w corner) {
	if p.deeper(w.a.plus(w.b).times(0.5), w.doneA, w.doneB) > 0 {
		return
	}
	for i := range 5 {
		if p.deeper(p.a.middle(float64(i)/4), float64(i)/4, w.doneB) > 0 {
			return
		}
	}
	p.deeper(p.near.centre(), 0.5, 0.5)
}

// deeper goes from a point step by step along the axes, and along the moves,
// as long as that gains depth. Steps halve down to 10 micrometres.
func (p *pair) deeper(q vector, s, t float64) (depth float64) {
	depth = p.common(q, s, t)
	k := p.a.bounds()
	size := k.High.Minus(k.Low)
	step, part := 0.25*float64(max(size.X, size.Y, size.Z)), 0.25
	for range 100 {
		if step < float64(10*measure.Micrometre) {
			break
		}
		better := false
		for i := range 10 {
			r, rs, rt := q, s, t
			sign := float64(1 - i%2*2)
			switch i / 2 {
			case 3:
				rs = min(max(s+float64(sign*part), 0), 1)
			case 4:
				rt = min(max(t+float64(sign*part), 0), 1)
			default:
				r[i/2] += float64(sign * step)
			}
			if e := p.common(r, rs, rt); e > depth {
				q, s, t, depth, better = r, rs, rt, e, true
			}
		}
		if !better {
			step, part = step/2, part/2
		}
	}
	return depth
}
