package recipe

import (
	"fmt"
	"strconv"

	"stopshort/toolpath"
	"stopshort/toolpath/form"
	"stopshort/toolpath/job"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
	"stopshort/toolpath/trade"
)

// placeKeys are the ways of saying where holes or faces are.
var placeKeys = []form.Key{
	{Name: "pair", Kind: form.Sub, Table: pairTable, Help: "two places, one on each side of a bore"},
	{Name: "row", Kind: form.Subs, Table: rowTable, Help: "places evenly along a line; may be given again"},
	{Name: "points", Kind: form.Lengths, Help: "a list of places: X, Y, X, Y, ..."},
	{Name: "top", Kind: form.Length, Says: "the metal's top there", Help: "height at which the holes start"},
	{Name: "wall_never_less", Kind: form.Length, Min: "0 mm", Says: "1 mm or half the smaller diameter, the less", Help: "least metal to bores, other holes and slots"},
}

var pairTable = &form.Table{
	Help: "Two places, one on each side of a bore",
	Keys: []form.Key{
		{Name: "bore", Kind: form.Text, Required: true, Help: "the bore's name"},
		{Name: "apart", Kind: form.Length, Required: true, Above: "0 mm", Help: "from centre to centre"},
		{Name: "along", Kind: form.Word, Choices: []string{"x", "y"}, Default: "x", Help: "the direction they lie in"},
		{Name: "offset", Kind: form.Length, Default: "0 mm", Says: "0 mm", Help: "how far aside: from an upright bore's centre, else from the set-up's zero"},
	},
}

var rowTable = &form.Table{
	Help: "Places evenly along a line",
	Keys: []form.Key{
		{Name: "from", Kind: form.Lengths, Len: 2, Required: true, Help: "the first: X, Y"},
		{Name: "to", Kind: form.Lengths, Len: 2, Required: true, Help: "the last"},
		{Name: "count", Kind: form.Count, Required: true, Min: "2", Max: "10000", Help: "how many"},
	},
}

// maxPlaces is the most places one cut may have.
const maxPlaces = 20_000

// places reads where a cut's holes are, on the grid: each nearest, a pair with
// its pitch kept.
func (b *bench) places(n *form.Node) (out []solid.Point, ok bool) {
	add := func(x, y measure.Length) {
		out = append(out, solid.Point{X: b.grid.Round(solid.X, x, measure.Nearest), Y: b.grid.Round(solid.Y, y, measure.Nearest)})
	}
	if p := n.Sub("pair"); p != nil {
		x, found := b.named(p, "bore")
		if !found {
			return nil, false
		}
		at, far, ok := b.pair(p, x)
		if !ok {
			return nil, false
		}
		out = append(out, at, far)
	}
	for _, r := range n.Subs("row") {
		from, to, count := r.Lengths("from"), r.Lengths("to"), r.Count("count")
		if from[0] == to[0] && from[1] == to[1] {
			r.Fault("to", "from and to are one place: a row has a length")
			return nil, false
		}
		for k := range count {
			add(from[0]+(to[0]-from[0]).MulDiv(k, count-1, measure.Nearest), from[1]+(to[1]-from[1]).MulDiv(k, count-1, measure.Nearest))
		}
	}
	p := n.Lengths("points")
	if len(p)%2 != 0 {
		n.Fault("points", "%d figures are no pairs: write X, Y, X, Y, ...", len(p))
		return nil, false
	}
	for i := 0; i < len(p); i += 2 {
		add(p[i], p[i+1])
	}
	switch {
	case len(out) == 0:
		n.Fault("points", "the cut has no place: give pair, row or points")
		return nil, false
	case len(out) > maxPlaces:
		n.Fault("row", "%d places: at most %d in one cut", len(out), maxPlaces)
		return nil, false
	}
	seen := map[solid.Point]bool{}
	for _, p := range out {
		if seen[p] {
			n.Fault("points", "X %s, Y %s is given twice: give each place once", p.X, p.Y)
			return nil, false
		}
		seen[p] = true
	}
	return out, true
}

