package recipe

import (
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
	"stopshort/toolpath/trade"
)

// peckHeights is how low each peck of a hole goes, the last to its tip, and how far over
// its last depth the drill comes down by a rapid. near is where the feed starts.
func (b *bench) peckHeights(tool toolpath.Cutter, h toolpath.Hole, near measure.Length) (heights []measure.Length, lift measure.Length) {
	pecks := b.pecks(tool, h)
	if z := b.cycleHeights(pecks, h, near); z != nil {
		return z, b.machine.Controller.PeckLift
	}
	for i, p := range pecks {
		z := h.Tip
		if i < len(pecks)-1 {
			z = max(b.grid.Round(solid.Z, h.At.Z-p, measure.Ceil), h.Tip)
		}
		heights = append(heights, z)
	}
	return heights, trade.PeckGap().Value
}

// cycleHeights is the heights of a pecking cycle, where the controller has it: equal
// steps, counted from where the feed starts, each no more than the least of the
// handbook's. nil where there is no such cycle, one peck is enough, or most of it would
// be in the air, since the drill cannot come down near the metal by a rapid.
func (b *bench) cycleHeights(pecks []measure.Length, h toolpath.Hole, near measure.Length) (heights []measure.Length) {
	if c := b.machine.Controller; c == nil || !c.Cycle(83) || len(pecks) < 2 {
		return nil
	}
	each, before := pecks[0], measure.Length(0)
	for _, p := range pecks[:len(pecks)-1] {
		each, before = min(each, p-before), p
	}
	each = b.grid.Round(solid.Z, each, measure.Floor)
	if each <= 0 || near-h.At.Z > approach+each {
		return nil
	}
	for z := near - each; z > h.Tip; z -= each {
		heights = append(heights, z)
	}
	return append(heights, h.Tip)
}

// feeds is how often a pass is fed.
func feeds(p toolpath.Pass) (n int) {
	for _, m := range p.Moves {
		if m.Kind == toolpath.Line {
			n++
		}
	}
	return n
}

// backTo tells how far over its last depth a drill comes down again by a rapid: as the
// controller's own cycle does, else as the handbook says.
func (b *bench) backTo(tool toolpath.Cutter, h toolpath.Hole) toolpath.Fact {
	_, lift := b.peckHeights(tool, h, b.descend(tool, h.At, h.At.Z))
	gap := trade.PeckGap()
	f := toolpath.Fact{Name: "back to", Value: b.both(lift) + " above", From: gap.From, Source: gap.Source}
	if lift != gap.Value {
		f.From, f.Source = measure.Given, "the machine's file: its pecking cycle"
	}
	return f
}
