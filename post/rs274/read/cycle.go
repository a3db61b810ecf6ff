package read

import (
	"stopshort/post/rs274"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// cycle is a drilling cycle's own figures, which stay from line to line.
type cycle struct {
	code    int16 // whose they are, or none
	r, z    measure.Length
	slack   measure.Length
	peck    measure.Length
	dwell   number
	initial measure.Length // height before the series
	// How they were given.
	unit     measure.Length
	relative bool
	atR     bool           // a line of the series came back to R only
	moves   int
}

// peckLift is how far above the last depth the rapid back into the hole stops,
// and how far a chip-breaking peck lifts: 0.010 in (public source of the
// reference interpreter).
const peckLift measure.Length = 2_540_000

func (s *state) peckLift() measure.Length {
	if s.o.PeckLift > 0 {
		return s.o.PeckLift
	}
	return peckLift
}

// mostMoves bounds the moves of one line.
const mostMoves = 10000

// drill is G81, G82, G83 and G73, written out as moves (NISTIR 6556, 3.5.16).
func (s *state) drill(code int16) {
	w := &s.w
	if !s.ready() || !s.need(rs274.Plane) {
		s.lost = true
		return
	}
	switch {
	case s.plane != toolpath.PlaneXY:
		s.aboutG(CyclePlane, code)
	case s.comp:
		s.aboutG(Code, code)
	case !s.at.Known[2] && !(w.has('R') && w.has('Z') && !s.relative):
		s.aboutG(CycleFromUnknown, code)
	case !s.framed() || s.offsetSeen && !s.offset:
		s.aboutG(CutAtUnknown, code)
		s.lost = true
	}
	if s.lost || !s.cycleWords(code) {
		s.lost = true
		return
	}
	s.cutting(FeedMissing, FeedMissing)
	if s.toReturn == 0 {
		s.toReturn = 980
		s.aboutG(ReturnAssumed, 980)
	}
	if !s.at.Known[2] && s.toReturn == 980 {
		s.aboutG(CycleFromUnknown, code)
		return
	}
	repeats := int64(1)
	if w.has('L') {
		n, whole := w.of('L').whole(1e6)
		switch {
		case w.of('L').neg:
			s.about(NegativeL, Word{'L', -1})
		case !whole:
			s.about(NotWhole, Word{'L', -1})
		case n == 0:
			s.aboutG(CycleLNought, code)
		}
		repeats = n
	}
	s.cycle.moves = 0
	for ; repeats > 0 && !s.lost && s.err == nil; repeats-- {
		if s.hole(code); s.cycle.moves > mostMoves {
			s.aboutG(CycleLong, code)
		}
	}
}

// cycleWords takes R, Z, P and Q, which stay for the lines that follow.
func (s *state) cycleWords(code int16) bool {
	w := &s.w
	c := &s.cycle
	first := c.code != code
	switch {
	case first && !w.has('R'):
		s.aboutG(CycleR, code)
	case first && !w.has('Z'):
		s.aboutG(CycleZ, code)
	case first && code == 820 && !w.has('P'):
		s.aboutG(CycleP, code)
	case first && (code == 830 || code == 730) && !w.has('Q'):
		s.aboutG(CycleQ, code)
	}
	if s.lost {
		return false
	}
	if first {
		*c = cycle{code: code, initial: s.at.Z}
	}
	if s.relative && !first && c.atR && !w.has('R') { // is R to be counted from R?
		s.aboutG(CycleReturn, code)
		return false
	}
	again := w.has('R') && w.has('Z') && (w.has('Q') || c.peck == 0)
	if !first && !again && (c.unit != s.unit || c.relative != s.relative) {
		s.aboutG(CycleMode, code)
		return false
	}
	c.unit, c.relative = s.unit, s.relative
	if w.has('R') {
		c.r, c.slack = s.cycleLength('R', s.at.Z)
	}
	if w.has('Z') {
		var slack measure.Length
		c.z, slack = s.cycleLength('Z', c.r)
		c.slack = max(c.slack, slack)
		if !s.offset {
			s.zMoved = true
		}
	}
	if w.has('P') {
		c.dwell = w.of('P')
		if c.dwell.neg {
			s.about(NegativeP, Word{'P', -1})
		}
	}
	if w.has('Q') {
		v, _, ok := w.of('Q').length(s.unit)
		if !ok || v <= 0 {
			s.aboutG(CycleQNought, code)
			s.lost = true
		}
		c.peck = v
	}
	if c.r < c.z {
		s.aboutG(CycleRLow, code)
	}
	return !s.lost
}

// cycleLength is R or Z of a cycle: in G91 counted from a height.
func (s *state) cycleLength(letter byte, from measure.Length) (v, slack measure.Length) {
	v, slack, ok := s.w.of(letter).length(s.unit)
	if s.relative {
		v += from
		slack += s.off[2]
	}
	if !ok || v.Abs() > measure.MaxLength {
		s.about(OutOfReach, Word{letter, -1})
		s.lost = true
		return 0, 0
	}
	return v, slack
}

// hole is the moves of one hole.
func (s *state) hole(code int16) {
	c := &s.cycle
	if !s.at.Known[2] || s.at.Z < c.r {
		s.toHeight(toolpath.Rapid, c.r)
	}
	back := s.at.Z
	if s.toReturn == 980 && c.atR && c.initial != back {
		s.aboutG(CycleReturn, code)
	}
	to, off := s.at, s.off
	for i, letter := range [2]byte{'X', 'Y'} {
		if !s.w.has(letter) {
			continue
		}
		v, slack, known := s.coordinate(i, letter)
		if to.Known[i], off[i] = known, slack; !known {
			v = 0
		}
		if i == 0 {
			to.X = v
		} else {
			to.Y = v
		}
	}
	c.moves++
	s.emit(toolpath.Rapid, to, off)
	s.done()
	s.toHeight(toolpath.Rapid, c.r)
	switch code {
	case 830, 730:
		s.pecks(code)
	default:
		s.toHeight(toolpath.Line, c.z)
	}
	if code == 820 && !s.lost {
		s.still(toolpath.Dwell, c.dwell.time(s.dwellUnit()))
	}
	up := c.r
	if s.toReturn == 980 && back > c.r {
		up = back
	}
	c.atR = c.atR || s.toReturn == 990
	s.toHeight(toolpath.Rapid, up)
}

// pecks goes down to Z by steps of Q: out of the hole after each, or only up by
// a little.
func (s *state) pecks(code int16) {
	c := &s.cycle
	for depth := c.r - c.peck; depth > c.z && c.moves <= mostMoves && s.err == nil; depth -= c.peck {
		s.toHeight(toolpath.Line, depth)
		lift := min(depth+s.peckLift(), c.r)
		if code == 830 {
			s.toHeight(toolpath.Rapid, c.r)
		}
		s.toHeight(toolpath.Rapid, lift)
	}
	s.toHeight(toolpath.Line, c.z)
}

// toHeight moves Z alone.
func (s *state) toHeight(kind toolpath.Motion, z measure.Length) {
	if s.lost || s.err != nil || s.at.Known[2] && s.at.Z == z {
		return
	}
	if s.cycle.moves++; s.cycle.moves > mostMoves {
		return
	}
	to, off := s.at, s.off
	to.Z, to.Known[2] = z, true
	off[2] = s.cycle.slack
	s.emit(kind, to, off)
	s.done()
}
