package plan

import (
	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// Order puts a set-up's operations so that tools are changed as seldom as the
// job's order allows. The operations of one cut keep their order; an operation
// may go before those of an earlier cut only where the two lie apart, seen from
// above. Of what may come next, the tool in hand goes on; else drills go before
// mills, and then the job's order stands.
func Order(ops []toolpath.Operation) []toolpath.Operation {
	boxes := make([]solid.Box, len(ops))
	for i, op := range ops {
		boxes[i] = footprint(op)
	}
	done := make([]bool, len(ops))
	out := make([]toolpath.Operation, 0, len(ops))
	for len(out) < len(ops) {
		best, bestRank := -1, 0
		for i, op := range ops {
			if done[i] || waits(ops, boxes, done, i) {
				continue
			}
			rank := rankOf(op.Tool.Kind)
			if len(out) > 0 && out[len(out)-1].Tool.Number == op.Tool.Number {
				rank = -1
			}
			if best < 0 || rank < bestRank {
				best, bestRank = i, rank
			}
		}
		done[best] = true
		out = append(out, ops[best])
	}
	return out
}

// rankOf is which tools go first: spot drills, drills, then mills.
func rankOf(k toolpath.CutterKind) int {
	switch k {
	case toolpath.SpotDrill:
		return 0
	case toolpath.Drill:
		return 1
	}
	return 2
}

// waits tells whether an operation must wait for one before it in the job.
func waits(ops []toolpath.Operation, boxes []solid.Box, done []bool, i int) bool {
	for k := range i {
		if !done[k] && (ops[k].Cut == ops[i].Cut || boxes[k].Overlaps(boxes[i])) {
			return true
		}
	}
	return false
}

// footprint is the box about an operation seen from above.
func footprint(op toolpath.Operation) solid.Box {
	r := op.Tool.Measured / 2
	var b solid.Box
	first := true
	for _, p := range op.Passes {
		for _, m := range p.Moves {
			at := solid.Box{
				Low:  solid.Point{X: m.To.X - r, Y: m.To.Y - r, Z: -measure.MaxLength},
				High: solid.Point{X: m.To.X + r, Y: m.To.Y + r, Z: measure.MaxLength},
			}
			if first {
				b, first = at, false
			}
			b = b.With(at)
		}
	}
	return b
}

// Programs cuts a plan's set-ups into programs, one for each run of operations
// with the same tool, in order.
func Programs(p *toolpath.Plan, m *machines.Machine) []toolpath.Program {
	var out []toolpath.Program
	for i := range p.Setups {
		s := &p.Setups[i]
		for _, op := range s.Operations {
			last := len(out) - 1
			if last < 0 || out[last].Setup != s || out[last].Tool().Number != op.Tool.Number {
				pr := toolpath.Program{Title: p.Title, Digest: p.Digest, Setup: s, Head: s.Head}
				if m.Controller != nil {
					pr.SpinUp = m.Controller.SpinUp
				}
				out = append(out, pr)
				last++
			}
			out[last].Operations = append(out[last].Operations, op)
		}
	}
	return out
}
