package recipe

import (
	"fmt"

	"stopshort/toolpath"
	"stopshort/toolpath/form"
	"stopshort/toolpath/job"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
	"stopshort/toolpath/trade"
)

var spotFaceTable = &form.Table{
	Help: "A flat face sunk about a point, for the head of a screw",
	Keys: append(append([]form.Key{
		{Name: "diameter", Kind: form.Size, Required: true, Above: "0 mm", Help: "as finished"},
		{Name: "deep", Kind: form.Length, Required: true, Above: "0 mm", Help: "from the top down to its floor"},
		{Name: "screw", Kind: form.Text, Help: "the screw whose head stands in it: room for head and key is judged"},
		headKey,
	}, millingKeys...), append(placeKeys[:len(placeKeys):len(placeKeys)], measureKey)...),
}

// spotFace plunges a cutter of the diameter, or circles a smaller one.
func (b *bench) spotFace(c job.Cut) error {
	n := c.Node
	tool, ok := b.job.CutTool(n, "tool")
	if !ok {
		return nil
	}
	at, ok := b.places(n)
	if !ok {
		return nil
	}
	cut, ok := b.cuttingOf(n, tool)
	if !ok {
		return nil
	}
	if tool.Point > 0 {
		n.Fault("tool", "tool %d is a %s: a face is sunk with a flat cutter", tool.Number, tool.Kind)
		return nil
	}
	op := toolpath.Operation{Cut: c.Number, Of: c.Name, Name: c.Name, Tool: tool, Speed: cut.speed.Value, DepthBy: b.by, Wall: wallOf(n), Warns: cut.warns(c.Name)}
	if n.Has("screw") {
		t, err := trade.ThreadNamed(n.Text("screw"))
		if err != nil {
			n.Fault("screw", "%s", err)
			return nil
		}
		head, ok := headOf(n, t)
		if !ok {
			return nil
		}
		op.Screw = &toolpath.Screw{Name: t.Name, Head: max(head.Across, head.Corners), Room: max(head.Across, head.Corners, head.KeyRoom), High: head.High, Sunk: true}
		if w := n.Length("diameter"); w < head.SpotBare {
			n.Fault("diameter", "%s is less than the %s that the handbook gives a spot face for the head of %s (%s)", w, head.SpotBare, t.Name, head.Source)
			return nil
		}
	}
	limit := b.looksFor(c.Number, n)
	var all [][]measure.Length // the levels of each
	for i, p := range at {
		top, ok := b.topAt(n, p)
		if !ok {
			return nil
		}
		h := toolpath.Hole{At: p.With(solid.Z, top), Diameter: n.Length("diameter")}
		h.Shoulder = b.grid.Round(solid.Z, top-n.Length("deep"), measure.Ceil)
		h.Tip = h.Shoulder
		if op.Screw != nil {
			h.Screw = op.Screw.Room
		}
		op.Makes = append(op.Makes, h)
		levels, err := b.sinkLevels(tool, cut, h)
		if err != nil {
			n.Fault("diameter", "%s", err)
			return nil
		}
		if limit != "" {
			levels = b.halved(top, levels)
		}
		if i == 0 && h.Diameter/2-tool.Measured/2 >= b.hair() { // it is circled
			op.Warns = append(op.Warns, b.deepPass(c.Name, tool, cut, deepestPass(top, levels))...)
		}
		op.Passes = append(op.Passes, b.sink(fmt.Sprintf("face %d of %d", i+1, len(at)), tool, cut, h, levels, false))
		all = append(all, levels)
	}
	cut.roundArcs(b, n, tool, op.Passes)
	op.Facts = cut.facts(b.machine.Units)
	if ring := n.Length("diameter") - tool.Measured; ring > 0 {
		op.Facts = append(op.Facts, toolpath.Fact{Name: "circle", Value: "centre on " + b.both(ring), From: measure.Derived,
			Source: fmt.Sprintf("a hole of %s less the cutter's %s; it is cleared from the middle, so no slug is left", n.Length("diameter"), tool.Measured)})
	}
	op.Facts = append(op.Facts, toolpath.Fact{Name: "deep", Value: b.both(n.Length("deep")), From: measure.Given, Source: n.At("deep").String()})
	wall := wallRule().For(n.Length("diameter"))
	if op.Wall != nil {
		wall = *op.Wall
	}
	b.guardBores(c, shortOf{}, wall)
	look := b.look(c.Number, limit, all[0], b.overAxis(limit, op.Makes[0]))
	b.out.Operations = append(b.out.Operations, b.holesInParts(op, look, func(i int, h toolpath.Hole, part toolpath.Part) (toolpath.Hole, toolpath.Pass) {
		last := len(all[i]) - 1
		levels := all[i][last:]
		if part == toolpath.Rough {
			levels = all[i][:last]
			h.Shoulder = all[i][max(last-1, 0)]
			h.Tip = h.Shoulder
		}
		pass := []toolpath.Pass{b.sink(op.Passes[i].Name, tool, cut, h, levels, i == 0 && part == toolpath.Rough)}
		cut.roundArcs(b, n, tool, pass)
		return h, pass[0]
	})...)
	for _, h := range op.Makes {
		b.feature(c, h, false)
	}
	return nil
}

