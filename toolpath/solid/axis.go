package solid

import (
	"math"

	"stopshort/toolpath/measure"
)

// A flat cutter on a straight move, and a cylinder that lies along an axis:
// seen along that axis the cylinder is a disc and the sweep a plane figure.
// The distance in the plane is a root of a ratio of whole numbers, so that
// every comparison with a whole number is decided in whole numbers. It is
// never more than the distance in space, and it is that distance where a
// nearest point of the figure has a point of the sweep over it between the
// cylinder's ends.

// plane is what is known in the plane: the signed distance from the disc's
// centre to the figure, the direction from that centre to the figure (where the
// centre is inside: from the nearest side into the figure), and the sweep's reach along the axis over a
// nearest point, or over each corner of the figure.
type plane struct {
	off    surd
	dir    vector
	low    measure.Length // over is [low, high] at least, where over is true
	high   measure.Length
	over   bool
	single bool // the figure stays as it is along the whole move
}

// alongAxis is the gap between a flat sweep and a cylinder along an axis. Low
// and Dir always hold; high tells that High does too and that the gap is
// exact.
//
// Separated (the disc's centre at least Radius from the figure): exact where
// the sweep is over its nearest point between the cylinder's ends.
//
// Overlapping: the least shift p across the axis is the least of all where the
// sweep's corners stand at least p from the cylinder's ends. Proof: let the
// unit direction be (u, w), u across and w >= 0 along. The sweep has a corner
// that is farthest against u, at a height along the axis that is at least p
// below the cylinder's end y1; so the gap is at most -p|u| - p w, and that is
// no more than -p. Likewise for w < 0 and the other end.
func alongAxis(s Sweep, c Cylinder, axis Axis) (g Gap, high bool) {
	if axis == Z {
		return upright(s, c)
	}
	u := X + Y - axis
	y0, y1 := c.From.Along(axis), c.To.Along(axis)
	if y0 > y1 {
		y0, y1 = y1, y0
	}
	var p plane
	if s.From.Along(u) == s.To.Along(u) || s.From.Z == s.To.Z {
		p = level(s, c, u, axis)
	} else {
		p = ramp(s, c, u, axis, y0, y1)
	}
	d := surd{p.off.floor - int64(c.Radius), p.off.whole}
	g = d.gap(p.dir)
	if d.floor >= 0 {
		return g, p.over && p.low <= y1 && p.high >= y0
	}
	depth := measure.Length(-d.floor)
	f, t := s.From.Along(axis), s.To.Along(axis)
	least, most := min(f, t), max(f, t)
	if p.single {
		return g, y1-least >= depth && most-y0 >= depth
	}
	return g, y1-most >= depth && least-y0 >= depth
}

func (s surd) gap(dir vector) Gap {
	return Gap{measure.Length(s.floor), measure.Length(s.ceil()), dir, true}
}

// rectangle is a figure with level and upright sides.
type rectangle struct{ l, r, b, t measure.Length }

// off is the signed distance from a point to the rectangle, and its direction.
func (k rectangle) off(x, z measure.Length) (surd, [2]float64) {
	gx, dx := k.l-x, 1.0
	if x-k.r > gx {
		gx, dx = x-k.r, -1
	}
	gz, dz := k.b-z, 1.0
	if z-k.t > gz {
		gz, dz = z-k.t, -1
	}
	if gx > 0 && gz > 0 {
		sum := wideProduct(int64(gx), int64(gx)).plus(wideProduct(int64(gz), int64(gz)))
		l := math.Sqrt(sum.float())
		return wideRoot(sum), [2]float64{float64(dx * float64(gx) / l), float64(dz * float64(gz) / l)}
	}
	if gx > gz {
		return surd{int64(gx), true}, [2]float64{dx, 0}
	}
	return surd{int64(gz), true}, [2]float64{0, dz}
}

// at is the part's outline seen level, as it stands at a point.
func (p Part) at(q Point, u Axis) rectangle {
	x, r := q.Along(u), p.LowRadius
	return rectangle{x - r, x + r, q.Z + p.Low, q.Z + p.High}
}

func across(d [2]float64, u Axis) (v vector) {
	v[u], v[Z] = d[0], d[1]
	return v
}

