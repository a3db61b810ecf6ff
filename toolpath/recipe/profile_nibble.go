package recipe

import (
	"cmp"
	"fmt"

	"golang.org/x/exp/slices"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
	"stopshort/toolpath/plan"
	"stopshort/toolpath/solid"
)

// trips are an outline cut by wheels: each trip goes along X or along Y, one wheel at
// a time, and begins outside the stock.
type trips struct {
	*profile
	waste   *plan.Waste
	clearOf []outline.Shape // where the cutter's centre cannot go for what holds the part
	left    []leftMetal
	cusp    measure.Length // highest of the finish
	places  int            // of the finish, round arcs
}

// leg is one trip: the places that it goes to in turn.
type leg struct {
	side plan.Side
	to   []outline.Point
	back bool // out again the way it came in
	slow bool
	wall bool      // along a wall
	away plan.Side // of a wall: out from the part
	// anew tells that the cutter comes down to its beginning: from the leg before, the
	// wheel would turn against its approach, and what is missing of the play then lies
	// on the part's side.
	anew bool
}

// blockedLane tells that something that holds the part stands before stock.
type blockedLane struct{ at outline.Point }

func (e blockedLane) Error() string {
	return fmt.Sprintf("what holds the part stands before the stock by X %s, Y %s", e.at.X, e.at.Y)
}

// unreached tells of stock that no trip comes to.
type unreached struct{ at outline.Point }

func (e unreached) Error() string {
	return fmt.Sprintf("metal by X %s, Y %s, which no straight way along X or Y clears", e.at.X, e.at.Y)
}

// nibbled lays out the outline for wheels: at each level lanes that clear the stock,
// then at full depth the straight walls and, round the boss, place by place.
func (p *profile) nibbled() (passes []toolpath.Pass, levels int, err error) {
	top := p.grid.Round(solid.Z, p.metal.High.Z, measure.Ceil)
	z, err := p.levels(top)
	if err != nil {
		return nil, 0, err
	}
	t := &trips{profile: p}
	var stock []outline.Shape
	for _, m := range p.now {
		stock = append(stock, fromAbove(m))
	}
	for _, h := range p.setup.Holding {
		if r, near := p.reachAt(h.Body); near {
			t.clearOf = append(t.clearOf, fromAbove(h.Body).Grow(r))
		}
	}
	t.waste = plan.NewWaste(stock)
	if t.left, err = p.metalLeft(); err != nil {
		return nil, 0, err
	}
	rough, err := t.rough()
	if err != nil {
		return nil, 0, err
	}
	if len(rough) == 0 {
		return nil, 0, nil
	}
	finish, err := t.finish()
	if err != nil {
		return nil, 0, err
	}
	moves := 0
	for _, l := range rough {
		moves += len(l.to) + 3
	}
	if n := moves*len(z) + len(finish)*5; n > maxMoves {
		return nil, 0, tooManyMoves{len(z), moves}
	}
	x := &trip{profile: p, slow: p.slowFeed()}
	for k, at := range z {
		x.level(k, z)
		x.legs(rough, at)
	}
	if p.byRotary() {
		finish = wallLegs(finish)
	}
	if len(finish) > 0 {
		x.begin("finish", -p.floor)
		x.legs(finish, p.floor)
	}
	x.turned(p.arcsTurned, p.floor)
	p.nibs, p.cusp, p.trips = t.places, t.cusp, len(rough)*len(z)
	return x.passes, len(z), nil
}

// manyTrips is how many trips an outline may take before it is told that a saw is quicker
// (own choice: at a minute for each it is an evening's work).
const manyTrips = 150

// legs goes trips at a height, and lifts.
func (t *trip) legs(all []leg, z measure.Length) {
	quick := t.machine.Feeds.High
	for _, l := range all {
		start := l.to[0].At(z)
		aside := t.here.X == start.X || t.here.Y == start.Y
		if l.wall && l.away.Along(l.to[0]) > l.away.Along(outline.Point{X: t.here.X, Y: t.here.Y}) && t.short(opposite(l.away)) > 0 {
			aside = false
		}
		if !l.anew && t.down && t.here.Z == z && aside && l.side.Along(outline.Point{X: t.here.X, Y: t.here.Y}) == l.side.Along(l.to[0]) {
			t.straight(start, quick)
		} else {
			t.comeDown(start)
		}
		feed := t.cutting.feed.Value
		if l.slow {
			feed = t.slow
		}
		for _, to := range l.to[1:] {
			t.straight(to.At(z), feed)
		}
		if l.back {
			t.straight(start, quick)
		}
	}
	t.lift()
}

// opposite is the side across.
func opposite(s plan.Side) plan.Side { return plan.Side{X: -s.X, Y: -s.Y} }

// turnOrder is the sides in the order that they are cleared from: anticlockwise.
var turnOrder = [4]plan.Side{{X: 1}, {Y: 1}, {X: -1}, {Y: -1}}

// nibbling is how places are chosen round the boss, with an allowance on.
func (t *trips) nibbling(allow, off measure.Length) plan.Nibbling {
	n := plan.Nibbling{Radius: t.radius(), Off: off, Short: t.short}
	for _, s := range t.shapes() {
		n.Shapes = append(n.Shapes, s.Grow(allow))
	}
	return n
}

