package limit

import (
	"strings"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// making is the hole that an operation has in hand.
type making struct {
	op    string // the operation's name and cut, so that a new one starts afresh
	cut   int
	holes map[[2]measure.Length]int
	cells map[[2]int64][]int // its holes by where they are, for those close by
	told  map[int]bool
	floor map[int]measure.Length // how deep each was gone
	of    toolpath.Operation
	in    int
	on    bool
}

// inHole holds one stretch of an operation that makes holes: it must stay
// inside the hole it is over. On its first meeting the hole itself is judged, as
// a whole: the volume that the stretches stay inside of.
func (j *Judge) inHole(op toolpath.Operation, p piece, s toolpath.Step) {
	m, line := &j.making, s.Line
	if m.op != op.Name || m.cut != op.Cut {
		j.finishHoles()
		j.begun[key{op.Cut, op.Name}] = true
		*m = making{op: op.Name, cut: op.Cut, of: op,
			holes: map[[2]measure.Length]int{}, told: map[int]bool{}, floor: map[int]measure.Length{}}
		for i, h := range op.Makes {
			m.holes[[2]measure.Length{h.At.X, h.At.Y}] = i
		}
	}
	for _, at := range []solid.Point{p.from, p.to} {
		if i, ok := m.holes[[2]measure.Length{at.X, at.Y}]; ok {
			m.in, m.on = i, true
		}
	}
	size := j.at(op, holeSide, Length, nought, sideAdvice)
	if !m.on {
		size.meet(int64(-solid.Far), int64(-solid.Far), nil, j.here(line))
		return
	}
	h := op.Makes[m.in]
	z := min(p.from.Z, p.to.Z)
	room, deep := holeRoom(h, p, s, op.Tool)
	size.meet(int64(room), int64(room), nil, j.here(line))
	j.at(op, holeDeep, Length, nought, deepAdvice).meet(int64(deep), int64(deep), nil, j.here(line))
	if low, ok := m.floor[m.in]; !ok || z < low {
		m.floor[m.in] = z
	}
	if !m.told[m.in] {
		m.told[m.in] = true
		j.hole(op, h, line)
	}
}

// The two sizes of a hole that a cut must stay inside of.
const (
	holeSide   = "hole, each side"
	sideAdvice = "take a smaller cutter, or stay over the hole's axis"
	holeDeep   = "hole depth, to the tip"
	deepAdvice = "cut less deep"
)

// holeRoom is the room that a stretch has in a hole, aside and down.
func holeRoom(h toolpath.Hole, p piece, s toolpath.Step, tool toolpath.Cutter) (side, deep measure.Length) {
	r := tool.Teeth().LowRadius
	z := min(p.from.Z, p.to.Z)
	if up := h.At.Z - z; tool.Point > 0 && up < tool.Point { // the point has not gone in whole
		r = max(r.MulDiv(int64(max(up, 0)), int64(tool.Point), measure.Ceil), 0)
	}
	away := max(solid.HypotUp(p.from.X-h.At.X, p.from.Y-h.At.Y), solid.HypotUp(p.to.X-h.At.X, p.to.Y-h.At.Y)) + p.grow
	if s.Kind == toolpath.Arc && s.Plane == toolpath.PlaneXY && s.Centre.X == h.At.X && s.Centre.Y == h.At.Y {
		away = radiusUp(s) + 2*s.Slack // about the hole's own axis, so no bulge counts
	}
	// With its tip no lower and its full diameter beginning no lower than the
	// hole's, a point is nowhere outside the hole's: both cones are straight.
	return h.Diameter/2 - r - away, min(z-h.Tip, z+tool.Point-h.Shoulder)
}

// finishHoles asks that every hole of the operation in hand came to its depth:
// a hole that is left out is a fault too.
func (j *Judge) finishHoles() {
	m := &j.making
	for i, h := range m.of.Makes {
		left := -int64(h.At.Z - h.Tip)
		if low, ok := m.floor[i]; ok {
			left = int64(h.Tip - low)
		}
		j.at(m.of, deepEnough, Length, nought, leftOutAdvice).
			meet(left, left, nil, place{})
	}
	m.of = toolpath.Operation{}
}

// leftOut asks that every operation of a program that makes holes was met.
func (j *Judge) leftOut(ops []toolpath.Operation) {
	for _, op := range ops {
		if j.begun[key{op.Cut, op.Name}] {
			continue
		}
		for _, h := range op.Makes {
			left := -int64(h.At.Z - h.Tip)
			j.at(op, deepEnough, Length, nought, leftOutAdvice).meet(left, left, nil, place{})
		}
	}
}

// deepEnough is the limit that no hole is left out or too shallow.
const (
	deepEnough    = "hole comes to its depth"
	leftOutAdvice = "a fault of the program: a hole is left out or too shallow"
)

// hole judges one hole as a whole. Where the metal stands above the place at
// which the hole is said to start, the cutter goes through that metal too.
func (j *Judge) hole(op toolpath.Operation, h toolpath.Hole, line int) {
	whole := h
	whole.Start = h.At.Z
	whole.At.Z = max(h.At.Z, j.topNear(piece{from: h.At, to: h.At}, h.Wide()/2))
	sweeps := whole.Sweeps()
	if op.Tool.Point > 0 && whole.At.Z > h.At.Z && op.Tool.Measured > h.Diameter {
		// The point goes in wider than the mark: what is cut is the tool itself.
		sweeps = nil
		at := h.At.With(solid.Z, h.Tip)
		for _, part := range op.Tool.Cutting() {
			sweeps = append(sweeps, solid.Sweep{Part: part, From: at, To: at})
		}
	}
	for n, s := range sweeps {
		wider := op.Book.Oversize
		if n == len(sweeps)-1 && h.Thread > h.Diameter { // a tap cuts no wider than it is
			wider.Value = 0
		}
		for i := range j.setup.Limits {
			l := &j.setup.Limits[i]
			if l.Cut != op.Cut || l.Kind != toolpath.Web && l.Kind != toolpath.Wall {
				continue
			}
			if n == len(sweeps)-1 && h.Thread > h.Diameter { // the last is the thread's outside
				l = threadLimit(l)
			}
			j.keepOutSweep(op, l, s, wider, line)
			if op.Enters != "" && strings.HasSuffix(l.Name, "to bore "+op.Enters) {
				t := j.tallies[key{op.Cut, l.Name}]
				t.allowed, t.verdict.Reason = true, "breaks into the bore: the job says so"
			}
		}
		j.walls(op, s, &whole, h.Wide(), wider.Value, line)
	}
	j.bottom(op, h, line)
	j.rim(op, h, line)
	j.start(op, h, line)
	j.edgeOf(op, h, whole.At.Z, line)
	j.covered(op, h, line)
	j.screw(op, h, line)
}

// threadLimit is a bore's limit for the thread's outside.
func threadLimit(l *toolpath.Limit) *toolpath.Limit {
	t := *l
	_, bore, _ := strings.Cut(l.Name, " to ")
	t.Name = "thread to " + bore
	return &t
}

// bottom asks for metal under a blind hole.
func (j *Judge) bottom(op toolpath.Operation, h toolpath.Hole, line int) {
	if h.Through {
		return
	}
	left := int64(j.under(h))
	t := j.at(op, "floor under the hole", Length, wall(op, h.Wide(), toolpath.Feature{Diameter: h.Wide()}), "drill less deep, or through")
	t.verdict.Deep = true
	t.meet(left, left, j.errorsAlong([3]float64{0, 0, 1}, h.Sweeps()[0]), j.here(line))
}

// rim asks that the cutter keeps off the metal that stands beside the hole, as
// far up as there is any, and that a sunk face cleans up: its floor lies under
// the metal's top all over. A sunk face keeps off it from its floor upwards, a
// drill from where it starts: below that the metal is one.
func (j *Judge) rim(op toolpath.Operation, h toolpath.Hole, line int) {
	low := h.At.Z
	if h.Tip == h.Shoulder {
		low = h.Shoulder
	}
	beside := h
	beside.Shoulder, beside.Tip, beside.Thread = low, low, 0
	beside.At.Z = max(h.At.Z, j.box.High.Z) + 1
	swept := beside.Sweeps()[0]
	for _, m := range j.beside() {
		if _, over := solid.TopOver(m, h.At); over || solid.Bounds(m).High.Z <= low {
			continue
		}
		t := j.at(op, "rim to the metal beside it", Length, nought, "take a smaller cutter, or move it outwards")
		g := solid.Between(swept, m, t.need(j.most(swept)))
		t.meet(int64(g.Low), int64(g.High), j.errorsAlong(g.Dir, swept), j.here(line))
	}
	if h.Tip == h.Shoulder {
		j.cleansUp(op, h, line)
	}
}

// cleansUp asks that a sunk face's floor lies under the metal's top all over.
func (j *Judge) cleansUp(op toolpath.Operation, h toolpath.Hole, line int) {
	face := h.Sweeps()[0]
	low, whole := h.At.Z, true
	for _, p := range around(h) {
		top, over := j.topAt(p)
		whole = whole && over
		low = min(low, top)
	}
	left := int64(low - h.Shoulder)
	if !whole || j.beyond(h.At, h.Diameter/2, min(low, h.Shoulder)) < 0 {
		left = int64(-h.Diameter / 2)
	}
	j.at(op, "face cleans up", Length, measure.Figure[measure.Length]{Value: 1, From: measure.Default, Source: "more than nought"},
		"sink it deeper, or move it onto the metal").meet(left, left, j.errorsAlong([3]float64{0, 0, 1}, face), j.here(line))
}

// around is four places on a hole's rim, seen from above.
func around(h toolpath.Hole) []solid.Point {
	r := h.Diameter / 2
	return []solid.Point{h.At.Plus(solid.Point{X: r}), h.At.Plus(solid.Point{X: -r}), h.At.Plus(solid.Point{Y: r}), h.At.Plus(solid.Point{Y: -r})}
}

// topAt is the metal's top at a place.
func (j *Judge) topAt(p solid.Point) (top measure.Length, over bool) {
	top = -solid.Far
	for _, m := range j.metal {
		if t, ok := solid.TopOver(m, p); ok {
			top, over = max(top, t), true
		}
	}
	return top, over
}

// topNear is the highest metal that a cutter of that radius can meet on a
// stretch.
func (j *Judge) topNear(p piece, radius measure.Length) measure.Length {
	top := -solid.Far
	for _, m := range j.metal {
		b := solid.Bounds(m)
		flat := b
		flat.High.Z = solid.Far // seen from above
		if _, near := p.clip(flat, radius); near {
			top = max(top, b.High.Z)
		}
	}
	if top == -solid.Far {
		return j.box.High.Z
	}
	return top
}

// slope is the most that the metal may fall away under a spot drill (own choice: what a
// touch-off errs by on a sawn face).
const slope = 50 * measure.Micrometre

// start asks that a spot drill starts on flat metal: on an edge or a slope it
// runs off.
func (j *Judge) start(op toolpath.Operation, h toolpath.Hole, line int) {
	if op.Tool.Kind != toolpath.SpotDrill {
		return
	}
	wide := h
	wide.Diameter = max(h.Diameter, h.Screw)
	left := int64(slope)
	for _, p := range around(wide) {
		top, over := j.topAt(p)
		if !over {
			left = min(left, int64(-wide.Diameter/2))
			continue
		}
		left = min(left, int64(slope-(h.At.Z-top).Abs()))
	}
	if over := j.beyond(h.At, wide.Diameter/2, h.At.Z); over < 0 {
		left = min(left, int64(over))
	}
	if off, ok := j.sunk(op, h); ok {
		left = int64(slope - off)
	}
	j.at(op, "flat metal where the drill starts", Length, nought,
		"face it first with a spot face or a slot drill, clamp scrap beside it, or move the hole").meet(left, left, nil, j.here(line))
}

// sunk tells whether an earlier cut has made a flat face where a hole starts, and
// wide enough for the cutter's point, which widens further up; off is how far the
// hole is said to start from it, since the face's floor stands on the grid.
func (j *Judge) sunk(op toolpath.Operation, h toolpath.Hole) (off measure.Length, ok bool) {
	for _, f := range j.setup.Features {
		if f.Cut >= op.Cut {
			continue // the hole's own mark, or what comes later, is no face
		}
		b := solid.Bounds(f.Bodies[0])
		wide := op.Tool.Teeth().LowRadius
		if up := b.High.Z - h.Tip; up < op.Tool.Point {
			wide = wide.MulDiv(int64(up), int64(op.Tool.Point), measure.Ceil)
		}
		if off := (b.Low.Z - h.At.Z).Abs(); off <= slope && holdsDisc(f.Bodies[0], h.At, max(h.Wide()/2, wide)) {
			return off, true
		}
	}
	return 0, false
}

// edgeOf asks for edge distance, from the centre of a screw's hole.
func (j *Judge) edgeOf(op toolpath.Operation, h toolpath.Hole, top measure.Length, line int) {
	if op.Tool.Point == 0 {
		return
	}
	edge, dir := j.toEdge(h)
	wide := h.Wide() / 2
	if up := top - h.Tip; op.Tool.Measured > h.Diameter { // a mark, which widens up to the metal's top
		wide = max(wide, op.Tool.Teeth().LowRadius.MulDiv(int64(min(up, op.Tool.Point)), int64(op.Tool.Point), measure.Ceil))
	}
	metal := int64(edge - wide)
	shares := j.errorsAlong(dir, h.Sweeps()[0])
	if h.Thread <= h.Diameter {
		shares = append(shares, oversize(dir, op.Book.Oversize.Value, op.Book.Oversize.Source)...)
	}
	j.at(op, "metal to the edge", Length, wall(op, h.Wide(), toolpath.Feature{Diameter: h.Wide()}), "move the hole inwards").
		meet(metal, metal, shares, j.here(line))
	if op.Edge == nil {
		return
	}
	left := int64(edge)
	asked := op.Edge.Stop
	asked.Source += "; told under: " + op.Edge.Warn.Source
	t := j.at(op, "edge distance", Length, asked, "move the hole inwards, or take a smaller screw")
	w := int64(op.Edge.Warn.Value)
	t.verdict.Better = &w
	t.meet(left, left, nil, j.here(line))
}
