package read

import (
	"stopshort/post/rs274"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// Motions in force, beside the G words in tenths.
const (
	none    = -1 // none is
	unclear = -2 // it is not known
)

// state is what is in force and where the cutter is.
type state struct {
	o    Options
	give func(*toolpath.Step) error
	tell func(Note)
	err  error // of give; reading stops

	line     int
	w        words
	lost     bool // this line is not followed
	moved    bool // a step was given
	begun    bool // a line that is not blank was read
	percent  bool // the first such line was a percent sign
	closed   bool // and a second one came
	numbered bool // a program number was read
	ended    bool // M2 or M30
	behind   bool // something stood behind it

	said  uint32 // modal groups that the text has set, or that were assumed
	clear uint32 // modal groups whose mode is known
	quick bool   // the next lines may go the quick way

	motion     int16
	plane      toolpath.ArcPlane
	relative   bool  // G91
	centresAbs bool  // G90.1
	byTime     bool  // G93
	comp       bool  // G41, G42
	origin     int16 // G54 and its like
	shifted    bool  // G92 is in force
	bent       bool  // what G54 means was changed
	offset     bool  // G43 is in force
	offsetSeen bool  // it was, at least once
	zMoved     bool  // Z was moved before it
	toReturn   int16

	unit    measure.Length // of the numbers
	scale   [maxTens + 1]int64
	most    [maxTens + 1]uint64
	feedNo  number // as written: its unit is the one in force
	feed    measure.Feed
	speed   measure.Speed // as set
	turning bool
	coolant toolpath.Coolant
	lengths int // H, while G43 is in force
	chosen  int // T
	tool    int // T when M6 came
	changed bool

	at  toolpath.Place
	off [3]measure.Length // slack of each axis

	cycle cycle
	out   toolpath.Step
}

func newState(o Options, give func(*toolpath.Step) error, tell func(Note)) *state {
	s := &state{o: o, give: give, tell: tell, motion: none, origin: 540, clear: ^uint32(0)}
	s.cycle.code = none
	return s
}

// note tells of the whole line.
func (s *state) note(r Rule) { s.about(r, Word{}) }

// about tells of one word of the line.
func (s *state) about(r Rule, w Word) {
	if rules[r].kind == NotFollowed {
		s.lost = true
	}
	s.tell(Note{Line: s.line, Rule: r, Word: w})
}

// aboutG tells of a G word in tenths.
func (s *state) aboutG(r Rule, code int16) { s.about(r, Word{'G', int32(code)}) }

// usual is the word that is taken as in force where none was said: it is what
// R and A go back to at a program's end (NISTIR 6556, 3.6.1).
var usual = [rs274.GroupCount]int16{
	rs274.Plane: 170, rs274.Distance: 900, rs274.FeedMode: 940,
	rs274.RadiusComp: 400, rs274.LengthOffset: 490, rs274.WorkSystem: 540,
}

// need makes sure that a mode is said, or tells that it is assumed. It is false
// where the mode is not known.
func (s *state) need(g rs274.Group) bool {
	if s.clear&group(g) == 0 {
		s.about(UnclearMode, Word{})
		return false
	}
	if s.said&group(g) == 0 {
		s.said |= group(g)
		s.aboutG(ModeAssumed, usual[g])
	}
	return true
}

// needUnits is false where no length can be read.
func (s *state) needUnits() bool {
	if s.clear&group(rs274.Units) == 0 {
		s.note(UnclearMode)
		return false
	}
	if s.unit != 0 {
		return true
	}
	if s.o.Units.Size() == 0 {
		s.note(NoUnits)
		return false
	}
	s.setUnit(s.o.Units.Size())
	s.said |= group(rs274.Units)
	code := int16(200)
	if s.unit == measure.Millimetre {
		code = 210
	}
	s.aboutG(UnitsAssumed, code)
	return true
}

// setUnit takes a unit for all numbers from here. The feed's number stays and
// takes the new unit (NISTIR 6556, 3.5.7).
func (s *state) setUnit(u measure.Length) {
	s.unit = u
	for t := range s.scale {
		s.scale[t], s.most[t] = 0, 0
		if p := int64(powersOfTen[t]); int64(u)%p == 0 {
			s.scale[t] = int64(u) / p
			s.most[t] = uint64(int64(measure.MaxLength) / s.scale[t])
		}
	}
	s.feed = s.feedNo.feed(u)
}

// forget loses places; which is an axis' bit each.
func (s *state) forget(x, y, z bool) {
	for i, gone := range [3]bool{x, y, z} {
		if gone {
			s.at.Known[i] = false
			s.off[i] = 0
			s.setAxis(i, 0)
		}
	}
}

func (s *state) axis(i int) measure.Length {
	switch i {
	case 0:
		return s.at.X
	case 1:
		return s.at.Y
	}
	return s.at.Z
}

func (s *state) setAxis(i int, v measure.Length) {
	switch i {
	case 0:
		s.at.X = v
	case 1:
		s.at.Y = v
	default:
		s.at.Z = v
	}
}

// slack is the most of the three.
func (s *state) slack() measure.Length { return max(s.off[0], s.off[1], s.off[2]) }

// framed tells whether places are counted from G54, as far as is known.
func (s *state) framed() bool { return s.origin == 540 && !s.shifted && !s.bent }

// emit makes a step ready, with what all steps have; done gives it.
func (s *state) emit(kind toolpath.Motion, to toolpath.Place, off [3]measure.Length) {
	o := &s.out
	*o = toolpath.Step{Kind: kind, From: s.at, To: to, Line: s.line, Op: -1, Tool: s.tool, Offset: s.lengths, Coolant: s.coolant, Slack: s.slack()}
	s.off = off
	o.Slack = max(o.Slack, s.slack())
	if s.turning {
		o.Speed = s.speed
	}
	if kind == toolpath.Line || kind == toolpath.Arc {
		o.Feed = s.feed
		if s.byTime {
			o.Feed = 0
		}
	}
}

// still gives a step that moves nothing.
func (s *state) still(kind toolpath.Motion, t measure.Time) {
	s.emit(kind, s.at, s.off)
	s.out.Time = t
	s.done()
}

// done gives what emit has made ready, and the cutter stands at its end.
func (s *state) done() {
	if s.err != nil {
		return
	}
	s.at, s.moved = s.out.To, true
	s.err = s.give(&s.out)
}
