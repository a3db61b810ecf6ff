package plan

import (
	"cmp"
	"math/big"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
	"stopshort/toolpath/solid"
)

// A lane is a straight way along X or Y that one wheel feeds, from outside the stock
// against the outline of a part: from the side it is named after. A place is told by
// u, how far out it lies towards the side, and t, how far along it lies the way that
// a loop with the metal on its left takes there. With t falling from lane to lane the
// metal that is still there lies on the cutter's left.

// Axis is the axis that the side lies on.
func (s Side) Axis() solid.Axis {
	if s.X != 0 {
		return solid.X
	}
	return solid.Y
}

// At is the place that lies u towards the side and t ahead.
func (s Side) At(u, t measure.Length) outline.Point {
	return s.Ahead().Moved(s.Moved(outline.Point{}, u), t)
}

// Round puts a distance towards a side on the grid: outward with [measure.Ceil].
func (s Side) Round(g Grid, u measure.Length, way measure.Rounding) measure.Length {
	if s.X+s.Y > 0 {
		return g.Round(s.Axis(), u, way)
	}
	switch way {
	case measure.Ceil:
		way = measure.Floor
	case measure.Floor:
		way = measure.Ceil
	}
	return -g.Round(s.Axis(), -u, way)
}

// span is a shape as the side sees it: from and to along u, and along t.
func (s Side) span(o outline.Shape) (u, t [2]measure.Length) {
	a, b := s.Along(o.Low), s.Along(o.High)
	c, d := s.Ahead().Along(o.Low), s.Ahead().Along(o.High)
	return [2]measure.Length{min(a, b), max(a, b)}, [2]measure.Length{min(c, d), max(c, d)}
}

// Stop is how far in, towards a side, a cutter's centre may come on the lane at t
// that is fed from that side: the shapes are grown by a distance, and the place is no
// nearer to any than that, exactly or by less than a tenth of a nanometre more. hit
// is false where the lane meets none of them. Which shape it is that halts it is by.
func Stop(s Side, t measure.Length, shapes []outline.Shape, grow measure.Length) (u measure.Length, by int, hit bool) {
	for i, o := range shapes {
		us, ts := s.span(o)
		half, meets := halfChord(o.Radius+grow, max(ts[0]-t, t-ts[1], 0))
		if !meets {
			continue
		}
		if at := us[1] + half; !hit || at > u {
			u, by, hit = at, i, true
		}
	}
	return u, by, hit
}

// Free is how far a cutter's centre may go along a wall of a side, at u, both ways
// from a place t between: no nearer to any grown shape. An end that nothing halts is
// open.
func Free(s Side, u, t measure.Length, shapes []outline.Shape, grow measure.Length) (from, to measure.Length, open [2]bool, ok bool) {
	open = [2]bool{true, true}
	for _, o := range shapes {
		us, ts := s.span(o)
		half, meets := halfChord(o.Radius+grow, max(us[0]-u, u-us[1], 0))
		if !meets {
			continue
		}
		low, high := ts[0]-half, ts[1]+half
		switch {
		case high <= t:
			if open[0] || high > from {
				from, open[0] = high, false
			}
		case low >= t:
			if open[1] || low < to {
				to, open[1] = low, false
			}
		default:
			return 0, 0, open, false
		}
	}
	return from, to, open, true
}

// halfChord is half the chord of a circle at a distance from its centre, rounded up;
// meets is false where the chord is none, or a point.
func halfChord(r, off measure.Length) (half measure.Length, meets bool) {
	if off >= r {
		return 0, false
	}
	d := mulSelf(big.NewInt(int64(r)))
	return solid.RootUp(d.Sub(d, mulSelf(big.NewInt(int64(off))))), true
}

// Lanes are offsets on the grid, the highest first, of lanes from a side: such that
// none is further from the next than step, with all those of must among them that lie
// between low and high.
func Lanes(g Grid, s Side, low, high, step measure.Length, must []measure.Length) []measure.Length {
	ahead := s.Ahead()
	all := []measure.Length{ahead.Round(g, high, measure.Floor), ahead.Round(g, low, measure.Ceil)}
	for _, t := range must {
		if low <= t && t <= high {
			all = append(all, t)
		}
	}
	slices.SortFunc(all, func(a, b measure.Length) int { return cmp.Compare(b, a) })
	all = slices.Compact(all)
	var out []measure.Length
	for i, t := range all {
		if i > 0 {
			before := out[len(out)-1]
			gap := before - t
			n := int64((gap + step - 1) / step)
			for k := int64(1); k < n; k++ {
				if at := ahead.Round(g, before-gap.MulDiv(k, n, measure.Floor), measure.Ceil); at < out[len(out)-1] && at > t {
					out = append(out, at)
				}
			}
		}
		out = append(out, t)
	}
	return out
}
