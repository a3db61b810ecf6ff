package recipe

import (
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/plan"
	"stopshort/toolpath/solid"
)

// holesInParts is an operation that makes holes, or its two where they are measured
// before their last pass. of gives each hole as a part leaves it, and the part's pass.
func (b *bench) holesInParts(op toolpath.Operation, look *toolpath.Look, of func(i int, h toolpath.Hole, part toolpath.Part) (toolpath.Hole, toolpath.Pass)) []toolpath.Operation {
	if look == nil {
		return []toolpath.Operation{op}
	}
	look.What = "from the touched face down to the floor of the first one"
	if op.Tool.Point > 0 {
		look.What = "from the touched face down to the bottom of the first hole, at its middle"
	}
	if look.Direct {
		look.What = b.overPin(look.Limit) + " under the first one"
	}
	parts := b.inParts(op, look, 0)
	for k := range parts {
		p := &parts[k]
		p.Passes, p.Makes = nil, nil
		for i := range op.Makes {
			h, pass := of(i, op.Makes[i], p.Part)
			pass.Depth = -h.Tip
			p.Makes, p.Passes = append(p.Makes, h), append(p.Passes, pass)
		}
	}
	b.onStop(parts[0])
	parts[0].Screw = nil // it goes into the finished holes
	return parts
}

// stages is how deep a drilled hole is before its last peck, which is kept short, and at its
// end: the end alone where it is too shallow for two.
func (b *bench) stages(tool toolpath.Cutter, h toolpath.Hole) []measure.Length {
	pecks := b.pecks(tool, h)
	before := h.Tip + min((h.At.Z-h.Tip)/2, plan.LastPeck(tool))
	if n := len(pecks); n > 1 {
		before = min(before, h.At.Z-pecks[n-2])
	}
	before = b.grid.Round(solid.Z, before, measure.Ceil)
	if before <= h.Tip || before+tool.Point >= h.At.Z || h.At.Z-h.Tip < leastSplit {
		return []measure.Length{h.Tip}
	}
	return []measure.Length{before, h.Tip}
}

// stroke is one hole that was drilled before, but for its last peck: down to its tip at
// the feed, and up.
func (b *bench) stroke(name string, d drill, h toolpath.Hole) toolpath.Pass {
	pass := toolpath.Pass{Name: name, Depth: -h.Tip}
	move := func(kind toolpath.Motion, z measure.Length) {
		m := toolpath.Move{Kind: kind, To: h.At.With(solid.Z, z)}
		if kind == toolpath.Line {
			m.Feed = d.feed.Value
		}
		pass.Moves = append(pass.Moves, m)
	}
	move(toolpath.Rapid, b.plane())
	if near := b.descend(d.tool, h.At, h.At.Z); near < b.plane() {
		move(toolpath.Rapid, near)
	}
	move(toolpath.Line, h.Tip)
	move(toolpath.Rapid, b.plane())
	return pass
}

// overAxis is the bore that a limit's web is over, where it lies along X or Y with its axis
// straight under a hole.
func (b *bench) overAxis(limit string, h toolpath.Hole) *bore {
	for i, x := range b.bores {
		a, straight := x.solid.Axis()
		if limit != webTo(x.Name) || !straight || a == solid.Z {
			continue
		}
		side, box := solid.X+solid.Y-a, solid.Bounds(x.solid)
		if (h.At.Along(side)-x.solid.From.Along(side)).Abs() <= h.Diameter/2 && box.Low.Along(a) <= h.At.Along(a) && h.At.Along(a) <= box.High.Along(a) {
			return &b.bores[i]
		}
	}
	return nil
}
