package post

import (
	"fmt"
	"strings"

	"golang.org/x/exp/slices"

	"stopshort/machines"
	"stopshort/post/handwheel"
	"stopshort/post/handwheel/addup"
	"stopshort/toolpath"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/plan"
	"stopshort/toolpath/solid"
)

// Hand is a job as a handwheel table: its rows, their text as a spreadsheet has it,
// and the judge's word on what that text adds up to.
type Hand struct {
	Table    *handwheel.Table
	CSV      []byte
	Traces   []*toolpath.Trace // of each set-up, as the text adds up
	Verdicts []limit.Verdict
}

// TableName is what the judge calls the table's text.
const TableName = "the table"

// ByHand makes the handwheel table of some set-ups of a plan, adds its text up again,
// holds what it comes to against the plan and every limit against that. With leaveOut
// the finishes that wait for a measuring are not judged, and the table ends before the
// first of them. A [Fault] is the text not adding up to the plan; a [toolpath.Refusal] a
// cut that the wheels cannot make.
func ByHand(p *toolpath.Plan, setups []int, material string, m *machines.Machine, leaveOut bool) (*Hand, error) {
	held := onStop(p, setups, m, leaveOut)
	h, err := tabled(held, material, m)
	if err != nil || !leaveOut {
		return h, err
	}
	short, err := tabled(toFirstLook(held), material, m)
	if err != nil {
		return nil, err
	}
	short.Verdicts = h.Verdicts
	return short, nil
}

// toFirstLook is a plan without finishes that wait up to the first rough that is measured
// for one: what comes after it is not to be cut before it, with another tool touched off
// or the part turned over.
func toFirstLook(p *toolpath.Plan) *toolpath.Plan {
	out := *p
	for i, s := range p.Setups {
		for k, op := range s.Operations {
			finished := slices.ContainsFunc(s.Operations[k:], func(o toolpath.Operation) bool {
				return o.Part == toolpath.Finish && o.Cut == op.Cut
			})
			if op.Part != toolpath.Rough || finished {
				continue
			}
			out.Setups = append(p.Setups[:i:i], s)
			out.Setups[i].Operations = s.Operations[:k+1]
			return &out
		}
	}
	return &out
}

// tabled is a plan on the wheels as its table, added up and judged.
func tabled(held *toolpath.Plan, material string, m *machines.Machine) (*Hand, error) {
	var works []handwheel.Work
	for i := range held.Setups {
		w := workOf(&held.Setups[i], m)
		for _, op := range w.Setup.Operations {
			w.Moved = append(w.Moved, shiftOf(op, m))
		}
		works = append(works, w)
	}
	h, err := madeAndAdded(held, works, material, m)
	if err != nil {
		return h, err
	}
	asks := false
	for i := range works {
		works[i].Bears = bears(held, i, h, m)
		asks = asks || len(works[i].Bears) > 0
	}
	if asks { // they tell from which readings to go on, which only a judged table knows
		if h, err = madeAndAdded(held, works, material, m); err != nil {
			return h, err
		}
	}
	h.Table.Measures = append(sizes(held, m), h.overPins(held, works)...)
	return h, nil
}

// madeAndAdded is a table as it is written, and what that adds up to.
func madeAndAdded(held *toolpath.Plan, works []handwheel.Work, material string, m *machines.Machine) (*Hand, error) {
	t, err := handwheel.Make(held, works, material, m)
	if err != nil {
		return nil, err
	}
	h := &Hand{Table: t, CSV: t.CSV()}
	h.Traces, h.Verdicts, err = addsUp(h.CSV, held.Setups, m)
	return h, err
}

