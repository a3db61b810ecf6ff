package read

import (
	"stopshort/post/rs274"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// none is a motion that is not in force.
const none = -1

// state is what is in force and where the cutter is.
type state struct {
	o     Options
	yield func(toolpath.Step) error

	line         int
	begun, ended bool

	stated  uint32         // modal groups that the text has set
	motion  int16          // the G word of group 1 in force, in tenths, or none
	unit    measure.Length // of the numbers; nought before it is said
	feed    number         // as written: its unit is the one in force
	speed   measure.Speed  // as set
	turning bool
	at      toolpath.Place
}

func newState(o Options, yield func(toolpath.Step) error) *state {
	return &state{o: o, yield: yield, motion: none}
}

// followed are the G words that are followed, in tenths.
func followed(g rs274.Group, code int16) bool {
	switch g {
	case rs274.NonModal:
		return code == 40
	case rs274.Motion:
		return code <= 30 || code == 800
	case rs274.Plane:
		return code == 170
	case rs274.Distance:
		return code == 900
	case rs274.FeedMode:
		return code == 940
	case rs274.Units:
		return true
	case rs274.RadiusComp:
		return code == 400
	case rs274.LengthOffset:
		return code == 490
	case rs274.WorkSystem:
		return code == 540
	case rs274.Stopping: // of M from here
		return code == 0 || code == 2 || code == 30
	case rs274.Spindle:
		return code == 3 || code == 5
	}
	return false
}

// obey does one line, in the order of NISTIR 6556, 3.8, table 8.
func (s *state) obey(w *words) error {
	if err := s.check(w); err != nil {
		return err
	}
	if err := s.setFeed(w); err != nil {
		return err
	}
	if err := s.setSpindle(w); err != nil {
		return err
	}
	if w.is(rs274.NonModal, 40) {
		if err := s.dwell(w); err != nil {
			return err
		}
	}
	if err := s.setModes(w); err != nil {
		return err
	}
	if w.hasAxes() {
		if err := s.move(w); err != nil {
			return err
		}
	}
	if w.hasGroup(rs274.Stopping) {
		return s.stop(w)
	}
	return nil
}

// setFeed keeps F as it is written, since changing the unit does not change the
// number (NISTIR 6556, 3.5.7).
func (s *state) setFeed(w *words) error {
	if !w.has('F') {
		return nil
	}
	s.feed = w.of('F')
	if s.feed.neg {
		return fault(NegativeF, "a feed below nought")
	}
	return nil
}

// setSpindle takes S, then M3 or M5.
func (s *state) setSpindle(w *words) error {
	if w.has('S') {
		n := w.of('S')
		if n.neg {
			return fault(NegativeS, "a speed below nought")
		}
		v, err := n.speed()
		if err != nil {
			return err
		}
		s.speed = v
	}
	if w.hasGroup(rs274.Spindle) {
		s.turning = w.is(rs274.Spindle, 3)
	}
	return nil
}

// setModes takes the words that stay in force.
func (s *state) setModes(w *words) error {
	if w.hasGroup(rs274.Units) {
		unit := measure.Inch
		if w.is(rs274.Units, 210) {
			unit = measure.Millimetre
		}
		if s.unit != 0 && s.unit != unit {
			return fault(NotFollowed, "a change of units within a program cannot be followed")
		}
		s.unit = unit
	}
	if w.hasGroup(rs274.Motion) {
		s.motion = w.code[rs274.Motion]
		if s.motion == 800 {
			s.motion = none
		}
	}
	s.stated |= w.groups
	return nil
}

// dwell is G4.
func (s *state) dwell(w *words) error {
	n := w.of('P')
	if n.neg {
		return fault(NegativeP, "a dwell below nought")
	}
	unit := seconds
	if s.o.DwellMilliseconds {
		unit = milliseconds
	}
	t, err := n.time(unit)
	if err != nil {
		return err
	}
	return s.give(toolpath.Step{Kind: toolpath.Dwell, From: s.at, To: s.at, Time: t})
}

// stop is M0, M2 and M30.
func (s *state) stop(w *words) error {
	if w.is(rs274.Stopping, 0) {
		return s.give(toolpath.Step{Kind: toolpath.Stop, From: s.at, To: s.at})
	}
	s.ended = true
	return nil
}

// give hands on a step with what all steps have.
func (s *state) give(step toolpath.Step) error {
	step.Line, step.Op = s.line, -1
	if s.turning {
		step.Speed = s.speed
	}
	return s.yield(step)
}