// short is how far short of a place a wheel may leave the cutter that is fed to it
// from a side: against the way positions are met it goes on by the play in whole
// steps of the dial, and the rest of the play is missing.
func (p *profile) short(s plan.Side) measure.Length {
	a := p.machine.Axes[s.Axis()]
	if !a.HasDial() || (s.X+s.Y < 0) == (a.Approach != "-") {
		return 0
	}
	v := a.StepValue()
	return a.Backlash - v.Times(v.Steps(a.Backlash, measure.Floor), measure.Floor)
}

// walls are the runs along the straight walls of an outline grown by a distance, each
// with the metal on the cutter's left.
func (t *trips) walls(l outline.Loop, grow measure.Length) (out []leg, err error) {
	for _, q := range l {
		if q.Kind != outline.Line {
			continue
		}
		w, ok, err := t.wallRun(q, grow)
		if err != nil {
			return nil, err
		}
		if ok {
			out = append(out, w)
		}
	}
	return out, nil
}

// wallRun is the run along one wall: from outside the stock where nothing halts it
// there, else fed in to its beginning.
func (t *trips) wallRun(q outline.Piece, grow measure.Length) (leg, bool, error) {
	ahead := plan.Side{X: sign(q.To.X - q.From.X), Y: sign(q.To.Y - q.From.Y)}
	s := plan.Side{X: ahead.Y, Y: -ahead.X}
	u := s.Round(t.grid, s.Along(q.From), measure.Ceil)
	mid := (ahead.Along(q.From) + ahead.Along(q.To)) / 2
	from, to, open, ok := plan.Free(s, u, mid, t.shapes(), grow)
	if !ok {
		return leg{}, false, nil
	}
	if open[0] {
		from = -t.beyond(opposite(ahead))
	} else {
		from = ahead.Round(t.grid, from, measure.Ceil)
	}
	if open[1] {
		to = t.beyond(ahead)
	} else {
		to = ahead.Round(t.grid, to, measure.Floor)
	}
	if from >= to {
		return leg{}, false, nil
	}
	l := leg{side: opposite(ahead), wall: true, away: s, anew: !open[0], to: []outline.Point{s.At(u, from), s.At(u, to)}}
	if !open[0] {
		if at, _, hit := plan.Stop(s, from, t.shapes(), grow); hit && s.Round(t.grid, at, measure.Ceil) > u {
			return leg{}, false, unreached{s.At(u, from)}
		}
		l.side = s
		l.to = append([]outline.Point{s.At(t.beyond(s), from)}, l.to...)
	}
	return l, true, nil
}

func sign(l measure.Length) measure.Length {
	switch {
	case l > 0:
		return 1
	case l < 0:
		return -1
	}
	return 0
}

// finish are the trips at full depth: round the outline, each straight wall in thin
// passes, each arc of the boss place by place.
func (t *trips) finish() (out []leg, err error) {
	r, a := t.radius(), t.allow.Value
	n := t.finishes()
	o, err := outline.Union(t.shapes(), r)
	if err != nil {
		return nil, err
	}
	// The walls first, in their thin passes: a place of an arc that is fed in along a wall
	// would take all that is left on it at once.
	pieces := slices.Clone(o.Outer)
	slices.SortStableFunc(pieces, func(a, b outline.Piece) int { return cmp.Compare(a.Kind, b.Kind) })
	for _, q := range pieces {
		switch {
		case q.Kind == outline.Line:
			ahead := plan.Side{X: sign(q.To.X - q.From.X), Y: sign(q.To.Y - q.From.Y)}
			s := plan.Side{X: ahead.Y, Y: -ahead.X}
			for k := int64(1); k <= n; k++ {
				on := a - a.MulDiv(k, n, measure.Nearest)
				moved := q
				moved.From, moved.To = s.Moved(q.From, on), s.Moved(q.To, on)
				w, ok, err := t.wallRun(moved, r+on)
				if err != nil {
					return nil, err
				}
				if ok {
					out = append(out, w)
				}
			}
		case q.Centre == t.boss.Low && q.Radius == t.boss.Radius+r && !t.byRotary():
			runs, high, err := t.nibbling(0, t.fileOff()).Along(t.grid, q, 0)
			if err != nil {
				return nil, err
			}
			t.cusp = max(t.cusp, high)
			for _, run := range runs {
				for i, x := range run {
					t.places++
					out = append(out, leg{side: x.Side, to: []outline.Point{x.Side.At(t.beyond(x.Side), x.T), x.At()}, back: true, anew: i == 0})
				}
			}
		}
	}
	if t.byRotary() {
		if t.arcsTurned, err = t.turns(o.Outer); err != nil {
			return nil, err
		}
		t.takesArcs(t.arcsTurned)
	}
	for _, l := range out {
		if l.wall || !t.byRotary() {
			t.takes(l)
		}
	}
	return out, t.reaches(t.fileOff() + 2*max(t.grid.Step(solid.X), t.grid.Step(solid.Y)))
}
