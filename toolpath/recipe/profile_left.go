package recipe

import (
	"fmt"

	"stopshort/toolpath"
	"stopshort/toolpath/job"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
	"stopshort/toolpath/solid"
)

// leftMetal is metal that the cutter leaves outside the outline: a fillet, a bay
// that is closed, a gap that is narrower than the cutter.
type leftMetal struct {
	box  solid.Box // about it
	told string    // what the operator is told; a plain fillet is not
}

// metalLeft is what the cutter cannot reach outside the outline: by each inside
// corner of its centre's path the stretch of the outline that it goes round
// without touching, and the holes of the outline and of the path.
func (p *profile) metalLeft() ([]leftMetal, error) {
	r := p.radius()
	part, err := outline.Union(p.shapes(), 0)
	if err != nil {
		return nil, err
	}
	path, err := outline.Union(p.shapes(), r)
	if err != nil {
		return nil, err
	}
	var out []leftMetal
	for i, q := range path.Outer {
		if q.Joint != outline.Right {
			continue
		}
		before := path.Outer[(i+len(path.Outer)-1)%len(path.Outer)]
		from, to := touched(before, before.To, r), touched(q, q.From, r)
		m := leftMetal{box: p.high(from, to)}
		corners := 0
		for _, s := range between(part.Outer, from, to) {
			low, high := extent(s)
			m.box = m.box.With(p.high(low, high))
			if s.Joint == outline.Right {
				corners++
			}
		}
		if corners > 1 {
			m.told = fmt.Sprintf("metal is left by %s: the gap there is narrower than the cutter of %s; saw or file it",
				p.place(q.From.X, q.From.Y), p.both(p.tool.Measured))
		}
		out = append(out, m)
	}
	for _, l := range path.Inner {
		low, high := l.Bounds()
		m := leftMetal{box: p.high(low, high)}
		m.box.Low, m.box.High = m.box.Low.Minus(solid.Point{X: r, Y: r}), m.box.High.Plus(solid.Point{X: r, Y: r})
		m.told = fmt.Sprintf("metal is left in the bay by %s, which the cutter does not come into", p.place(l[0].From.X, l[0].From.Y))
		out = append(out, m)
	}
	for _, l := range part.Inner {
		low, high := l.Bounds()
		m := leftMetal{box: p.high(low, high)}
		known := false
		for _, o := range out {
			known = known || o.told != "" && o.box.Overlaps(m.box)
		}
		if !known {
			m.told = fmt.Sprintf("metal is left in the bay by %s, which is closed all round", p.place(l[0].From.X, l[0].From.Y))
		}
		out = append(out, m)
	}
	return out, nil
}

// holdingBy is what holds the part nearest to a place.
func (p *profile) holdingBy(q outline.Point) string {
	name, least := "what holds the part", solid.Far
	for _, h := range p.setup.Holding {
		if _, near := p.reachAt(h.Body); near {
			if d := apart(fromAbove(h.Body), q); d < least {
				name, least = h.Name, d
			}
		}
	}
	return name
}

// high is the box about two places, as high as the metal.
func (p *profile) high(a, b outline.Point) solid.Box {
	return solid.Corners(a.At(p.metal.Low.Z), b.At(p.metal.High.Z))
}

// touched is where a cutter on a piece of the path touches the part, to a tenth of a
// nanometre: it is only used to find what lies between.
func touched(q outline.Piece, at outline.Point, r measure.Length) outline.Point {
	if q.Kind == outline.Arc {
		k := int64(q.Radius - r)
		return outline.Point{
			X: q.Centre.X + (at.X-q.Centre.X).MulDiv(k, int64(q.Radius), measure.Nearest),
			Y: q.Centre.Y + (at.Y-q.Centre.Y).MulDiv(k, int64(q.Radius), measure.Nearest),
		}
	}
	switch { // the metal is on the left
	case q.To.X > q.From.X:
		at.Y += r
	case q.To.X < q.From.X:
		at.Y -= r
	case q.To.Y > q.From.Y:
		at.X -= r
	default:
		at.X += r
	}
	return at
}

// between is the pieces of a loop that the way from one place on it to another
// runs over, the places' own pieces too.
func between(l outline.Loop, from, to outline.Point) (out []outline.Piece) {
	a, b := nearestPiece(l, from), nearestPiece(l, to)
	for i := a; ; i = (i + 1) % len(l) {
		q := l[i]
		if i == a {
			q.From, q.Joint = from, outline.Smooth
		}
		if i == b {
			q.To = to
		}
		out = append(out, q)
		if i == b {
			return out
		}
	}
}

// nearestPiece is the piece of the loop that a place near it lies by.
func nearestPiece(l outline.Loop, at outline.Point) int {
	best, least := 0, solid.Far
	for i, q := range l {
		low, high := extent(q)
		d := max(low.X-at.X, at.X-high.X, low.Y-at.Y, at.Y-high.Y, 0)
		if q.Kind == outline.Arc {
			far, _ := solid.Hypot(at.X-q.Centre.X, at.Y-q.Centre.Y)
			d = max(d, (far - q.Radius).Abs())
		}
		if d < least {
			best, least = i, d
		}
	}
	return best
}

