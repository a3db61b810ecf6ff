package limit

import (
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

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
