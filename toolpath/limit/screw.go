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
	if s.Room > 0 {
		j.headRoom(op, h, line)
	}
	if s.Sunk {
		return
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

// headRoom holds a screw's head with its key, where they stand on this part, against
// the metal beside them and against the heads of the cut's other screws. Where
// nothing stands beside them there is nothing to tell.
func (j *Judge) headRoom(op toolpath.Operation, h toolpath.Hole, line int) {
	s, at := op.Screw, j.here(line)
	floor := s.HeadAt
	switch {
	case s.Sunk:
		floor = h.Shoulder
	case s.HeadOnTop:
		floor = h.At.Z
	}
	const do = "move the hole outwards, or take a smaller head"
	room := s.Room.Half(measure.Ceil)
	foot := h.At.With(solid.Z, floor)
	head := solid.Sweep{Part: solid.Part{High: s.High, LowRadius: room, HighRadius: room}, From: foot, To: foot}
	for _, m := range j.beside() {
		if _, over := solid.TopOver(m, h.At); over || solid.Bounds(m).High.Z <= floor {
			continue
		}
		t := j.at(op, "room for the head", Length, nought, do)
		g := solid.Between(head, m, t.need(0))
		t.meet(int64(g.Low), int64(g.High), nil, at)
	}
	for _, o := range j.neighbours(op, h, 2*(room+s.Head.Half(measure.Ceil))) {
		far, _ := solid.Hypot(o.At.X-h.At.X, o.At.Y-h.At.Y) // rounded down
		left := int64(far - room - s.Head.Half(measure.Ceil))
		j.at(op, "room for the key between the heads", Length, nought, "set the screws further apart, or take smaller heads").
			meet(left, left, nil, at)
	}
}

// neighbours is the operation's other holes whose axes are within a distance of a
// hole's along X and along Y. It looks only at the cells about the hole, so that ten
// thousand holes take about ten thousand steps.
func (j *Judge) neighbours(op toolpath.Operation, h toolpath.Hole, within measure.Length) (out []toolpath.Hole) {
	cell := func(l measure.Length) int64 { return int64(l.Round(within, measure.Floor) / within) }
	m := &j.making
	if m.cells == nil {
		m.cells = map[[2]int64][]int{}
		for i, o := range op.Makes {
			k := [2]int64{cell(o.At.X), cell(o.At.Y)}
			m.cells[k] = append(m.cells[k], i)
		}
	}
	for x := cell(h.At.X) - 1; x <= cell(h.At.X)+1; x++ {
		for y := cell(h.At.Y) - 1; y <= cell(h.At.Y)+1; y++ {
			for _, i := range m.cells[[2]int64{x, y}] {
				o := op.Makes[i]
				if (o.At.X != h.At.X || o.At.Y != h.At.Y) && (o.At.X-h.At.X).Abs() <= within && (o.At.Y-h.At.Y).Abs() <= within {
					out = append(out, o)
				}
			}
		}
	}
	return out
}