// pair is the two places of a pair: the pitch and the first place are put on the
// grid, so that the pitch is kept; the middle may be half a step aside.
func (b *bench) pair(p *form.Node, x bore) (one, two solid.Point, ok bool) {
	along, _ := axisOf(p.Word("along"))
	other := solid.X + solid.Y - along
	a, straight := x.solid.Axis()
	if !straight || a == along {
		p.Fault("along", "the bore %s runs along %s: a pair lies across it", x.Name, along)
		return one, two, false
	}
	middle := b.grid.Round(along, x.solid.From.Along(along), measure.Nearest)
	pitch := b.grid.Round(along, p.Length("apart"), measure.Nearest)
	aside := p.Length("offset")
	if a == solid.Z {
		aside += x.solid.From.Along(other)
	}
	aside = b.grid.Round(other, aside, measure.Nearest)
	first := b.grid.Round(along, middle-pitch.Half(measure.Floor), measure.Nearest)
	one = one.With(along, first).With(other, aside)
	two = two.With(along, first+pitch).With(other, aside)
	return one, two, true
}

func axisOf(word string) (solid.Axis, bool) {
	if word == "y" {
		return solid.Y, true
	}
	return solid.X, word == "x"
}

// topAt is the metal's top at a place, as the job gives it or as the highest
// piece of metal over it; ok is false, with a fault, where there is no metal.
func (b *bench) topAt(n *form.Node, p solid.Point) (top measure.Length, ok bool) {
	top = -solid.Far
	for _, m := range b.now {
		if t, over := solid.TopOver(m, p); over {
			top, ok = max(top, t), true
		}
	}
	if !ok {
		key := "points"
		for _, k := range []string{"pair", "row"} {
			if n.Has(k) && !n.Has("points") {
				key = k
			}
		}
		n.Fault(key, "there is no metal at X %s, Y %s: look at the place", p.X, p.Y)
		return 0, false
	}
	if n.Set("top") {
		if t := n.Length("top"); t > top {
			n.Fault("top", "%s is over the metal, whose top is at %s there", t, top)
			return 0, false
		}
		top = n.Length("top")
	}
	return top, true
}

// bottomAt is the metal's underside at a place.
func (b *bench) bottomAt(p solid.Point) measure.Length {
	bottom := solid.Far
	for _, m := range b.now {
		if _, over := solid.TopOver(m, p); over {
			bottom = min(bottom, solid.Bounds(m).Low.Z)
		}
	}
	return bottom
}

// drill is one drill's data for one cut.
type drill struct {
	tool  toolpath.Cutter
	speed measure.Figure[measure.Speed]
	feed  measure.Figure[measure.Feed]
}

// drillOf takes a drill of a kind from a cut's key, with its speed and feed.
func (b *bench) drillOf(n *form.Node, key string, kind toolpath.CutterKind) (d drill, ok bool) {
	if d.tool, ok = b.job.CutTool(n, key); !ok {
		return d, false
	}
	if d.tool.Kind != kind {
		n.Fault(key, "tool %d is a %s: give a %s", d.tool.Number, d.tool.Kind, kind)
		return d, false
	}
	row, err := trade.Drilling(b.material.Name, d.tool.MadeOf, d.tool.Diameter)
	if err != nil {
		n.Fault(key, "%s", err)
		return d, false
	}
	want := trade.SpindleSpeed(row.Surface.Value, d.tool.Diameter)
	want = trade.WholeTurns(want)
	speed, ok := b.machine.Spindle.AtMost(want)
	if !ok {
		n.Fault(key, "the handbook's %s for a %s drill is below the machine's slowest: take a smaller drill", want, d.tool.Diameter)
		return d, false
	}
	d.speed = measure.Figure[measure.Speed]{Value: speed, From: measure.Handbook, Source: slower(drillSurface(row), want, speed)}
	feed := min(trade.DrillFeed(row.PerRev.Value, speed), b.machine.Feeds.Down, b.machine.Feeds.High)
	d.feed = measure.Figure[measure.Feed]{Value: b.rounded(feed), From: measure.Handbook, Source: rests(fmt.Sprintf("%s a turn: %s", row.PerRev.Value, row.PerRev.Source), row.FeedRow)}
	if d.feed.Value == 0 {
		n.Fault(key, "the feed of a %s drill comes to nothing at %s", d.tool.Diameter, speed)
		return d, false
	}
	return d, true
}

