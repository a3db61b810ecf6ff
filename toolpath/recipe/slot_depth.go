package recipe

import (
	"fmt"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// aim is how much shallower a depth is taken that is found by search rather
// than by a formula in whole numbers (own choice: ten times what the judge's bounds are
// refined to).
const aim = measure.Micrometre

// findDepth sets the slot's exact floor, its place on the grid, and for a bore
// that stands upright the slot's closed ends. ok is false where a fault was
// added.
func (s *slot) findDepth() (ok bool, err error) {
	n := s.node
	z, known := measure.Length(0), false
	source := ""
	switch {
	case s.leave == 0:
	case s.short.bore == "":
		at := n.Sub("short_of").Length("floor")
		z, known = at+s.leave, true
		source = fmt.Sprintf("floor at height %s, leave %s", at.In(s.unit()), s.both(s.leave))
	default:
		x, _ := s.named(n.Sub("short_of"), "bore")
		if x.upright() && !s.lidded(x) {
			if !n.Set("depth") {
				n.Fault("depth", "the bore %s stands upright and gives no depth: give the depth too", x.Name)
				return false, nil
			}
			if err := s.pullBack(x); err != nil {
				return false, err
			}
			break
		}
		z, known = s.over(x)
		source = fmt.Sprintf("bore %s of %s, its centre at height %s, leave %s", x.Name, s.both(x.Diameter.Value), x.solid.From.Z.In(s.unit()), s.both(s.leave))
		if !known && !n.Set("depth") {
			n.Fault("short_of", "the slot passes beside bore %s at any depth: give the depth too", x.Name)
			return false, nil
		}
	}
	s.depth = figure{Value: -z, From: measure.Derived, Source: source}
	if n.Set("depth") {
		given := n.Figure("depth")
		if known && given.Value > -z {
			return false, s.refuse("leave", fmt.Sprintf("a depth of %s", given.Value), (-z).String(),
				fmt.Sprintf("the slot is to leave %s: cut it no deeper than %s, or lessen leave", s.leave, -z))
		}
		s.depth = given
	}
	s.floor = s.grid.Round(solid.Z, -s.depth.Value, measure.Ceil)
	if s.floor >= s.top && s.depth.From == measure.Given {
		n.Fault("depth", "%s deep stands at height %s, and the metal's top at %s: nothing would be cut", s.depth.Value, s.floor, s.top)
		return false, nil
	}
	if s.floor >= s.top {
		return false, s.refuse("leave", "no depth", "more than nought",
			fmt.Sprintf("the floor would stand at %s and the metal's top is at %s: lessen leave, or look at the bore's place", s.floor, s.top))
	}
	return true, nil
}

func (s *slot) refuse(limit, planned, allowed, do string) error {
	return toolpath.Refusal{Setup: s.setup.Name, Cut: s.cut.Name, Limit: limit, Planned: planned, Allowed: allowed, Do: do}
}

// lidded tells whether an upright bore ends under the metal's top, so that a
// slot can pass over it.
func (b *bench) lidded(x bore) bool { return max(x.solid.From.Z, x.solid.To.Z) < b.metal.High.Z }

// over is the lowest floor that leaves enough above a bore; ok is false where
// the bore sets no bound.
func (s *slot) over(x bore) (z measure.Length, ok bool) {
	if a, straight := x.solid.Axis(); straight && a != solid.Z && (!x.Blind || s.across(x, a)) {
		return s.overLying(x, a)
	}
	if x.upright() && s.covers(x) {
		return max(x.solid.From.Z, x.solid.To.Z) + s.leave, true
	}
	high := solid.Bounds(x.solid).High.Z + s.leave
	low := min(s.metal.Low.Z, solid.Bounds(x.solid).Low.Z) - s.leave
	clear := func(z measure.Length) bool {
		return s.shapeGap(x, z) >= s.leave
	}
	if clear(low) {
		return 0, false
	}
	for high-low > 1 {
		mid := low + (high-low)/2
		if clear(mid) {
			high = mid
		} else {
			low = mid
		}
	}
	return high + aim, true
}

// across tells whether the slot's centre line passes over a lying bore's axis,
// or beside it by no more than half the width, between the bore's ends: then
// the bore is nearest straight down.
func (s *slot) across(x bore, along solid.Axis) bool {
	side := solid.X + solid.Y - along
	half := s.width / 2
	b := solid.Bounds(x.solid)
	at := x.solid.From.Along(side)
	return min(s.from.Along(along), s.to.Along(along)) <= b.High.Along(along) &&
		max(s.from.Along(along), s.to.Along(along)) >= b.Low.Along(along) &&
		min(s.from.Along(side), s.to.Along(side))-half <= at &&
		max(s.from.Along(side), s.to.Along(side))+half >= at && newLine(s.from, s.to).straight()
}

// covers tells whether the slot passes over a part of an upright bore's end.
func (s *slot) covers(x bore) bool {
	from, to := s.from, s.to
	end := x.solid.From
	end.Z = 0
	return solid.Near(from, to, end, s.width/2+x.solid.Radius)
}

// shapeGap is the least distance from the finished slot, with its floor at z,
// to a bore, as the lower bound.
func (s *slot) shapeGap(x bore, z measure.Length) measure.Length {
	half := s.width / 2
	part := solid.Part{High: measure.Metre, LowRadius: half, HighRadius: half}
	from, to := s.from, s.to
	if s.open[0] {
		from = s.exit(s.to, s.from, half, 0)
	}
	if s.open[1] {
		to = s.exit(s.from, s.to, half, 0)
	}
	from.Z, to.Z = z, z
	return solid.Between(solid.Sweep{Part: part, From: from, To: to}, x.solid, s.leave).Low
}

// overLying is [slot.over] for a bore along X or Y, in whole numbers: the floor
// stands above the bore's top where the slot covers its axis, else its nearer
// lower edge keeps off the bore: R + leave is the long side of a right-angled
// triangle, the distance aside one short side, the height the other.
func (s *slot) overLying(x bore, along solid.Axis) (z measure.Length, ok bool) {
	side := solid.X
	if along == solid.X {
		side = solid.Y
	}
	half := s.width / 2
	from, to := s.from, s.to
	if s.open[0] {
		from = s.exit(s.to, s.from, half, 0)
	}
	if s.open[1] {
		to = s.exit(s.from, s.to, half, 0)
	}
	low := min(from.Along(side), to.Along(side)) - half
	high := max(from.Along(side), to.Along(side)) + half
	// What is outside the metal takes none.
	low, high = max(low, s.metal.Low.Along(side)), min(high, s.metal.High.Along(side))
	at, reach := x.solid.From.Along(side), x.solid.Radius+s.leave
	aside := max(low-at, at-high, 0)
	if aside >= reach {
		return 0, false
	}
	return x.solid.From.Z + rootUp(reach, aside), true
}

// pullBack brings a closed end that comes too near an upright bore back along
// the centre line, until what is left is the leave.
func (s *slot) pullBack(x bore) error {
	floor := -s.node.Length("depth")
	for i, end := range []*solid.Point{&s.from, &s.to} {
		other := s.to
		if i == 1 {
			other = s.from
		}
		half := s.width / 2
		part := solid.Part{High: measure.Metre, LowRadius: half, HighRadius: half}
		clear := func(p solid.Point) bool {
			p.Z = floor
			o := other
			o.Z = floor
			return solid.Between(solid.Sweep{Part: part, From: o, To: p}, x.solid, s.leave).Low >= s.leave
		}
		if s.open[i] || clear(*end) || !clear(other) {
			continue
		}
		l := newLine(other, *end)
		low, high := measure.Length(0), l.length
		for high-low > 1 {
			mid := low + (high-low)/2
			if clear(l.at(mid)) {
				low = mid
			} else {
				high = mid
			}
		}
		if low <= aim {
			continue
		}
		*end = l.at(low - aim)
	}
	if s.from == s.to {
		return s.refuse("wall to bore "+x.Name, "no length", s.leave.String(), "start the slot further from the bore, or lessen leave")
	}
	return nil
}
