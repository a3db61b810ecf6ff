package recipe

import (
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

// lookedAt stops after the first pass, and comes back.
func (s *slot) lookedAt(w *walk) {
	back := w.here
	w.add(s.firstLook("slot", w.here, s.tool)...)
	w.here = back.With(solid.Z, s.plane())
	s.enter(w)
}
