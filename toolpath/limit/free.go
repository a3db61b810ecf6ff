package limit

import (
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// one is the least number of things that hold a part.
var one = measure.Figure[measure.Length]{Value: 1, From: measure.Default, Source: "one at least"}

// free asks that the part itself is held where a cut frees it from the rest of
// the stock. One thing that holds it, a stud through it, lets it turn: that is told
// (common practice, no source).
func (j *Judge) free(op toolpath.Operation, line int) {
	if !op.Frees {
		return
	}
	t := j.at(op, "what holds the part when it is free", Count, one, "hold the part itself: a stud through it, or a clamp on it")
	two := int64(2)
	t.verdict.Better = &two
	if op.HeldBy == 1 {
		t.verdict.Do = "one stud lets the part turn: pin it, hold it by a second one, or take light cuts and accept it with the reason"
	}
	if op.Loose {
		j.at(op, "stock that comes loose", Count, nought, "move what holds the part away from the way round the outline, or hold the part by a stud through it").
			meetFigure(-1, "some, where a clamp, a nut or a jaw keeps the cutter from clearing it", j.here(line))
	}
	t.meet(int64(op.HeldBy), int64(op.HeldBy), nil, j.here(line))
}
