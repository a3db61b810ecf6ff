package trade

import (
	"fmt"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
)

// Engagement is how much thread makes a full-strength joint in the material, in
// major diameters of the thread: 1 in steel, 3/2 in brass and bronze.
func Engagement(material string) (measure.Figure[measure.Ratio], error) {
	m, err := Material(material)
	if err != nil {
		return measure.Figure[measure.Ratio]{}, err
	}
	for _, r := range drills().engagements {
		if r.material == m.Name {
			return measure.Figure[measure.Ratio]{Value: r.share, From: measure.Handbook,
				Source: fmt.Sprintf("%s, thread engagement: %s D (%s)", m.Name, r.share, r.rests())}, nil
		}
	}
	panic("trade: a material without engagement") // readDrills has seen to it
}

// RunOut is what a kind of tap leaves unfinished at the end of a blind hole, in
// pitches.
type RunOut struct {
	Row
	Tap          string // "bottoming", "plug"
	Least, Usual measure.Ratio
}

// RunOutOf is the run-out of a kind of tap. An unknown kind is an error that
// lists the known ones.
func RunOutOf(tap string) (RunOut, error) {
	var known []string
	for _, r := range drills().runOuts {
		if r.Tap == plain(tap) {
			return r, nil
		}
		known = append(known, r.Tap)
	}
	return RunOut{}, fmt.Errorf("%q is no tap that the handbook knows: write %s", tap, form.Listed(known, "or"))
}

// Room is how far the full diameter of the hole goes on beyond the last full
// thread of that pitch, as a rule and at the least, each rounded up to a tenth
// of a nanometre.
func (r RunOut) Room(pitch measure.Length) (usual, least measure.Length) {
	return r.Usual.Of(pitch, measure.Ceil), r.Least.Of(pitch, measure.Ceil)
}

// Edge is how near the edge a hole's centre may be.
type Edge struct {
	Warn, Stop measure.Figure[measure.Length]
}

// EdgeDistance is the distances from the centre of a hole of diameter d under
// which it is told and under which it is refused, each rounded up to a tenth of
// a nanometre. A tapped hole's d is its major diameter. They were chosen here by
// published ones.
func EdgeDistance(d measure.Length) Edge {
	r := drills().edge
	of := func(what string, share measure.Ratio) measure.Figure[measure.Length] {
		return measure.Figure[measure.Length]{Value: share.Of(d, measure.Ceil), From: measure.Handbook,
			Source: fmt.Sprintf("edge distance, %s: %s D (%s)", what, share, r.rests())}
	}
	return Edge{Warn: of("warning", r.warn), Stop: of("stop", r.stop)}
}

// TappedEdge is the published light-duty minimum from the centre of a tapped hole
// to the edge: half the major diameter and three pitches, rounded up to a tenth
// of a nanometre.
func TappedEdge(major, pitch measure.Length) measure.Figure[measure.Length] {
	r := drills().tapped
	return measure.Figure[measure.Length]{
		Value: major.Half(measure.Ceil) + r.pitches.Of(pitch, measure.Ceil), From: measure.Handbook,
		Source: fmt.Sprintf("edge distance of a tapped hole: D / 2 and %s pitches (%s)", r.pitches, r.rests()),
	}
}

// BreakThrough is how far beyond the far face the full diameter of a drill goes:
// 0.5 mm or a tenth of its diameter, the greater, rounded up to a tenth of a
// nanometre.
func BreakThrough(d measure.Length) measure.Figure[measure.Length] {
	r := drills().through
	return measure.Figure[measure.Length]{
		Value: max(r.least, r.share.Of(d, measure.Ceil)), From: measure.Handbook,
		Source: fmt.Sprintf("break-through: %s or %s D, the greater (%s)", r.least, r.share, r.rests()),
	}
}
