package recipe

import (
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
// cutter's diameter (a conventional cut that takes more pulls the cutter into the
// wall: common practice, no source).
func thinFinish(d measure.Length) measure.Length { return max(d/50, 1) }

// finishes is how many finishing passes take the allowance, one at least.
func (p *profile) finishes() int64 {
	thin := thinFinish(p.tool.Diameter)
	return max(int64((p.allow.Value+thin-1)/thin), 1)
}

// radius is the cutter's, rounded up.
func (p *profile) radius() measure.Length { return p.tool.Measured.Half(measure.Ceil) }

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
	z, err := p.levels(top)
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
	if len(rough) == 0 {
		p.look = nil // nothing is measured that a pass has not made
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
		t.level(k, z)
		for _, w := range rough {
			t.take(w, at)
		}
		if !goesOn || k < len(z)-1 || len(finish) == 0 {
			t.lift()
		}
	}
	for k, w := range finish {
		if p.wallLook && k == len(finish)-1 {
			t.wallLookedAt()
		}
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
		Shapes: p.shapes(), Radius: p.radius(), Allow: p.allow.Value,
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
	r := p.radius()
	return solid.Box{Low: solid.Point{X: low.X - r, Y: low.Y - r}, High: solid.Point{X: high.X + r, Y: high.Y + r}}
}

// extent is the box about one piece, both its ends with it.
func extent(p outline.Piece) (low, high outline.Point) {
	return outline.Loop{p, {Kind: outline.Line, From: p.To, To: p.From}}.Bounds()
}

// finishWays are the finishing passes: each takes the same, the last is the
// outline. after tells that the cutter comes from a closed way.
func (p *profile) finishWays(after bool) ([]way, error) {
	r, a := p.radius(), p.allow.Value
	n := p.finishes()
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

// slowFeed is the feed where more than the side step is cut: half, on the
// program's steps (common practice, no source).
func (p *profile) slowFeed() measure.Feed {
	f := p.cutting.feed.Value / 2
	if s := f - f%p.feedStep(); s >= p.machine.Feeds.Low && s > 0 {
		return s
	}
	return p.cutting.feed.Value
}
