package post

import (
	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/measure"
)

// goOn is, for each cut of a set-up that is measured before its last pass and was not yet,
// by how much the floor may be found too deep for that pass still to be cut as it was
// planned: a line of the dial, half of one, or nothing, the most with which every limit
// under it holds at worst. What is found then takes the place of what could not be known
// of the depth.
func goOn(s *toolpath.Setup, t *toolpath.Trace, m *machines.Machine) map[int]measure.Length {
	out := map[int]measure.Length{}
	for i, op := range s.Operations {
		if op.Part != toolpath.Finish || op.Look.Taken != nil {
			continue
		}
		z, _ := m.ZAxis(op.DepthBy)
		line := z.Position(1, measure.Floor)
		out[op.Cut] = 0
		for _, deeper := range []measure.Length{line, line / 2} {
			if cutAsPlanned(s, t, i, deeper, m) {
				out[op.Cut] = deeper
				break
			}
		}
	}
	return out
}

// cutAsPlanned tells whether all that the last pass of an operation must not come near
// holds at worst where its floor was found deeper than it was to be.
func cutAsPlanned(s *toolpath.Setup, t *toolpath.Trace, finish int, deeper measure.Length, m *machines.Machine) bool {
	ops := append([]toolpath.Operation(nil), s.Operations...)
	look := *ops[finish].Look
	taken := look.Reads + deeper
	if look.Rises {
		taken = look.Reads - deeper
	}
	look.Taken = &taken
	ops[finish].Look = &look
	j := limit.New(s, m)
	j.Program(TableName, ops, t)
	for _, v := range j.Verdicts() {
		if v.Number != [2]int{s.Number, ops[finish].Cut} || v.Unit != limit.Length || !v.Deep && !counts(v.Shares) {
			continue
		}
		left := measure.Length(v.MarginWorst)
		if !look.Direct || v.Limit == look.Limit { // of the others the shift is a share already
			left -= deeper
		}
		if left < 0 {
			return false
		}
	}
	return true
}

// counts tells whether an error of the depth is among a limit's shares.
func counts(shares []toolpath.Share) bool {
	for _, s := range shares {
		switch s.Name {
		case "gauge", "touch-off", "setting", "stop", "play", "tilt":
			return true
		}
	}
	return false
}
