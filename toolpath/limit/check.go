package limit

import (
	"golang.org/x/exp/slices"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// Judge holds one set-up's limits against the traces of its programs, in their
// order.
type Judge struct {
	setup   *toolpath.Setup
	machine *machines.Machine
	metal   []solid.Body    // as the operation in hand finds it
	box     solid.Box       // about it
	touch   *measure.Length // how far the touching place is on the metal, once it is known
	file    string          // of the program in hand
	look    *toolpath.Look  // what was measured before the cut in hand; nil is nothing
	order   []key
	tallies map[key]*tally
	cut     []stretch            // what was cut so far, for the metal under a cutter's centre
	index   *index               // of what earlier cuts and set-ups have made
	making  making               // the hole in hand
	begun   map[key]bool         // operations that make holes and were met
	reach   [3][2]measure.Length // how far each axis goes, low and high
}

// key names a verdict: which limit of which cut.
type key struct {
	cut  int
	name string
}

// stretch is a piece of metal's removal.
type stretch struct {
	piece
	radius measure.Length
	point  measure.Length // of the cutter
}

// New is a judge for one set-up on one machine.
func New(s *toolpath.Setup, m *machines.Machine) *Judge {
	nowhere := [2]measure.Length{solid.Far, -solid.Far}
	j := &Judge{setup: s, machine: m, tallies: map[key]*tally{}, begun: map[key]bool{}, reach: [3][2]measure.Length{nowhere, nowhere, nowhere}}
	j.finds(toolpath.Operation{})
	return j
}

// finds takes the metal as an operation finds it: the set-up's, or what a profile
// before it has left.
func (j *Judge) finds(op toolpath.Operation) {
	j.metal = j.setup.Metal
	if op.Metal != nil {
		j.metal = op.Metal
	}
	for i, b := range j.metal {
		if i == 0 {
			j.box = solid.Bounds(b)
		}
		j.box = j.box.With(solid.Bounds(b))
	}
}

// obstacles is all metal that may be in the way of what does not cut: the set-up's
// as it began, since what is cut of it is not counted, and what may stand there
// besides.
func (j *Judge) obstacles() []solid.Body {
	return append(j.setup.Metal[:len(j.setup.Metal):len(j.setup.Metal)], j.setup.Beside...)
}

// beside is all metal that a cut may find beside it.
func (j *Judge) beside() []solid.Body {
	return append(j.metal[:len(j.metal):len(j.metal)], j.setup.Beside...)
}

// here is a line of the program that is being judged.
func (j *Judge) here(line int) place { return place{j.file, line} }

// Program judges one program's trace. file is its name, empty where the trace
// has no text; ops are the operations that the steps' Op counts.
func (j *Judge) Program(file string, ops []toolpath.Operation, t *toolpath.Trace) {
	j.file = file
	for i, s := range t.Steps {
		j.travelled(s)
		if s.Kind == toolpath.Dwell || s.Kind == toolpath.Stop {
			continue
		}
		op := toolpath.Operation{Name: "", Tool: ops[0].Tool}
		if s.Op >= 0 && s.Op < len(ops) {
			op = ops[s.Op]
		}
		j.finds(op)
		j.look = nil
		if op.Part == toolpath.Finish && op.Look.Taken != nil {
			j.look = op.Look
		}
		if s.Kind == toolpath.Rapid {
			j.rapid(op, t.Steps[:i], s)
			continue
		}
		j.feed(op, s)
	}
	j.leftOut(ops)
}

// Verdicts is the judge's word on everything that was met, in the order it was
// met.
func (j *Judge) Verdicts() []Verdict {
	j.finishHoles()
	j.travels()
	out := make([]Verdict, 0, len(j.order))
	// By cut, those of the whole set-up last; within a cut as they were met.
	slices.SortStableFunc(j.order, func(a, b key) int {
		if (a.cut == 0) != (b.cut == 0) {
			return b.cut - a.cut
		}
		return a.cut - b.cut
	})
	for _, k := range j.order {
		out = append(out, j.tallies[k].close())
	}
	return out
}

// at is the tally of a limit, made on its first meeting.
func (j *Judge) at(op toolpath.Operation, name string, unit Unit, neverLess measure.Figure[measure.Length], do string) *tally {
	k := key{op.Cut, name}
	t := j.tallies[k]
	if t == nil {
		t = &tally{verdict: Verdict{
			Setup: j.setup.Name, Cut: op.Of, Number: [2]int{j.setup.Number, op.Cut}, Limit: name, Unit: unit,
			NeverLess: int64(neverLess.Value), From: neverLess.From, Source: neverLess.Source, Do: do,
		}}
		j.tallies[k] = t
		j.order = append(j.order, k)
	}
	t.asked = neverLess
	return t
}

// nought is the never-less of a clearance.
var nought = measure.Figure[measure.Length]{From: measure.Default, Source: "nought for a clearance"}

// feed judges one step that may cut.
func (j *Judge) feed(op toolpath.Operation, s toolpath.Step) {
	j.rates(op, s)
	j.stickOut(op, s.Line)
	j.free(op, s.Line)
	teeth := op.Tool.Teeth()
	holes := len(op.Makes) > 0
	for _, w := range ways(s) {
		cutting, cuts := w.cutting(j.box, teeth.LowRadius)
		for i := range j.setup.Limits {
			l := &j.setup.Limits[i]
			if l.Cut != 0 && l.Cut != op.Cut {
				continue
			}
			switch {
			case l.Kind == toolpath.Holding || l.Kind == toolpath.Packing:
				j.holding(op, l, w, s.Line)
			case cuts && !holes: // a hole is judged as a whole: see hole.go
				j.against(op, l, cutting, s)
			}
		}
		for _, p := range cutting.pieces {
			if holes {
				j.inHole(op, p, s)
			} else {
				j.wallsOfCut(op, p, s.Line)
				j.slotDeep(op, p, s.Line)
			}
			j.reachOfTeeth(op, p, s.Line)
			j.touchingPlace(op, p, teeth.LowRadius, s.Line)
			if !op.Tool.CentreCut && p.to.Z < p.from.Z {
				j.centre(op, p, s.Line)
			}
			j.cut = append(j.cut, stretch{p, teeth.LowRadius, op.Tool.Point})
		}
		j.above(op, w, s.Line)
	}
}

// against holds the teeth on a way that cuts against one limit.
func (j *Judge) against(op toolpath.Operation, l *toolpath.Limit, w way, s toolpath.Step) {
	teeth := op.Tool.Teeth()
	near := w
	if l.Within != nil {
		near.pieces = nil
		for _, p := range w.pieces {
			if p.near(*l.Within, teeth.LowRadius) {
				near.pieces = append(near.pieces, p)
			}
		}
	}
	switch {
	case len(near.pieces) == 0:
	case l.Side == toolpath.KeepIn:
		for _, p := range near.pieces {
			j.keepIn(op, l, p, s)
		}
	case l.Kind == toolpath.Floor && l.Name == "floor" && len(j.metal) > 1:
		t := j.at(op, l.Name, Length, l.NeverLess, keepOutAdvice[l.Kind])
		t.verdict.Deep = true
		for _, p := range near.pieces {
			left := j.floorUnder(p, teeth.LowRadius)
			t.meet(int64(left), int64(left), j.errorsAlong([3]float64{0, 0, 1}, p.sweep(teeth)), j.here(s.Line))
		}
	case l.Kind == toolpath.Edge:
		for _, p := range near.pieces {
			j.edge(op, l, p, teeth.LowRadius, s.Line)
		}
	default:
		j.keepOut(op, l, near, s.Line)
	}
}

// keepOut holds the teeth against a solid that must not come too near.
func (j *Judge) keepOut(op toolpath.Operation, l *toolpath.Limit, w way, line int) {
	t, shares := j.toKeepOut(op, l)
	for _, part := range op.Tool.Cutting() {
		j.hold(t, w, part, l.Solid, shares, line)
	}
}

// keepOutSweep is keepOut for a volume that is cut, with what it may come out wider.
func (j *Judge) keepOutSweep(op toolpath.Operation, l *toolpath.Limit, sweep solid.Sweep, wider measure.Figure[measure.Length], line int) {
	t, shares := j.toKeepOut(op, l)
	if wider.Value > 0 {
		machine := shares
		shares = func(dir [3]float64, at extent) []toolpath.Share {
			return append(machine(dir, at), oversize(dir, wider.Value, wider.Source)...)
		}
	}
	j.holdSweep(t, sweep, l.Solid, shares, line)
}

// toKeepOut is the tally of a solid that must not come too near, and the shares
// that count for it: the machine's errors, and what is not known of the solid.
func (j *Judge) toKeepOut(op toolpath.Operation, l *toolpath.Limit) (*tally, sharing) {
	t := j.at(op, l.Name, Length, l.NeverLess, keepOutAdvice[l.Kind])
	if l.Leave.Value > 0 {
		v := int64(l.Leave.Value)
		t.verdict.Leave = &v
	}
	t.verdict.Pin = int64(l.Pin)
	if l.Kind == toolpath.Outline { // no tolerance is asked of the outside, so none is held
		return t, func([3]float64, extent) []toolpath.Share { return nil }
	}
	t.verdict.Deep = l.Kind == toolpath.Web || l.Kind == toolpath.Floor
	if j.look != nil && j.look.Direct && j.look.Limit == l.Name { // it was measured itself
		return t, func(dir [3]float64, at extent) []toolpath.Share {
			return kept(append(j.measured(dir), j.errorsAside(dir, at)...))
		}
	}
	own := kept(append([]toolpath.Share(nil), l.Uncertain...))
	return t, func(dir [3]float64, at extent) []toolpath.Share {
		return append(j.errorsOver(dir, at), own...)
	}
}

// most is no less than what the machine's errors add up to in any direction.
func (j *Judge) most(sweep solid.Sweep) measure.Length {
	return total(j.errorsAlong([3]float64{1, 1, 1}, sweep))
}

// keepOutAdvice is what would do, by kind of limit.
var keepOutAdvice = map[toolpath.LimitKind]string{
	toolpath.Web:     "cut less deep, or move the cut away from the bore",
	toolpath.Wall:    "move the cut away from the bore, or make it narrower",
	toolpath.Edge:    "move the cut inwards, or make it narrower; an end that runs out is said with ends",
	toolpath.Floor:   "cut less deep, or from the side with the part turned where it is to go through",
	toolpath.Packing: "cut less deep, lower the packing, or say how far it may be cut",
	toolpath.Holding: "lower or move what holds the part, or move the cut",
	toolpath.Outline: "a fault of the program: it cuts into the finished part",
}

// holding holds every part of the cutter against jaws, clamps and packing.
func (j *Judge) holding(op toolpath.Operation, l *toolpath.Limit, w way, line int) {
	t := j.at(op, l.Name, Length, l.NeverLess, keepOutAdvice[l.Kind])
	for _, part := range stack(op.Tool) {
		j.hold(t, w, part, l.Solid, j.errorsOver, line)
	}
}

// stack is the parts of a cutter, from the tip upwards.
func stack(c toolpath.Cutter) []solid.Part {
	s := c.Cutting()
	if shank, ok := c.ShankPart(); ok {
		s = append(s, shank)
	}
	return append(s, c.HolderPart())
}

// above holds what does not cut, the shank and the holder, against the metal.
func (j *Judge) above(op toolpath.Operation, w way, line int) {
	parts := stack(op.Tool)[len(op.Tool.Cutting()):]
	for i, part := range parts {
		name := "shank to the metal"
		if i == len(parts)-1 {
			name = "holder to the metal"
		}
		t := j.at(op, name, Length, nought, "take a longer cutter, let it stick out further, or cut less deep")
		for _, m := range j.obstacles() {
			j.hold(t, w, part, m, j.errorsOver, line)
		}
	}
}

// reachOfTeeth asks that the flutes reach up to the metal's top.
func (j *Judge) reachOfTeeth(op toolpath.Operation, p piece, line int) {
	t := j.at(op, "flutes over the depth", Length, nought, "take a cutter with longer flutes, or cut less deep")
	left := int64(op.Tool.FluteLength - (j.topNear(p, op.Tool.Teeth().LowRadius) - min(p.from.Z, p.to.Z)))
	t.meet(left, left, j.errorsAlong([3]float64{0, 0, 1}, p.sweep(op.Tool.Teeth())), j.here(line))
}
