package limit

import (
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// screw holds what is asked of the screw that a hole is for: room for its head
// and key, metal under its head, thread that it finds, room at its end.
func (j *Judge) screw(op toolpath.Operation, h toolpath.Hole, line int) {
	s := op.Screw
	if s == nil {
		return
	}
	at := j.here(line)
	meet := func(name string, left measure.Length, least measure.Figure[measure.Length], do string) {
		j.at(op, name, Length, least, do).meet(int64(left), int64(left), nil, at)
	}
	if s.Sunk {
		head := solid.Sweep{Part: solid.Part{High: s.High, LowRadius: s.Head / 2, HighRadius: s.Head / 2},
			From: h.At.With(solid.Z, h.Shoulder), To: h.At.With(solid.Z, h.Shoulder)}
		for _, m := range j.beside() {
			if _, over := solid.TopOver(m, h.At); over || solid.Bounds(m).High.Z <= h.Shoulder {
				continue
			}
			t := j.at(op, "room for the head", Length, nought, "move the hole outwards, or take a smaller head")
			g := solid.Between(head, m, t.need(0))
			t.meet(int64(g.Low), int64(g.High), nil, at)
		}
		return // where no metal stands beside it there is nothing to tell
	}
	if s.LeastGrip.Value > 0 {
		meet("metal under the head", s.Grip, s.LeastGrip, "sink the face less deep, or move the split")
	}
	if s.Length > 0 {
		meet("thread that the screw finds", s.Engages, s.LeastThread, "take a longer screw, or thread deeper")
		if full := int64(s.FullThread); full > 0 {
			j.at(op, "thread that the screw finds", Length, s.LeastThread, "").verdict.Better = &full
		}
		meet("room at the screw's end", s.TipRoom, nought, "take a shorter screw, or thread deeper")
	}
}
