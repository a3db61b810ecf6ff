package limit

import (
	"golang.org/x/exp/slices"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// flat is a rectangle seen from above, as a box whose heights are not used.
type flat = solid.Box

// gaps is where none of the rectangles is, as rectangles that cover it: the
// whole plane less one after another.
func gaps(metal []flat) []flat {
	out := []flat{{Low: solid.Point{X: -solid.Far, Y: -solid.Far}, High: solid.Point{X: solid.Far, Y: solid.Far}}}
	for _, m := range metal {
		var next []flat
		for _, g := range out {
			if m.Low.X >= g.High.X || m.High.X <= g.Low.X || m.Low.Y >= g.High.Y || m.High.Y <= g.Low.Y {
				next = append(next, g)
				continue
			}
			add := func(lowX, lowY, highX, highY measure.Length) {
				if lowX < highX && lowY < highY {
					next = append(next, flat{Low: solid.Point{X: lowX, Y: lowY}, High: solid.Point{X: highX, Y: highY}})
				}
			}
			add(g.Low.X, g.Low.Y, m.Low.X, g.High.Y)
			add(m.High.X, g.Low.Y, g.High.X, g.High.Y)
			low, high := max(g.Low.X, m.Low.X), min(g.High.X, m.High.X)
			add(low, g.Low.Y, high, m.Low.Y)
			add(low, m.High.Y, high, g.High.Y)
		}
		out = next
	}
	return out
}

// toGap is the distance from a place to the nearest of the rectangles, rounded
// down, and the direction that its errors count along.
func toGap(at solid.Point, gs []flat) (least measure.Length, dir [3]float64) {
	least, dir = solid.Far, [3]float64{1, 0, 0}
	for _, g := range gs {
		x := max(g.Low.X-at.X, at.X-g.High.X, 0)
		y := max(g.Low.Y-at.Y, at.Y-g.High.Y, 0)
		if d, _ := root(sum(square(x), square(y))); d < least {
			least, dir = d, [3]float64{1, 0, 0}
			if x > 0 && y > 0 {
				dir = aslant
			}
		}
	}
	return least, dir
}

// aslant is a direction in which errors of X and Y count the most.
var aslant = [3]float64{0.7072, 0.7072, 0}

// slabs is the heights between low and high at which the pieces of metal begin
// and end, with low and high themselves, from the top down.
func (j *Judge) slabs(low, high measure.Length) []measure.Length {
	z := []measure.Length{low, high}
	for _, m := range j.metal {
		b := solid.Bounds(m)
		for _, v := range []measure.Length{b.Low.Z, b.High.Z} {
			if low < v && v < high {
				z = append(z, v)
			}
		}
	}
	slices.SortFunc(z, func(a, b measure.Length) int { return int(min(max(b-a, -1), 1)) })
	return slices.Compact(z)
}

// toEdge is no more than the distance, seen from above, from a hole's axis to
// where the metal ends beside it, at every height from its start to its tip; and
// the direction that errors count along. Between two heights at which pieces
// begin or end the metal is the same, but for a lying bar, of which the narrower
// end is taken; under its middle no less than at the hole's start, since the
// way out through the underside is no edge.
func (j *Judge) toEdge(h toolpath.Hole) (least measure.Length, dir [3]float64) {
	least, dir = solid.Far, [3]float64{1, 0, 0}
	z := j.slabs(h.Tip, h.At.Z)
	for k := 1; k < len(z); k++ {
		high, low := z[k-1], z[k]
		var rects []flat
		inner, over := measure.Length(0), false
		for _, m := range j.metal {
			b := solid.Bounds(m)
			if b.Low.Z > low || b.High.Z < high {
				continue
			}
			if _, ok := solid.TopOver(m, h.At); ok {
				over = true
			}
			if c, round := m.(solid.Cylinder); round {
				a, straight := c.Axis()
				if !straight {
					continue
				}
				if a == solid.Z {
					inner = max(inner, c.Radius-solid.HypotUp(h.At.X-c.From.X, h.At.Y-c.From.Y))
					continue
				}
				off := min(max((high-c.From.Z).Abs(), (low-c.From.Z).Abs()), (h.At.Z - c.From.Z).Abs())
				d := square(c.Radius)
				if d.Sub(d, square(off)); d.Sign() < 0 {
					continue
				}
				half, _ := root(d)
				side := solid.X + solid.Y - a
				b.Low, b.High = b.Low.With(side, c.From.Along(side)-half), b.High.With(side, c.From.Along(side)+half)
			}
			rects = append(rects, b)
		}
		if !over { // it has come out of the metal
			continue
		}
		d, way := toGap(h.At, gaps(rects))
		if inner > d {
			d, way = inner, aslant
		}
		if d < least {
			least, dir = d, way
		}
	}
	if least == solid.Far {
		return 0, dir
	}
	return least, dir
}

// under is the metal under a hole's tip, all over its width: down to the first
// height at which some of it is missing there. Where it is missing at the tip
// already, less than nought.
func (j *Judge) under(h toolpath.Hole) measure.Length {
	r := h.Wide() / 2
	pieces := j.about(h.At, r)
	z := append([]measure.Length(nil), h.Tip)
	for _, b := range pieces {
		for _, v := range []measure.Length{b.Low.Z, b.High.Z} {
			if v < h.Tip {
				z = append(z, v)
			}
		}
	}
	slices.SortFunc(z, func(a, b measure.Length) int { return int(min(max(b-a, -1), 1)) })
	z = append(slices.Compact(z), -solid.Far)
	for k := 1; k < len(z); k++ {
		var rects []flat
		for _, b := range pieces {
			if b.Low.Z <= z[k] && b.High.Z >= z[k-1] {
				rects = append(rects, b)
			}
		}
		if d, _ := toGap(h.At, gaps(rects)); d < r {
			if k == 1 {
				return -r
			}
			return h.Tip - z[k-1]
		}
	}
	return solid.Far
}

// beyond is how far, at the most, a disc about a place reaches over where the
// metal under a height ends, below nought; nought where it does not. Lying bars
// count as the boxes about them: their skin's slope is looked at by itself.
func (j *Judge) beyond(at solid.Point, r, z measure.Length) measure.Length {
	var rects []flat
	inner := measure.Length(0)
	for _, m := range j.metal {
		b := solid.Bounds(m)
		if b.Low.Z >= z || b.High.Z < z {
			continue
		}
		if c, round := m.(solid.Cylinder); round {
			if a, _ := c.Axis(); a == solid.Z {
				inner = max(inner, c.Radius-solid.HypotUp(at.X-c.From.X, at.Y-c.From.Y))
				continue
			}
		}
		rects = append(rects, b)
	}
	d, _ := toGap(at, gaps(rects))
	return min(max(d, inner)-r, 0)
}

// about is the pieces of metal as boxes, as far as a disc about a place is
// concerned: of a standing bar the square about the disc, where the disc lies
// inside the bar; of a lying one what is inside it all over the disc.
func (j *Judge) about(at solid.Point, r measure.Length) (out []solid.Box) {
	for _, m := range j.metal {
		b := solid.Bounds(m)
		if c, round := m.(solid.Cylinder); round {
			a, straight := c.Axis()
			switch {
			case !straight:
				continue
			case a == solid.Z:
				if solid.HypotUp(at.X-c.From.X, at.Y-c.From.Y)+r > c.Radius {
					continue
				}
				b.Low.X, b.Low.Y, b.High.X, b.High.Y = at.X-r, at.Y-r, at.X+r, at.Y+r
			default:
				side := solid.X + solid.Y - a
				d := square(c.Radius)
				d.Sub(d, square((at.Along(side)-c.From.Along(side)).Abs()+r))
				if d.Sign() < 0 {
					continue
				}
				half, _ := root(d)
				b.Low.Z, b.High.Z = c.From.Z-half, c.From.Z+half
				b.Low, b.High = b.Low.With(side, at.Along(side)-r), b.High.With(side, at.Along(side)+r)
			}
		}
		out = append(out, b)
	}
	return out
}

// floorUnder is no more than the metal under a cut in a blank of pieces, where it
// takes any: down to the first height at which some of what it takes from a piece
// has no metal under it. The cut is taken as the box about the stretch. A piece's
// own metal goes down to its underside, of a lying bar to where that is over the
// box, or to the bar's middle where the box reaches beyond the bar; of a standing
// bar other pieces count with the square inside it.
func (j *Judge) floorUnder(p piece, radius measure.Length) measure.Length {
	r := solid.Point{X: radius + p.grow, Y: radius + p.grow}
	cut := solid.Corners(p.from, p.to)
	cut.Low, cut.High = cut.Low.Minus(r), cut.High.Plus(r)
	least := solid.Far
	for i, m := range j.metal {
		taken := overBox(m, cut, true)
		if taken.High.Z <= cut.Low.Z || !flatOverlap(taken, cut) {
			continue
		}
		taken.Low.X, taken.High.X = max(taken.Low.X, cut.Low.X), min(taken.High.X, cut.High.X)
		taken.Low.Y, taken.High.Y = max(taken.Low.Y, cut.Low.Y), min(taken.High.Y, cut.High.Y)
		boxes := make([]solid.Box, len(j.metal))
		z := []measure.Length{cut.Low.Z}
		for k, q := range j.metal {
			boxes[k] = overBox(q, cut, k == i)
			for _, v := range []measure.Length{boxes[k].Low.Z, boxes[k].High.Z} {
				if v < cut.Low.Z {
					z = append(z, v)
				}
			}
		}
		slices.SortFunc(z, func(a, b measure.Length) int { return int(min(max(b-a, -1), 1)) })
		z = append(slices.Compact(z), -solid.Far)
		for k := 1; k < len(z); k++ {
			var rects []flat
			for _, b := range boxes {
				if b.Low.Z <= z[k] && b.High.Z >= z[k-1] {
					rects = append(rects, b)
				}
			}
			if slices.ContainsFunc(gaps(rects), func(g flat) bool { return flatOverlap(g, taken) }) {
				left := cut.Low.Z - z[k-1]
				if k == 1 { // it has come out
					left = cut.Low.Z - taken.Low.Z
				}
				least = min(least, left)
				break
			}
		}
	}
	return least
}

// flatOverlap tells whether two boxes overlap seen from above; touching is not
// enough.
func flatOverlap(a, b flat) bool {
	return a.Low.X < b.High.X && b.Low.X < a.High.X && a.Low.Y < b.High.Y && b.Low.Y < a.High.Y
}

// overBox is a piece of metal as a box, as far as what is over and under another
// box is concerned; whole is for the piece that is cut itself.
func overBox(m solid.Body, cut solid.Box, whole bool) solid.Box {
	b := solid.Bounds(m)
	c, round := m.(solid.Cylinder)
	a, straight := c.Axis()
	if !round || !straight {
		return b
	}
	if a == solid.Z {
		if !whole {
			half := c.Radius.MulDiv(7071, 10_000, measure.Floor)
			d := solid.Point{X: half, Y: half}
			b.Low, b.High = c.From.Minus(d).With(solid.Z, b.Low.Z), c.From.Plus(d).With(solid.Z, b.High.Z)
		}
		return b
	}
	side := solid.X + solid.Y - a
	d := square(c.Radius)
	d.Sub(d, square(max((cut.Low.Along(side)-c.From.Along(side)).Abs(), (cut.High.Along(side)-c.From.Along(side)).Abs())))
	if d.Sign() < 0 {
		b.Low.Z = c.From.Z
		if !whole { // beyond its skin there is none
			b.High.Z = b.Low.Z
		}
		return b
	}
	half, _ := root(d)
	b.Low.Z = c.From.Z - half
	if !whole {
		b.High.Z = c.From.Z + half
	}
	return b
}
