package recipe

import (
	"fmt"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// pinned is the bore that a limit's web is over, where a pin in it is straight under
// the floor: the bore lies along X or Y and the slot passes over its axis.
func (s *slot) pinned(limit string) *bore {
	for i, x := range s.bores {
		if limit != webTo(x.Name) {
			continue
		}
		if a, straight := x.solid.Axis(); straight && a != solid.Z && s.across(x, a) {
			return &s.bores[i]
		}
	}
	return nil
}

// firstLook stops after the first pass, where a wrong zero or a slipping cutter has
// done no harm yet: the spindle off, and the cutter beside the metal.
func (s *slot) firstLook(w *walk, z measure.Length) {
	back := w.here
	w.lift(s.plane())
	park, aside := s.parked(w.here, s.tool)
	if aside {
		w.add(toolpath.Move{Kind: toolpath.Rapid, To: park})
	}
	w.add(toolpath.Move{Kind: toolpath.Stop, To: w.here,
		Note: fmt.Sprintf("look: the slot is to be %s deep from the touched face; if it is not, stop here", s.withUnit(s.out.Top-z))})
	w.here = back.With(solid.Z, s.plane())
	s.enter(w)
}
