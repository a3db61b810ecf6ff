package recipe

import (
	"errors"
	"fmt"

	"golang.org/x/exp/slices"

	"stopshort/toolpath"
	"stopshort/toolpath/job"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
	"stopshort/toolpath/plan"
	"stopshort/toolpath/solid"
)

// thinFinish is the most a finishing pass takes to the side: a fiftieth of the
// cutter's diameter (DESIGN, "Recipes": a conventional cut that takes more pulls the
// cutter into the wall; common practice, no source).
func thinFinish(d measure.Length) measure.Length { return max(d/50, 1) }

// way is one trip of the cutter at one depth, from where it comes down to where
// it is lifted.
type way struct {
	stretches []plan.Stretch
	ring      int
	closed    bool
	box       solid.Box // seen from above
}

func (w way) start() outline.Point { return w.stretches[0].From }
func (w way) end() outline.Point   { return w.stretches[len(w.stretches)-1].To }

// path lays out the outline: at each level from the outermost ring inwards, then
// the finishing passes in one level at full depth.
func (p *profile) path() (passes []toolpath.Pass, levels int, err error) {
	top := p.grid.Round(solid.Z, p.metal.High.Z, measure.Ceil)
	z, err := p.grid.Levels(top, p.floor, p.cutting.step.Value)
	if err != nil {
		return nil, 0, err
	}
	c := p.clearing()
	rings, err := c.Rings(p.grid)
	if err != nil {
		return nil, 0, err
	}
	if at, deep, err := c.Deep(p.grid); err != nil {
		return nil, 0, err
	} else if deep {
		return nil, 0, narrowGap{at}
	}
	for _, r := range rings {
		if p.blockedBy == nil {
			p.blockedBy = r.Blocked
		}
		// Strips hang on nothing then, or on jaws that grip nothing more.
		p.loose = p.loose || p.through && (r.Dropped || r.Blocked != nil && p.byJaws())
	}
	rough, err := p.roughWays(rings)
	if err != nil {
		return nil, 0, err
	}
	goesOn := len(rough) > 0 && rough[len(rough)-1].closed // from roughing at full depth straight to finishing
	finish, err := p.finishWays(goesOn)
	if err != nil {
		return nil, 0, err
	}
	moves := 0
	for _, w := range rough {
		moves += len(w.stretches) + 5
	}
	if n := moves * len(z); n > maxMoves {
		return nil, 0, tooManyMoves{len(z), moves}
	}
	t := &trip{profile: p, slow: p.slowFeed()}
	for k, at := range z {
		if len(rough) == 0 {
			break
		}
		t.begin(fmt.Sprintf("pass %d of %d", k+1, len(z)), -at)
		for _, w := range rough {
			t.take(w, at)
		}
		if !goesOn || k < len(z)-1 || len(finish) == 0 {
			t.lift()
		}
	}
	for k, w := range finish {
		t.begin(fmt.Sprintf("finish %d of %d", k+1, len(finish)), -p.floor)
		t.take(w, p.floor)
		if k == len(finish)-1 {
			t.lift()
		}
	}
	return t.passes, len(z), nil
}

// clearing is what the stock is cleared from, seen from above.
func (p *profile) clearing() plan.Clearing {
	c := plan.Clearing{
		Shapes: p.shapes(), Radius: p.tool.Measured.Half(measure.Ceil), Allow: p.allow.Value,
		Step: p.grid.Round(solid.X, p.side.Value, measure.Floor), Clear: approach,
	}
	for _, m := range p.now {
		c.Stock = append(c.Stock, fromAbove(m))
	}
	for _, h := range p.setup.Holding {
		if r, near := p.reachAt(h.Body); near {
			c.Off = append(c.Off, fromAbove(h.Body).Grow(r+approach))
		}
	}
	return c
}

// reachAt is how far from its axis the cutter, its shank or its holder reaches at
// the heights of something that holds the part; near is false where none is ever
// as low.
func (p *profile) reachAt(b solid.Body) (r measure.Length, near bool) {
	box := solid.Bounds(b)
	for _, part := range parts(p.tool) {
		if p.floor+part.Low < box.High.Z {
			r, near = max(r, part.LowRadius, part.HighRadius), true
		}
	}
	return r, near
}

// fromAbove is a solid seen from above: a disc for what stands upright and is
// round, else the rectangle about it.
func fromAbove(b solid.Body) outline.Shape {
	if c, round := b.(solid.Cylinder); round {
		if a, ok := c.Axis(); ok && a == solid.Z {
			return outline.Disc(outline.Point{X: c.From.X, Y: c.From.Y}, c.Radius)
		}
	}
	box := solid.Bounds(b)
	near := func(l measure.Length) measure.Length { // what reaches out of sight
		return max(min(l, measure.MaxLength), -measure.MaxLength)
	}
	return outline.Rect(outline.Point{X: near(box.Low.X), Y: near(box.Low.Y)}, outline.Point{X: near(box.High.X), Y: near(box.High.Y)})
}

