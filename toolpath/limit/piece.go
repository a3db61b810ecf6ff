package limit

import (
	"math"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// piece is a straight stretch of the cutter's way; grow is how much wider a
// cutter must be taken so that the stretch covers the true way.
type piece struct {
	from, to solid.Point
	grow     measure.Length
}

// chordBulge is the most that a chord may stand off its arc.
const chordBulge = measure.Micrometre

// planes are the axes of each plane: the first turned into the second is
// anticlockwise, and the third goes evenly along.
var planes = [3][3]solid.Axis{
	toolpath.PlaneXY: {solid.X, solid.Y, solid.Z},
	toolpath.PlaneZX: {solid.Z, solid.X, solid.Y},
	toolpath.PlaneYZ: {solid.Y, solid.Z, solid.X},
}

// pieces is a feed step as straight stretches.
func pieces(s toolpath.Step) []piece {
	if s.Kind != toolpath.Arc {
		return []piece{{from: s.From.Point, to: s.To.Point}}
	}
	out, _ := chords(s)
	return out
}

// chords is an arc as straight stretches, each grown by off: its bulge, the difference
// of its two radii, and what the points' rounding can be. No further may the true way
// lie from them.
func chords(s toolpath.Step) (out []piece, off measure.Length) {
	a, b, c := planes[s.Plane][0], planes[s.Plane][1], planes[s.Plane][2]
	part := func(p solid.Point) (float64, float64) {
		return float64(p.Along(a) - s.Centre.Along(a)), float64(p.Along(b) - s.Centre.Along(b))
	}
	ua, ub := part(s.From.Point)
	va, vb := part(s.To.Point)
	ru, rv := math.Hypot(ua, ub), math.Hypot(va, vb)
	start := math.Atan2(ub, ua)
	sweep := math.Atan2(vb, va) - start
	if s.Sense == toolpath.Clockwise && sweep >= 0 {
		sweep -= 2 * math.Pi
	}
	if s.Sense == toolpath.Anticlockwise && sweep <= 0 {
		sweep += 2 * math.Pi
	}
	r := max(ru, rv)
	// Bulge of a chord over an angle t is r(1-cos(t/2)) <= r t^2/8.
	n := min(max(int(math.Ceil(math.Abs(sweep)/math.Sqrt(8*float64(chordBulge)/max(r, 1)))), 1), 4096)
	t := math.Abs(sweep) / float64(n)
	// The points below are right within a millionth of r plus half a tenth each
	// way; a thousandth of a micrometre and 2 tenths are more than that for
	// every r up to 100 m taken with the relative error of these functions,
	// which is far below 1e-14.
	off = measure.Length(math.Ceil(float64(float64(r*t)*t/8)+math.Abs(ru-rv)+float64(r*1e-12))) + 4
	out = make([]piece, n)
	at := s.From.Point
	for k := range out {
		f := float64(k+1) / float64(n)
		angle, rad := start+float64(sweep*f), ru+float64((rv-ru)*f)
		next := at.
			With(a, s.Centre.Along(a)+measure.Length(math.Round(rad*math.Cos(angle)))).
			With(b, s.Centre.Along(b)+measure.Length(math.Round(rad*math.Sin(angle)))).
			With(c, s.From.Along(c)+(s.To.Along(c)-s.From.Along(c)).MulDiv(int64(k+1), int64(n), measure.Floor))
		if k == n-1 {
			next = s.To.Point
		}
		out[k] = piece{from: at, to: next, grow: off}
		at = next
	}
	return out, off
}

// sweep is a part of the cutter along the piece.
func (p piece) sweep(part solid.Part) solid.Sweep {
	if p.grow > 0 {
		part.LowRadius += p.grow
		part.HighRadius += p.grow
	}
	return solid.Sweep{Part: part, From: p.from, To: p.to}
}

// clip is the stretch of the piece on which a cutter of that radius can touch
// the box, taken a little long; ok is false where there is none.
func (p piece) clip(box solid.Box, radius measure.Length) (piece, bool) {
	r := radius + p.grow
	low := box.Low.Minus(solid.Point{X: r, Y: r})
	high := box.High.Plus(solid.Point{X: r, Y: r})
	low.Z = -solid.Far // the teeth reach up
	// The stretch is kept as two fractions of the move over den.
	const den = 1 << 30
	a, b := int64(0), int64(den)
	for _, ax := range []solid.Axis{solid.X, solid.Y, solid.Z} {
		from, d := p.from.Along(ax), p.to.Along(ax)-p.from.Along(ax)
		lo, hi := low.Along(ax)-from, high.Along(ax)-from
		if d == 0 {
			if lo > 0 || hi < 0 {
				return p, false
			}
			continue
		}
		if d < 0 {
			d, lo, hi = -d, -hi, -lo
		}
		if hi < 0 || lo > d {
			return p, false
		}
		if lo > 0 {
			a = max(a, int64(lo.MulDiv(den, int64(d), measure.Floor)))
		}
		if hi < d {
			b = min(b, int64(hi.MulDiv(den, int64(d), measure.Ceil)))
		}
	}
	if a > b {
		return p, false
	}
	at := func(f int64, way measure.Rounding) solid.Point {
		q := p.from
		for _, ax := range []solid.Axis{solid.X, solid.Y, solid.Z} {
			d := p.to.Along(ax) - p.from.Along(ax)
			m := d.Abs().MulDiv(f, den, way)
			if d < 0 {
				m = -m
			}
			q = q.With(ax, p.from.Along(ax)+m)
		}
		return q
	}
	out := piece{from: at(a, measure.Floor), to: at(b, measure.Ceil), grow: p.grow}
	if !axial(p) && (a > 0 || b < den) {
		out.grow += 2 // an end is rounded by less than a tenth on each axis
	}
	return out, true
}

// near tells whether a cutter of that radius can touch a piece of metal on the
// stretch, in its height too.
func (p piece) near(box solid.Box, radius measure.Length) bool {
	_, ok := p.clip(box, radius)
	return ok
}

// axial tells whether the piece runs along one axis, so that a point of it is
// rounded along it only.
func axial(p piece) bool {
	n := 0
	for _, ax := range []solid.Axis{solid.X, solid.Y, solid.Z} {
		if p.from.Along(ax) != p.to.Along(ax) {
			n++
		}
	}
	return n <= 1
}
