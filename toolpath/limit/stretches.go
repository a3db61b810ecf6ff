package limit

import (
	"math"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// planes are the axes of each plane: the first turned into the second is
// anticlockwise, and the third goes evenly along.
var planes = [3][3]solid.Axis{
	toolpath.PlaneXY: {solid.X, solid.Y, solid.Z},
	toolpath.PlaneZX: {solid.Z, solid.X, solid.Y},
	toolpath.PlaneYZ: {solid.Y, solid.Z, solid.X},
}

// stretches is [ways] for a step of any program: an arc in any plane, places that
// are known within a slack only. Where a stretch may lie higher or lower than it is
// put, it stands there twice, as low and as high as it may.
func stretches(s toolpath.Step) []way {
	if s.Slack == 0 && (s.Kind != toolpath.Arc || s.Plane == toolpath.PlaneXY) {
		return ways(s)
	}
	var all []piece
	up := s.Slack - s.CentreSlack
	if s.Kind != toolpath.Arc || s.Plane == toolpath.PlaneXY {
		all = pieces(s)
	} else {
		var off measure.Length
		all, off = chords(s)
		up = s.Slack + off
	}
	var out []way
	for _, p := range all {
		p.grow += 2 * s.Slack // on X and Y together less than that
		low, high := p, p
		low.from.Z, low.to.Z = p.from.Z-up, p.to.Z-up
		high.from.Z, high.to.Z = p.from.Z+up, p.to.Z+up
		out = append(out, way{pieces: []piece{low}})
		if up > 0 {
			out = append(out, way{pieces: []piece{high}})
		}
	}
	return out
}

// chords is an arc out of the XY plane as straight stretches, each grown by off, and
// off: how far the true way may lie from them. The reasons are those of [pieces].
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
	n := min(max(int(math.Ceil(math.Abs(sweep)/math.Sqrt(8*float64(chordBulge)/max(r, 1)))), 1), 4096)
	t := math.Abs(sweep) / float64(n)
	off = measure.Length(math.Ceil(float64(float64(r*t)*t/8)+math.Abs(ru-rv)+float64(r*1e-12))) + 4
	at := s.From.Point
	for k := range n {
		f := float64(k+1) / float64(n)
		angle, rad := start+float64(sweep*f), ru+float64((rv-ru)*f)
		next := at.
			With(a, s.Centre.Along(a)+measure.Length(math.Round(rad*math.Cos(angle)))).
			With(b, s.Centre.Along(b)+measure.Length(math.Round(rad*math.Sin(angle)))).
			With(c, s.From.Along(c)+(s.To.Along(c)-s.From.Along(c)).MulDiv(int64(k+1), int64(n), measure.Floor))
		if k == n-1 {
			next = s.To.Point
		}
		out = append(out, piece{from: at, to: next, grow: off})
		at = next
	}
	return out, off
}
