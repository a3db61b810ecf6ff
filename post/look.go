package post

import (
	"fmt"

	"golang.org/x/exp/slices"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/plan"
	"stopshort/toolpath/solid"
)

// Close is the cuts that are to be measured before their last pass, each with the limit
// that is close: one under the cut, whose margin at worst is less than the last step. One
// that does not hold as planned is not: measuring would not mend it.
func Close(p *toolpath.Plan, verdicts []limit.Verdict) map[[2]int]string {
	steps := map[[2]int]measure.Length{}
	for _, s := range p.Setups {
		for _, op := range s.Operations {
			if op.Tool.Kind == toolpath.SpotDrill || len(op.Makes) > 0 && op.Makes[0].Through {
				continue // no depth that matters
			}
			steps[[2]int{s.Number, op.Cut}] = plan.LastStep(op, s.Top)
		}
	}
	near := map[[2]int]limit.Verdict{}
	for _, v := range verdicts {
		step, ok := steps[v.Number]
		if !ok || !v.Deep || v.Unit != limit.Length || v.Margin < 0 || v.MarginWorst >= int64(step) {
			continue
		}
		if n, ok := near[v.Number]; !ok || v.MarginWorst < n.MarginWorst {
			near[v.Number] = v
		}
	}
	out := map[[2]int]string{}
	for k, v := range near {
		out[k] = v.Limit
	}
	return out
}

// CloseBeside is the cuts that stop before their last pass for a wall beside it to be
// measured: those whose margin at worst is less than what that pass takes.
func CloseBeside(p *toolpath.Plan, verdicts []limit.Verdict) map[[2]int]bool {
	out := map[[2]int]bool{}
	for _, s := range p.Setups {
		for _, op := range s.Operations {
			key := [2]int{s.Number, op.Cut}
			if slices.ContainsFunc(verdicts, func(v limit.Verdict) bool {
				return v.Number == key && !v.Deep && v.Leave != nil && v.Margin >= 0 && v.MarginWorst < int64(op.LastBite)
			}) {
				out[key] = true
			}
		}
	}
	return out
}

// Asked is one measuring that a plan asks for.
type Asked struct {
	Setup  *toolpath.Setup
	Cut    int
	Of     string // the cut's name
	Look   *toolpath.Look
	Within measure.Length // how far the reading may lie from what is expected
}

// Asks is the measurings that a plan asks for, in order. unmeasured is the judge's word
// on it before anything was measured: a reading may be out by what the errors of the
// limit add up to and by the gauge's own, no more, so that a gauge that was read wrong
// by a whole turn, a zero that was lost and a cutter that slipped are no reading.
func Asks(p *toolpath.Plan, unmeasured []limit.Verdict, m *machines.Machine) (out []Asked) {
	for i := range p.Setups {
		s := &p.Setups[i]
		for _, op := range s.Operations {
			if op.Part != toolpath.Finish {
				continue
			}
			a := Asked{Setup: s, Cut: op.Cut, Of: op.Of, Look: op.Look, Within: m.Errors.Gauge}
			for _, v := range unmeasured {
				if v.Number == [2]int{s.Number, op.Cut} && v.Limit == op.Look.Limit {
					for _, share := range v.Shares {
						a.Within += share.Of
					}
				}
			}
			out = append(out, a)
		}
	}
	return out
}

// Fits tells whether a reading can be what was asked for: an error says what it should
// be near.
func (a Asked) Fits(reading measure.Length, u measure.Unit) error {
	l := *a.Look
	l.Taken = &reading
	off := l.Off()
	near := fmt.Sprintf("%s is far from the %s that it should be near, by %s or less", reading.ShownBoth(u, measure.Nearest), l.Reads.ShownBoth(u, measure.Nearest), a.Within.ShownBoth(u, measure.Floor))
	switch {
	case off.Abs() > a.Within:
		return fmt.Errorf("%s: look for what was read wrong, has slipped or was turned, and touch off again; measured is %s", near, l.What)
	case -off >= l.Step:
		return fmt.Errorf("%s says that the floor lies as deep as the finish would go, %s under %s: there is nothing left to cut",
			reading.ShownBoth(u, measure.Nearest), l.Step.ShownBoth(u, measure.Nearest), l.Reads.ShownBoth(u, measure.Nearest))
	}
	return nil
}

// shiftOf is how far an operation's heights are moved for what was measured before it:
// up where the floor was found too low. It is put on the machine's grid upwards, so
// that the cut ends up no deeper than planned, and less than a step of the grid short of
// it.
func shiftOf(op toolpath.Operation, m *machines.Machine) measure.Length {
	off := op.Off()
	if off == 0 {
		return 0
	}
	g := plan.ForMachine(m)
	if m.Controller == nil {
		g = plan.ForSource(m, op.DepthBy)
	}
	return g.Round(solid.Z, -off, measure.Ceil)
}

// shifted is a program moved for what was measured before it, its clearance plane too:
// the same way over the work as the plan's.
func shifted(p toolpath.Program, by measure.Length) toolpath.Program {
	if by == 0 {
		return p
	}
	s := *p.Setup
	s.Clearance += by
	ops := make([]toolpath.Operation, len(p.Operations))
	for i, op := range p.Operations {
		ops[i] = movedUp(op, by)
	}
	p.Setup, p.Operations = &s, ops
	return p
}

// movedUp is an operation with every height moved.
func movedUp(op toolpath.Operation, by measure.Length) toolpath.Operation {
	passes := make([]toolpath.Pass, len(op.Passes))
	for k, pass := range op.Passes {
		moves := make([]toolpath.Move, len(pass.Moves))
		for n, mv := range pass.Moves {
			mv.To.Z += by
			moves[n] = mv
		}
		pass.Moves = moves
		if pass.Depth > 0 {
			pass.Depth -= by
		}
		passes[k] = pass
	}
	op.Passes = passes
	op.Makes = append([]toolpath.Hole(nil), op.Makes...)
	for i := range op.Makes {
		h := &op.Makes[i]
		h.At.Z, h.Tip, h.Shoulder = h.At.Z+by, h.Tip+by, h.Shoulder+by
	}
	return op
}
