package recipe

import (
	"fmt"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// slotPath is the way the cutter takes through a slot.
type slotPath struct {
	passes  []toolpath.Pass
	levels  int
	deepest measure.Length // the most that one of them takes
	track   *track
	finish  int        // the pass before which the operator measures; 0 is none
	sides   [2][2]bool // the faces that an open end goes out through
}

// maxMoves is the most moves one slot may take: more is a slip of the pen, or
// a cutter for watches in a slot for a crane.
const maxMoves = 20_000

// path lays out the slot: at each level down the middle and out to 0.02 D short
// of each wall, then one finishing pass along each wall, all with the work on
// the cutter's left (conventional).
func (s *slot) path() (slotPath, error) {
	var p slotPath
	levels, err := s.grid.Levels(s.top, s.floor, s.cutting.step.Value)
	if err != nil {
		return p, err
	}
	close := s.looksFor(s.cut.Number, s.node)
	if close != "" {
		levels = s.halved(s.top, levels)
	}
	p.levels, p.deepest = len(levels), deepestPass(s.top, levels)
	t, err := s.track()
	if err != nil {
		return p, err
	}
	if n := len(levels) * (4 + 6*len(t.rough)); n > maxMoves {
		return p, fmt.Errorf("%d passes of %d side steps are some %d moves: at most %d; a larger cutter or a larger step would do",
			len(levels), len(t.rough), n, maxMoves)
	}
	p.track = t
	p.sides = s.opensThrough(t)
	s.look = s.bench.look(s.cut.Number, close, levels, s.pinned(close))
	at := 0 // the end the cutter stands at: an open one where there is one
	if s.open[1] && !s.open[0] {
		at = 1
	}
	w := &walk{track: t, laid: laid{here: t.ends[at].With(solid.Z, s.plane())}, feed: s.cutting.feed.Value}
	for k, z := range levels {
		last := s.look != nil && k == len(levels)-1
		if last {
			w.lift(s.plane())
			p.finish = len(w.passes)
		}
		w.begin(fmt.Sprintf("pass %d of %d", k+1, len(levels)), -z)
		if k == 0 || last {
			s.enter(w)
		}
		w.cut(w.here.With(solid.Z, z), s.cutting.plunge.Value)
		at = w.level(at)
		if s.look != nil && k == 0 && len(levels) > 2 {
			s.lookedAt(w)
		}
	}
	if t.finish > 0 {
		name, offset := "finish both walls", t.finish
		if s.node.Flag("climb_finish") {
			name, offset = name+", climbing", -offset
		}
		w.begin(name, -s.floor)
		w.loop(at, offset)
		w.to(t.ends[at])
	}
	w.lift(s.plane())
	p.passes = w.passes
	return p, nil
}

// enter brings the cutter over where it starts and down towards the metal.
func (s *slot) enter(w *walk) {
	over := w.here
	w.add(toolpath.Move{Kind: toolpath.Rapid, To: over})
	if near := s.descend(s.tool, over, s.top); near < over.Z {
		w.add(toolpath.Move{Kind: toolpath.Rapid, To: over.With(solid.Z, near)})
	}
}

// climbs is the warning of a finishing pass that goes with the cutter's teeth: they pull
// the slide through its play, as little as 0.003 in (from memory of such a case). In a
// slot as wide as its cutter one wall climbs whichever way it goes.
func (s *slot) climbs(p slotPath) string {
	if !s.node.Flag("climb_finish") {
		return ""
	}
	play := max(s.machine.Axes[0].Backlash, s.machine.Axes[1].Backlash)
	switch {
	case p.track.finish == 0:
		return fmt.Sprintf("%s: the slot is as wide as its cutter, so one wall climbs whichever way it is cut: climb_finish changes nothing", s.cut.Name)
	case play > 0:
		return fmt.Sprintf("%s: climb cutting, %s wide, with %s of backlash: the cutter pulls the slide through it; keep a drag on that slide, lock the others",
			s.cut.Name, s.both(s.tool.Diameter.MulDiv(2, 100, measure.Floor)), s.both(play))
	}
	return ""
}

// parts are the convex parts a cutter is a stack of.
func parts(c toolpath.Cutter) []solid.Part {
	ps := append(c.Cutting(), c.HolderPart())
	if shank, ok := c.ShankPart(); ok {
		ps = append(ps, shank)
	}
	return ps
}

// walk is the cutter on its way along a track.
type walk struct {
	*track
	laid
	feed measure.Feed
}

// lift brings the cutter straight up.
func (w *walk) lift(z measure.Length) {
	w.add(toolpath.Move{Kind: toolpath.Rapid, To: w.here.With(solid.Z, z)})
}

// cut feeds straight to a point, if the cutter is not there already.
func (w *walk) cut(p solid.Point, f measure.Feed) {
	if p != w.here {
		w.add(toolpath.Move{Kind: toolpath.Line, To: p, Feed: f})
	}
}

// to feeds to a place seen from above, at the height the cutter has.
func (w *walk) to(p solid.Point) { w.cut(p.With(solid.Z, w.here.Z), w.feed) }

// level clears the slot at one height, from one end: down the middle, then out
// to each side. It gives the end the cutter stands at, which is an open one
// where there is one, so that it goes down outside the metal.
func (w *walk) level(at int) int {
	w.to(w.ends[at])
	w.to(w.ends[1-at])
	if w.closed[1-at] && !w.closed[at] {
		w.to(w.ends[at])
	} else {
		at = 1 - at
	}
	for _, o := range w.rough {
		w.loop(at, o)
	}
	w.to(w.ends[at])
	return at
}

// loop goes once round the slot at an offset from its middle, from one end,
// with the wall on the cutter's left: clockwise; below nought on its right.
func (w *walk) loop(at int, offset measure.Length) {
	for _, e := range []int{at, 1 - at} {
		w.to(w.side(e, offset))
		w.to(w.side(1-e, -offset))
		if far := 1 - e; w.closed[far] && w.arcs {
			end, sense := w.side(far, offset), toolpath.Clockwise
			if offset < 0 {
				sense = toolpath.Anticlockwise
			}
			w.add(toolpath.Move{Kind: toolpath.Arc, To: end.With(solid.Z, w.here.Z), Centre: w.ends[far],
				Sense: sense, Hollow: true, Feed: w.feed})
		}
	}
}
