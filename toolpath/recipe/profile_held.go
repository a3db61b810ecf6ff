package recipe

import (
	"stopshort/toolpath/job"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
	"stopshort/toolpath/solid"
)

// heldBy is by how many things the part itself is held: one for each stud through it,
// and two for each clamp on it, since that does not let it turn. A thing counts only
// where it bears on the part: it stands on the metal's top, over metal that stays
// (common practice, no source).
func (p *profile) heldBy() (n int) {
	for _, h := range p.setup.Holding {
		b := solid.Bounds(h.Body)
		if b.Low.Z > p.metal.High.Z { // it stands on something else, or in the air
			continue
		}
		switch h.Kind {
		case job.HeldWasher, job.HeldNut:
			if c, round := h.Body.(solid.Cylinder); round && p.goesThrough(c.From) && p.bears(c) {
				n++
			}
		case job.HeldClamp:
			if p.clamped(b) {
				n += 2
			}
		}
	}
	return n
}

// goesThrough tells whether a stud at a place goes through the part.
func (p *profile) goesThrough(at solid.Point) bool {
	q := outline.Point{X: at.X, Y: at.Y}
	for _, s := range p.shapes() {
		if s.IsDisc() {
			if d, _ := solid.Hypot(q.X-s.Low.X, q.Y-s.Low.Y); d < s.Radius {
				return true
			}
			continue
		}
		if s.Low.X < q.X && q.X < s.High.X && s.Low.Y < q.Y && q.Y < s.High.Y {
			return true
		}
	}
	return false
}

// bears tells whether a washer or a nut lies over the whole rim of each upright bore
// that its stud goes through.
func (p *profile) bears(c solid.Cylinder) bool {
	for _, x := range p.bores {
		if !x.upright() {
			continue
		}
		off := solid.HypotUp(c.From.X-x.solid.From.X, c.From.Y-x.solid.From.Y)
		if off < x.solid.Radius && c.Radius <= x.solid.Radius+off {
			return false
		}
	}
	return true
}

// clamped tells whether a clamp reaches over the part, and not over the bore alone.
func (p *profile) clamped(b solid.Box) bool {
	bore := p.boss.Low
	aside := func(low, high, v measure.Length) (near, far measure.Length) {
		return max(low-v, v-high, 0), max((low - v).Abs(), (high - v).Abs())
	}
	for _, s := range p.shapes() {
		low := outline.Point{X: max(b.Low.X, s.Low.X), Y: max(b.Low.Y, s.Low.Y)}
		high := outline.Point{X: min(b.High.X, s.High.X), Y: min(b.High.Y, s.High.Y)}
		if s.IsDisc() {
			low, high = outline.Point{X: b.Low.X, Y: b.Low.Y}, outline.Point{X: b.High.X, Y: b.High.Y}
		}
		if low.X >= high.X || low.Y >= high.Y {
			continue
		}
		nearX, farX := aside(low.X, high.X, bore.X)
		nearY, farY := aside(low.Y, high.Y, bore.Y)
		near, _ := solid.Hypot(nearX, nearY)
		far, _ := solid.Hypot(farX, farY)
		if far > p.bore.solid.Radius && (!s.IsDisc() || near < s.Radius) {
			return true
		}
	}
	return false
}
