package plan

import (
	"stopshort/machines"
	"stopshort/toolpath"
)

// Programs cuts a plan's set-ups into programs, one for each run of operations
// with the same tool, in order. Before a finish the operator measures: it is a
// program of its own, and so is what leads to it.
func Programs(p *toolpath.Plan, m *machines.Machine) []toolpath.Program {
	var out []toolpath.Program
	for i := range p.Setups {
		s := &p.Setups[i]
		for _, op := range s.Operations {
			last := len(out) - 1
			if last < 0 || out[last].Setup != s || out[last].Tool().Number != op.Tool.Number ||
				op.Part == toolpath.Finish || out[last].Part() != toolpath.Whole {
				pr := toolpath.Program{Title: p.Title, Digest: p.Digest, Setup: s, Head: s.Head}
				if m.Controller != nil {
					pr.SpinUp = m.Controller.SpinUp
				}
				out = append(out, pr)
				last++
			}
			out[last].Operations = append(out[last].Operations, op)
			out[last].Head = append(out[last].Head[:len(out[last].Head):len(out[last].Head)], op.Notes...)
		}
	}
	return out
}
