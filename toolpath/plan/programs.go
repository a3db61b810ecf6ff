package plan

import (
	"fmt"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// Programs cuts a plan's set-ups into programs, one for each run of operations
// with the same tool, in order; one for each set-up where the controller changes
// tools within a program. Before a finish the operator measures: it is a program of its
// own, and what leads to it ends one.
func Programs(p *toolpath.Plan, m *machines.Machine) []toolpath.Program {
	var out []toolpath.Program
	change := changeOn(m)
	for i := range p.Setups {
		s := &p.Setups[i]
		for _, op := range s.Operations {
			last := len(out) - 1
			if last < 0 || out[last].Setup != s || change == toolpath.ByFile && out[last].Tool().Number != op.Tool.Number ||
				op.Part == toolpath.Finish || out[last].Part() != toolpath.Whole {
				pr := toolpath.Program{Title: p.Title, Digest: digest(p, op), Setup: s, Head: told(s, op), Change: change}
				if m.Controller != nil {
					pr.SpinUp = m.Controller.SpinUp
				}
				out = append(out, pr)
				last++
			}
			out[last].Operations = append(out[last].Operations, op)
			out[last].Head = append(out[last].Head[:len(out[last].Head):len(out[last].Head)], append(lookHead(s, op, m.Units), op.Notes...)...)
		}
	}
	return out
}

// digest is a program's: one that was worked out from a reading is told with the plan
// that it completes.
func digest(p *toolpath.Plan, op toolpath.Operation) string {
	if op.Part != toolpath.Finish || op.Waits() || p.Measured == "" {
		return p.Digest
	}
	return p.Measured + " FROM " + p.Digest
}

// told is what a program's head says of its set-up. A finish that was worked out from a
// reading goes by the zero that its rough had: touched off again the reading is worth
// nothing.
func told(s *toolpath.Setup, op toolpath.Operation) []string {
	if op.Part != toolpath.Finish || op.Waits() {
		return s.Told()
	}
	asRough := *s
	asRough.Zero = []string{"zero as for the rough: do not touch off again"}
	return asRough.Told()
}

// lookHead is what an operator must know of the measuring after a rough and before its
// finish, a fact a line.
func lookHead(s *toolpath.Setup, op toolpath.Operation, u measure.Unit) []string {
	switch {
	case op.Part == toolpath.Rough:
		return []string{
			"after this program spindle off and measure " + op.Look.What,
			op.Look.Expects(u),
			fmt.Sprintf("where it reads something else have cut %d of set-up %d worked out again with the reading", op.Cut, s.Number),
		}
	case op.Waits():
		return []string{
			"before this program spindle off and measure " + op.Look.What,
			op.Look.Expects(u),
			"where it reads something else do not run this program",
			fmt.Sprintf("have cut %d of set-up %d worked out again with the reading. or touch off again", op.Cut, s.Number),
		}
	case op.Part == toolpath.Finish:
		return op.Look.Facts(u)
	}
	return nil
}
