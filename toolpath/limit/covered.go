package limit

import (
	"stopshort/toolpath"
	"stopshort/toolpath/solid"
)

// covered tells of a hole that lies under a part which will sit on top, or whose
// rim cuts into that area: it could not be reached later. It is a warning, since
// it may be meant.
func (j *Judge) covered(op toolpath.Operation, h toolpath.Hole, line int) {
	disc := solid.Box{
		Low:  h.At.Minus(solid.Point{X: h.Diameter / 2, Y: h.Diameter / 2}),
		High: h.At.Plus(solid.Point{X: h.Diameter / 2, Y: h.Diameter / 2}),
	}
	for _, c := range j.setup.Covered {
		left := int64(disc.Apart(c))
		t := j.at(op, "clear of what will cover it", Length, told, "move the hole out of the covered area")
		better := int64(0)
		t.verdict.Better = &better
		t.meet(left, left, nil, j.here(line))
	}
}