// roughWays are the rings as ways, in an order in which each finds what is
// outside it cut already, and the next one is the nearest there is.
func (p *profile) roughWays(rings []plan.Ring) ([]way, error) {
	var left []way
	closed := false // the way of the ring outside
	for i, r := range rings {
		for _, w := range r.Ways {
			x := way{ring: i, closed: r.Closed}
			x.stretches = append(x.stretches, w...)
			if r.Closed {
				step := measure.Length(0) // from the ring outside
				if closed {
					step = rings[i-1].Growth - r.Growth
				}
				led, err := p.led(x, step)
				if err != nil {
					return nil, err
				}
				x = led
			}
			closed = x.closed
			x.box = p.box(x)
			left = append(left, x)
		}
	}
	var out []way
	for len(left) > 0 {
		best := -1
		for i, w := range left {
			if slices.ContainsFunc(left, func(o way) bool { return o.ring < w.ring && o.box.Overlaps(w.box) }) {
				continue
			}
			if best < 0 || len(out) > 0 && away(out[len(out)-1].end(), w.start()) < away(out[len(out)-1].end(), left[best].start()) {
				best = i
			}
		}
		out = append(out, left[best])
		left = append(left[:best:best], left[best+1:]...)
	}
	return out, nil
}

func away(a, b outline.Point) measure.Length {
	d, _ := solid.Hypot(a.X-b.X, a.Y-b.Y)
	return d
}

// box is the box about what the cutter touches on a way, seen from above.
func (p *profile) box(w way) solid.Box {
	low, high := w.start(), w.start()
	for _, s := range w.stretches {
		l, h := extent(s.Piece)
		low = outline.Point{X: min(low.X, l.X), Y: min(low.Y, l.Y)}
		high = outline.Point{X: max(high.X, h.X), Y: max(high.Y, h.Y)}
	}
	r := p.tool.Measured.Half(measure.Ceil)
	return solid.Box{Low: solid.Point{X: low.X - r, Y: low.Y - r}, High: solid.Point{X: high.X + r, Y: high.Y + r}}
}

// extent is the box about one piece, both its ends with it.
func extent(p outline.Piece) (low, high outline.Point) {
	return outline.Loop{p, {Kind: outline.Line, From: p.To, To: p.From}}.Bounds()
}

// finishWays are the finishing passes: each takes the same, the last is the
// outline. after tells that the cutter comes from a closed way.
func (p *profile) finishWays(after bool) ([]way, error) {
	r, a := p.tool.Measured.Half(measure.Ceil), p.allow.Value
	n := max(int64((a+thinFinish(p.tool.Diameter)-1)/thinFinish(p.tool.Diameter)), 1)
	if a == 0 {
		return nil, nil // the last rough ring is the outline
	}
	var out []way
	c, was := p.clearing(), r+a
	for k := int64(1); k <= n; k++ {
		growth := r + a - a.MulDiv(k, n, measure.Nearest)
		loops, err := p.grid.Contours(p.shapes(), growth)
		if err != nil {
			return nil, err
		}
		slowed, err := c.Slowed(p.grid, loops.Outer, growth, was-growth)
		if err != nil {
			return nil, err
		}
		w, step := way{ring: -1, closed: true}, measure.Length(0)
		w.stretches = append(w.stretches, slowed...)
		if after || k > 1 {
			step = was - growth
		}
		if w, err = p.led(w, step); err != nil {
			return nil, err
		}
		was = growth
		out = append(out, w)
	}
	return out, nil
}

// narrowGap is a gap that roughing does not come into and finishing would.
type narrowGap struct{ at outline.Point }

func (g narrowGap) Error() string {
	return fmt.Sprintf("the gap by X %s, Y %s", g.at.X, g.at.Y)
}

// tooManyMoves is an outline of more than maxMoves.
type tooManyMoves struct{ passes, moves int }

func (e tooManyMoves) Error() string {
	return fmt.Sprintf("%d passes of %d moves: at most %d moves in all; a larger cutter, a larger step or less stock would do", e.passes, e.moves, maxMoves)
}

// byJaws tells whether jaws stand as high as the cutter comes down.
func (p *profile) byJaws() bool {
	for _, h := range p.setup.Holding {
		if _, near := p.reachAt(h.Body); near && h.Kind == job.HeldJaw {
			return true
		}
	}
	return false
}

// errNoWayIn is a closed way that nothing leads to.
var errNoWayIn = errors.New("no side of the outline is free for the cutter to come in from outside the stock")

