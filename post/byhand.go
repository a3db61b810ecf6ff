package post

import (
	"fmt"
	"strings"

	"stopshort/machines"
	"stopshort/post/handwheel"
	"stopshort/post/handwheel/addup"
	"stopshort/toolpath"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/measure"
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
// holds what it comes to against the plan and every limit against that. A [Fault] is
// the text not adding up to the plan; a [toolpath.Refusal] a cut that the wheels
// cannot make.
func ByHand(p *toolpath.Plan, setups []int, material string, m *machines.Machine) (*Hand, error) {
	held := *p
	held.Setups = nil
	var works []handwheel.Work
	for _, i := range setups {
		s := p.Setups[i]
		s.Operations = append([]toolpath.Operation(nil), s.Operations...)
		for k := range s.Operations {
			s.Operations[k] = handwheel.Held(s.Operations[k], m)
		}
		held.Setups = append(held.Setups, s)
	}
	for i := range held.Setups {
		works = append(works, workOf(&held.Setups[i]))
	}
	t, err := handwheel.Make(&held, works, material, m)
	if err != nil {
		return nil, err
	}
	h := &Hand{Table: t, CSV: t.CSV()}
	sets, err := addup.Read(h.CSV, m)
	if err != nil {
		return nil, &Fault{Name: TableName, Text: "it does not add up: " + err.Error()}
	}
	if len(sets) != len(held.Setups) {
		return nil, &Fault{Name: TableName, Text: fmt.Sprintf("it has %d set-ups and the plan %d", len(sets), len(held.Setups))}
	}
	for i := range held.Setups {
		s := &held.Setups[i]
		if fault := sameByHand(s, sets[i], m); fault != nil {
			return nil, fault
		}
		j := limit.New(s, m)
		j.Program(TableName, s.Operations, sets[i].Trace)
		h.Verdicts = append(h.Verdicts, j.Verdicts()...)
		h.Traces = append(h.Traces, sets[i].Trace)
	}
	return h, nil
}

// worn is the backlash from which the dials alone are not to be trusted with a tight
// size: a screw and nut in order have a third of it ("Manual machine facts", 2).
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
		say := func(l measure.Length, way measure.Rounding) string {
			if m.Units == measure.In {
				return l.Format(measure.In, 4, way) + " in"
			}
			return l.Format(measure.MM, 3, way) + " mm"
		}
		out = append(out, fmt.Sprintf("backlash of %s is %s and %s has %s to spare: mend the nut, fit a readout, or set each place by a gauge on the slide",
			solid.Axis(a), say(x.Backlash, measure.Ceil), tight.Limit, say(measure.Length(tight.Margin), measure.Floor)))
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

// workOf is a set-up with the box about its metal.
func workOf(s *toolpath.Setup) handwheel.Work {
	w := handwheel.Work{Setup: s}
	for i, b := range s.Metal {
		box := solid.Bounds(b)
		for a := range w.Low {
			lo, hi := box.Low.Along(solid.Axis(a)), box.High.Along(solid.Axis(a))
			if i == 0 {
				w.Low[a], w.High[a] = lo, hi
			}
			w.Low[a], w.High[a] = min(w.Low[a], lo), max(w.High[a], hi)
		}
	}
	return w
}

// follower holds a set-up's steps, as its table adds up, against its plan: every
// planned move is come to in order; what the table adds, going past to take up the
// play, are movements with the cutter lifted, which the judge judges like any. A cut
// stands where the plan says, to the tenth of a nanometre that a dial's line may lie
// off a whole one, or, where it runs against the side from which positions are met,
// less than a step of the dial short of it. A lift may be up to two steps higher.
type follower struct {
	setup *toolpath.Setup
	steps []toolpath.Step
	k     int
	grid  [3]measure.Length // a step of each dial, rounded up
	at    solid.Point       // planned
	least measure.Feed
}

func sameByHand(s *toolpath.Setup, set addup.Set, m *machines.Machine) *Fault {
	if len(set.Cuts) != len(s.Operations) {
		return &Fault{Name: TableName, Text: fmt.Sprintf("it has %d cuts and the plan %d", len(set.Cuts), len(s.Operations))}
	}
	f := &follower{setup: s, steps: set.Trace.Steps, least: m.Feeds.Low}
	for a := range f.grid {
		f.grid[a] = m.Axes[a].StepValue().Times(1, measure.Ceil)
	}
	for i, op := range s.Operations {
		if set.Cuts[i].Tool != op.Tool.Number {
			return &Fault{Name: TableName, Text: fmt.Sprintf("cut %d has tool %d and the plan tool %d", i+1, set.Cuts[i].Tool, op.Tool.Number)}
		}
		z, _ := m.ZAxis(op.DepthBy)
		f.grid[2] = z.StepValue().Times(1, measure.Ceil)
		for _, pass := range op.Passes {
			for _, mv := range pass.Moves {
				if fault := f.move(i, op, mv); fault != nil {
					return fault
				}
			}
		}
		for f.k < len(f.steps) && f.steps[f.k].Op == i {
			if f.steps[f.k].Kind != toolpath.Rapid {
				return f.fault("it cuts on after the plan's last move of %s", op.Name)
			}
			f.k++
		}
	}
	if f.k < len(f.steps) {
		return f.fault("it goes on after the plan's end")
	}
	return nil
}

func (f *follower) fault(format string, args ...any) *Fault {
	line := 0
	if f.k < len(f.steps) {
		line = f.steps[f.k].Line
	}
	return &Fault{Name: TableName, Line: line, Text: fmt.Sprintf(format, args...)}
}

// move finds one planned move among the steps.
func (f *follower) move(i int, op toolpath.Operation, mv toolpath.Move) *Fault {
	from := f.at
	f.at = mv.To
	switch {
	case mv.Kind == toolpath.Rapid:
		for !f.reached(mv.To) {
			if f.k >= len(f.steps) || f.steps[f.k].Op != i || f.steps[f.k].Kind != toolpath.Rapid {
				return f.fault("it does not come to the planned X%s Y%s Z%s", mv.To.X.MM(), mv.To.Y.MM(), mv.To.Z.MM())
			}
			f.take(mv.To, from)
		}
		return nil
	case mv.To == from:
		return nil
	}
	for f.k < len(f.steps) && f.steps[f.k].Op == i && f.steps[f.k].Kind == toolpath.Rapid {
		f.take(from, from)
	}
	if !f.reached(from) {
		return f.fault("the cut does not begin at the planned X%s Y%s Z%s", from.X.MM(), from.Y.MM(), from.Z.MM())
	}
	if f.k >= len(f.steps) || f.steps[f.k].Op != i {
		return f.fault("a planned cut is missing from %s", op.Name)
	}
	f.take(mv.To, from)
	s := f.steps[f.k-1]
	f.k--
	defer func() { f.k++ }()
	switch {
	case s.Kind != mv.Kind:
		return f.fault("it reads as a %s and the plan asks for a %s", s.Kind, mv.Kind)
	case s.Speed != op.Speed:
		return f.fault("the spindle turns at %s and the plan asks for %s", s.Speed, op.Speed)
	case s.Feed > mv.Feed && s.Feed > f.least+f.least/4:
		return f.fault("it is fed at %s and the plan asks for %s", s.Feed, mv.Feed)
	}
	for a := range f.grid {
		was, want, is := from.Along(solid.Axis(a)), mv.To.Along(solid.Axis(a)), s.To.Along(solid.Axis(a))
		short := want - is
		if want < was {
			short = -short
		}
		if want == was {
			short = short.Abs()
		}
		if short < 0 || short >= f.grid[a] {
			return f.fault("%s stands at %s and the plan asks for %s", solid.Axis(a), is.MM(), want.MM())
		}
	}
	return nil
}

// reached tells whether the cutter stands at a planned place, after the last step
// that was taken: to less than a step aside, no lower, and less than two steps higher.
func (f *follower) reached(p solid.Point) bool {
	if f.k == 0 {
		return false
	}
	at := f.steps[f.k-1].To
	up := at.Z - p.Z
	return at.AllKnown() && (at.X-p.X).Abs() < f.grid[0] && (at.Y-p.Y).Abs() < f.grid[1] && up >= 0 && up < 2*f.grid[2]
}

// take takes a step, with each coordinate that is a planned one to the tenth of a
// nanometre put on it: the line is the same, and the plan has rounded it to its safe
// side.
func (f *follower) take(to, from solid.Point) {
	s := &f.steps[f.k]
	for a := range f.grid {
		axis := solid.Axis(a)
		if f.k > 0 && s.From.Known[a] {
			if v := f.steps[f.k-1].To.Along(axis); (s.From.Along(axis) - v).Abs() <= 1 {
				s.From.Point = s.From.With(axis, v)
			}
		}
		for _, p := range []solid.Point{to, from} {
			if v := p.Along(axis); s.To.Known[a] && (s.To.Along(axis)-v).Abs() <= 1 {
				s.To.Point = s.To.With(axis, v)
				break
			}
		}
	}
	f.k++
}