// sizes is what the cuts are to measure: a slot's width, an outline's boss, lugs and pads,
// and how deep from the touched face each comes by its last pass, on the work: what a zero
// was out by is taken off.
func sizes(held *toolpath.Plan, m *machines.Machine) (out []string) {
	for _, s := range held.Setups {
		var says []string // of the cut in hand
		for i, op := range s.Operations {
			for _, f := range op.Facts {
				switch f.Name {
				case "width", "boss", "lug", "pad":
					says = append(says, f.Name+" "+f.Value)
				}
			}
			if i+1 < len(s.Operations) && s.Operations[i+1].Cut == op.Cut && s.Operations[i+1].Tool.Number == op.Tool.Number {
				continue // its last part tells
			}
			switch {
			case op.Off() != 0 && op.Look.Direct: // it may be the bore that lies elsewhere, and not the floor
			case len(op.Makes) > 0 && op.Tool.Kind == toolpath.Drill && !op.Makes[0].Through:
				says = append(says, "full diameter to "+depthOf(&s, op, op.Makes[0].Tip+op.Tool.Point, m).Shown(m.Units, measure.Nearest)+" from the touched face")
			case len(op.Makes) > 0 && op.Tool.Point == 0, len(op.Makes) == 0 && op.Round == toolpath.NotRound:
				says = append(says, depthOf(&s, op, op.Deepest(), m).Shown(m.Units, measure.Nearest)+" deep from the touched face")
			}
			if len(says) > 0 {
				name := op.Name
				if op.Part != toolpath.Whole {
					name = op.Of
				}
				out = append(out, name+": "+strings.Join(says, ", "))
			}
			says = nil
		}
	}
	return out
}

// depthOf is how deep a height lies under the touched face, on the work: without what the
// zero was measured to be out by, and what the face stands over the line that its dial was
// set to.
func depthOf(s *toolpath.Setup, op toolpath.Operation, at measure.Length, m *machines.Machine) measure.Length {
	z, _ := m.ZAxis(op.DepthBy)
	line := z.Position(z.StepValue().Steps(s.Top, measure.Floor), measure.Floor)
	return line - at - op.Off()
}

// overPins is what is left over each bore that a cut stops short of, as it is read over
// a pin that fits the bore, rounded down. After a reading the dial's lines may leave more
// than the plan.
func (h *Hand) overPins(held *toolpath.Plan, works []handwheel.Work) (out []string) {
	u := h.Table.Machine.Units
	say := func(n int64) string { return measure.Length(n).Shown(u, measure.Floor) }
	for _, v := range h.Verdicts {
		if v.Pin == 0 || v.Leave == nil {
			continue
		}
		left := v.Planned + int64(overRead(held, v, h.Table.Machine))
		told := fmt.Sprintf("%s: %s is %s, which is %s to the far side of a pin of %s in the bore", v.Cut, v.Limit, say(left), say(left+v.Pin), say(v.Pin))
		w := works[slices.IndexFunc(works, func(w handwheel.Work) bool { return w.Setup.Number == v.Number[0] })]
		_, bore, _ := strings.Cut(v.Limit, " bore ")
		switch {
		case w.Studded() && bore == w.Setup.Over:
			told += ", when the stud is out of it"
		case slices.ContainsFunc(w.Bores, func(x handwheel.Bore) bool { return x.Name == bore && x.Shut }):
			told += ", when the part is out of what holds it"
		}
		if nibbled(w.Setup, v.Number[1]) {
			told += "; the cusps stand over that until they are filed"
		}
		out = append(out, told)
	}
	return out
}

// nibbled tells whether a cut leaves cusps to file.
func nibbled(s *toolpath.Setup, cut int) bool {
	return slices.ContainsFunc(s.Operations, func(op toolpath.Operation) bool { return op.Cut == cut && op.Round == toolpath.Nibbled })
}

// overRead is how much more a cut leaves over what it was measured for than was planned,
// since its finish is moved by whole lines of the dial.
func overRead(held *toolpath.Plan, v limit.Verdict, m *machines.Machine) measure.Length {
	for _, s := range held.Setups {
		for _, op := range s.Operations {
			if v.Number == [2]int{s.Number, op.Cut} && op.Off() != 0 && op.Look.Limit == v.Limit {
				return op.Off() + shiftOf(op, m)
			}
		}
	}
	return 0
}

// onStop is some set-ups of a plan as the wheels are turned: moved for what was measured
// before a finish, and with their depths on what the machine's stop nut can be set to.
func onStop(p *toolpath.Plan, setups []int, m *machines.Machine, leaveOut bool) *toolpath.Plan {
	held := *p
	held.Setups = nil
	for _, i := range setups {
		s := p.Setups[i]
		ops := s.Operations
		s.Operations = nil
		for _, op := range ops {
			if leaveOut && op.Waits() {
				continue
			}
			if by := shiftOf(op, m); by != 0 {
				op = onLines(movedUp(op, by), m)
			}
			s.Operations = append(s.Operations, handwheel.Held(op, m))
		}
		held.Setups = append(held.Setups, s)
	}
	return &held
}