// led is a closed way begun at the side where the stock stands out the least, with
// an arc that leads to it from outside the stock, on a tangent, and one that
// leads away. Both stay beyond the outline's extreme, where nothing of the part
// is. After another closed way, a step further out, the stock is gone on its side: an
// arc will do that begins no nearer than that way. The arc in takes more than the side
// step, as the cutter comes up to its way: it is slow.
func (p *profile) led(w way, step measure.Length) (way, error) {
	after := step > 0
	short := p.grid.Round(solid.X, p.tool.Measured/4, measure.Ceil)
	var loop outline.Loop
	for _, s := range w.stretches {
		loop = append(loop, s.Piece)
	}
	of := func(q outline.Piece) plan.Stretch { // one may have been cut in two
		i := slices.IndexFunc(w.stretches, func(s plan.Stretch) bool {
			return s.Kind == q.Kind && s.Centre == q.Centre && (s.From == q.From || s.To == q.To)
		})
		return plan.Stretch{Piece: q, Slow: w.stretches[i].Slow, Idle: w.stretches[i].Idle}
	}
	best, least, by := way{}, solid.Far, plan.Side{}
	for _, side := range plan.Sides {
		begun, ok := plan.FromExtreme(loop, side)
		if !ok {
			continue
		}
		at := begun[0].From
		if after && side != p.cameFrom {
			continue
		}
		lead := p.lead(at, side, short, max(p.beyond(side)-side.Along(at), short))
		if lead >= least || p.blocked(at, side, lead) {
			continue
		}
		x := way{ring: w.ring, closed: true}
		arc := func(from, to outline.Point, r measure.Length) plan.Stretch {
			return plan.Stretch{Piece: outline.Piece{Kind: outline.Arc, From: from, To: to, Centre: side.Moved(at, r), Radius: r, Sense: outline.Clockwise}}
		}
		in := lead
		if after {
			in = max(short, p.grid.Round(solid.X, step, measure.Ceil))
		}
		into := arc(side.Ahead().Moved(side.Moved(at, in), -in), at, in)
		into.Slow = true
		x.stretches = append(x.stretches, into)
		for _, q := range begun {
			x.stretches = append(x.stretches, of(q))
		}
		if x.idleTail(p.tool.Measured - 2*short) {
			best, least, by = x, lead, side
			continue
		}
		x.stretches = append(x.stretches, arc(at, side.Ahead().Moved(side.Moved(at, short), short), short))
		best, least, by = x, lead, side
	}
	if least == solid.Far {
		return way{}, errNoWayIn
	}
	p.cameFrom = by
	return best, nil
}

// lead is the least radius of an arc that leads to a place from where the cutter is
// clear of all stock; most is clear.
func (p *profile) lead(at outline.Point, side plan.Side, least, most measure.Length) measure.Length {
	room := p.tool.Measured.Half(measure.Ceil) + approach
	for r := least; r < most; r += least {
		from := side.Ahead().Moved(side.Moved(at, r), -r)
		if !slices.ContainsFunc(p.now, func(b solid.Body) bool { return apart(fromAbove(b), from) < room }) {
			return r
		}
	}
	return most
}

// apart is how far a place is from a shape at the least; in it, below nought or nought.
func apart(s outline.Shape, q outline.Point) measure.Length {
	dx := max(s.Low.X-q.X, q.X-s.High.X, 0)
	dy := max(s.Low.Y-q.Y, q.Y-s.High.Y, 0)
	d, _ := solid.Hypot(dx, dy)
	return d - s.Radius
}

// idleTail ends a way before it is closed where what follows cuts nothing for longer
// than most.
func (w *way) idleTail(most measure.Length) bool {
	n, sum := len(w.stretches), measure.Length(0)
	for n > 0 && w.stretches[n-1].Idle {
		n--
		sum += outline.Loop{w.stretches[n].Piece}.Length()
	}
	if n == 0 || sum <= most {
		return false
	}
	for sum = 0; ; n++ {
		if sum += (outline.Loop{w.stretches[n].Piece}).Length(); sum > most {
			break
		}
	}
	w.stretches, w.closed = w.stretches[:n], false
	return true
}

// beyond is where a cutter is clear of all stock to a side, on the grid.
func (p *profile) beyond(side plan.Side) measure.Length {
	most := -solid.Far
	for _, m := range p.now {
		b := solid.Bounds(m)
		low, high := outline.Point{X: b.Low.X, Y: b.Low.Y}, outline.Point{X: b.High.X, Y: b.High.Y}
		most = max(most, side.Along(low), side.Along(high))
	}
	return p.grid.Round(solid.X, most+p.tool.Measured.Half(measure.Ceil)+approach, measure.Ceil)
}

