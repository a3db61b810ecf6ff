package limit

import (
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// way is what is judged at once: straight pieces, and where they are the chords
// of a level arc the arc itself too.
type way struct {
	pieces []piece
	arc    *solid.Arc
}

// ways is a feed step as ways: a level arc is one, all else goes piece by piece.
func ways(s toolpath.Step) []way {
	all := pieces(s)
	if s.Kind == toolpath.Arc && s.From.Z == s.To.Z {
		if a, ok := arcOf(s); ok {
			return []way{{all, &a}}
		}
	}
	out := make([]way, len(all))
	for i := range all {
		out[i].pieces = all[i : i+1]
	}
	return out
}

// arcOf is the arc that a step is, seen from above.
func arcOf(s toolpath.Step) (solid.Arc, bool) {
	return solid.NewArc(s.From.Point, s.To.Point, s.Centre, s.Sense == toolpath.Clockwise)
}

// cutting is the way's pieces that a cutter of that radius can touch the box
// with, clipped to it. The arc stays whole.
func (w way) cutting(box solid.Box, radius measure.Length) (way, bool) {
	out := way{arc: w.arc}
	for _, p := range w.pieces {
		if c, ok := p.clip(box, radius); ok {
			out.pieces = append(out.pieces, c)
		}
	}
	return out, len(out.pieces) > 0
}

// sharing is the shares of a worst case along a direction, for a cutter within a
// stretch.
type sharing func(dir [3]float64, at extent) []toolpath.Share

// hold holds a part of the cutter on its way against a body.
func (j *Judge) hold(t *tally, w way, part solid.Part, b solid.Body, shares sharing, line int) {
	if w.arc != nil && solid.Upright(b) {
		j.holdArc(t, *w.arc, part, b, shares, line)
		return
	}
	for _, p := range w.pieces {
		j.holdSweep(t, p.sweep(part), b, shares, line)
	}
}

func (j *Judge) holdSweep(t *tally, sweep solid.Sweep, b solid.Body, shares sharing, line int) {
	at := j.extent(sweep.From, sweep.To)
	g := solid.Between(sweep, b, t.need(total(shares([3]float64{1, 1, 1}, at))))
	t.meet(int64(g.Low), int64(g.High), shares(g.Dir, at), j.here(line))
}

// Bounds on an arc: sure is how far its two bounds may be apart where they are
// as good as met (each is rounded once or twice), finest how far where what is
// asked does not lie between them, and arcPieces into how many pieces it may be
// cut; where they run out, what is proved stands.
const (
	sure      = 4 * measure.TenthNanometre
	finest    = measure.Micrometre / 10
	arcPieces = 512
)

// arcPiece is a piece of an arc and what was found of it.
type arcPiece struct {
	arc    solid.Arc
	beside solid.Beside
	gap    solid.Gap
	shares []toolpath.Share
}

// holdArc is hold for a level arc and an upright body. The arc is judged whole
// where that settles it; otherwise it is cut, and the nearest piece is looked
// at first, so that the others need not be known better than to be no nearer.
func (j *Judge) holdArc(t *tally, whole solid.Arc, part solid.Part, b solid.Body, shares sharing, line int) {
	look := func(a solid.Arc) arcPiece {
		p := arcPiece{arc: a, beside: a.Beside(b)}
		p.gap = p.beside.Gap(a, part, b)
		box := a.Bounds()
		across := box.Low.With(solid.X, box.High.X)
		p.shares = shares(p.gap.Dir, j.extent(box.Low, across, box.High, box.Low.With(solid.Y, box.High.Y)))
		return p
	}
	open := []arcPiece{look(whole)}
	for left := arcPieces; len(open) > 0; {
		next := 0
		for i := range open {
			if open[i].gap.Low < open[next].gap.Low {
				next = i
			}
		}
		p := open[next]
		open[next] = open[len(open)-1]
		open = open[:len(open)-1]
		var parts []solid.Arc
		if left > 0 && !t.settles(p) {
			parts = p.arc.Split(b)
		}
		if len(parts) == 0 {
			t.meet(int64(p.gap.Low), int64(p.gap.High), p.shares, j.here(line))
			continue
		}
		left -= len(parts)
		for _, a := range parts {
			open = append(open, look(a))
		}
	}
}

// settles tells whether a piece of an arc need not be cut further: as planned it
// is no less than the least so far, or known well enough; and so at worst.
func (t *tally) settles(p arcPiece) bool {
	asked := t.asked.Value
	low := p.gap.Low - asked
	apart := p.beside.Reach - p.beside.Low
	between := p.gap.Low < asked && asked <= p.gap.High
	known := apart <= sure || apart <= finest && !between
	if !known && (!t.met || int64(low) < t.verdict.Planned-t.verdict.NeverLess) {
		return false
	}
	return known && p.beside.Settled || t.met && int64(low-total(p.shares)) >= t.worst
}