// drillSurface says where a drill's surface speed comes from, with the range that is
// printed for drilling.
func drillSurface(row trade.Drill) string {
	says := row.Surface.Source
	if row.SpeedHigh == 0 {
		return rests(says, row.SpeedRow)
	}
	if row.Surface.Value != row.SpeedHigh { // milling's, and not what is printed
		says = rests(says, row.SpeedRow)
	}
	return rests(fmt.Sprintf("%s, printed for drilling %s", says, trade.SpeedSpan(row.SpeedLow, row.SpeedHigh)), row.PrintedRow)
}

// drilling is an operation of one drill over holes, each fed down to its tip by
// pecks written out.
func (b *bench) drilling(c job.Cut, what string, d drill, holes []toolpath.Hole, wall *figure) toolpath.Operation {
	op := toolpath.Operation{
		Cut: c.Number, Of: c.Name, Name: c.Name + ", " + what, Tool: d.tool, Speed: d.speed.Value, DepthBy: b.by, Makes: holes, Wall: wall,
		Facts: []toolpath.Fact{
			{Name: "speed", Value: d.speed.Value.String(), From: d.speed.From, Source: d.speed.Source},
			{Name: "feed", Value: feedIn(d.feed.Value, b.machine.Units), From: d.feed.From, Source: d.feed.Source},
		},
	}
	for i, h := range holes {
		name := fmt.Sprintf("%s %d of %d", what, i+1, len(holes))
		op.Passes = append(op.Passes, b.peck(name, d, h))
	}
	h := holes[0]
	op.Facts = append(op.Facts,
		toolpath.Fact{Name: "a turn", Value: fine(trade.ToothFeed(d.feed.Value, 1, d.speed.Value), b.machine.Units), From: measure.Derived, Source: "the feed over the speed"},
		toolpath.Fact{Name: "shoulder", Value: "at " + b.both(h.Shoulder), From: measure.Derived, Source: shoulder(h, d.tool)},
		toolpath.Fact{Name: "tip", Value: "at " + b.both(h.Tip), From: measure.Derived, Source: tip(h, d.tool)})
	if deep, most := h.At.Z-h.Shoulder, trade.DeepHole(d.tool.Diameter); deep > most.Value {
		op.Warns = append(op.Warns, fmt.Sprintf("%s: %s deep is over %s (%s): begin it with a short drill, and look at the first hole before the others",
			op.Name, b.both(deep.Round(measure.Micrometre, measure.Nearest)), b.both(most.Value), most.Source))
	}
	if n := feeds(op.Passes[0]); n > 1 {
		op.Facts = append(op.Facts, toolpath.Fact{Name: "pecks", Value: strconv.Itoa(n), From: measure.Handbook, Source: peckRule(b.material.Name)},
			b.backTo(d.tool, h))
	}
	return op
}

// tip says where a hole's tip comes from. A spot that has no full diameter is told by what
// its mark is across.
func tip(h toolpath.Hole, tool toolpath.Cutter) string {
	says := fmt.Sprintf("the dial's depth, a point of %s lower", tool.Tip)
	if tool.Kind == toolpath.SpotDrill && h.Shoulder-h.Tip < tool.Point {
		says = fmt.Sprintf("the dial's depth, a mark of less than the drill's diameter: a point of %s", tool.Tip)
	}
	if p, err := trade.Point(string(tool.Kind)); err == nil && p.Value == tool.Tip {
		says += "; " + p.Source
	}
	return says
}

