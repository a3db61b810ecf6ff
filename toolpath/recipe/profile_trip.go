package recipe

import (
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
	"stopshort/toolpath/plan"
	"stopshort/toolpath/solid"
)

// trip is the cutter on its ways.
type trip struct {
	*profile
	laid
	slow measure.Feed
	down bool // the cutter is below the clearance plane
	last way
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
		t.comeDown(start)
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

// comeDown takes the cutter over a place and down to it, by a rapid as far as one may.
func (t *trip) comeDown(to solid.Point) {
	t.lift()
	over := to.With(solid.Z, t.plane())
	t.add(toolpath.Move{Kind: toolpath.Rapid, To: over})
	if low := t.lowest(to); low < over.Z {
		t.add(toolpath.Move{Kind: toolpath.Rapid, To: over.With(solid.Z, low)})
	}
	t.down = true
	t.straight(to, t.cutting.plunge.Value)
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
		tries = append(tries, p.Top+approach)
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
