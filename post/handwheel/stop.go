package handwheel

import (
	"fmt"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// stopAgain is after how many passes a nut is looked at again, since it drifts
// (own choice: no source says how soon).
const stopAgain = 5

// nutOn tells whether a nut halts the operation. A drilled hole must come to its
// depth: where the nut cannot be set to just that, the dial is read.
func nutOn(m *machines.Machine, op *toolpath.Operation) bool {
	if m.Stop.Kind != "nut" || m.Stop.On != op.DepthBy {
		return false
	}
	deep := deepest(op)
	return op.Tool.Kind != toolpath.Drill || deep.Round(m.Stop.Step, measure.Ceil)-deep <= 1
}

// Held is an operation on a machine's stop: where a nut halts the cut, no move goes
// below what the nut can be set to, on the shallow side, and what the dial can show
// above that. Elsewhere it is the operation itself.
func Held(op toolpath.Operation, m *machines.Machine) toolpath.Operation {
	z, ok := m.ZAxis(op.DepthBy)
	if !ok || !nutOn(m, &op) || !z.HasDial() {
		return op
	}
	deep := deepest(&op)
	nut := deep.Round(m.Stop.Step, measure.Ceil)
	if nut == deep {
		return op
	}
	// The line at or above the nut; where that is the planned depth itself (a line may
	// stand a tenth of a nanometre off) nothing changes.
	line := z.Position(z.StepValue().Steps(nut, measure.Ceil), measure.Nearest)
	if line-deep <= 1 {
		return op
	}
	passes := make([]toolpath.Pass, len(op.Passes))
	for i, p := range op.Passes {
		moves := append([]toolpath.Move(nil), p.Moves...)
		for k := range moves {
			moves[k].To.Z = max(moves[k].To.Z, line)
		}
		passes[i] = p
		passes[i].Moves = moves
	}
	op.Passes = passes
	op.Makes = append([]toolpath.Hole(nil), op.Makes...)
	for i := range op.Makes {
		h := &op.Makes[i]
		h.Tip, h.Shoulder = max(h.Tip, line), max(h.Shoulder, line)
	}
	return op
}

// deepest is the lowest place of an operation.
func deepest(op *toolpath.Operation) measure.Length {
	var low measure.Length
	first := true
	for _, p := range op.Passes {
		for _, m := range p.Moves {
			if first || m.To.Z < low {
				low, first = m.To.Z, false
			}
		}
	}
	return low
}

// setStop is the first row of a cut: where its depth stops, spindle off.
func (b *bench) setStop() error {
	low := deepest(b.op)
	w := b.now(2)
	n, err := w.steps(low)
	if err != nil {
		return err
	}
	at := low
	if nutOn(b.machine, b.op) {
		at = low.Round(b.machine.Stop.Step, measure.Ceil)
		b.say("spindle off: set the stop nut of the %s to %s below zero, %s on the dial, no deeper", b.by, b.figure(-at), w.total(n))
		b.speed = 0
	} else {
		what := "no nut halts the " + b.by
		if b.machine.Stop.Kind == "nut" && b.machine.Stop.On == b.by {
			what = "the stop nut cannot be set to just this depth, wind it out of the way"
		}
		b.say("%s: deepest reading of this cut %s, total %s; mark it on the dial", what, w.shownText(n), w.total(n))
	}
	b.stop = &at
	return nil
}

// stopAgain asks to look at the nut.
func (b *bench) stopAgain() {
	if nutOn(b.machine, b.op) {
		b.say("look at the stop nut: it stands at %s below zero", b.figure(-*b.stop))
	}
}

func (b *bench) figure(l measure.Length) string { return lengthText(b.machine.Units, l) }

// shownText is what the dial shows at a step, for a person.
func (w *wheel) shownText(n int64) string { return fmt.Sprint(machines.LinesText(w.Shown(n))) }
