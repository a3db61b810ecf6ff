package limit

import (
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// slender is the diameters of stick-out from which a drill bends and wanders
// (from memory).
const slender = 15

// stickOut tells of a drill that sticks out far. It is a warning: a deep hole
// may want it.
func (j *Judge) stickOut(op toolpath.Operation, line int) {
	if op.Tool.Kind != toolpath.Drill {
		return
	}
	left := int64(slender*op.Tool.Diameter - op.Tool.StickOut)
	t := j.at(op, "stick-out, short of 15 diameters", Length, told, "hold the drill shorter, and look at the first hole before the others")
	better := int64(0)
	t.verdict.Better = &better
	t.meet(left, left, nil, j.here(line))
}

// told is the never-less of what is told, not held: nothing breaks it.
var told = measure.Figure[measure.Length]{Value: -solid.Far, From: measure.Default, Source: "told, not held"}