// level is the plane of a move that is level, or plain up and down, seen along
// the axis: the figure is a rectangle.
func level(s Sweep, c Cylinder, u, axis Axis) (p plane) {
	f, t := s.Part.at(s.From, u), s.Part.at(s.To, u)
	all := rectangle{min(f.l, t.l), max(f.r, t.r), min(f.b, t.b), max(f.t, t.t)}
	x, z := c.From.Along(u), c.From.Z
	off, dir := all.off(x, z)
	p.off, p.dir = off, across(dir, u)
	p.single = f == t
	qx, qz := min(max(x, all.l), all.r), min(max(z, all.b), all.t)
	p.reach(s.From, s.Part, qx, qz, u, axis)
	p.reach(s.To, s.Part, qx, qz, u, axis)
	m := s.To.Minus(s.From)
	mx, my := m.Along(u), m.Along(axis)
	if a := qx - s.From.Along(u); mx != 0 && a.Abs() < mx.Abs() && (a > 0) == (mx > 0) {
		// The cutter's axis passes the nearest point, there with its whole
		// radius: at From + my a/mx, less than one from the float below.
		y := s.From.Along(axis) + measure.Length(float64(my)*(float64(a)/float64(mx)))
		r := s.Part.LowRadius - 2
		p.stretch(y-r, y+r, r >= 0)
	}
	return p
}

// stretch adds a reach to what is over the nearest point.
func (p *plane) stretch(low, high measure.Length, ok bool) {
	if !ok {
		return
	}
	if !p.over {
		p.low, p.high, p.over = low, high, true
		return
	}
	p.low, p.high = min(p.low, low), max(p.high, high)
}

// reach adds the reach of the part as it stands at q over the place (qx, qz)
// of the plane: half a chord either side of its axis, rounded down.
func (p *plane) reach(q Point, part Part, qx, qz measure.Length, u, axis Axis) {
	k := part.at(q, u)
	if qx < k.l || qx > k.r || qz < k.b || qz > k.t {
		return
	}
	a, r := int64(qx-q.Along(u)), int64(part.LowRadius)
	half := measure.Length(wideRoot(wideProduct(r-a, r+a)).floor)
	y := q.Along(axis)
	p.stretch(y-half, y+half, true)
}

// ramp is the plane of a move that goes sideways and down at once, seen along
// the axis: the hull of two equal rectangles, with two slanting sides from
// corner to corner.
func ramp(s Sweep, c Cylinder, u, axis Axis, y0, y1 measure.Length) (p plane) {
	f, t := s.Part.at(s.From, u), s.Part.at(s.To, u)
	x, z := c.From.Along(u), c.From.Z
	mx, mz := int64(s.To.Along(u)-s.From.Along(u)), int64(s.To.Z-s.From.Z)
	mm := wideProduct(mx, mx).plus(wideProduct(mz, mz))
	ml := math.Sqrt(mm.float())

	// The corners farthest to the left (1) and to the right (-1) of the move.
	all := rectangle{min(f.l, t.l), max(f.r, t.r), min(f.b, t.b), max(f.t, t.t)}
	inside, indir := all.off(x, z) // the centre inside: the nearest side
	outside := inside.floor > 0 || !inside.whole
	for _, side := range [...]int64{1, -1} {
		kx, kz := f.r, f.b
		if (mz > 0) == (side > 0) {
			kx = f.l
		}
		if (mx > 0) == (side > 0) {
			kz = f.t
		}
		dx, dz := int64(x-kx), int64(z-kz)
		// how far the centre lies out beyond this side, times the move's length
		out := wideProduct(mx, dz).minus(wideProduct(mz, dx))
		if side < 0 {
			out = out.neg()
		}
		// from the centre to the figure: against the side's outward normal
		dir := [2]float64{float64(side) * float64(mz) / ml, -float64(side) * float64(mx) / ml}
		if out.sign() <= 0 {
			if d := wideRatio(out.neg(), mm).neg(); inside.less(d) {
				inside, indir = d, dir
			}
			continue
		}
		outside = true
		along := wideProduct(mx, dx).plus(wideProduct(mz, dz))
		if along.sign() < 0 || mm.less(along) {
			continue
		}
		p.off, p.dir = wideRatio(out, mm), across(dir, u)
		// Over a corner's path the sweep is the cutter's side, where it is as
		// far along the axis as the cutter's own axis.
		done := interval{along.float(), along.float()}.over(point(mm.float()))
		done = interval{done.lo - 1e-12, done.hi + 1e-12} // the floats are good to 1e-15
		y := whole(s.From.Along(axis)).plus(whole(s.To.Along(axis) - s.From.Along(axis)).times(done))
		if y.lo >= float64(y0) && y.hi <= float64(y1) {
			p.low, p.high, p.over = y0, y1, true
		}
		return p
	}
	if !outside {
		p.off, p.dir = inside, across(indir, u)
		p.reach(s.From, s.Part, x, z, u, axis)
		p.reach(s.To, s.Part, x, z, u, axis)
		return p
	}
	// A corner or a straight side of one of the two rectangles is nearest.
	k, q := f, s.From
	off, dir := f.off(x, z)
	if o, d := t.off(x, z); o.less(off) {
		k, q, off, dir = t, s.To, o, d
	}
	p.off, p.dir = off, across(dir, u)
	p.reach(q, s.Part, min(max(x, k.l), k.r), min(max(z, k.b), k.t), u, axis)
	return p
}

