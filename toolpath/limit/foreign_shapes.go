package limit

import (
	"fmt"

	"golang.org/x/exp/slices"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// made is one shape that a cut makes: one of the three is there.
type made struct {
	op      toolpath.Operation
	hole    *toolpath.Hole
	channel []*toolpath.Limit
	outline []*toolpath.Limit
	by      []cutBy // of a hole: the cutters that cut in it
}

// cutBy is a cutter, and the line on which it first cut.
type cutBy struct {
	tool toolpath.Cutter
	line int
}

// holeAt is where a cut's hole stands.
type holeAt struct {
	cut  int
	x, y measure.Length
}

// shapes takes in what the set-up's cuts make.
func (f *Foreign) shapes(s *toolpath.Setup) {
	for i, x := range s.Features {
		if x.Axis != nil && x.Cut > 0 {
			at := holeAt{x.Cut, x.Axis.X, x.Axis.Y}
			f.wider[at] = append(f.wider[at], i)
		}
	}
	for _, op := range s.Operations {
		if _, met := f.ops[op.Cut]; !met {
			f.ops[op.Cut] = op
		}
		f.loose = f.loose || !op.Tool.CentreCut
		for i := range op.Makes {
			h := &op.Makes[i]
			at := cellOf(h.At)
			f.cells[at] = append(f.cells[at], len(f.makes))
			f.wide = max(f.wide, h.Diameter/2)
			f.makes = append(f.makes, made{op: op, hole: h})
		}
	}
	for i := range s.Limits {
		l := &s.Limits[i]
		op, met := f.ops[l.Cut]
		if !met || l.Channel == nil && l.Kind != toolpath.Outline {
			continue
		}
		at := slices.IndexFunc(f.makes, func(m made) bool {
			return m.hole == nil && m.op.Cut == l.Cut && (len(m.channel) > 0 && m.channel[0].Channel == l.Channel || len(m.outline) > 0 && l.Channel == nil)
		})
		if at < 0 {
			at = len(f.makes)
			f.makes = append(f.makes, made{op: op})
		}
		if m := &f.makes[at]; l.Channel != nil {
			m.channel = append(m.channel, l)
		} else {
			m.outline = append(m.outline, l)
		}
	}
}

// nearest is the hole or channel that a stretch stays inside of, or comes nearest to
// that, and the room it has there: below nought it is outside.
func (f *Foreign) nearest(p piece, s toolpath.Step, tool toolpath.Cutter) (best int, room measure.Length) {
	best, room = -1, -solid.Far
	look := func(k int, r measure.Length) {
		if best < 0 || r > room {
			best, room = k, r
		}
	}
	for k := range f.makes {
		if m := &f.makes[k]; len(m.channel) > 0 {
			look(k, channelRoom(m.channel, p, s, tool))
		}
	}
	if len(f.cells) == 0 {
		return best, room
	}
	reach := solid.Point{X: f.wide, Y: f.wide}
	lo, hi := cellOf(p.from.Minus(reach)), cellOf(p.from.Plus(reach))
	for u := lo[0]; u <= hi[0]; u++ {
		for v := lo[1]; v <= hi[1]; v++ {
			for _, k := range f.cells[[2]int64{u, v}] {
				side, deep := holeRoom(*f.makes[k].hole, p, s, tool)
				look(k, min(side, deep))
			}
		}
	}
	if best < 0 { // no hole is near: any of them says so
		for k := range f.makes {
			if f.makes[k].hole != nil {
				side, deep := holeRoom(*f.makes[k].hole, p, s, tool)
				look(k, min(side, deep))
			}
		}
	}
	return best, room
}

// round is the outline that a way stays outside of, or comes nearest to that, and by
// how much; -1 where no outline is cut.
func (f *Foreign) round(w way, s toolpath.Step, tool toolpath.Cutter) (best int, room measure.Length) {
	best, room = -1, -solid.Far
	for k := range f.makes {
		m := &f.makes[k]
		if len(m.outline) == 0 {
			continue
		}
		least := solid.Far
		for _, l := range m.outline {
			t := &tally{asked: l.NeverLess}
			for _, part := range tool.Cutting() {
				f.j.hold(t, w, part, l.Solid, func([3]float64, extent) []toolpath.Share { return nil }, s.Line)
			}
			least = min(least, measure.Length(t.verdict.Planned)-l.NeverLess.Value)
		}
		if best < 0 || least > room {
			best, room = k, least
		}
	}
	return best, room
}

// meetHole holds a stretch against the two sizes of a hole.
func (f *Foreign) meetHole(m *made, op toolpath.Operation, p piece, s toolpath.Step) {
	side, deep := holeRoom(*m.hole, p, s, op.Tool)
	meet := func(name string, room measure.Length, do string) {
		t := f.j.at(op, name, Length, nought, do)
		if room < 0 {
			t.verdict.Do = outsideAdvice
		}
		t.meet(int64(room), int64(room), nil, f.j.here(s.Line))
	}
	meet(holeSide, side, sideAdvice)
	meet(holeDeep, deep, deepAdvice)
}

// cutBy notes which cutter cuts in a hole: the hole is judged at the end, when it is
// known how wide the holes beside it may have come out.
func (f *Foreign) cutBy(m *made, tool toolpath.Cutter, line int) {
	if slices.ContainsFunc(m.by, func(b cutBy) bool { return b.tool.Number == tool.Number }) {
		return
	}
	m.by = append(m.by, cutBy{tool, line})
	wide := f.asks(tool).Oversize.Value
	for _, i := range f.wider[holeAt{m.op.Cut, m.hole.At.X, m.hole.At.Y}] {
		x := &f.j.setup.Features[i]
		if wide <= x.Wider {
			continue
		}
		x.Wider = wide
		if f.last > m.op.Cut { // a wall to it was held already
			f.leave(line, fmt.Sprintf("the metal beside a hole that tool %d cuts wider than the job's own cutter, after what lies beside it was cut", tool.Number))
		}
	}
}

// holes judges each hole that was cut in, as a whole, once for each cutter that did. By
// what the handbook asks of that cutter it is held as the job's own cutter makes it
// too: that one may be asked for what the program's is not, such as metal to the edge.
func (f *Foreign) holes() {
	var last key
	for k := range f.makes {
		m := &f.makes[k]
		for _, b := range m.by {
			if now := (key{m.op.Cut, m.op.Name}); now != last {
				last, f.j.making = now, making{} // it keeps the holes of one operation
			}
			op := f.with(m.op, b.tool)
			f.j.finds(op)
			f.j.hole(op, *m.hole, b.line)
			if b.tool.Number != m.op.Tool.Number {
				op.Tool = m.op.Tool
				f.j.hole(op, *m.hole, b.line)
			}
		}
		m.by = nil
	}
}

// channelRoom is the room that a stretch has in a channel beyond what each of its
// sizes asks.
func channelRoom(sizes []*toolpath.Limit, p piece, s toolpath.Step, tool toolpath.Cutter) measure.Length {
	room := solid.Far
	in := roomIn(*sizes[0].Channel, p, s, tool.Teeth())
	for _, l := range sizes {
		left := in.Side
		switch l.Size {
		case toolpath.SlotEnd:
			left = in.End
		case toolpath.SlotDepth:
			left = in.Floor
		}
		room = min(room, left-l.NeverLess.Value)
	}
	return room
}
