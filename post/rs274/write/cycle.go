package write

import (
	"strconv"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// drilled is the line of a drilling cycle that does just what a pass does, where the
// controller has it: over the hole at the clearance height, down by a rapid to where
// the feed starts, to the depth at one feed, and up again by a rapid (NISTIR 6556,
// 3.5.16). Every word that stays from hole to hole is said for each. ok is false
// where the pass does anything else: then its moves are written out.
func (w *writer) drilled(pass toolpath.Pass, clearance measure.Length) (line string, ok bool, err error) {
	d, ok := w.drilling(pass, clearance)
	if !ok {
		return "", false, nil
	}
	b := strconv.AppendInt([]byte("G"), int64(d.code), 10)
	type word struct {
		letter byte
		of     measure.Length
	}
	words := []word{{'X', d.at.X}, {'Y', d.at.Y}, {'Z', d.bottom}, {'R', d.start}}
	if d.peck > 0 {
		words = append(words, word{'Q', d.peck})
	}
	for _, x := range words {
		if b, err = w.word(b, x.letter, x.of); err != nil {
			return "", false, err
		}
	}
	if d.dwell > 0 {
		p, err := w.dwell(d.dwell)
		if err != nil {
			return "", false, err
		}
		b = append(append(b, ' '), p...)
	}
	if number := len("N99999 "); w.numbers > 0 && number+len(b)+len(w.end) > w.limit || len(b)+len(w.end) > w.limit {
		return "", false, nil // there is no room for it: its moves are shorter
	}
	w.feed = 0 // it is said for each hole
	if b, err = w.feedWord(b, d.feed); err != nil {
		return "", false, err
	}
	w.feed, w.cycle = 0, true
	return string(b), true, nil
}

// hole is what a pass does, as a cycle.
type hole struct {
	code                int
	at                  solid.Point // X and Y
	start, bottom, peck measure.Length
	dwell               measure.Time
	feed                measure.Feed
}

// drilling takes a pass as a cycle that the controller has.
func (w *writer) drilling(pass toolpath.Pass, clearance measure.Length) (h hole, ok bool) {
	m := pass.Moves
	if len(m) < 3 || w.cycles == [4]bool{} || w.at.Z != clearance || m[0].Kind != toolpath.Rapid || m[0].To.Z != clearance {
		return h, false
	}
	h.at = m[0].To
	for _, mv := range m {
		if mv.To.X != h.at.X || mv.To.Y != h.at.Y || mv.Kind == toolpath.Arc {
			return h, false
		}
	}
	last := m[len(m)-1]
	h.start, m = clearance, m[1:len(m)-1]
	if m[0].Kind == toolpath.Rapid {
		if h.start, m = m[0].To.Z, m[1:]; h.start >= clearance {
			return h, false
		}
	}
	if len(m) == 0 || last.Kind != toolpath.Rapid || last.To.Z != clearance {
		return h, false
	}
	if end := m[len(m)-1]; end.Kind == toolpath.Dwell && len(m) == 2 {
		h.dwell, m = end.Time, m[:1]
	}
	h.bottom, h.feed = m[len(m)-1].To.Z, m[0].Feed
	switch {
	case m[0].Kind != toolpath.Line || h.bottom >= h.start:
		return h, false
	case len(m) == 1 && h.dwell > 0:
		h.code = 82
	case len(m) == 1:
		h.code = 81
	default:
		h.code, h.peck = w.pecks(m, h)
	}
	for i, g := range cycleWords {
		if g == h.code {
			return h, w.cycles[i]
		}
	}
	return h, false
}

// pecks takes moves that go down by equal steps from where the feed starts. Each is
// followed by a rapid out and back to over the last depth (G83), or by a short lift
// (G73). Where out and lift are one place the two are one: it is taken as G83.
func (w *writer) pecks(m []toolpath.Move, h hole) (code int, peck measure.Length) {
	peck = h.start - m[0].To.Z
	depth := h.start
	for i := 0; i < len(m); {
		if m[i].Kind != toolpath.Line || m[i].Feed != h.feed {
			return 0, 0
		}
		if depth -= peck; depth <= h.bottom {
			depth = h.bottom
		}
		if m[i].To.Z != depth || depth == h.bottom && i < len(m)-1 {
			return 0, 0
		}
		if i++; depth == h.bottom {
			break
		}
		lift := min(depth+w.peckLift, h.start)
		is := func(k int, z measure.Length) bool {
			return k < len(m) && m[k].Kind == toolpath.Rapid && m[k].To.Z == z
		}
		found := 0
		switch {
		case is(i, h.start) && lift == h.start:
			found = 83
			i++
		case is(i, h.start) && is(i+1, lift):
			found = 83
			i += 2
		case is(i, lift):
			found = 73
			i++
		}
		if found == 0 || code != 0 && found != code {
			return 0, 0
		}
		code = found
	}
	return code, peck
}

// cycleOff ends the cycle in force, if any (NISTIR 6556, 3.5.15).
func (w *writer) cycleOff() error {
	if !w.cycle {
		return nil
	}
	w.cycle = false
	return w.put("G80")
}
