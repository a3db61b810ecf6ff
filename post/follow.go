package post

import (
	"fmt"

	"stopshort/machines"
	"stopshort/post/handwheel/addup"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// follower holds a set-up's steps, as its table adds up, against its plan: every
// planned move is come to in order; what the table adds, going past to take up the
// play, are movements with the cutter lifted, which the judge judges like any. A cut
// stands where the plan says, to the tenth of a nanometre that a dial's line may lie
// off a whole one, or, where it runs against the side from which positions are met,
// less than a step of the dial short of it. A lift may be up to two steps higher.
type follower struct {
	setup *toolpath.Setup
	steps []toolpath.Step
	k     int
	grid  [3]measure.Length // a step of each dial, rounded up
	at    solid.Point       // planned
	least measure.Feed
	polar bool // the last planned place was come to on the rotary table
}

func sameByHand(s *toolpath.Setup, set addup.Set, m *machines.Machine) *Fault {
	if len(set.Cuts) != len(s.Operations) {
		return &Fault{Name: TableName, Text: fmt.Sprintf("it has %d cuts and the plan %d", len(set.Cuts), len(s.Operations))}
	}
	if fault := zeros(s, set, m); fault != nil {
		return fault
	}
	f := &follower{setup: s, steps: set.Trace.Steps, least: m.Feeds.Low}
	for a := range f.grid {
		f.grid[a] = m.Axes[a].StepValue().Times(1, measure.Ceil)
	}
	for i, op := range s.Operations {
		if set.Cuts[i].Tool != op.Tool.Number {
			return &Fault{Name: TableName, Text: fmt.Sprintf("cut %d has tool %d and the plan tool %d", i+1, set.Cuts[i].Tool, op.Tool.Number)}
		}
		z, _ := m.ZAxis(op.DepthBy)
		f.grid[2] = z.StepValue().Times(1, measure.Ceil)
		if fault := f.stops(set.Cuts[i], op); fault != nil {
			return fault
		}
		for _, pass := range op.Passes {
			for _, mv := range pass.Moves {
				if fault := f.move(i, op, mv); fault != nil {
					return fault
				}
			}
		}
		if op.Part == toolpath.Rough {
			if fault := f.halt(i, op); fault != nil {
				return fault
			}
		}
		for f.k < len(f.steps) && f.steps[f.k].Op == i {
			if f.steps[f.k].Kind != toolpath.Rapid {
				return f.fault("it cuts on after the plan's last move of %s", op.Name)
			}
			f.k++
		}
	}
	if f.k < len(f.steps) {
		return f.fault("it goes on after the plan's end")
	}
	return nil
}

// zeros holds the rows that set a dial: X and Y at the set-up's zero, Z on the face that
// is touched, less than a step of the dial below it, over the place that the job names.
func zeros(s *toolpath.Setup, set addup.Set, m *machines.Machine) *Fault {
	for _, d := range set.Dials {
		wrong := func(format string, args ...any) *Fault {
			return &Fault{Name: TableName, Line: d.Row, Text: fmt.Sprintf(format, args...)}
		}
		if d.Axis < 2 {
			if v := d.At.Along(solid.Axis(d.Axis)); v != 0 {
				return wrong("the zero of %s is set to %s", solid.Axis(d.Axis), v.MM())
			}
			continue
		}
		if d.Cut < 0 || d.Cut >= len(s.Operations) {
			return wrong("Z is touched outside any cut")
		}
		z, _ := m.ZAxis(s.Operations[d.Cut].DepthBy)
		if off := s.Top - d.At.Z; off < -1 || off >= z.StepValue().Times(1, measure.Ceil) {
			return wrong("the touched face stands at %s and the dial is set to %s", s.Top.MM(), d.At.Z.MM())
		}
		for a, want := range s.Touch {
			if off := (d.At.Along(solid.Axis(a)) - want).Abs(); off >= m.Axes[a].StepValue().Times(1, measure.Ceil) {
				return wrong("Z is touched at %s %s and the job says %s", solid.Axis(a), d.At.Along(solid.Axis(a)).MM(), want.MM())
			}
		}
	}
	return nil
}

// told is how far above its place a nut may be told to stand: two figures, each rounded to
// the shallow side.
const told = 52_000

// stops holds where a cut's rows say that its depth stops: between its deepest place and,
// on a nut, where the nut stands. A nut is told no deeper than it is to stand.
func (f *follower) stops(c addup.Cut, op toolpath.Operation) *Fault {
	low := op.Deepest()
	stop := low
	if op.Nut != nil {
		stop = min(stop, *op.Nut)
	}
	if c.Stop == nil || *c.Stop < stop-600 || *c.Stop > low+600 {
		return f.fault("the stop of %s is not told, or not at its deepest place %s", op.Name, low.MM())
	}
	for _, at := range c.Nut {
		if op.Nut == nil || at < *op.Nut || at > *op.Nut+told {
			return f.fault("the nut of %s is told at %s, and its deepest place is %s", op.Name, at.MM(), low.MM())
		}
	}
	return nil
}

func (f *follower) fault(format string, args ...any) *Fault {
	line := 0
	if f.k < len(f.steps) {
		line = f.steps[f.k].Line
	}
	return &Fault{Name: TableName, Line: line, Text: fmt.Sprintf(format, args...)}
}

// move finds one planned move among the steps.
func (f *follower) move(i int, op toolpath.Operation, mv toolpath.Move) *Fault {
	if mv.Kind == toolpath.Stop {
		return f.halt(i, op)
	}
	from := f.at
	f.at = mv.To
	defer func() { f.polar = mv.Polar.On }()
	switch {
	case mv.Kind == toolpath.Rapid:
		f.polar = f.polar || mv.Polar.On
		for !f.reached(mv.To) {
			if f.k >= len(f.steps) || f.steps[f.k].Op != i || f.steps[f.k].Kind != toolpath.Rapid {
				return f.fault("it does not come to the planned X%s Y%s Z%s", mv.To.X.MM(), mv.To.Y.MM(), mv.To.Z.MM())
			}
			f.take(mv.To, from)
		}
		return nil
	case mv.To == from:
		return nil
	}
	for f.k < len(f.steps) && f.steps[f.k].Op == i && f.steps[f.k].Kind == toolpath.Rapid {
		f.take(from, from)
	}
	if !f.reached(from) {
		return f.fault("the cut does not begin at the planned X%s Y%s Z%s", from.X.MM(), from.Y.MM(), from.Z.MM())
	}
	if f.k >= len(f.steps) || f.steps[f.k].Op != i {
		return f.fault("a planned cut is missing from %s", op.Name)
	}
	f.take(mv.To, from)
	s := f.steps[f.k-1]
	f.k--
	defer func() { f.k++ }()
	switch {
	case s.Kind != mv.Kind:
		return f.fault("it reads as a %s and the plan asks for a %s", s.Kind, mv.Kind)
	case s.Speed != op.Speed:
		return f.fault("the spindle turns at %s and the plan asks for %s", s.Speed, op.Speed)
	case s.Feed > mv.Feed && s.Feed > f.least+f.least/4:
		return f.fault("it is fed at %s and the plan asks for %s", s.Feed, mv.Feed)
	}
	if mv.Kind == toolpath.Arc {
		return f.arc(mv, s, from)
	}
	if mv.Polar.On { // the wheels stand at the radius and the angle
		return f.ray(mv, s, from)
	}
	for a := range f.grid {
		was, want, is := from.Along(solid.Axis(a)), mv.To.Along(solid.Axis(a)), s.To.Along(solid.Axis(a))
		short := want - is
		if want < was {
			short = -short
		}
		if want == was {
			short = short.Abs()
		}
		if short < 0 || short >= f.grid[a] {
			return f.fault("%s stands at %s and the plan asks for %s", solid.Axis(a), is.MM(), want.MM())
		}
	}
	return nil
}

// halt finds the place where the operator is told to look or to measure, with the spindle
// off and the cutter at the clearance plane.
func (f *follower) halt(i int, op toolpath.Operation) *Fault {
	for f.k < len(f.steps) && f.steps[f.k].Op == i && f.steps[f.k].Kind == toolpath.Rapid {
		f.take(f.at, f.at)
	}
	if f.k >= len(f.steps) || f.steps[f.k].Op != i || f.steps[f.k].Kind != toolpath.Stop {
		return f.fault("the measuring in %s is missing", op.Name)
	}
	if s := f.steps[f.k]; s.Speed != 0 || !f.reached(f.at) {
		return f.fault("the measuring in %s is not told with the spindle off and the cutter lifted", op.Name)
	}
	f.k++
	return nil
}

// near is how far a place on a rotary table may be from the plan's: both are worked out
// to the nearest tenth of a nanometre, the turned one from two products.
const near = 2

// arc holds a cut round the rotary table: about the zero, anticlockwise, to the planned
// angle, no further in than the planned radius and less than a step of X further out.
func (f *follower) arc(mv toolpath.Move, s toolpath.Step, from solid.Point) *Fault {
	if s.Sense != mv.Sense || s.Centre.X != mv.Centre.X || s.Centre.Y != mv.Centre.Y {
		return f.fault("it goes round another way than planned")
	}
	return f.ray(mv, s, from)
}

// ray holds a place that is come to on the rotary table: on the planned angle, and less
// than a step of X short of its radius.
func (f *follower) ray(mv toolpath.Move, s toolpath.Step, from solid.Point) *Fault {
	off := func(radius measure.Length) measure.Length {
		p := toolpath.Polar{Radius: radius, Angle: mv.Polar.Angle}.Place(mv.To.Z)
		return max((p.X - s.To.X).Abs(), (p.Y - s.To.Y).Abs())
	}
	r, _ := solid.Hypot(s.To.X, s.To.Y)
	out := r - mv.Polar.Radius
	if was, _ := solid.Hypot(from.X, from.Y); was < mv.Polar.Radius-near { // it goes outward
		out = -out
	}
	up := s.To.Z - mv.To.Z
	if out < -near || out >= f.grid[0] || min(off(r), off(r+1)) > near || up < 0 || up >= f.grid[2] {
		return f.fault("it ends at X%s Y%s Z%s and the plan asks for X%s Y%s Z%s",
			s.To.X.MM(), s.To.Y.MM(), s.To.Z.MM(), mv.To.X.MM(), mv.To.Y.MM(), mv.To.Z.MM())
	}
	return nil
}

// reached tells whether the cutter stands at a planned place, after the last step
// that was taken: to less than a step aside, no lower, and less than two steps higher.
func (f *follower) reached(p solid.Point) bool {
	if f.k == 0 {
		return false
	}
	at := f.steps[f.k-1].To
	up := at.Z - p.Z
	x, y := f.grid[0], f.grid[1]
	if f.polar { // what is short on the X slide lies any way over the work
		y = max(x, y)
		x = y
	}
	return at.AllKnown() && (at.X-p.X).Abs() < x && (at.Y-p.Y).Abs() < y && up >= 0 && up < 2*f.grid[2]
}

// take takes a step, with each coordinate that is a planned one to the tenth of a
// nanometre put on it: the line is the same, and the plan has rounded it to its safe
// side.
func (f *follower) take(to, from solid.Point) {
	s := &f.steps[f.k]
	for a := range f.grid {
		axis := solid.Axis(a)
		if f.k > 0 && s.From.Known[a] {
			if v := f.steps[f.k-1].To.Along(axis); (s.From.Along(axis) - v).Abs() <= 1 {
				s.From.Point = s.From.With(axis, v)
			}
		}
		for _, p := range []solid.Point{to, from} {
			if v := p.Along(axis); s.To.Known[a] && (s.To.Along(axis)-v).Abs() <= 1 {
				s.To.Point = s.To.With(axis, v)
				break
			}
		}
	}
	f.k++
}
