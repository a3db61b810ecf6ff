package post

import (
	"strings"

	"golang.org/x/exp/slices"

	"stopshort/machines"
	"stopshort/post/handwheel"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// workOf is a set-up with the box about its metal, and what stands about that.
func workOf(s *toolpath.Setup, m *machines.Machine) handwheel.Work {
	w := handwheel.Work{Setup: s}
	for i, b := range s.Metal {
		box := solid.Bounds(b)
		for a := range w.Low {
			lo, hi := box.Low.Along(solid.Axis(a)), box.High.Along(solid.Axis(a))
			if i == 0 {
				w.Low[a], w.High[a] = lo, hi
			}
			w.Low[a], w.High[a] = min(w.Low[a], lo), max(w.High[a], hi)
		}
	}
	edges(&w)
	for _, l := range s.Limits {
		switch {
		case l.Solid == nil:
		case l.Kind == toolpath.Packing:
			w.Packed = true
		case l.Kind == toolpath.Holding:
			heldBy(&w, l)
		case l.Pin > 0 && l.Side == toolpath.KeepOut:
			lies(&w, l, m)
		}
	}
	return w
}

// edges takes in how high the metal stands at its furthest edges.
func edges(w *handwheel.Work) {
	for a := range w.Edge {
		w.Edge[a] = [2]measure.Length{w.Low[2], w.Low[2]}
		for _, b := range w.Setup.Metal {
			box := solid.Bounds(b)
			if box.Low.Along(solid.Axis(a)) == w.Low[a] {
				w.Edge[a][0] = max(w.Edge[a][0], box.High.Z)
			}
			if box.High.Along(solid.Axis(a)) == w.High[a] {
				w.Edge[a][1] = max(w.Edge[a][1], box.High.Z)
			}
		}
	}
}

// finderRoom is how far beside an edge a finder reaches (the thickest usual tip,
// from memory).
const finderRoom = 10 * measure.Millimetre

// heldBy takes in a body that holds the part: through the bore at zero, as a vice's jaw,
// beside an edge.
func heldBy(w *handwheel.Work, l toolpath.Limit) {
	if c, ok := l.Solid.(solid.Cylinder); ok && c.From.X == 0 && c.From.Y == 0 {
		w.Through = append(w.Through, l.Name)
	}
	x := solid.Bounds(l.Solid)
	top := x.High.Z
	if top <= w.Low[2] {
		return
	}
	for a := range w.Beside {
		along, across := solid.Axis(a), solid.Axis(1-a)
		if x.Low.Along(along) == -solid.Far && x.High.Along(along) == solid.Far { // nothing but a jaw reaches out of sight
			w.Jaw = along.String()
		}
		if x.High.Along(across) <= w.Low[1-a]-finderRoom || x.Low.Along(across) >= w.High[1-a]+finderRoom {
			continue
		}
		for side, at := range [2]measure.Length{w.Low[a], w.High[a]} {
			from, to := at-finderRoom, at
			if side == 1 {
				from, to = at, at+finderRoom
			}
			if x.High.Along(along) <= from || x.Low.Along(along) >= to {
				continue
			}
			if was := w.Beside[a][side]; was == nil || top > *was {
				w.Beside[a][side] = &top
			}
		}
	}
}

// lies takes in a bore along X or Y, over which the part is known to lie the right way up.
// It may be out by what the limits beside it count on.
func lies(w *handwheel.Work, l toolpath.Limit, m *machines.Machine) {
	c, ok := l.Solid.(solid.Cylinder)
	if !ok {
		return
	}
	_, name, _ := strings.Cut(l.Name, " bore ")
	a, straight := c.Axis()
	if !straight || a == solid.Z || slices.ContainsFunc(w.Bores, func(x handwheel.Bore) bool { return x.Name == name }) {
		return
	}
	x := handwheel.Bore{Name: name, Along: a.String(), Pin: l.Pin, Reads: w.Setup.Top - c.From.Z + c.Radius, Within: m.Errors.Gauge}
	for _, share := range l.Uncertain {
		x.Within += share.Of
	}
	space, _ := toolpath.PinSpace(c, solid.Point{X: w.Low[0], Y: w.Low[1]}, solid.Point{X: w.High[0], Y: w.High[1]})
	x.Shut = slices.ContainsFunc(w.Setup.Limits, func(h toolpath.Limit) bool {
		return h.Kind == toolpath.Holding && h.Solid != nil && solid.Bounds(h.Solid).Overlaps(space)
	})
	w.Bores = append(w.Bores, x)
}
