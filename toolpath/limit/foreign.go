package limit

import (
	"fmt"

	"golang.org/x/exp/slices"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// Foreign holds one set-up's limits against a program that was not planned here.
// Nothing is known of what its moves are for, so what the set-up's cuts make is
// allowed as their union and nothing else is: a move that cuts metal must stay
// inside one of the shapes that are made, and is then held against the limits of the
// cut that makes it; one that stays inside none is held against the limits of all
// cuts, and against the shape that it is nearest to staying inside of.
//
// A hole or a part of a cut that the program leaves out breaks no limit.
type Foreign struct {
	j     *Judge
	book  func(toolpath.Cutter) toolpath.Proportions
	books map[int]toolpath.Proportions // by the cutter's number
	makes []made
	ops   map[int]toolpath.Operation // of each cut, one
	cells map[[2]int64][]int         // holes, by where they stand
	wide  measure.Length             // half the widest hole's diameter
	wider map[holeAt][]int           // the set-up's features that are a cut's hole at a place
	last  int                        // the last cut that was held against what others make
	// lowest is the deepest line that ended where the cutter stands in X and Y.
	lowest []toolpath.Step
	loose  bool // some cutter of the job does not cut to its centre
	before map[int]bool
	open   []Open
	taken  []Open
}

// Open is something about a program that is not proved, or that is taken as so.
type Open struct {
	Line  int // the first, from 1; nought is none
	Count int
	Text  string
}

// NewForeign is a judge of programs that were not planned here, for one set-up on
// one machine. name is the program's; book is what the handbook asks of a cutter of the
// set-up, whatever it is used for. The error says that the set-up makes nothing.
func NewForeign(s *toolpath.Setup, m *machines.Machine, name string, book func(toolpath.Cutter) toolpath.Proportions) (*Foreign, error) {
	own := *s
	own.Features = slices.Clone(s.Features) // how wide they come out goes by the program's cutters
	s = &own
	f := &Foreign{
		j: New(s, m), book: book, books: map[int]toolpath.Proportions{}, ops: map[int]toolpath.Operation{},
		cells: map[[2]int64][]int{}, wider: map[holeAt][]int{}, before: map[int]bool{},
	}
	f.j.file = name
	f.shapes(s)
	if len(f.makes) == 0 {
		return nil, fmt.Errorf("set-up %d makes nothing that a program could be held against", s.Number)
	}
	return f, nil
}

// Step judges one step; tool is the cutter that is in.
func (f *Foreign) Step(s toolpath.Step, tool toolpath.Cutter) {
	f.j.travelled(s)
	switch s.Kind {
	case toolpath.Dwell, toolpath.Stop:
	case toolpath.Rapid:
		f.rapid(s, tool)
	default:
		f.feed(s, tool)
	}
	f.stands(s)
}

// Lost takes in a step whose cutter is not known.
func (f *Foreign) Lost(s toolpath.Step, why string) {
	f.j.travelled(s)
	if s.Kind < toolpath.Dwell {
		f.leave(s.Line, why)
	}
	f.stands(s)
}

// Verdicts is the judge's word on everything that was met.
func (f *Foreign) Verdicts() []Verdict {
	f.holes()
	return f.j.Verdicts()
}

// NotProved is what could not be judged.
func (f *Foreign) NotProved() []Open { return f.open }

// Assumed is what the verdicts depend on.
func (f *Foreign) Assumed() []Open { return f.taken }

// leave notes what cannot be judged, by what it is.
func (f *Foreign) leave(line int, text string) { f.open = noted(f.open, line, text) }

func noted(list []Open, line int, text string) []Open {
	for i := range list {
		if list[i].Text == text {
			list[i].Count++
			return list
		}
	}
	return append(list, Open{line, 1, text})
}

// stands keeps how deep was cut where the cutter stands.
func (f *Foreign) stands(s toolpath.Step) {
	same := s.From.AllKnown() && s.To.AllKnown() && s.From.X == s.To.X && s.From.Y == s.To.Y
	if !same && s.Kind < toolpath.Dwell {
		f.lowest = f.lowest[:0]
	}
	if s.Kind == toolpath.Line && s.To.AllKnown() && s.Slack == 0 && (len(f.lowest) == 0 || s.To.Z < f.lowest[0].To.Z) {
		s.Op = -1 // nothing is known of what it is for
		f.lowest = append(f.lowest[:0], s)
	}
}

// rapid is [Judge.rapid] for a program that does not start where ours do: where
// its first rapid goes below the clearance plane, it is taken to come down from there.
func (f *Foreign) rapid(s toolpath.Step, tool toolpath.Cutter) {
	plane := f.j.setup.Clearance
	if !s.From.Known[solid.Z] && s.To.Known[solid.Z] && s.To.Z < plane {
		s.From.Known[solid.Z], s.From.Z = true, plane
	}
	slack := s.Slack
	for _, p := range []*toolpath.Place{&s.From, &s.To} {
		if p.Known[solid.Z] {
			p.Z -= slack
		}
	}
	f.j.finds(toolpath.Operation{})
	s.Op = -1
	f.j.rapid(toolpath.Operation{Tool: tool}, f.lowest, s)
}

// feed judges one step that may cut.
func (f *Foreign) feed(s toolpath.Step, tool toolpath.Cutter) {
	j, own, teeth := f.j, toolpath.Operation{Tool: tool}, tool.Teeth()
	f.rates(own, s)
	if !s.From.AllKnown() || !s.To.AllKnown() {
		f.leave(s.Line, "a cut at a place that is not known")
		return
	}
	j.finds(own)
	f.earlier(tool)
	for _, w := range stretches(s) {
		if s.Kind == toolpath.Arc && s.Plane != toolpath.PlaneXY {
			for _, p := range w.pieces {
				j.travelled(toolpath.Step{Kind: toolpath.Line, From: known(p.from), To: known(p.to)})
			}
		}
		for i := range j.setup.Limits {
			if l := &j.setup.Limits[i]; l.Kind == toolpath.Holding || l.Kind == toolpath.Packing {
				j.holding(own, l, w, s.Line)
			}
		}
		j.above(own, w, s.Line)
		cutting, _ := w.cutting(j.box, teeth.LowRadius)
		// What only touches the metal's top takes none of it.
		cutting.pieces = slices.DeleteFunc(cutting.pieces, func(p piece) bool { return min(p.from.Z, p.to.Z) >= j.box.High.Z })
		if len(cutting.pieces) == 0 {
			continue
		}
		for _, p := range cutting.pieces {
			j.reachOfTeeth(own, p, s.Line)
			j.touchingPlace(own, p, teeth.LowRadius, s.Line)
			if !tool.CentreCut && p.to.Z < p.from.Z {
				j.centre(own, p, s.Line)
			}
			if f.loose {
				j.cut = append(j.cut, stretch{p, teeth.LowRadius, tool.Point})
			}
		}
		f.cuts(cutting, s, tool)
		j.finds(own)
	}
}

func known(p solid.Point) toolpath.Place {
	return toolpath.Place{Point: p, Known: [3]bool{true, true, true}}
}

// rates holds spindle and feeds against what the machine has, where the program says
// them.
func (f *Foreign) rates(own toolpath.Operation, s toolpath.Step) {
	c := f.j.machine.Controller
	if s.Speed == 0 && (c == nil || !c.SetsSpindle) {
		f.taken = noted(f.taken, s.Line, "the spindle, which is set by hand, turns in every cut")
	} else {
		f.j.spindle(own, s)
	}
	if s.Feed == 0 {
		f.leave(s.Line, "a cut whose feed is not said")
		return
	}
	f.j.feeds(own, s)
}

// earlier takes the holes that cutters before this one make in the set-up as made,
// for the metal under its centre.
func (f *Foreign) earlier(tool toolpath.Cutter) {
	if tool.CentreCut || f.before[tool.Number] {
		return
	}
	f.before[tool.Number] = true
	for _, op := range f.j.setup.Operations {
		if op.Tool.Number == tool.Number {
			break
		}
		for _, h := range op.Makes {
			at := h.At.With(solid.Z, h.Tip)
			f.j.cut = append(f.j.cut, stretch{piece{from: at, to: at}, h.Diameter / 2, op.Tool.Point})
			f.taken = noted(f.taken, 0, fmt.Sprintf("the holes that the job's cutters before tool %d make are there", tool.Number))
		}
	}
}

// cuts judges a way that cuts metal: what stays inside a shape that is made, by that
// cut, and the rest by all.
func (f *Foreign) cuts(w way, s toolpath.Step, tool toolpath.Cutter) {
	groups := map[int]*way{}
	var order []int
	put := func(k int, p piece) {
		if groups[k] == nil {
			groups[k] = &way{}
			order = append(order, k)
		}
		groups[k].pieces = append(groups[k].pieces, p)
	}
	const outside = -1
	for _, p := range w.pieces {
		k, room := f.nearest(p, s, tool)
		if room < 0 {
			k = outside
		}
		put(k, p)
	}
	for _, k := range order {
		g := groups[k]
		if len(g.pieces) == len(w.pieces) {
			g.arc = w.arc
		}
		if k != outside {
			f.in(k, *g, s, tool)
			continue
		}
		if o, room := f.round(*g, s, tool); o >= 0 && room >= 0 {
			f.in(o, *g, s, tool)
			continue
		}
		for _, p := range g.pieces {
			one := way{pieces: []piece{p}}
			k, room := f.nearest(p, s, tool)
			if o, r := f.round(one, s, tool); o >= 0 && (k < 0 || r > room) {
				k = o
			}
			f.out(k, one, s, tool)
		}
	}
}

// in judges a way that stays inside a shape that is made.
func (f *Foreign) in(k int, w way, s toolpath.Step, tool toolpath.Cutter) {
	m, j := &f.makes[k], f.j
	op := f.with(m.op, tool)
	j.finds(op)
	j.stickOut(op, s.Line)
	if m.hole != nil {
		for _, p := range w.pieces {
			f.meetHole(m, op, p, s)
		}
		f.cutBy(m, tool, s.Line)
		return
	}
	for i := range j.setup.Limits {
		l := &j.setup.Limits[i]
		if l.Cut == op.Cut && l.Kind != toolpath.Holding && l.Kind != toolpath.Packing {
			j.against(op, l, w, s)
		}
	}
	for _, p := range w.pieces {
		f.beside(op, p, s.Line)
	}
	j.free(op, s.Line)
}

// outsideAdvice is what would do where a program cuts outside of what is made.
const outsideAdvice = "the program cuts what no cut of this set-up makes: correct it, or add the cut to the job"

// out judges a stretch that stays inside nothing that is made; k is what it is
// nearest to.
func (f *Foreign) out(k int, w way, s toolpath.Step, tool toolpath.Cutter) {
	m, j := &f.makes[k], f.j
	for i := range j.setup.Limits {
		l := &j.setup.Limits[i]
		op, met := f.ops[l.Cut]
		shape := l.Channel != nil || l.Kind == toolpath.Outline
		if !met || l.Kind == toolpath.Holding || l.Kind == toolpath.Packing || shape && !slices.Contains(m.channel, l) && !slices.Contains(m.outline, l) {
			continue
		}
		op = f.with(op, tool)
		j.finds(op)
		j.against(op, l, w, s)
		if t := j.tallies[key{op.Cut, l.Name}]; shape && t != nil && t.verdict.Planned < t.verdict.NeverLess {
			t.verdict.Do = outsideAdvice
		}
	}
	op := f.with(m.op, tool)
	j.finds(op)
	j.stickOut(op, s.Line)
	for _, p := range w.pieces {
		if m.hole != nil {
			f.meetHole(m, op, p, s)
		}
		f.beside(op, p, s.Line)
	}
}

// with is an operation as it is with the cutter that cuts: what the handbook asks goes
// by that one. How deep a slot may be is asked of slots alone.
func (f *Foreign) with(op toolpath.Operation, tool toolpath.Cutter) toolpath.Operation {
	slot := op.Book.SlotStop.Value > 0
	op.Tool, op.Book = tool, f.asks(tool)
	if !slot {
		op.Book.SlotWarn.Value, op.Book.SlotStop.Value = 0, 0
	}
	return op
}

// asks is what the handbook asks of a cutter.
func (f *Foreign) asks(tool toolpath.Cutter) toolpath.Proportions {
	b, met := f.books[tool.Number]
	if !met {
		b = f.book(tool)
		f.books[tool.Number] = b
	}
	return b
}

// beside holds a stretch against what other cuts make, and a slot's depth.
func (f *Foreign) beside(op toolpath.Operation, p piece, line int) {
	f.last = max(f.last, op.Cut)
	f.j.wallsOfCut(op, p, line)
	f.j.slotDeep(op, p, line)
}
