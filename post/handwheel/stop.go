package handwheel

import (
	"fmt"
	"strings"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// toldApart is how far the nut may stand from the last line of the dial and be told as
// being there: less than the last figure of a reading.
const toldApart = measure.Micrometre

// stopAgain is after how many passes a nut is looked at again, since it drifts
// (own choice: no source says how soon).
const stopAgain = 5

// Held is an operation on a machine's stop: where a nut halts the cut, no move goes
// below what the nut can be set to, on the shallow side, and what the dial can show
// above that. Elsewhere it is the operation itself: a drilled hole must come to its
// depth, so where the nut cannot be set to just that, the dial is read.
func Held(op toolpath.Operation, m *machines.Machine) toolpath.Operation {
	deep := op.Deepest()
	nut, line, ok := m.StopAt(op.DepthBy, deep, op.Tool.Kind == toolpath.Drill)
	if !ok {
		return op
	}
	op.Nut = &nut
	if line == deep {
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

// setStop is where a cut's depth stops, spindle off. A nut is set by the gap that is left
// at it: with the cutter on the face, which onFace says, or from where it stood for the
// operation before with the same tool, the cutter clear. Where it was out of the way then
// there is nothing to set it by, and the dial is read.
func (b *bench) setStop(onFace bool) error {
	low := b.op.Deepest()
	w := b.now(2)
	n, err := w.steps(low)
	if err != nil {
		return err
	}
	was := b.nut
	b.nut = nil
	at := low
	if b.op.Nut != nil && (onFace || was != nil) {
		at = *b.op.Nut
		how := "the cutter is clear of the work"
		switch {
		case onFace:
			how = fmt.Sprintf("with the cutter still on the face leave a gap of %s at the nut", b.down(w.slide-at))
		case *was == at:
			how += ", the nut stays where it stands"
		case *was > at:
			how += fmt.Sprintf(", wind the nut by %s deeper", b.down(*was-at))
		default:
			how += fmt.Sprintf(", wind the nut by %s shallower", (at-*was).Shown(b.machine.Units, measure.Ceil))
		}
		if !onFace {
			how += fmt.Sprintf("; the gap at it is then %s", b.down(w.slide-at))
		}
		last := fmt.Sprintf("it is %s on the dial", w.total(n))
		if short := low - at; short > toldApart {
			last = fmt.Sprintf("the cut stops %s short of it, at %s on the dial", b.figure(short), w.total(n))
		}
		b.say("spindle off: set the stop nut of the %s to %s below zero: %s; %s, no deeper", b.by, b.down(-at), how, last)
		b.speed, b.nut = 0, &at
	} else {
		what := "no nut halts the " + b.by
		if b.machine.Stop.Kind == "nut" && b.machine.Stop.On == b.by {
			what = "the stop nut cannot be set to just this depth, wind it out of the way"
			if b.op.Nut != nil {
				what = "the stop nut stays out of the way"
			}
		}
		b.say("spindle off; %s: deepest reading of this cut %s, total %s; wipe any old mark off the dial and mark it; the mark halts nothing and comes by at every turn: count them", what, w.shownText(n), w.total(n))
		b.speed = 0
	}
	b.stop = &at
	return nil
}

// rests stops between two passes, spindle off: the nut is looked at, and in an outline the
// chips are brushed away and what holds the part is tried.
func (b *bench) rests(nut, outline bool) {
	var what []string
	if nut && b.nut != nil {
		z := b.now(2)
		what = append(what, fmt.Sprintf("look at the stop nut: it stands at %s below zero, so that the gap at it is %s now", b.down(-*b.nut), b.down(z.slide-*b.nut)))
	}
	if outline {
		what = append(what, "brush the chips away and look that what holds the part is tight")
	}
	if len(what) == 0 {
		return
	}
	b.say("spindle off; %s", strings.Join(what, "; "))
	b.say("spindle on at %s", b.op.Speed)
}

// down is a depth that a nut is set to, rounded to the shallower side.
func (b *bench) down(l measure.Length) string { return l.Shown(b.machine.Units, measure.Floor) }

func (b *bench) figure(l measure.Length) string { return l.Shown(b.machine.Units, measure.Nearest) }

// shownText is what the dial shows at a step, for a person.
func (w *wheel) shownText(n int64) string { return machines.LinesText(w.Shown(n)) }
