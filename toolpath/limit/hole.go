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
	told  map[int]bool
	floor map[int]measure.Length // how deep each was gone
	of    toolpath.Operation
	in    int
	on    bool
}

// inHole holds one stretch of an operation that makes holes: it must stay
// inside the hole it is over. On its first meeting the hole itself is judged, as
// a whole: the volume that the stretches stay inside of.
func (j *Judge) inHole(op toolpath.Operation, p piece, line int) {
	m := &j.making
	if m.op != op.Name || m.cut != op.Cut {
		j.finishHoles()
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
	size := j.at(op, "hole, each side", Length, nought, "take a smaller cutter, or stay over the hole's axis")
	if !m.on {
		size.meet(int64(-solid.Far), int64(-solid.Far), nil, j.here(line))
		return
	}
	h := op.Makes[m.in]
	r := op.Tool.Teeth().LowRadius
	z := min(p.from.Z, p.to.Z)
	if up := h.At.Z - z; op.Tool.Point > 0 && up < op.Tool.Point { // the point has not gone in whole
		r = max(r.MulDiv(int64(max(up, 0)), int64(op.Tool.Point), measure.Ceil), 0)
	}
	away := max(hypotUp(p.from.X-h.At.X, p.from.Y-h.At.Y), hypotUp(p.to.X-h.At.X, p.to.Y-h.At.Y))
	room := int64(h.Diameter/2 - r - p.grow - away)
	if p.grow > 0 { // chords of a circle about the axis are grown by their bulge
		room += int64(2 * p.grow)
	}
	size.meet(room, room, nil, j.here(line))
	deep := int64(z - h.Tip)
	j.at(op, "hole depth, to the tip", Length, nought, "cut less deep").meet(deep, deep, nil, j.here(line))
	if low, ok := m.floor[m.in]; !ok || z < low {
		m.floor[m.in] = z
	}
	if !m.told[m.in] {
		m.told[m.in] = true
		j.hole(op, h, line)
	}
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
		j.at(m.of, "hole comes to its depth", Length, nought, "a fault of the program: a hole is left out or too shallow").
			meet(left, left, nil, place{})
	}
	m.of = toolpath.Operation{}
}

// hole judges one hole as a whole.
func (j *Judge) hole(op toolpath.Operation, h toolpath.Hole, line int) {
	for n, s := range h.Sweeps() {
		for i := range j.setup.Limits {
			l := &j.setup.Limits[i]
			if l.Cut != op.Cut || l.Kind != toolpath.Web && l.Kind != toolpath.Wall {
				continue
			}
			if n == len(h.Sweeps())-1 && h.Thread > h.Diameter { // the last is the thread's outside
				l = threadLimit(l)
			}
			j.keepOutPart(op, l, s, line)
			if op.Enters != "" && strings.HasSuffix(l.Name, "to bore "+op.Enters) {
				t := j.tallies[key{op.Cut, l.Name}]
				t.allowed, t.verdict.Reason = true, "breaks into the bore: the job says so"
			}
		}
		at := h.At
		j.walls(op, s, &at, h.Wide(), line)
	}
	j.bottom(op, h, line)
	j.rim(op, h, line)
	j.start(op, h, line)
	j.edgeOf(op, h, line)
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
	under := solid.Far
	for _, m := range j.setup.Metal {
		if _, over := solid.TopOver(m, h.At); over {
			under = min(under, solid.Bounds(m).Low.Z)
		}
	}
	if under == solid.Far {
		return
	}
	left := int64(h.Tip - under)
	t := j.at(op, "floor under the hole", Length, wall(op, h.Wide(), toolpath.Feature{Diameter: h.Wide()}), "drill less deep, or through")
	t.meet(left, left, j.errorsAlong([3]float64{0, 0, 1}, h.Sweeps()[0]), j.here(line))
}

