package post

import (
	"golang.org/x/exp/slices"

	"stopshort/machines"
	"stopshort/post/handwheel"
	"stopshort/toolpath"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/measure"
)

// bears is, for each cut of a set-up that is measured before its last pass and was not yet,
// how far the floor may be out for that pass still to be cut as it was planned: a step of
// the dial, half of one, or nothing. Too high is a pass that takes more and ends there; too
// deep, every limit must hold at worst with the pass that much deeper, of whose depth only
// what a measured pass may be out by is then unknown. A reading that could be none at all
// is never among them.
func bears(p *toolpath.Plan, setup int, h *Hand, m *machines.Machine) map[int]handwheel.Bears {
	out := map[int]handwheel.Bears{}
	s := &p.Setups[setup]
	for _, a := range Asks(p, h.Verdicts, m) {
		i := slices.IndexFunc(s.Operations, func(op toolpath.Operation) bool { return op.Cut == a.Cut && op.Waits() })
		if a.Setup != s || i < 0 {
			continue
		}
		z, _ := m.ZAxis(s.Operations[i].DepthBy)
		step := z.Position(1, measure.Floor)
		var b handwheel.Bears
		for _, l := range []measure.Length{step / 2, step} {
			if a.Fits(readAt(a.Look, l), m.Units) == nil {
				b.Higher = l
			}
			if a.Fits(readAt(a.Look, -l), m.Units) == nil && cutDeeper(s, h.Traces[setup], i, l, m) {
				b.Deeper = l
			}
		}
		out[a.Cut] = b
	}
	return out
}

// readAt is what is read where the floor lies higher than it was to.
func readAt(l *toolpath.Look, higher measure.Length) measure.Length {
	if l.Rises {
		return l.Reads + higher
	}
	return l.Reads - higher
}

// cutDeeper tells whether every limit of an operation's cut holds at worst where its floor
// was measured, and its last pass goes deeper than it was to.
func cutDeeper(s *toolpath.Setup, t *toolpath.Trace, finish int, by measure.Length, m *machines.Machine) bool {
	ops := append([]toolpath.Operation(nil), s.Operations...)
	ops[finish] = movedUp(ops[finish], -by)
	look := *ops[finish].Look
	look.Taken = &look.Reads
	ops[finish].Look = &look
	steps := append([]toolpath.Step(nil), t.Steps...)
	for i := range steps {
		if st := &steps[i]; st.Op == finish && st.Kind != toolpath.Rapid {
			st.From.Z, st.To.Z = st.From.Z-by, st.To.Z-by
		}
	}
	j := limit.New(s, m)
	j.Program(TableName, ops, &toolpath.Trace{Steps: steps, Ended: t.Ended})
	return !slices.ContainsFunc(j.Verdicts(), func(v limit.Verdict) bool {
		return v.Number == [2]int{s.Number, ops[finish].Cut} && v.Stops()
	})
}
