package read

import "stopshort/post/rs274"

// refusedByA are the codes that the reference interpreter knows and class A does
// not.
func refusedByA(g rs274.Group, code int16) bool {
	switch g {
	case rs274.Motion:
		return code > 800
	case rs274.RadiusComp:
		return code != 400
	case rs274.LengthOffset:
		return code == 430
	case rs274.WorkSystem:
		return code > 590
	case rs274.PathControl:
		return code != 610
	case rs274.NonModal:
		return code > 921
	case rs274.ReturnLevel, rs274.ToolChange, rs274.Overrides:
		return true
	case rs274.Coolant:
		return code == 7
	case rs274.Stopping:
		return code == 60
	}
	return false
}

// singleClasses tells what one class or another does not take though the line is
// right by the reference interpreter.
func (s *state) singleClasses() {
	w := &s.w
	if w.gs+w.ms > 1 {
		s.note(CodesForC)
	}
	for g := rs274.Group(1); w.groups>>g != 0; g++ {
		if !w.hasGroup(g) || !refusedByA(g, w.code[g]) {
			continue
		}
		letter, tenths := byte('G'), int32(w.code[g])
		if g >= rs274.Stopping {
			letter, tenths = 'M', tenths*10
		}
		s.about(CodeForA, Word{letter, tenths})
		switch g {
		case rs274.Motion:
			s.about(CycleForC, Word{letter, tenths})
		case rs274.RadiusComp, rs274.LengthOffset:
			s.about(CodeForC, Word{letter, tenths})
		}
	}
	if w.other == 730 {
		s.aboutG(CycleForC, 730)
	}
	if w.is(rs274.LengthOffset, 490) && w.hasGroup(rs274.Motion) && w.hasAxes() {
		s.aboutG(LengthOffsetForA, 490)
	}
	if w.is(rs274.NonModal, 40) && (w.gs+w.ms > 1 || w.seen&^bit('P') != 0) {
		s.aboutG(DwellForD, 40)
	}
}