// rim asks that a sunk face keeps off the metal that stands beside it, and that
// it cleans up: its floor lies under the metal's top all over.
func (j *Judge) rim(op toolpath.Operation, h toolpath.Hole, line int) {
	if h.Tip != h.Shoulder {
		return
	}
	face := h.Sweeps()[0]
	for _, m := range j.setup.Metal {
		if _, over := solid.TopOver(m, h.At); over || solid.Bounds(m).High.Z <= h.Shoulder {
			continue
		}
		t := j.at(op, "rim to the metal beside it", Length, nought, "take a smaller cutter, or move the face outwards")
		g := solid.Between(face, m, t.need(j.most(face)))
		t.meet(int64(g.Low), int64(g.High), j.errorsAlong(g.Dir, face), j.here(line))
	}
	low, whole := h.At.Z, true
	for _, p := range around(h) {
		top, over := j.topAt(p)
		whole = whole && over
		low = min(low, top)
	}
	left := int64(low - h.Shoulder)
	if !whole {
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
	for _, m := range j.setup.Metal {
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
	for _, m := range j.setup.Metal {
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

// slope is the most that the metal may fall away under a spot drill.
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
	if f := j.sunk(h); f {
		left = int64(slope)
	}
	j.at(op, "flat metal where the drill starts", Length, nought,
		"face it first with a spot face or a slot drill, clamp scrap beside it, or move the hole").meet(left, left, nil, j.here(line))
}

// sunk tells whether an earlier cut has made a flat face where a hole starts.
func (j *Judge) sunk(h toolpath.Hole) bool {
	for _, f := range j.setup.Features {
		if f.Axis == nil || f.Axis.X != h.At.X || f.Axis.Y != h.At.Y {
			continue
		}
		if b := solid.Bounds(f.Bodies[0]); b.Low.Z == h.At.Z && f.Diameter >= h.Wide() {
			return true
		}
	}
	return false
}

// edgeOf asks for edge distance, from the centre of a screw's hole.
func (j *Judge) edgeOf(op toolpath.Operation, h toolpath.Hole, line int) {
	if op.Edge == nil {
		return
	}
	edge := j.toEdge(h.At)
	metal := int64(edge - h.Wide()/2)
	j.at(op, "metal to the edge", Length, wall(op, h.Wide(), toolpath.Feature{Diameter: h.Wide()}), "move the hole inwards").
		meet(metal, metal, j.errorsAlong([3]float64{1, 0, 0}, h.Sweeps()[0]), j.here(line))
	left := int64(edge)
	t := j.at(op, "edge distance", Length, op.Edge.Stop, "move the hole inwards, or take a smaller screw")
	w := int64(op.Edge.Warn.Value)
	t.verdict.Better = &w
	t.meet(left, left, nil, j.here(line))
}

// toEdge is the distance from a place to the metal's outline along X and Y, just
// under the place's height.
func (j *Judge) toEdge(at solid.Point) measure.Length {
	least := solid.Far
	for _, a := range []solid.Axis{solid.X, solid.Y} {
		for _, way := range []measure.Length{1, -1} {
			least = min(least, j.ray(at, a, way))
		}
	}
	return least
}

// ray is how far the metal goes on from a place along an axis without a gap.
func (j *Judge) ray(at solid.Point, a solid.Axis, way measure.Length) measure.Length {
	reach := at.Along(a)
	for range j.setup.Metal { // each piece can carry it on once
		for _, m := range j.setup.Metal {
			lo, hi, ok := span(m, at, a)
			if !ok || reach < lo || reach > hi {
				continue
			}
			if way > 0 {
				reach = max(reach, hi)
			} else {
				reach = min(reach, lo)
			}
		}
	}
	return (reach - at.Along(a)).Abs()
}

// span is where a line along an axis through a place, just under its height,
// runs inside a body.
func span(m solid.Body, at solid.Point, a solid.Axis) (lo, hi measure.Length, ok bool) {
	b := solid.Bounds(m)
	other := solid.X + solid.Y - a
	if at.Z <= b.Low.Z || at.Z > b.High.Z || at.Along(other) < b.Low.Along(other) || at.Along(other) > b.High.Along(other) {
		return 0, 0, false
	}
	c, round := m.(solid.Cylinder)
	if !round {
		return b.Low.Along(a), b.High.Along(a), true
	}
	along, straight := c.Axis()
	if !straight {
		return 0, 0, false
	}
	if along == a {
		return b.Low.Along(a), b.High.Along(a), true
	}
	aside := at.Along(other) - c.From.Along(other)
	if along == other {
		aside = at.Z - c.From.Z
	}
	d := square(c.Radius)
	d.Sub(d, square(aside))
	if d.Sign() < 0 {
		return 0, 0, false
	}
	half, _ := root(d)
	return c.From.Along(a) - half, c.From.Along(a) + half, true
}