// leave notes what is left of the stock for later cuts and set-ups: the shapes down
// to the floor, and under it what there was; besides, as something in the way
// only, the metal that the cutter does not reach.
func (p *profile) leave(left []leftMetal) {
	var s job.Stock
	low := max(p.floor, p.metal.Low.Z)
	back := func(b solid.Box) solid.Box {
		return solid.Corners(p.setup.Frame.Back(b.Low), p.setup.Frame.Back(b.High))
	}
	for _, x := range p.shapes() {
		if x.IsDisc() {
			c := solid.Cylinder{From: p.setup.Frame.Back(x.Low.At(low)), To: p.setup.Frame.Back(x.Low.At(p.metal.High.Z)), Radius: x.Radius}
			if a, _ := c.Axis(); c.From.Along(a) > c.To.Along(a) {
				c.From, c.To = c.To, c.From
			}
			s.Pieces = append(s.Pieces, job.Stock{Box: c.BoundingBox(), Round: &c})
			continue
		}
		s.Pieces = append(s.Pieces, job.Stock{Box: back(solid.Box{Low: x.Low.At(low), High: x.High.At(p.metal.High.Z)})})
	}
	if !p.through {
		for _, x := range p.stock.All() {
			s.Pieces = append(s.Pieces, p.under(x))
		}
	}
	s.Box = s.Pieces[0].Box
	for _, x := range s.Pieces[1:] {
		s.Box = s.Box.With(x.Box)
	}
	p.take(s)
	p.outlined = p.cut.Number
	for _, m := range left {
		m.box.Low.Z = max(m.box.Low.Z, low)
		p.fillets = append(p.fillets, back(m.box))
	}
}

// under is what is left of a piece of stock under the floor. A round bar that lies
// stays whole: that is more metal in the way, and none that anything stands on is
// missing.
func (p *profile) under(x job.Stock) job.Stock {
	f := p.setup.Frame
	if x.Round != nil {
		c := f.Cylinder(*x.Round)
		a, _ := c.Axis()
		if a != solid.Z {
			return x
		}
		if c.From.Z > c.To.Z {
			c.From, c.To = c.To, c.From
		}
		c.To.Z = p.floor
		c.From, c.To = f.Back(c.From), f.Back(c.To)
		return job.Stock{Box: c.BoundingBox(), Round: &c}
	}
	b := f.Box(x.Box)
	b.High.Z = min(b.High.Z, p.floor)
	return job.Stock{Box: solid.Corners(f.Back(b.Low), f.Back(b.High))}
}

// facts are the figures of the outline, for a person.
func (p *profile) facts(levels int) []toolpath.Fact {
	out := []toolpath.Fact{
		fact("wall", p.both(p.wall.Value), p.wall),
		{Name: "boss", Value: p.both(p.boss.Radius*2) + " outside", From: measure.Derived,
			Source: fmt.Sprintf("bore %s of %s and the wall on both sides", p.bore.Name, p.both(p.bore.solid.Radius*2))},
	}
	for _, l := range p.lugs {
		name := "lug"
		if l.pad {
			name = "pad"
		}
		out = append(out, toolpath.Fact{Name: name, Value: fmt.Sprintf("%s from the bore's centre, %s across", p.both(l.node.Length("reach")), p.both(l.node.Length("across"))),
			From: measure.Given, Source: l.node.At("reach").String()})
	}
	out = append(out,
		fact("depth", p.both(-p.floor), p.node.Figure("depth")),
		toolpath.Fact{Name: "passes", Value: fmt.Sprintf("%d of %s or less", levels, p.cutting.step.Value.In(p.unit())), From: p.cutting.step.From, Source: p.cutting.step.Source},
		fact("left on", p.both(p.allow.Value), p.allow),
		fact("side step", p.both(p.side.Value)+" or less", p.side),
	)
	if p.byHand() {
		out = append(out, p.handFacts()...)
	}
	for i, s := range p.shapes() {
		name := "boss"
		if i > 0 {
			name = p.lugs[i-1].name
		}
		out = append(out, toolpath.Fact{Name: "over", Value: p.both(p.stockOver(s)), From: measure.Derived, Source: "stock over " + name + ", where there is least"})
	}
	return append(out, p.arcs()...)
}

// degrees is an angle to a thousandth of a degree, for people.
func degrees(a measure.Angle) string {
	n := measure.Length(a).Round(measure.Length(measure.Degree)/1000, measure.Nearest) / (measure.Length(measure.Degree) / 1000)
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	return fmt.Sprintf("%s%d.%03d deg", sign, n/1000, n%1000)
}

// arcs are the arcs of the cutter's centre about the bore.
func (p *profile) arcs() (out []toolpath.Fact) {
	path, err := outline.Union(p.shapes(), p.radius())
	if err != nil {
		return nil
	}
	for _, q := range path.Outer {
		if q.Kind == outline.Arc && q.Centre == p.boss.Low {
			a, b := q.Angles()
			out = append(out, toolpath.Fact{Name: "arc", Value: fmt.Sprintf("%s to %s", degrees(a), degrees(b)), From: measure.Derived,
				Source: fmt.Sprintf("even wall: the cutter's centre %s from the bore's, in the part's outline as drawn", p.both(q.Radius))})
		}
	}
	return out
}
