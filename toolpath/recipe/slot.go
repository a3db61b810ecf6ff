package recipe

import (
	"errors"
	"fmt"

	"stopshort/toolpath"
	"stopshort/toolpath/form"
	"stopshort/toolpath/job"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

var slotTable = &form.Table{
	Help: "A straight slot, as wide as its cutter or wider",
	Keys: append([]form.Key{
		{Name: "from", Kind: form.Lengths, Len: 2, Required: true, Help: "one end of its centre line: X, Y; of a closed end the centre of its round"},
		{Name: "to", Kind: form.Lengths, Len: 2, Required: true, Help: "the other end"},
		{Name: "ends", Kind: form.Word, Choices: []string{"open", "closed", "open at from", "open at to"}, Required: true, Help: "an open end runs out of the metal"},
		{Name: "width", Kind: form.Size, Required: true, Above: "0 mm", Help: "as finished"},
		{Name: "width_over", Kind: form.Length, Min: "0 mm", Says: "not counted", Help: "how much wider it may come out; with it the worst case of the width counts"},
		{Name: "depth", Kind: form.Length, Above: "0 mm", Says: "from short_of", Help: "from the set-up's zero down to its floor; a fork's slot, which goes through, is cut from the side with the part turned"},
		{Name: "depth_over", Kind: form.Length, Min: "0 mm", Says: "not counted", Help: "how much deeper it may come out; with it the worst case of the depth counts"},
		{Name: "short_of", Kind: form.Sub, Table: shortOfTable, Help: "what it stops short of; gives the depth where none is given"},
		{Name: "wall_never_less", Kind: form.Length, Min: "0 mm", Says: "1 mm or half the cutter's diameter, the less", Help: "least metal to other bores, edges and the floor"},
		{Name: "climb_finish", Kind: form.Flag, Help: "the finishing pass goes with the cutter's teeth, for its finish; warned of where there is backlash"},
		measureKey,
	}, millingKeys...),
}

var shortOfTable = &form.Table{
	Help: "What a cut stops short of: a bore, or a floor",
	Keys: []form.Key{
		{Name: "bore", Kind: form.Text, Help: "the bore's name"},
		{Name: "floor", Kind: form.Length, Help: "a height, in the set-up's frame"},
		{Name: "leave", Kind: form.Length, Required: true, Above: "0 mm", Help: "what the cut aims to leave"},
		{Name: "never_less", Kind: form.Length, Min: "0 mm", Says: "half of the leave for a web, nine tenths for a wall", Help: "the least that may be left when the errors are counted"},
	},
}

// slot is one slot, being worked out.
type slot struct {
	*bench
	cut      job.Cut
	node     *form.Node
	tool     toolpath.Cutter
	from, to solid.Point // as given; Z is the exact floor once it is known
	open     [2]bool     // from, to
	width    measure.Length
	leave    measure.Length // of short_of
	short    shortOf
	wall     figure
	depth    figure
	top      measure.Length // of the metal where the slot is
	floor    measure.Length // on the grid
	cutting  cutting
	look     *toolpath.Look // before the last pass; nil is none
}

func (b *bench) slot(c job.Cut) error {
	n := c.Node
	s := &slot{bench: b, cut: c, node: n, width: n.Length("width")}
	var ok bool
	if s.tool, ok = b.job.CutTool(n, "tool"); !ok {
		return nil
	}
	if s.tool.Point > 0 {
		n.Fault("tool", "tool %d is a %s: a slot is cut with a slot drill or an end mill", s.tool.Number, s.tool.Kind)
		return nil
	}
	f, t := n.Lengths("from"), n.Lengths("to")
	s.from, s.to = solid.Point{X: f[0], Y: f[1]}, solid.Point{X: t[0], Y: t[1]}
	if s.from == s.to {
		n.Fault("to", "from and to are one place: a slot has a length")
		return nil
	}
	ends := n.Word("ends")
	s.open = [2]bool{ends == "open" || ends == "open at from", ends == "open" || ends == "open at to"}
	s.wall = wallRule().For(s.tool.Diameter)
	if n.Set("wall_never_less") {
		s.wall = n.Figure("wall_never_less")
	}
	if !s.stopsShort() {
		return nil
	}
	if s.cutting, ok = b.cuttingOf(n, s.tool); !ok {
		return nil
	}
	if !s.meetsMetal() {
		return nil
	}
	if ok, err := s.findDepth(); !ok {
		return err
	}
	return s.lay()
}

// shapeBox is the box about the finished slot, as high and as deep as may be.
func (s *slot) shapeBox() solid.Box {
	half := solid.Point{X: s.width / 2, Y: s.width / 2, Z: solid.Far}
	return solid.Box{
		Low:  solid.Point{X: min(s.from.X, s.to.X), Y: min(s.from.Y, s.to.Y)}.Minus(half),
		High: solid.Point{X: max(s.from.X, s.to.X), Y: max(s.from.Y, s.to.Y)}.Plus(half),
	}
}

// meetsMetal asks that the slot, seen from above, lies over the metal, and finds
// the metal's top there.
func (s *slot) meetsMetal() bool {
	box, met := s.shapeBox(), false
	for _, m := range s.now {
		if b := solid.Bounds(m); box.Overlaps(b) {
			if !met || b.High.Z > s.top {
				s.top = b.High.Z
			}
			met = true
		}
	}
	if met {
		return true
	}
	s.node.Fault("from", "the slot meets no metal, which reaches from X %s, Y %s to X %s, Y %s: look at from and to",
		s.metal.Low.X, s.metal.Low.Y, s.metal.High.X, s.metal.High.Y)
	return false
}

// stopsShort reads what the slot stops short of, with its two figures.
func (s *slot) stopsShort() bool {
	n := s.node.Sub("short_of")
	if n == nil {
		if !s.node.Set("depth") {
			s.node.Fault("depth", "the slot has no depth: give depth, or short_of with what it stops short of")
			return false
		}
		return true
	}
	if n.Has("bore") == n.Has("floor") {
		n.Fault("bore", "give either bore or floor: a slot stops short of one thing")
		return false
	}
	s.short.leave = n.Figure("leave")
	s.leave = s.short.leave.Value
	rule := halfOfLeave
	if n.Has("bore") {
		x, ok := s.named(n, "bore")
		if !ok {
			return false
		}
		s.short.bore = x.Name
		if x.upright() && !s.lidded(x) {
			rule = mostOfLeave
		}
	}
	s.short.neverLess = rule(s.short.leave)
	if n.Set("never_less") {
		s.short.neverLess = n.Figure("never_less")
		if s.short.neverLess.Value > s.leave {
			n.Fault("never_less", "%s is more than the %s that the cut leaves: never_less is the least, leave the aim", s.short.neverLess.Value, s.leave)
			return false
		}
	}
	return true
}

// lay works out the passes and the limits, and adds them to the set-up.
func (s *slot) lay() error {
	path, err := s.path()
	if err != nil {
		key := "step"
		if errors.Is(err, errSideSteps) {
			key = "width"
		}
		s.node.Fault(key, "%s", err)
		return nil
	}
	s.cutting.roundArcs(s.bench, s.node, s.tool, path.passes)
	c := s.cutting
	op := toolpath.Operation{
		Cut: s.cut.Number, Of: s.cut.Name, Name: s.cut.Name, Tool: s.tool, Speed: c.speed.Value, DepthBy: s.by, Passes: path.passes, Wall: wallOf(s.node),
		Facts: append([]toolpath.Fact{
			fact("width", s.both(s.width), s.node.Figure("width")),
			fact("depth", s.both(s.depth.Value), s.depth),
			{Name: "passes", Value: fmt.Sprintf("%d of %s or less", path.levels, c.step.Value.In(s.unit())), From: c.step.From, Source: c.step.Source},
		}, c.facts(s.machine.Units)...),
	}
	op.Warns = append(c.warns(s.cut.Name), s.asWide(path)...)
	op.Warns = append(op.Warns, s.deepPass(s.cut.Name, s.tool, c, path.deepest)...)
	s.deepSlot(&op, s.top-s.floor)
	if warn := s.climbs(path); warn != "" {
		op.Warns = append(op.Warns, warn)
	}
	s.out.Operations = append(s.out.Operations, s.inParts(op, s.look, path.finish)...)
	floor := s.wall
	if s.short.bore == "" && s.leave > 0 {
		floor = s.short.neverLess
		z := s.node.Sub("short_of").Length("floor")
		s.out.Limits = append(s.out.Limits, toolpath.Limit{
			Name: "floor at " + z.String(), Kind: toolpath.Floor, Cut: s.cut.Number,
			Solid: below(z), Leave: s.short.leave, NeverLess: s.short.neverLess,
		})
	}
	s.guardBores(s.cut, s.short, s.wall)
	s.guardOutside(s.cut, s.shapeBox(), path.sides, s.wall, floor)
	s.featureSlot(path.track)
	s.guardShape()
	return nil
}

// guardShape keeps the cut inside the slot: its width, its closed ends, its
// depth.
func (s *slot) guardShape() {
	from, to := s.from, s.to
	from.Z, to.Z = -s.depth.Value, -s.depth.Value
	shape := &solid.Channel{From: from, To: to, Width: s.width, OpenFrom: s.open[0], OpenTo: s.open[1]}
	step := max(s.grid.Step(solid.X), s.grid.Step(solid.Y))
	oneStep := figure{Value: -step, From: measure.Default, Source: "one step of the machine's grid"}
	limit := func(name string, what toolpath.SizeKind, nl figure, over string) {
		l := toolpath.Limit{
			Name: name, Kind: toolpath.Size, Size: what, Side: toolpath.KeepIn, Channel: shape,
			Cut: s.cut.Number, NeverLess: nl,
		}
		if s.node.Set(over) {
			l.OverGiven = true
			l.NeverLess = s.node.Figure(over)
			l.NeverLess.Value = -l.NeverLess.Value
			if what == toolpath.SlotWidth {
				l.NeverLess.Value = l.NeverLess.Value.Half(measure.Ceil)
			}
			l.NeverLess.Value = min(l.NeverLess.Value, nl.Value)
		}
		s.out.Limits = append(s.out.Limits, l)
	}
	limit("slot width, each side", toolpath.SlotWidth, oneStep, "width_over")
	if !s.open[0] || !s.open[1] {
		limit("slot end", toolpath.SlotEnd, oneStep, "width_over")
	}
	limit("slot depth", toolpath.SlotDepth, figure{From: measure.Default, Source: "the slot's own depth"}, "depth_over")
}

func fact(name, value string, f figure) toolpath.Fact {
	return toolpath.Fact{Name: name, Value: value, From: f.From, Source: f.Source}
}