// onLines is a moved operation with its heights on the lines of its dial again, from
// which the sum of two rounded places may lie a tenth of a nanometre off.
func onLines(op toolpath.Operation, m *machines.Machine) toolpath.Operation {
	g := plan.ForSource(m, op.DepthBy)
	for k := range op.Passes {
		for n := range op.Passes[k].Moves {
			to := &op.Passes[k].Moves[n].To
			to.Z = g.Round(solid.Z, to.Z, measure.Nearest)
		}
	}
	return op
}

// asCut is a set-up's table as it adds up, and the operations that it was held
// against, both as they lie over the work: what a finish was moved by for what was
// measured before it is taken off.
func asCut(s *toolpath.Setup, t *toolpath.Trace, m *machines.Machine) ([]toolpath.Operation, *toolpath.Trace) {
	ops := append([]toolpath.Operation(nil), s.Operations...)
	steps := append([]toolpath.Step(nil), t.Steps...)
	for i := range ops {
		by := shiftOf(ops[i], m)
		if by == 0 {
			continue
		}
		ops[i] = movedUp(ops[i], -by)
		for k := range steps {
			if steps[k].Op == i {
				steps[k].From.Z -= by
				steps[k].To.Z -= by
			}
		}
	}
	return ops, &toolpath.Trace{Steps: steps, Ended: t.Ended}
}

// addsUp adds a table's text up and holds what it comes to against its set-ups' plan,
// and every limit against that.
func addsUp(text []byte, setups []toolpath.Setup, m *machines.Machine) (traces []*toolpath.Trace, verdicts []limit.Verdict, err error) {
	sets, err := addup.Read(text, m)
	if err != nil {
		return nil, nil, &Fault{Name: TableName, Text: "it does not add up: " + err.Error()}
	}
	if len(sets) != len(setups) {
		return nil, nil, &Fault{Name: TableName, Text: fmt.Sprintf("it has %d set-ups and the plan %d", len(sets), len(setups))}
	}
	for i := range setups {
		s := &setups[i]
		if fault := sameByHand(s, sets[i], m); fault != nil {
			return nil, nil, fault
		}
		ops, trace := asCut(s, sets[i].Trace, m)
		j := limit.New(s, m)
		j.Program(TableName, ops, trace)
		verdicts = append(verdicts, j.Verdicts()...)
		traces = append(traces, sets[i].Trace)
	}
	return traces, verdicts, nil
}

// worn is the backlash from which the dials alone are not to be trusted with a tight
// size: a screw and nut in order have a third of it (0.003 to 0.005 in, "a small-machine
// maker's page on backlash" and "a bench knee-mill manual"; how many times that is worn
// is an own choice).
const worn = 400 * measure.Micrometre

// Warnings are what the machine's state says against this job: a backlash as large as
// what the tightest limit sideways has to spare, with no readout on that slide.
func (h *Hand) Warnings() (out []string) {
	m := h.Table.Machine
	var tight *limit.Verdict
	for i := range h.Verdicts {
		v := &h.Verdicts[i]
		if v.Unit == limit.Length && v.Margin > 0 && sideways(v.Limit) && (tight == nil || v.Margin < tight.Margin) {
			tight = v
		}
	}
	for a, x := range m.Axes {
		if x.Backlash < worn || tight == nil || int64(x.Backlash) < tight.Margin || m.Readout != nil && m.Readout.Axes[a] {
			continue
		}
		out = append(out, fmt.Sprintf("backlash of %s is %s and %s has %s to spare: mend the nut, fit a readout, or set each place by a gauge on the slide",
			solid.Axis(a), x.Backlash.Shown(m.Units, measure.Ceil), tight.Limit, measure.Length(tight.Margin).Shown(m.Units, measure.Floor)))
	}
	return out
}

// sideways tells whether a limit's name is one of a place in X and Y.
func sideways(name string) bool {
	for _, s := range []string{"wall", "edge", "slot width", "slot end", "each side"} {
		if strings.Contains(name, s) {
			return true
		}
	}
	return false
}