// upright is alongAxis for a cylinder along Z. The move seen from above is a
// line; the plane distance is that of the cylinder's axis from it, less both
// radii.
//
// Where the move is level or goes straight down, sweep and cylinder are both
// the product of a figure and a stretch of Z, with gaps a and b that may be
// negative. Then, proof as for alongAxis: where a or b is not above nought the
// gap is the greater of the two, both separated and overlapping; where both
// are above nought it is hypot(a, b), done here where a is whole and left to
// the search where not.
func upright(s Sweep, c Cylinder) (g Gap, high bool) {
	m, q := s.To.Minus(s.From), c.From.Minus(s.From)
	mx, my := int64(m.X), int64(m.Y)
	mm := wideProduct(mx, mx).plus(wideProduct(my, my))
	along := wideProduct(mx, int64(q.X)).plus(wideProduct(my, int64(q.Y)))
	var off surd
	var dir vector    // from the cylinder's axis to the move
	var low, up Point // where the cutter stands at the nearest place, at least
	switch {
	case along.sign() <= 0 || mm.sign() == 0:
		off, dir = fromAbove(q)
		low, up = s.From, s.From
	case !along.less(mm):
		off, dir = fromAbove(q.Minus(m))
		low, up = s.To, s.To
	default:
		side := wideProduct(mx, int64(q.Y)).minus(wideProduct(my, int64(q.X)))
		off = wideRatio(side.abs(), mm)
		ml := math.Sqrt(mm.float())
		dir = vector{float64(my) / ml, -float64(mx) / ml}
		if side.sign() < 0 {
			dir = dir.neg()
		}
		z := float64(s.From.Z) + float64(float64(m.Z)*(along.float()/mm.float()))
		low, up = Point{Z: floor(z) - 2}, Point{Z: ceil(z) + 2}
	}
	d := surd{off.floor - int64(c.Radius) - int64(s.Part.LowRadius), off.whole}
	g = d.gap(dir)
	z0, z1 := min(c.From.Z, c.To.Z), max(c.From.Z, c.To.Z)
	if m.Z != 0 && mm.sign() != 0 { // a ramp
		// The cutter stands somewhere from low to up: over for certain where
		// either would be, since its stretch of Z is at least that.
		clear := up.Z+s.Part.Low <= z1 && low.Z+s.Part.High >= z0
		return g, d.floor >= 0 && clear
	}
	b0 := min(s.From.Z, s.To.Z) + s.Part.Low - z1
	b1 := z0 - max(s.From.Z, s.To.Z) - s.Part.High
	b, rise := surd{int64(b0), true}, 1.0
	if b1 > b0 {
		b, rise = surd{int64(b1), true}, -1
	}
	if d.whole && d.floor > 0 && b.floor > 0 {
		gap, bdir := fromAbove(Point{X: measure.Length(d.floor), Y: measure.Length(b.floor)})
		k := dir.times(-bdir[0])
		k[2] = float64(rise * -bdir[1])
		return gap.gap(k), true
	}
	high = d.ceil() <= 0 || b.floor <= 0
	if d.less(b) {
		return b.gap(vector{0, 0, rise}), high
	}
	return g, high
}

// fromAbove is the length of q in XY, and the direction back along it. Where
// it has no length any direction will do.
func fromAbove(q Point) (surd, vector) {
	x, y := int64(q.X), int64(q.Y)
	sum := wideProduct(x, x).plus(wideProduct(y, y))
	if sum.sign() == 0 {
		return surd{0, true}, vector{1}
	}
	l := math.Sqrt(sum.float())
	return wideRoot(sum), vector{-float64(x) / l, -float64(y) / l}
}
