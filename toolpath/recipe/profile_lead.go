package recipe

import (
	"errors"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
	"stopshort/toolpath/plan"
	"stopshort/toolpath/solid"
)

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
	room := p.radius() + approach
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
	return side.Round(p.grid, most+p.radius()+approach, measure.Ceil)
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
