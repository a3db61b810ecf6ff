package read

import "stopshort/post/rs274"

// takesAxes tells whether a code of group 0 uses axis words.
func takesAxes(code int16) bool { return code == 100 || code == 280 || code == 300 || code == 920 }

// homes tells whether the line's code of group 0 uses its axis words.
func (w *words) homes() bool {
	return w.hasGroup(rs274.NonModal) && takesAxes(w.code[rs274.NonModal])
}

// lineMotion is the motion that the line's words serve, or none.
func (s *state) lineMotion() int16 {
	w := &s.w
	switch {
	case w.other == 730:
		if w.hasGroup(rs274.Motion) {
			s.aboutG(TwoOfGroupG, 730)
		}
		return 730
	case w.hasGroup(rs274.Motion):
		return w.code[rs274.Motion]
	case w.homes():
		return none
	case w.hasAxes() || s.arcWords() && (s.motion == 20 || s.motion == 30):
		if s.motion == unclear {
			s.note(UnclearMode)
			s.lost = true
			return none
		}
		return s.motion
	}
	return none
}

// arcWords tells whether a word of an arc stands on the line.
func (s *state) arcWords() bool { return s.w.seen&(bit('I')|bit('J')|bit('K')) != 0 }

// together looks whether the words of a line go together.
func (s *state) together(code int16) {
	w := &s.w
	said := w.hasGroup(rs274.Motion) || w.other == 730
	switch {
	case w.homes() && said && code != 800 && w.hasAxes():
		s.aboutG(TwoAxisCodes, w.code[rs274.NonModal])
	case w.homes():
	case code == 800 && w.hasAxes():
		s.aboutG(AxesWithG80, 800)
	case w.is(rs274.NonModal, 40) && w.hasAxes() && !said:
		s.note(DwellWithAxes)
	case w.hasAxes() && code == none && !s.lost:
		s.note(NoMotion)
	case said && !w.hasAxes() && (code == 20 || code == 30):
		s.aboutG(NoAxesArc, code)
	case code >= 20 && code <= 30 && !w.hasAxes():
		s.aboutG(NoAxesArc, code)
	case said && !w.hasAxes() && code != 800:
		s.aboutG(NoAxes, code)
		if code > 30 {
			s.aboutG(Code, code)
		}
	}
	if w.is(rs274.NonModal, 40) && !w.has('P') {
		s.aboutG(DwellMissing, 40)
	}
	if w.is(rs274.NonModal, 920) && !w.hasAxes() {
		s.aboutG(NoAxesG92, 920)
	}
	if w.is(rs274.NonModal, 530) && code != 0 && code != 10 {
		s.aboutG(MachineWithoutMotion, 530)
	}
	if s.comp {
		s.compensated()
	}
}

// compensated looks for what R refuses while compensation is on.
func (s *state) compensated() {
	w := &s.w
	if w.is(rs274.RadiusComp, 410) || w.is(rs274.RadiusComp, 420) {
		s.aboutG(CompTwice, w.code[rs274.RadiusComp])
	}
	if w.is(rs274.NonModal, 280) || w.is(rs274.NonModal, 300) {
		s.aboutG(CompHome, w.code[rs274.NonModal])
	}
	if w.is(rs274.NonModal, 530) {
		s.aboutG(CompMachine, 530)
	}
	if w.is(rs274.Plane, 180) {
		s.aboutG(CompZX, 180)
	}
	if w.is(rs274.Plane, 190) {
		s.aboutG(CompYZ, 190)
	}
	if w.hasGroup(rs274.Units) {
		s.aboutG(CompUnits, w.code[rs274.Units])
	}
	if w.hasGroup(rs274.WorkSystem) {
		s.aboutG(CompOffsets, w.code[rs274.WorkSystem])
	}
}

// uses is the letters that the codes of the line use, beside the axes, F, S and T.
func (w *words) uses(code int16) uint32 {
	u := uint32(axes | bit('F') | bit('S') | bit('T'))
	switch {
	case code == 20 || code == 30:
		u |= bit('I') | bit('J') | bit('K') | bit('R')
	case code == 730 || code == 830:
		u |= bit('R') | bit('L') | bit('Q')
	case code == 820:
		u |= bit('R') | bit('L') | bit('P')
	case code == 810:
		u |= bit('R') | bit('L')
	case code >= 840: // not followed
		u |= bit('R') | bit('L') | bit('P') | bit('Q') | bit('I') | bit('J') | bit('K')
	}
	if w.is(rs274.NonModal, 40) {
		u |= bit('P')
	}
	if w.is(rs274.NonModal, 100) {
		u |= bit('P') | bit('L') | bit('R')
	}
	if w.is(rs274.RadiusComp, 410) || w.is(rs274.RadiusComp, 420) {
		u |= bit('D')
	}
	if w.is(rs274.LengthOffset, 430) {
		u |= bit('H')
	}
	return u
}

// unused looks for words that no code of the line uses.
func (s *state) unused(code int16) {
	w := &s.w
	rest := w.seen &^ w.uses(code)
	if w.is(rs274.PathControl, 640) && rest&bit('P') != 0 {
		s.aboutG(PathTolerance, 640)
		rest &^= bit('P')
	}
	for c := byte('A'); rest != 0; c++ {
		if rest&bit(c) == 0 {
			continue
		}
		rest &^= bit(c)
		if c <= 'C' {
			s.about(LetterForA, Word{c, -1})
			s.about(Rotary, Word{c, -1})
			continue
		}
		s.about(Unused, Word{c, -1})
	}
	for c := byte('D'); c <= 'Q'; c++ {
		if (c == 'D' || c == 'H' || c == 'Q') && w.has(c) {
			s.about(LetterForA, Word{c, -1})
		}
	}
}
