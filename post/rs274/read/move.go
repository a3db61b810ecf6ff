package read

import (
	"stopshort/post/rs274"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// ready looks whether the modes that any move depends on are known. Where they
// are not, the line is not followed.
func (s *state) ready() bool {
	ok := s.needUnits()
	for _, g := range [...]rs274.Group{rs274.Distance, rs274.RadiusComp, rs274.LengthOffset, rs274.WorkSystem} {
		ok = s.need(g) && ok
	}
	if !ok {
		s.lost = true
	}
	return ok
}

// target is the place that a line's axis words say, with its slack; what they
// leave out stays.
func (s *state) target() (toolpath.Place, [3]measure.Length) {
	to, off := s.at, s.off
	for i, letter := range [3]byte{'X', 'Y', 'Z'} {
		if !s.w.has(letter) {
			continue
		}
		v, slack, known := s.coordinate(i, letter)
		if !known {
			v, slack = 0, 0
		}
		to.Known[i], off[i] = known, slack
		switch i {
		case 0:
			to.X = v
		case 1:
			to.Y = v
		default:
			to.Z = v
		}
	}
	return to, off
}

// coordinate is what one axis word says.
func (s *state) coordinate(i int, letter byte) (v, slack measure.Length, known bool) {
	if i == 2 && !s.offset {
		s.zMoved = true
		if s.offsetSeen {
			s.note(OffsetGone)
			return 0, 0, false
		}
	}
	if !s.framed() || s.comp && i < 2 {
		return 0, 0, false
	}
	v, slack, ok := s.w.of(letter).length(s.unit)
	if !ok {
		s.about(OutOfReach, Word{letter, -1})
		return 0, 0, false
	}
	if s.relative {
		if !s.at.Known[i] {
			s.about(FromUnknown, Word{letter, -1})
			return 0, 0, false
		}
		v += s.axis(i)
		slack += s.off[i]
		if v.Abs() > measure.MaxLength {
			s.about(OutOfReach, Word{letter, -1})
			return 0, 0, false
		}
	}
	return v, slack, true
}

// straight is G0 and G1.
func (s *state) straight(code int16) {
	if !s.ready() {
		return
	}
	to, off := s.target()
	if code == 0 {
		s.rapid(to, off)
		return
	}
	s.cutting(FeedMissing, TimeFeedMissing)
	s.cut(to, off)
}

// rapid goes to a place as fast as the machine can.
func (s *state) rapid(to toolpath.Place, off [3]measure.Length) {
	if !to.Known[2] && !s.w.has('Z') {
		s.note(HighAssumed)
	}
	s.emit(toolpath.Rapid, to, off)
	s.done()
}

// cut goes straight to a place at the feed.
func (s *state) cut(to toolpath.Place, off [3]measure.Length) {
	if !to.Known[2] {
		s.note(CutAtUnknown)
	}
	s.emit(toolpath.Line, to, off)
	s.done()
}

// cutting looks whether there is a feed.
func (s *state) cutting(missing, missingByTime Rule) {
	switch {
	case !s.need(rs274.FeedMode):
	case s.byTime:
		if !s.w.has('F') {
			s.note(missingByTime)
		}
	case s.feedNo.zero():
		s.note(missing)
	}
}

// nonModal is G10, G28, G30 and G92.
func (s *state) nonModal(code int16) {
	switch code {
	case 280, 300:
		s.home(code)
		return
	case 921, 922: // places are counted from G54 again
		s.shifted = false
	case 100:
		s.bent = true
		s.aboutG(Origin, code)
	default:
		s.shifted = true
		s.aboutG(Origin, code)
	}
	s.forget(true, true, true)
}

// home is G28 and G30: by way of the place that is said, to one that is not.
func (s *state) home(code int16) {
	if s.w.hasAxes() {
		if !s.ready() {
			return
		}
		to, off := s.target()
		s.emit(toolpath.Rapid, to, off)
		s.done()
	}
	s.aboutG(Home, code)
	s.emit(toolpath.Rapid, toolpath.Place{}, [3]measure.Length{})
	s.done()
}

// machinePlace is G53 with G0 or G1.
func (s *state) machinePlace(code int16) {
	if s.relative {
		s.aboutG(HomeInG91, 530)
	}
	s.aboutG(MachinePlace, 530)
	kind := toolpath.Rapid
	if code == 10 {
		kind = toolpath.Line
		s.cutting(FeedMissing, TimeFeedMissing)
	}
	to, off := s.at, s.off
	for i, letter := range [3]byte{'X', 'Y', 'Z'} {
		if s.w.has(letter) {
			to.Known[i], off[i] = false, 0
		}
	}
	if !to.Known[0] {
		to.X = 0
	}
	if !to.Known[1] {
		to.Y = 0
	}
	if !to.Known[2] {
		to.Z = 0
	}
	s.emit(kind, to, off)
	s.done()
}
