package limit

import (
	"math"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// index finds what earlier cuts and set-ups have made near a place, so that ten
// thousand holes are judged in about ten thousand steps. Features are kept by
// cells seen from above.
type index struct {
	cells map[[2]int64][]int
	wide  []int // features that reach over many cells
	boxes [][]solid.Box
}

// cell is the width of a cell, and nearby how far around a cut other features
// are looked for: what is further away is no thin wall.
const (
	cell   = 10 * measure.Millimetre
	nearby = 20 * measure.Millimetre
	spread = 64 // cells; a feature over more is looked at always
)

func newIndex(fs []toolpath.Feature) *index {
	x := &index{cells: map[[2]int64][]int{}}
	for i, f := range fs {
		var boxes []solid.Box
		for _, b := range f.Bodies {
			boxes = append(boxes, solid.Bounds(b))
		}
		x.boxes = append(x.boxes, boxes)
		about := boxes[0]
		for _, b := range boxes[1:] {
			about = about.With(b)
		}
		lo, hi := cellOf(about.Low), cellOf(about.High)
		if (hi[0]-lo[0]+1)*(hi[1]-lo[1]+1) > spread {
			x.wide = append(x.wide, i)
			continue
		}
		for u := lo[0]; u <= hi[0]; u++ {
			for v := lo[1]; v <= hi[1]; v++ {
				x.cells[[2]int64{u, v}] = append(x.cells[[2]int64{u, v}], i)
			}
		}
	}
	return x
}

func cellOf(p solid.Point) [2]int64 {
	return [2]int64{int64(p.X.Round(cell, measure.Floor) / cell), int64(p.Y.Round(cell, measure.Floor) / cell)}
}

// about calls do for each feature that may lie within nearby of a box, once.
func (x *index) about(b solid.Box, do func(i int)) {
	seen := map[int]bool{}
	visit := func(i int) {
		if !seen[i] {
			seen[i] = true
			do(i)
		}
	}
	for _, i := range x.wide {
		visit(i)
	}
	reach := solid.Point{X: nearby, Y: nearby}
	lo, hi := cellOf(b.Low.Minus(reach)), cellOf(b.High.Plus(reach))
	for u := lo[0]; u <= hi[0]; u++ {
		for v := lo[1]; v <= hi[1]; v++ {
			for _, i := range x.cells[[2]int64{u, v}] {
				visit(i)
			}
		}
	}
}

// wall is the least that may be left between a cut and a feature: what the job
// asks, else the handbook's rule.
func wall(op toolpath.Operation, d measure.Length, f toolpath.Feature) measure.Figure[measure.Length] {
	if op.Wall != nil {
		return *op.Wall
	}
	return op.Book.Wall.For(min(d, f.Diameter))
}

// walls holds a volume that is cut against all that earlier cuts and set-ups
// have made: the metal between them must stand. h is the hole that is cut, nil
// for other cuts, and wider how much wider it may come out.
func (j *Judge) walls(op toolpath.Operation, sweep solid.Sweep, h *toolpath.Hole, d, wider measure.Length, line int) {
	if len(j.setup.Features) == 0 {
		return
	}
	if j.index == nil {
		j.index = newIndex(j.setup.Features)
	}
	about, most := solid.Bounds(sweep), j.most(sweep)
	j.index.about(about, func(i int) {
		f := j.setup.Features[i]
		if f.Cut > op.Cut || h == nil && f.Cut == op.Cut {
			return
		}
		if h != nil && (runsInto(op, *h, f) || startsIn(*h, f)) {
			return
		}
		name := "wall to " + f.Name
		if f.Cut == op.Cut {
			name = "wall between the holes"
		}
		t := j.at(op, name, Length, wall(op, d, f), "move one of the two, or make it smaller")
		for k, b := range f.Bodies {
			both := wider
			if k < len(f.Bodies)-1 || !f.Threaded {
				both += f.Wider
			}
			need := t.need(most + both)
			if t.met && about.Apart(j.index.boxes[i][k]) > need {
				continue
			}
			g := solid.Between(sweep, b, need)
			t.meet(int64(g.Low), int64(g.High), append(j.betweenCuts(g, sweep, f), oversize(g.Dir, both, op.Book.Oversize.Source)...), j.here(line))
		}
	})
}

// runsInto tells whether a hole and a feature are one hole: on one axis and, where
// the other was made from the other side, meeting there. Where it ends short,
// what is between is a wall.
//
// Two cuts may drill on one axis in one set-up only for one screw: a spot face
// and its hole are one, two screws are not. From both sides one of the two goes
// through.
func runsInto(op toolpath.Operation, h toolpath.Hole, f toolpath.Feature) bool {
	if f.Axis == nil || f.Axis.X != h.At.X || f.Axis.Y != h.At.Y {
		return false
	}
	if f.Cut != 0 {
		return f.Cut == op.Cut || !f.Drilled || op.Tool.Kind != toolpath.Drill
	}
	if f.Drilled && !f.Through && !h.Through {
		return false
	}
	about := solid.Bounds(f.Bodies[0])
	for _, b := range f.Bodies[1:] {
		about = about.With(solid.Bounds(b))
	}
	return about.Low.Z <= h.At.Z && h.Tip <= about.High.Z
}

// onGrid is how far a face's floor may be from where a hole on it is said to
// start: the floor is put on the target's grid, of 2.54 um at the most.
const onGrid = 3 * measure.Micrometre

// startsIn tells whether a hole starts on the floor of a feature, inside it: it
// opens into it on purpose.
func startsIn(h toolpath.Hole, f toolpath.Feature) bool {
	b := f.Bodies[0]
	if (solid.Bounds(b).Low.Z - h.Start).Abs() > onGrid {
		return false
	}
	return holdsDisc(b, h.At, h.Wide()/2)
}

// holdsDisc tells whether a disc seen from above lies inside a feature.
func holdsDisc(b solid.Body, p solid.Point, r measure.Length) bool {
	switch b := b.(type) {
	case solid.Sweep:
		wide := b.Part.LowRadius - r
		return wide >= 0 && solid.Near(b.From, b.To, p, wide)
	case solid.Box:
		return b.Low.X+r <= p.X && p.X+r <= b.High.X && b.Low.Y+r <= p.Y && p.Y+r <= b.High.Y
	}
	return false
}

// betweenCuts is the shares of a wall between two cuts. In one set-up the zero
// is the same, so that what falls wrong is each one's setting and run-out; what
// another set-up made may be out by its place too.
func (j *Judge) betweenCuts(g solid.Gap, sweep solid.Sweep, f toolpath.Feature) []toolpath.Share {
	if f.Cut == 0 {
		return append(j.errorsAlong(g.Dir, sweep), toolpath.Share{Name: "place of the other", Of: j.machine.Errors.Place})
	}
	e := j.machine.Errors
	return kept([]toolpath.Share{
		{Name: "setting, each", Of: 2 * e.Setting}, {Name: "run-out, each", Of: 2 * e.RunOut}, {Name: "bend", Of: e.Bend},
	})
}

// wallsOfCut holds what is not a hole against earlier features.
func (j *Judge) wallsOfCut(op toolpath.Operation, p piece, line int) {
	for _, part := range op.Tool.Cutting() {
		j.walls(op, p.sweep(part), nil, op.Tool.Measured, 0, line)
	}
}

// oversize is the share of drills that cut wider than they are, along a direction:
// half of it falls on the side in question.
func oversize(dir [3]float64, wider measure.Length, source string) []toolpath.Share {
	return kept([]toolpath.Share{{Name: "drill cutting wide", Of: weighed(wider.Half(measure.Ceil), math.Hypot(dir[0], dir[1])),
		From: measure.Handbook, Source: source}})
}
