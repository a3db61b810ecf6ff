package read

import (
	"stopshort/post/rs274"
)

// full reads one line by all rules: its words, what they do together, what they
// do. raw is its length with its end.
func (s *state) full(line []byte, raw int) {
	blank := skipBlanks(line, 0) == len(line)
	s.length(line, raw)
	switch {
	case blank:
		return
	case s.ended || s.closed:
		s.afterEnd(line)
		return
	case isPercentLine(line) && (!s.begun || s.percent):
		s.note(PercentForA)
		s.closed = s.begun
		s.begun, s.percent = true, true
		return
	}
	s.begun = true
	s.lost = false
	s.parse(line)
	if s.w.any {
		s.obey()
	}
	if s.w.slash {
		s.note(SlashForA)
	}
	if s.lost {
		s.forget(true, true, true)
	}
}

// length looks at how long a line is.
func (s *state) length(line []byte, raw int) {
	if raw <= 79 {
		return // long for nobody
	}
	if raw > 254 {
		s.note(LineTooLong)
	}
	if raw > 127 {
		s.note(RawForA)
	}
	if len(line) > 96 {
		s.note(LongForC)
	}
	n, in := 0, false
	for _, c := range line {
		switch {
		case c == ';' && !in:
			in = true
		case c == '(':
			in = true
		case c == ')' && in:
			in = false
		case !in && c != ' ' && c != '\t':
			n++
		}
	}
	if n > 79 {
		s.note(LongForA)
	}
}

// afterEnd is a line behind the program's end: a percent sign may stand there.
func (s *state) afterEnd(line []byte) {
	if isPercentLine(line) && !s.closed {
		s.note(PercentForA)
		s.closed = true
		return
	}
	if !s.behind {
		s.behind = true
		s.note(BehindEnd)
	}
}

// obey does one line, in the order of NISTIR 6556, 3.8, table 8.
func (s *state) obey() {
	w := &s.w
	s.clear &^= w.clash
	if w.clash&group(rs274.Motion) != 0 {
		s.motion = unclear
	}
	s.singleClasses()
	code := s.lineMotion()
	if !s.lost { // else its words are not all known
		s.together(code)
		s.unused(code)
	}

	before, motion := s.modes(), s.motion
	s.setFeed()
	s.setTool()
	s.setSpindle()
	s.setCoolant()
	if w.is(rs274.NonModal, 40) && !s.lost {
		s.dwell()
	}
	s.setModes()
	s.setMotion()
	if w.slash && s.modes() != before {
		s.note(SlashMode)
	}
	at := s.at
	if !s.lost {
		s.act(code)
	}
	if w.slash && s.at != at {
		s.forget(true, true, true)
	}
	if w.slash && motion != s.motion {
		s.motion = unclear
	}
	if w.hasGroup(rs274.Stopping) {
		s.stop()
	}
}

// act does what the axis words are for.
func (s *state) act(code int16) {
	w := &s.w
	switch {
	case w.hasGroup(rs274.NonModal) && w.code[rs274.NonModal] != 40 && w.code[rs274.NonModal] != 530:
		s.nonModal(w.code[rs274.NonModal])
	case code == none || code == 800 || !w.hasAxes() && code != 20 && code != 30:
	case w.is(rs274.NonModal, 530):
		s.machinePlace(code)
	case code <= 10:
		s.straight(code)
	case code <= 30:
		s.arc(code)
	case code == 382:
		s.aboutG(Probe, code)
	case code == 730 || code >= 810 && code <= 830:
		s.drill(code)
	default:
		s.aboutG(Code, code)
	}
}

// stop is M0, M1, M60, M2 and M30.
func (s *state) stop() {
	switch code := s.w.code[rs274.Stopping]; {
	case code != 2 && code != 30:
		s.still(stopStep, 0)
		if s.o.ChangeAtStop && s.chosen != s.tool {
			s.tool = s.chosen
			s.forget(true, true, true)
		}
	case s.w.slash:
		s.note(SlashMode) // the program goes on, or not
	default:
		s.ended = true
	}
}
