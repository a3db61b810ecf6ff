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

// pieces is a feed step as straight stretches. An arc becomes chords, each
// grown by its bulge, by the difference of its two radii, and by what the
// points' rounding can be.
func pieces(s toolpath.Step) []piece {
	if s.Kind != toolpath.Arc {
		return []piece{{from: s.From.Point, to: s.To.Point}}
	}
	ax, ay := float64(s.From.X-s.Centre.X), float64(s.From.Y-s.Centre.Y)
	bx, by := float64(s.To.X-s.Centre.X), float64(s.To.Y-s.Centre.Y)
	ra, rb := math.Hypot(ax, ay), math.Hypot(bx, by)
	start := math.Atan2(ay, ax)
	sweep := math.Atan2(by, bx) - start
	if s.Sense == toolpath.Clockwise && sweep >= 0 {
		sweep -= 2 * math.Pi
	}
	if s.Sense == toolpath.Anticlockwise && sweep <= 0 {
		sweep += 2 * math.Pi
	}
	r := max(ra, rb)
	// Bulge of a chord over an angle t is r(1-cos(t/2)) <= r t^2/8.
	n := int(math.Ceil(math.Abs(sweep) / math.Sqrt(8*float64(chordBulge)/max(r, 1))))
	n = min(max(n, 1), 4096)
	t := math.Abs(sweep) / float64(n)
	// The points below are right within a millionth of r plus half a tenth each
	// way; a thousandth of a micrometre and 2 tenths are more than that for
	// every r up to 100 m taken with the relative error of these functions,
	// which is far below 1e-14.
	grow := measure.Length(math.Ceil(float64(float64(r*t)*t/8)+math.Abs(ra-rb)+float64(r*1e-12))) + 4
	out := make([]piece, n)
	at := s.From.Point
	for k := range out {
		f := float64(k+1) / float64(n)
		a, rad := start+float64(sweep*f), ra+float64((rb-ra)*f)
		next := solid.Point{
			X: s.Centre.X + measure.Length(math.Round(rad*math.Cos(a))),
			Y: s.Centre.Y + measure.Length(math.Round(rad*math.Sin(a))),
			Z: s.From.Z + (s.To.Z-s.From.Z).MulDiv(int64(k+1), int64(n), measure.Floor),
		}
		if k == n-1 {
			next = s.To.Point
		}
		out[k] = piece{from: at, to: next, grow: grow}
		at = next
	}
	return out
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
