package limit

import (
	"strconv"
	"strings"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// stickOut tells of a drill that sticks out far. It is a warning: a deep hole
// may want it.
func (j *Judge) stickOut(op toolpath.Operation, line int) {
	most := op.Book.StickOut
	if most.Value == 0 {
		return
	}
	left := int64(most.Value - op.Tool.StickOut)
	t := j.at(op, "stick-out, short of "+times(most.Value, op.Tool.Diameter)+" diameters", Length, told, "hold the drill shorter, and look at the first hole before the others")
	better := int64(0)
	t.verdict.Better = &better
	t.asked.From, t.asked.Source = most.From, most.Source
	t.meet(left, left, nil, j.here(line))
}

// told is the never-less of what is told, not held: nothing breaks it.
var told = measure.Figure[measure.Length]{Value: -solid.Far, From: measure.Derived, Source: "told, not held"}

// slotDeep holds the depth of a slot, from the metal's top, against what its cutter's
// diameter allows.
func (j *Judge) slotDeep(op toolpath.Operation, p piece, line int) {
	most := op.Book.SlotStop
	if most.Value == 0 {
		return
	}
	left := int64(most.Value - (j.topNear(p, op.Tool.Teeth().LowRadius) - min(p.from.Z, p.to.Z)))
	t := j.at(op, "slot depth, short of "+times(most.Value, op.Tool.Diameter)+" cutters", Length,
		measure.Figure[measure.Length]{From: most.From, Source: most.Source + "; told past: " + op.Book.SlotWarn.Source}, "take a larger cutter, or cut less deep")
	better := int64(most.Value - op.Book.SlotWarn.Value)
	if t.verdict.Better == nil || *t.verdict.Better < better { // of several cutters the one that is told first
		t.verdict.Better = &better
	}
	t.meet(left, left, nil, j.here(line))
}

// times is how often a diameter goes into a length, to a tenth.
func times(l, d measure.Length) string {
	tenths := int64(l.MulDiv(10, int64(d), measure.Nearest))
	return strings.TrimSuffix(strconv.FormatInt(tenths/10, 10)+"."+strconv.FormatInt(tenths%10, 10), ".0")
}