// shoulder says where a hole's shoulder comes from.
func shoulder(h toolpath.Hole, tool toolpath.Cutter) string {
	if tool.Kind == toolpath.SpotDrill && h.Shoulder-h.Tip < tool.Point {
		return "the top: the mark has no full diameter"
	}
	if h.Through {
		f := trade.BreakThrough(tool.Diameter)
		return "the drawing's depth, from the zero: " + f.Value.String() + " below the underside: " + f.Source
	}
	return "the drawing's depth, from the zero"
}

// pecks is how deep each peck of a hole goes from its top; the last goes to the
// tip. A mark that has no full diameter is made in one.
func (b *bench) pecks(tool toolpath.Cutter, h toolpath.Hole) []measure.Length {
	// What rounding the tip to the grid adds is no depth to ask for another peck.
	deep := (h.At.Z - h.Shoulder).Round(measure.Micrometre, measure.Floor)
	if p := trade.Pecks(deep, tool.Diameter, b.material.Name); len(p) > 0 {
		return p
	}
	return []measure.Length{h.At.Z - h.Tip}
}

// peckRule is the handbook's rule for pecks, in words.
func peckRule(material string) string {
	s, err := trade.PeckRule(material)
	if err != nil {
		return err.Error()
	}
	return s
}

// peck is one hole: over it, down near the metal, pecks with full withdrawal,
// and up.
func (b *bench) peck(name string, d drill, h toolpath.Hole) toolpath.Pass {
	pass := toolpath.Pass{Name: name, Depth: -h.Tip}
	move := func(kind toolpath.Motion, z measure.Length, f measure.Feed) {
		pass.Moves = append(pass.Moves, toolpath.Move{Kind: kind, To: h.At.With(solid.Z, z), Feed: f})
	}
	clearance := b.plane()
	move(toolpath.Rapid, clearance, 0)
	near := b.descend(d.tool, h.At, h.At.Z)
	if near < clearance {
		move(toolpath.Rapid, near, 0)
	}
	heights, lift := b.peckHeights(d.tool, h, near)
	for i, z := range heights {
		move(toolpath.Line, z, d.feed.Value)
		if i < len(heights)-1 {
			move(toolpath.Rapid, near, 0)
			if back := b.grid.Round(solid.Z, z+lift, measure.Ceil); back < near {
				move(toolpath.Rapid, back, 0)
			}
		}
	}
	move(toolpath.Rapid, clearance, 0)
	return pass
}

// descend is how far a cutter may come down by a rapid at a place: to 1 mm above
// the top there, where that keeps 1 mm clear of metal and holding all the way;
// else not at all.
func (b *bench) descend(tool toolpath.Cutter, p solid.Point, top measure.Length) measure.Length {
	over := p.With(solid.Z, b.plane())
	near := p.With(solid.Z, b.grid.Round(solid.Z, top+approach, measure.Ceil))
	if near.Z >= over.Z {
		return over.Z
	}
	for _, part := range parts(tool) {
		sweep := solid.Sweep{Part: part, From: over, To: near}
		for _, h := range b.setup.Holding {
			if solid.Between(sweep, h.Body, approach).Low < approach {
				return over.Z
			}
		}
		for _, m := range b.inTheWay() {
			if solid.Between(sweep, m, approach).Low < approach {
				return over.Z
			}
		}
	}
	return near.Z
}

// wallOf is the least wall a cut's job asks for, nil where it does not.
func wallOf(n *form.Node) *figure {
	if !n.Set("wall_never_less") {
		return nil
	}
	f := n.Figure("wall_never_less")
	return &f
}
