package plan

import (
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// LastStep is how much deeper an operation's last pass goes than the one before it; where
// there is one alone, half of how far it goes below top, since it would be halved. Of an
// operation that makes holes it is that of the first one.
func LastStep(op toolpath.Operation, top measure.Length) measure.Length {
	passes := op.Passes
	if len(op.Makes) > 0 {
		top, passes = op.Makes[0].At.Z, passes[:1]
	}
	low, next := top, top
	for _, p := range passes {
		for _, m := range p.Moves {
			switch z := m.To.Z; {
			case m.Kind == toolpath.Rapid || m.Kind == toolpath.Stop:
			case z < low:
				low, next = z, low
			case low < z && z < next:
				next = z
			}
		}
	}
	step := next - low
	if next == top {
		step = (top - low) / 2
	}
	if op.Tool.Point > 0 {
		step = min(step, LastPeck(op.Tool))
	}
	return step
}

// LastPeck is the most that a drill is left to do after a measuring: enough to cut, and
// no more.
func LastPeck(c toolpath.Cutter) measure.Length { return c.Diameter / 2 }
