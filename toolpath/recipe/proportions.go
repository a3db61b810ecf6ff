package recipe

import (
	"fmt"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/trade"
)

// wallRule is the handbook's least wall, for the judge.
func wallRule() toolpath.WallRule {
	most, share, source := trade.WallRule()
	return toolpath.WallRule{Most: most, Share: share, Source: source}
}

// Proportions is what the handbook asks of a cutter, whatever it is used for: what it
// asks of a slot too.
func Proportions(c toolpath.Cutter) toolpath.Proportions {
	b := toolpath.Proportions{Wall: wallRule(), Oversize: trade.Oversize(c.Measured)}
	if c.Kind == toolpath.Drill {
		b.StickOut = trade.StickOut(c.Diameter)
	} else {
		b.Oversize.Value = 0
	}
	d := trade.SlotDepths(c.Diameter)
	b.SlotWarn, b.SlotStop = d.Warn, d.Stop
	return b
}

// asked gives operations the handbook's rules for their cutters; those of a slot have
// been given to slots.
func asked(ops []toolpath.Operation) {
	for i := range ops {
		op := &ops[i]
		b := Proportions(op.Tool)
		b.SlotWarn, b.SlotStop = op.Book.SlotWarn, op.Book.SlotStop
		op.Book = b
	}
}

// deepSlot asks of a slot what the handbook says of its depth, and tells the operator
// where chips no longer come out of it by themselves. deep is from the metal's top.
func (b *bench) deepSlot(op *toolpath.Operation, deep measure.Length) {
	d := trade.SlotDepths(op.Tool.Diameter)
	op.Book.SlotWarn, op.Book.SlotStop = d.Warn, d.Stop
	switch {
	case deep >= d.Clear.Value:
		b.out.Head = append(b.out.Head, op.Name+" is deep: stop after each pass and clear the chips")
	case deep > d.Warn.Value:
		b.out.Head = append(b.out.Head, op.Name+" is deep: keep the chips out of it")
	}
}

// asWide is the warning of a slot that is cut as wide as its cutter though its width has
// a tolerance: run-out and bend open it, and no pass goes along its walls.
func (s *slot) asWide(p slotPath) []string {
	if p.track.finish > 0 || !s.node.Set("width_over") {
		return nil
	}
	return []string{fmt.Sprintf("%s: as wide as its cutter, with %s over: run-out and bend open it, and no pass goes along its walls; take a smaller cutter",
		s.cut.Name, s.both(s.node.Length("width_over")))}
}