// hair is how far the cutter's centre may be from a circle that it would go round, and is
// left to plunge: what the grid cannot tell.
func (b *bench) hair() measure.Length { return 2 * b.grid.Step(solid.X) }

// mostRounds is how many radii of a cutter lie between the edge of a face and a circle
// that is cleared from its middle, at the most (own choice: a program longer than that
// is no spot face but a pocket, and a larger cutter is at hand).
const mostRounds = 20

// sinkLevels is the heights of a face's passes: one for a cutter of the diameter.
func (b *bench) sinkLevels(tool toolpath.Cutter, cut cutting, h toolpath.Hole) ([]measure.Length, error) {
	radius := tool.Measured / 2
	out := h.Diameter/2 - radius
	if out > 0 && (out > mostRounds*radius || b.machine.Controller == nil) {
		return nil, fmt.Errorf("%s with a cutter of %s on this machine: take a cutter of the diameter", h.Diameter, tool.Measured)
	}
	if out < b.hair() {
		return []measure.Length{h.Shoulder}, nil
	}
	return b.grid.Levels(b.grid.Round(solid.Z, h.At.Z, measure.Ceil), h.Shoulder, cut.step.Value)
}

// sink is one face: straight down, and with a smaller cutter round and round at
// each level, clockwise, so that the wall is on the cutter's left. With looked it stops after
// the first of two levels or more.
func (b *bench) sink(name string, tool toolpath.Cutter, cut cutting, h toolpath.Hole, levels []measure.Length, looked bool) toolpath.Pass {
	pass := toolpath.Pass{Name: name, Depth: -h.Tip}
	add := func(m toolpath.Move) { pass.Moves = append(pass.Moves, m) }
	radius := tool.Measured / 2
	out := h.Diameter/2 - radius
	if out < b.hair() {
		out = 0
	}
	enter := func() {
		add(toolpath.Move{Kind: toolpath.Rapid, To: h.At.With(solid.Z, b.plane())})
		if near := b.descend(tool, h.At, h.At.Z); near < b.plane() {
			add(toolpath.Move{Kind: toolpath.Rapid, To: h.At.With(solid.Z, near)})
		}
	}
	enter()
	for k, z := range levels {
		at := h.At.With(solid.Z, z)
		add(toolpath.Move{Kind: toolpath.Line, To: at, Feed: cut.plunge.Value})
		n := int64((out + radius - 1) / radius)
		for k := int64(1); k <= n; k++ {
			o := b.grid.Round(solid.X, out.MulDiv(k, n, measure.Floor), measure.Floor)
			left, right := at.Plus(solid.Point{X: -o}), at.Plus(solid.Point{X: o})
			add(toolpath.Move{Kind: toolpath.Line, To: left, Feed: cut.feed.Value})
			for _, to := range []solid.Point{right, left} {
				add(toolpath.Move{Kind: toolpath.Arc, To: to, Centre: at, Sense: toolpath.Clockwise, Hollow: true, Feed: cut.feed.Value})
			}
		}
		if n > 0 {
			add(toolpath.Move{Kind: toolpath.Line, To: at, Feed: cut.feed.Value})
		}
		if looked && k == 0 && len(levels) > 1 {
			pass.Moves = append(pass.Moves, b.firstLook("first face", at, tool)...)
			enter()
		}
	}
	add(toolpath.Move{Kind: toolpath.Rapid, To: h.At.With(solid.Z, b.plane())})
	return pass
}
