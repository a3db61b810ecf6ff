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
// above. Of what may come next, the tool in hand goes on; else a tool that can do
// all that is left for it goes first, since to take it later saves no change;
// then drills go before mills, and then the job's order stands.
//
// Where no tool can do all that is left for it, the rule may miss the least number
// of changes; where it comes to more than the job's own order, that order stands.
func Order(ops []toolpath.Operation) []toolpath.Operation {
	prints := make([]footprint, len(ops))
	for i, op := range ops {
		prints[i] = footprintOf(op)
	}
	done := make([]bool, len(ops))
	out := make([]toolpath.Operation, 0, len(ops))
	for len(out) < len(ops) {
		best, bestRank := -1, 0
		for i, op := range ops {
			if done[i] || waits(ops, prints, done, i) {
				continue
			}
			rank := rankOf(op.Tool.Kind)
			switch {
			case len(out) > 0 && out[len(out)-1].Tool.Number == op.Tool.Number:
				rank = -1
			case !ends(ops, prints, done, op.Tool.Number):
				rank += unended
			}
			if best < 0 || rank < bestRank {
				best, bestRank = i, rank
			}
		}
		done[best] = true
		out = append(out, ops[best])
	}
	if changes(ops) < changes(out) {
		return ops
	}
	return out
}

// changes is how often a row of operations changes the tool.
func changes(ops []toolpath.Operation) (n int) {
	for i := 1; i < len(ops); i++ {
		if ops[i].Tool.Number != ops[i-1].Tool.Number {
			n++
		}
	}
	return n
}

// unended is how much later a tool goes that must be taken again.
const unended = 10

// ends tells whether a tool can do all that is left for it, one operation after
// the other in the job's order.
func ends(ops []toolpath.Operation, prints []footprint, done []bool, tool int) bool {
	done = append([]bool(nil), done...)
	for i, op := range ops {
		if done[i] || op.Tool.Number != tool {
			continue
		}
		if waits(ops, prints, done, i) {
			return false
		}
		done[i] = true
	}
	return true
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
func waits(ops []toolpath.Operation, prints []footprint, done []bool, i int) bool {
	for k := range i {
		if !done[k] && (ops[k].Cut == ops[i].Cut || prints[k].meets(prints[i])) {
			return true
		}
	}
	return false
}

// footprint is where an operation cuts, seen from above: a box about each of its
// passes, and one about them all.
type footprint struct {
	all    solid.Box
	passes []solid.Box
}

// closeLook is how many pairs of passes are looked at one by one; beyond that
// two operations are taken to meet where their boxes do.
const closeLook = 1_000_000

func (f footprint) meets(g footprint) bool {
	if !f.all.Overlaps(g.all) {
		return false
	}
	if len(f.passes)*len(g.passes) > closeLook {
		return true
	}
	for _, p := range f.passes {
		for _, q := range g.passes {
			if p.Overlaps(q) {
				return true
			}
		}
	}
	return false
}

func footprintOf(op toolpath.Operation) footprint {
	r := op.Tool.Measured / 2
	var f footprint
	for i, p := range op.Passes {
		var b solid.Box
		for k, m := range p.Moves {
			at := solid.Box{
				Low:  solid.Point{X: m.To.X - r, Y: m.To.Y - r, Z: -measure.MaxLength},
				High: solid.Point{X: m.To.X + r, Y: m.To.Y + r, Z: measure.MaxLength},
			}
			if k == 0 {
				b = at
			}
			b = b.With(at)
		}
		f.passes = append(f.passes, b)
		if i == 0 {
			f.all = b
		}
		f.all = f.all.With(b)
	}
	return f
}

// Programs cuts a plan's set-ups into programs, one for each run of operations
// with the same tool, in order; one for each set-up where the controller changes
// tools within a program.
func Programs(p *toolpath.Plan, m *machines.Machine) []toolpath.Program {
	var out []toolpath.Program
	change := changeOn(m)
	for i := range p.Setups {
		s := &p.Setups[i]
		for _, op := range s.Operations {
			last := len(out) - 1
			if last < 0 || out[last].Setup != s || change == toolpath.ByFile && out[last].Tool().Number != op.Tool.Number {
				pr := toolpath.Program{Title: p.Title, Digest: p.Digest, Setup: s, Head: s.Head, Change: change}
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
