package recipe

import (
	"fmt"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// looksAt is the measuring before the slot's last pass, where it is asked for and
// there is a pass before it.
func (s *slot) looksAt(levels []measure.Length) *toolpath.Look {
	cut := [2]int{s.setup.Number, s.cut.Number}
	taken, measured := s.options.Taken[cut]
	if !s.options.Look[cut] && !measured || len(levels) < 2 || s.leave == 0 {
		return nil
	}
	before := levels[len(levels)-2]
	l := &toolpath.Look{Step: before - s.floor}
	if measured {
		l.Taken = &taken
	}
	if x, ok := s.pinned(); ok {
		l.Limit, l.Direct, l.Rises = "web to bore "+x.Name, true, true
		l.What = fmt.Sprintf("from the floor to the far side of a %s pin in bore %s", (x.solid.Radius * 2).Both(), x.Name)
		l.Reads = before - x.solid.From.Z + x.solid.Radius
		return l
	}
	l.Limit = "web to bore " + s.short.bore
	if s.short.bore == "" {
		l.Limit = "floor at " + s.node.Sub("short_of").Length("floor").String()
	}
	l.What = "from the touched face down to the floor"
	l.Reads = s.out.Top - before
	return l
}

// pinned is the bore that the slot stops short of, where a pin in it is straight
// under the floor: the bore lies along X or Y and the slot passes over its axis.
func (s *slot) pinned() (bore, bool) {
	for _, x := range s.bores {
		if x.Name != s.short.bore {
			continue
		}
		a, straight := x.solid.Axis()
		return x, straight && a != solid.Z && s.across(x, a)
	}
	return bore{}, false
}

// parkRoom is how far beside the metal a cutter's holder is parked, so that a hand
// and a gauge come in.
const parkRoom = 10 * measure.Millimetre

// firstLook stops after the first pass, where a wrong zero or a slipping cutter has
// done no harm yet: the spindle off and the cutter in front of the metal.
func (s *slot) firstLook(w *walk, z measure.Length) {
	back := w.here
	w.lift(s.out.Clearance)
	park := w.here.With(solid.Y, s.grid.Round(solid.Y, s.metal.Low.Y-s.tool.Holder.Half(measure.Ceil)-parkRoom, measure.Floor))
	w.add(toolpath.Move{Kind: toolpath.Rapid, To: park})
	w.add(toolpath.Move{Kind: toolpath.Stop, To: park,
		Note: fmt.Sprintf("look: the slot is %s deep from the touched face or something is wrong", s.number(s.out.Top-z))})
	w.add(toolpath.Move{Kind: toolpath.Rapid, To: back.With(solid.Z, s.out.Clearance)})
	if near := s.descend(s.tool, w.here, s.top); near < w.here.Z {
		w.add(toolpath.Move{Kind: toolpath.Rapid, To: w.here.With(solid.Z, near)})
	}
}

// inParts is the slot's operation, or its two where the operator measures in
// between.
func (s *slot) inParts(op toolpath.Operation, finish int) []toolpath.Operation {
	if s.look == nil {
		return []toolpath.Operation{op}
	}
	rough, last := op, op
	rough.Part, last.Part = toolpath.Rough, toolpath.Finish
	rough.Name, last.Name = op.Name+", rough", op.Name+", finish"
	rough.Passes, last.Passes = op.Passes[:finish:finish], op.Passes[finish:]
	rough.Look, last.Look = s.look, s.look
	last.Facts = nil
	reads := s.look.Reads.Both()
	rough.Notes = append(rough.Notes, fmt.Sprintf("after this program spindle off and measure %s: it should read %s", s.look.What, reads))
	switch t := s.look.Taken; {
	case t == nil:
		last.Notes = append(last.Notes, fmt.Sprintf("before this program measure %s: it should read %s. if not set the height anew or plan again with what it reads", s.look.What, reads))
	default:
		last.Notes = append(last.Notes, fmt.Sprintf("worked out for a reading of %s, where %s was planned, %s", t.Both(), reads, s.look.What))
	}
	return []toolpath.Operation{rough, last}
}
