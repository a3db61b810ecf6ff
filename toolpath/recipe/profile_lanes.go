package recipe

import (
	"math"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
	"stopshort/toolpath/plan"
	"stopshort/toolpath/solid"
)

// rough are the trips that clear the stock at each level, the allowance left on: from
// each side in turn the half of it that lies on the cutter's left, each lane with the
// metal on the left, then what is left in bays, slowly; then the walls that the lanes
// end at.
func (t *trips) rough() ([]leg, error) {
	grow := t.radius() + t.allow.Value
	o, err := outline.Union(t.shapes(), grow)
	if err != nil {
		return nil, err
	}
	first, second, err := t.roughPlaces(o.Outer)
	if err != nil {
		return nil, err
	}
	var out []leg
	for turn := range 2 {
		for _, s := range turnOrder {
			must := first[s]
			if turn > 0 {
				must = second[s]
			}
			more, err := t.lanes(s, grow, turn == 0, must)
			if err != nil {
				return nil, err
			}
			out = append(out, more...)
		}
		if turn == 0 {
			walls, err := t.walls(o.Outer, grow)
			if err != nil {
				return nil, err
			}
			for _, w := range walls {
				if t.worth(w, anySquare) {
					t.takes(w)
					out = append(out, w)
				}
			}
		}
	}
	return out, t.reaches(t.allow.Value + t.roughCusp())
}

// roughCusp is the cusp that roughing may leave on its allowance.
func (t *trips) roughCusp() measure.Length {
	return max(t.allow.Value, t.fileOff(), 8*t.grid.Step(solid.X), 8*t.grid.Step(solid.Y))
}

func (p *profile) fileOff() measure.Length { return p.node.Length("file_off") }

// roughPlaces are the lanes that end round the boss near enough to each other, by side:
// for the first turn those of the quarter that lies on the cutter's left, for the second
// all that the side sees best.
func (t *trips) roughPlaces(l outline.Loop) (first, second map[plan.Side][]measure.Length, err error) {
	first, second = map[plan.Side][]measure.Length{}, map[plan.Side][]measure.Length{}
	n := t.nibbling(t.allow.Value, t.roughCusp())
	for _, q := range l {
		if q.Kind != outline.Arc || q.Centre != t.boss.Low {
			continue
		}
		runs, _, err := n.Along(t.grid, q, 0)
		if err != nil {
			return nil, nil, err
		}
		for _, run := range runs {
			for _, x := range run {
				second[x.Side] = append(second[x.Side], x.T)
				for _, s := range turnOrder {
					at := outline.Point{X: x.At().X - t.boss.Low.X, Y: x.At().Y - t.boss.Low.Y}
					if s.Along(at) >= 0 && s.Ahead().Along(at) > 0 {
						first[s] = append(first[s], s.Ahead().Round(t.grid, s.Ahead().Along(x.At()), measure.Nearest))
					}
				}
			}
		}
	}
	return first, second, nil
}

// lanes are the lanes from one side that take metal: of the half on the cutter's left,
// or all.
func (t *trips) lanes(s plan.Side, grow measure.Length, half bool, must []measure.Length) ([]leg, error) {
	ahead := s.Ahead()
	step := ahead.Round(t.grid, t.side.Value, measure.Floor)
	low, high := solid.Far, -solid.Far
	for _, m := range t.now {
		b := solid.Bounds(m)
		for _, c := range []outline.Point{{X: b.Low.X, Y: b.Low.Y}, {X: b.High.X, Y: b.High.Y}} {
			low, high = min(low, ahead.Along(c)), max(high, ahead.Along(c))
		}
	}
	low, high = low-t.radius()+step, high+t.radius()-step
	mid := ahead.Along(t.boss.Low)
	if half {
		low = mid
	}
	places := must
	must = nil
	for _, o := range t.shapes() {
		a, b := ahead.Along(o.Low), ahead.Along(o.High)
		must = append(must, ahead.Round(t.grid, max(a, b)+o.Radius+grow, measure.Ceil), ahead.Round(t.grid, min(a, b)-o.Radius-grow, measure.Floor))
	}
	for _, v := range places { // two that all but fall together are one
		if !slices.ContainsFunc(must, func(o measure.Length) bool { return (o - v).Abs() < t.roughCusp() }) {
			must = append(must, v)
		}
	}
	for _, v := range must {
		high = max(high, v)
		if !half {
			low = min(low, v)
		}
	}
	// A second time only what is more than roughing may leave.
	kept := t.keeps(t.allow.Value + t.roughCusp())
	counts := func(low, high outline.Point) bool { return half || !kept(low, high) }
	out, across := t.beyond(s), t.beyond(opposite(s))
	var legs []leg
	for _, at := range plan.Lanes(t.grid, s, low, high, step, must) {
		// Beside where it is planned, by what may be missing of the play.
		u, _, hit := plan.Stop(s, at, t.shapes(), grow+max(t.short(ahead), t.short(opposite(ahead))))
		to := -across
		if hit {
			to = s.Round(t.grid, u, measure.Ceil)
		}
		if to >= out {
			continue
		}
		l := leg{side: s, to: []outline.Point{s.At(out, at), s.At(to, at)}, back: true, slow: !half}
		if !t.worth(l, counts) {
			continue
		}
		if v, _, stands := plan.Stop(s, at, t.clearOf, 0); stands && v > to {
			return nil, blockedLane{s.At(v, at)}
		}
		t.takes(l)
		legs = append(legs, l)
	}
	return legs, nil
}

// takes notes what a trip takes of the stock.
func (t *trips) takes(l leg) {
	for i := range l.to[1:] {
		t.waste.Take(l.to[i], l.to[i+1], t.radius())
	}
}

// worth tells whether a trip takes stock: where only is given, such that it holds for.
func (t *trips) worth(l leg, only func(low, high outline.Point) bool) bool {
	for i := range l.to[1:] {
		if t.waste.Would(l.to[i], l.to[i+1], t.radius(), only) > 0 {
			return true
		}
	}
	return false
}

// anySquare holds for each square of stock.
func anySquare(_, _ outline.Point) bool { return true }

// reaches asks that no stock is left further from the part than a distance, but where
// the cutter cannot come.
func (t *trips) reaches(off measure.Length) error {
	if at, left := t.waste.Left(t.keeps(off)); left {
		return unreached{at}
	}
	return nil
}

// keeps tells of a square whether it may be left: it is no further from the part than a
// distance, or where the cutter cannot come.
func (t *trips) keeps(off measure.Length) func(low, high outline.Point) bool {
	cell := t.waste.Cell()
	off += 2 * cell
	spare := 2*t.allow.Value + 3*cell
	return func(low, high outline.Point) bool {
		for _, s := range t.shapes() {
			if farthestOf(s, low, high) <= float64(off) {
				return true
			}
		}
		for _, m := range t.left {
			b := m.box
			if b.Low.X-spare <= low.X && high.X <= b.High.X+spare && b.Low.Y-spare <= low.Y && high.Y <= b.High.Y+spare {
				return true
			}
		}
		return false
	}
}

// farthestOf is how far the furthest corner of a square is outside a shape.
func farthestOf(s outline.Shape, low, high outline.Point) float64 {
	x := float64(max(high.X-s.High.X, s.Low.X-low.X, 0))
	y := float64(max(high.Y-s.High.Y, s.Low.Y-low.Y, 0))
	return math.Hypot(x, y) - float64(s.Radius)
}
