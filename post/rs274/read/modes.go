package read

import (
	"time"

	"stopshort/post/rs274"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

const stopStep = toolpath.Stop

// modal is what a line may change beside places and speeds.
type modal struct {
	origin, toReturn           int16
	plane                      toolpath.ArcPlane
	unit                       measure.Length
	relative, centresAbs       bool
	byTime, comp, offset, bent bool
}

func (s *state) modes() modal {
	return modal{s.origin, s.toReturn, s.plane, s.unit, s.relative, s.centresAbs, s.byTime, s.comp, s.offset, s.bent || s.shifted}
}

// setFeed keeps F as it is written, since changing the unit does not change the
// number (NISTIR 6556, 3.5.7).
func (s *state) setFeed() {
	if !s.w.has('F') {
		return
	}
	s.feedNo = s.w.of('F')
	if s.feedNo.neg {
		s.about(NegativeF, Word{'F', -1})
	}
	s.feed = s.feedNo.feed(s.unit)
}

// setTool takes T, then M6.
func (s *state) setTool() {
	w := &s.w
	if w.has('T') {
		n := w.of('T')
		v, whole := n.whole(1e9)
		switch {
		case n.neg:
			s.about(NegativeT, Word{'T', -1})
		case !whole:
			s.about(NotWhole, Word{'T', -1})
		default:
			if s.o.Slots > 0 && v > int64(s.o.Slots) {
				s.about(ToolOverSlots, Word{'T', int32(min(v, 1e8) * 10)})
			}
			if v > 255 {
				s.about(ToolForA, Word{'T', int32(min(v, 1e8) * 10)})
			}
			s.chosen = int(v)
		}
	}
	if !w.hasGroup(rs274.ToolChange) {
		return
	}
	if s.changed && s.chosen != s.tool {
		s.about(ToolAssumed, Word{'M', 60})
	}
	s.changed = true
	s.tool = s.chosen
	s.turning = false // and the axes may move (NISTIR 6556, 3.6.3)
	s.forget(true, true, true)
}

// setSpindle takes S, then M3, M4 or M5.
func (s *state) setSpindle() {
	w := &s.w
	if w.has('S') {
		n := w.of('S')
		if n.neg {
			s.about(NegativeS, Word{'S', -1})
		}
		s.speed = n.speed()
	}
	if w.clash&group(rs274.Spindle) != 0 {
		s.turning = false // so that a cut is told of
	}
	if w.hasGroup(rs274.Spindle) {
		s.turning = !w.is(rs274.Spindle, 5)
		if w.is(rs274.Spindle, 4) {
			s.about(ReverseAssumed, Word{'M', 40})
		}
	}
}

// setCoolant takes M7, M8 or M9. Of two on one line none is taken.
func (s *state) setCoolant() {
	w := &s.w
	switch {
	case !w.hasGroup(rs274.Coolant):
	case w.is(rs274.Coolant, 7):
		s.coolant |= toolpath.Mist
	case w.is(rs274.Coolant, 8):
		s.coolant |= toolpath.Flood
	default:
		s.coolant = 0
	}
}

// dwell is G4.
func (s *state) dwell() {
	n := number{}
	if s.w.has('P') {
		n = s.w.of('P')
	}
	if n.neg {
		s.about(NegativeP, Word{'P', -1})
	}
	s.still(toolpath.Dwell, n.time(s.dwellUnit()))
}

func (s *state) dwellUnit() time.Duration {
	if s.o.DwellMilliseconds {
		return time.Millisecond
	}
	return time.Second
}

// setModes takes the words that stay in force, but those of motion.
func (s *state) setModes() {
	w := &s.w
	if w.groups&^(group(rs274.Motion)) == 0 && w.other == 0 {
		return
	}
	if w.hasGroup(rs274.FeedMode) {
		s.byTime = w.is(rs274.FeedMode, 930)
	}
	if w.hasGroup(rs274.Plane) {
		s.plane = toolpath.ArcPlane(w.code[rs274.Plane]/10 - 17) // G17, G18, G19
	}
	if w.hasGroup(rs274.Units) {
		unit := measure.Inch
		if w.is(rs274.Units, 210) {
			unit = measure.Millimetre
		}
		s.setUnit(unit)
	}
	if w.hasGroup(rs274.RadiusComp) {
		s.setComp()
	}
	if w.hasGroup(rs274.LengthOffset) {
		s.setOffset()
	}
	if w.hasGroup(rs274.WorkSystem) {
		s.setOrigin(w.code[rs274.WorkSystem])
	}
	if w.hasGroup(rs274.PathControl) && !w.is(rs274.PathControl, 611) && !w.is(rs274.PathControl, 610) {
		s.aboutG(RoundingAssumed, 640)
	}
	if w.hasGroup(rs274.Distance) {
		s.relative = w.is(rs274.Distance, 910)
	}
	if w.other == 901 || w.other == 911 {
		s.centresAbs = w.other == 901
	}
	if w.hasGroup(rs274.ReturnLevel) {
		s.toReturn = w.code[rs274.ReturnLevel]
	}
	s.said |= w.groups
	s.clear |= w.groups
}

// setMotion takes the motion word.
func (s *state) setMotion() {
	w := &s.w
	was := s.motion
	switch {
	case w.other == 730:
		s.motion = 730
	case w.hasGroup(rs274.Motion):
		s.motion = w.code[rs274.Motion]
		if s.motion == 800 {
			s.motion = none
		}
		s.said |= group(rs274.Motion)
	}
	if s.motion != was {
		s.cycle.code = none
	}
}

// setComp takes G40, G41 and G42.
func (s *state) setComp() {
	w := &s.w
	code := w.code[rs274.RadiusComp]
	if code == 400 {
		if s.comp {
			s.forget(true, true, false)
		}
		s.comp = false
		return
	}
	if s.plane != toolpath.PlaneXY {
		s.aboutG(CompPlane, code)
	}
	if w.has('D') {
		s.slot('D', NegativeD, RadiusOverSlots)
	}
	s.aboutG(Comp, code)
	s.comp = true
	s.forget(true, true, false)
}

// slot looks at the number of a slot.
func (s *state) slot(letter byte, negative, over Rule) int64 {
	n := s.w.of(letter)
	v, whole := n.whole(1e9)
	switch {
	case n.neg:
		s.about(negative, Word{letter, -1})
	case !whole:
		s.about(NotWhole, Word{letter, -1})
	case s.o.Slots > 0 && v > int64(s.o.Slots):
		s.about(over, Word{letter, int32(min(v, 1e8) * 10)})
	}
	return v
}

// setOffset takes G43 and G49. With another offset the height of the cutter is
// another number, that is not known until it is said.
func (s *state) setOffset() {
	w := &s.w
	if w.is(rs274.LengthOffset, 490) {
		if s.offset {
			s.forget(false, false, true)
		}
		s.offset, s.lengths = false, 0
		return
	}
	s.lengths = 0
	word := Word{'G', 430}
	if w.has('H') {
		s.lengths = int(min(max(s.slot('H', NegativeH, OffsetOverSlots), 0), 1e8))
		word = Word{'H', int32(s.lengths * 10)}
	} else {
		s.aboutG(OffsetMissing, 430)
	}
	if s.zMoved && !s.offsetSeen {
		s.aboutG(OffsetAfterZ, 430)
	}
	if word.Letter == 'H' && s.tool > 0 && s.lengths != s.tool {
		s.about(OffsetOther, word)
	} else {
		s.about(OffsetAssumed, word)
	}
	s.offset, s.offsetSeen = true, true
	s.forget(false, false, true)
}

// setOrigin takes G54 to G59.3.
func (s *state) setOrigin(code int16) {
	if code != s.origin {
		s.forget(true, true, true)
	}
	s.origin = code
	if code != 540 {
		s.aboutG(Origin, code)
	}
}
