package toolpath

import "stopshort/toolpath/measure"

// Proportions are the handbook's rules that go by a diameter, as they stand for the
// cutter of one operation. A figure of nought is not asked for.
type Proportions struct {
	StickOut measure.Figure[measure.Length] // of a drill: told from here
	Oversize measure.Figure[measure.Length] // how much wider than itself a drill may cut
	SlotWarn measure.Figure[measure.Length] // depth of a slot: told past this
	SlotStop measure.Figure[measure.Length] // refused past this
	Wall     WallRule                       // between what it cuts and what others have cut
}

// WallRule is the metal to leave where the job does not say how much: a length, or
// a share of the smaller diameter, the less.
type WallRule struct {
	Most   measure.Length
	Share  measure.Ratio
	Source string
}

// For is the least metal beside what is that wide, rounded up to a tenth of a
// nanometre.
func (r WallRule) For(smaller measure.Length) measure.Figure[measure.Length] {
	f := measure.Figure[measure.Length]{Value: r.Most, From: measure.Handbook, Source: r.Source}
	if !r.Share.IsZero() {
		f.Value = min(f.Value, r.Share.Of(smaller, measure.Ceil))
	}
	return f
}
