package read

import (
	"time"

	"stopshort/post/rs274"
)

const (
	seconds      = time.Second
	milliseconds = time.Millisecond
)

// check looks whether the words of a line go together, before any is obeyed.
func (s *state) check(w *words) error {
	motion := none // what the line's axis words and others serve
	switch {
	case w.hasGroup(rs274.Motion):
		motion = int(w.code[rs274.Motion])
	case w.hasAxes():
		motion = int(s.motion)
	}
	switch {
	case w.is(rs274.Motion, 800) && w.hasAxes():
		return fault(AxesWithG80, "G80 together with X, Y or Z")
	case w.hasAxes() && motion == none:
		return fault(NoMotion, "X, Y or Z and no motion in force: write G0 or G1")
	}
	for g := rs274.Group(1); g < rs274.GroupCount; g++ {
		if w.hasGroup(g) && !followed(g, w.code[g]) {
			return fault(NotFollowed, "%s cannot be followed", codeName(g, w.code[g]))
		}
	}
	if w.hasGroup(rs274.Motion) && motion != 800 && !w.hasAxes() {
		return fault(NoAxes, "%s without X, Y or Z", gName(int16(motion)))
	}
	if w.is(rs274.NonModal, 40) && !w.has('P') {
		return fault(DwellMissing, "G4 without P")
	}
	return s.unused(w, motion == 20 || motion == 30)
}

// unused looks for words that no code of the line uses.
func (s *state) unused(w *words, arc bool) error {
	if w.seen&^(axes|bit('F')|bit('S')) == 0 {
		return nil // as most lines are
	}
	if arc {
		return arcWords(w)
	}
	return strays(w, "ABCDHIJKLPQRT")
}

// arcWords looks at the words of an arc in the XY plane.
func arcWords(w *words) error {
	centre := w.has('I') || w.has('J')
	switch {
	case w.has('K'):
		return fault(KInXY, "K with an arc in the XY plane")
	case w.has('R') && centre:
		return fault(MixedArc, "R together with I or J")
	case w.has('R'):
		return fault(NotFollowed, "an arc by its radius cannot be followed")
	}
	return strays(w, "ABCDHLPQT")
}

// strays refuses the first of the letters that is there.
func strays(w *words, letters string) error {
	for _, c := range []byte(letters) {
		if !w.has(c) || c == 'P' && w.is(rs274.NonModal, 40) {
			continue
		}
		switch c {
		case 'A', 'B', 'C':
			return fault(NotFollowed, "%c cannot be followed: a turning axis", c)
		case 'T':
			if w.of('T').neg {
				return fault(NegativeT, "a tool below nought")
			}
			if _, ok := w.of('T').whole(1e17); !ok {
				return fault(NotWhole, "T%s is not a whole number", w.of('T'))
			}
			return fault(NotFollowed, "T cannot be followed: a program has one tool")
		}
		rule := map[byte]Rule{'D': UnusedD, 'H': UnusedH, 'I': UnusedI, 'J': UnusedJ, 'K': UnusedK,
			'L': UnusedL, 'P': UnusedP, 'Q': UnusedQ, 'R': UnusedR}[c]
		return fault(rule, "%c and no code on its line that uses it", c)
	}
	return nil
}