// blocked tells whether something that holds the part stands where a cutter
// would be led to the outline.
func (p *profile) blocked(at outline.Point, side plan.Side, lead measure.Length) bool {
	a, b := side.Ahead().Moved(at, -lead), side.Moved(side.Ahead().Moved(at, lead), lead)
	box := solid.Corners(a.At(p.floor), b.At(p.plane()))
	for _, h := range p.setup.Holding {
		if r, near := p.reachAt(h.Body); near {
			grow := solid.Point{X: r + approach, Y: r + approach}
			grown := solid.Box{Low: box.Low.Minus(grow), High: box.High.Plus(grow)}
			if grown.Overlaps(solid.Bounds(h.Body)) {
				return true
			}
		}
	}
	return false
}

// slowFeed is the feed where more than the side step is cut: half, on the
// program's steps (common practice, no source).
func (p *profile) slowFeed() measure.Feed {
	f := p.cutting.feed.Value / 2
	if s := f - f%p.feedStep(); s >= p.machine.Feeds.Low && s > 0 {
		return s
	}
	return p.cutting.feed.Value
}

// trip is the cutter on its ways.
type trip struct {
	*profile
	slow   measure.Feed
	passes []toolpath.Pass
	here   solid.Point
	down   bool // the cutter is below the clearance plane
	last   way
}

func (t *trip) begin(name string, depth measure.Length) {
	t.passes = append(t.passes, toolpath.Pass{Name: name, Depth: depth})
}

func (t *trip) add(m toolpath.Move) {
	p := &t.passes[len(t.passes)-1]
	p.Moves = append(p.Moves, m)
	t.here = m.To
}

func (t *trip) lift() {
	if t.down {
		t.add(toolpath.Move{Kind: toolpath.Rapid, To: t.here.With(solid.Z, t.plane())})
		t.down = false
	}
}

// take goes a way at a height. From one closed way to the next the cutter goes
// straight over at its feed, outside both; otherwise it is lifted and comes down
// anew.
func (t *trip) take(w way, z measure.Length) {
	start := w.start().At(z)
	near := t.down && t.last.closed && w.closed && t.here.Z == z && away(t.last.end(), w.start()) <= 2*t.tool.Measured
	t.last = w
	if near {
		t.straight(start, t.cutting.feed.Value)
	} else {
		t.lift()
		over := start.With(solid.Z, t.plane())
		t.add(toolpath.Move{Kind: toolpath.Rapid, To: over})
		if low := t.lowest(start); low < over.Z {
			t.add(toolpath.Move{Kind: toolpath.Rapid, To: over.With(solid.Z, low)})
		}
		t.down = true
		t.straight(start, t.cutting.plunge.Value)
	}
	for _, s := range plan.Joined(w.stretches) {
		feed := t.cutting.feed.Value
		if s.Slow {
			feed = t.slow
		}
		if s.Kind == outline.Line {
			t.straight(s.To.At(z), feed)
			continue
		}
		sense := toolpath.Anticlockwise
		if s.Sense == outline.Clockwise {
			sense = toolpath.Clockwise
		}
		// The metal is on the left: an arc that turns right curves away from it.
		t.add(toolpath.Move{Kind: toolpath.Arc, To: s.To.At(z), Centre: s.Centre.At(z), Sense: sense, Hollow: sense == toolpath.Clockwise, Feed: feed})
	}
}

func (t *trip) straight(to solid.Point, f measure.Feed) {
	if to != t.here {
		t.add(toolpath.Move{Kind: toolpath.Line, To: to, Feed: f})
	}
}

// lowest is how low a rapid may come at a place beside the stock: to its height
// where metal, holding and packing are far enough away, else over the packing or
// over the metal.
func (t *trip) lowest(at solid.Point) measure.Length {
	tries := []measure.Length{at.Z}
	if p := t.setup.Packing; p != nil {
		tries = append(tries, p.Top-p.MayCut+approach)
	}
	tries = append(tries, t.metal.High.Z+approach)
	for _, z := range tries {
		z = t.grid.Round(solid.Z, z, measure.Ceil)
		if z >= at.Z && z < t.plane() && t.clears(at.With(solid.Z, z)) {
			return z
		}
	}
	return t.plane()
}

// clears tells whether the cutter may come straight down to a place by a rapid.
func (t *trip) clears(to solid.Point) bool {
	bodies := t.inTheWay()
	for _, h := range t.setup.Holding {
		bodies = append(bodies, h.Body)
	}
	if p := t.setup.Packing; p != nil {
		bodies = append(bodies, below(p.Top-p.MayCut))
	}
	for _, part := range parts(t.tool) {
		s := solid.Sweep{Part: part, From: to.With(solid.Z, t.plane()), To: to}
		for _, b := range bodies {
			if solid.Between(s, b, approach).Low < approach {
				return false
			}
		}
	}
	return true
}
