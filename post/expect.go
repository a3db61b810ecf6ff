package post

import (
	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// asked is what a program's text must read as on a machine: the plan's trace with the
// length offsets and the coolant of the machine's dialect, and the state at the end:
// every mode was said, and nothing is on.
func asked(p toolpath.Program, m *machines.Machine) *toolpath.Trace {
	t, c := expected(p), m.Controller
	var flows toolpath.Coolant
	for _, word := range c.HeadWords {
		switch word {
		case "M7":
			flows |= toolpath.Mist
		case "M8":
			flows |= toolpath.Flood
		}
	}
	for i := range t.Steps {
		s := &t.Steps[i]
		if c.ToolLengths {
			s.Offset = s.Tool
		}
		changing := i > 0 && s.Op < 0 && s.Kind != toolpath.Dwell
		if looking := s.Kind == toolpath.Stop; !changing && !looking {
			s.Coolant = flows
		}
	}
	t.Left = toolpath.Left{Plane: toolpath.PlaneXY, Unit: c.NativeUnits.Size(), Stated: true}
	return t
}

// expected is the trace that a program's plan asks for: the lift to the clearance
// plane, the wait for the spindle, every move of every pass, in order. The lines
// are the moves' own count, for a machine that has no text.
func expected(p toolpath.Program) *toolpath.Trace {
	e := &expectation{}
	if p.Change == toolpath.ByCode {
		e.tool = p.Tool().Number
	}
	e.at.Point.Z = p.Setup.Clearance
	e.at.Known[2] = true
	e.add(toolpath.Step{Kind: toolpath.Rapid, From: toolpath.Place{}, To: e.at, Op: -1})
	for i, op := range p.Operations {
		if i > 0 && op.Tool.Number != p.Operations[i-1].Tool.Number {
			e.change(p, op)
		}
		if i == 0 || op.Speed != e.speed {
			e.speed = op.Speed
			if p.SpinUp > 0 {
				e.add(toolpath.Step{Kind: toolpath.Dwell, From: e.at, To: e.at, Time: p.SpinUp, Op: -1})
			}
		}
		for _, pass := range op.Passes {
			for _, m := range pass.Moves {
				if m.Kind == toolpath.Stop {
					e.stop(p, i)
					continue
				}
				e.move(m, i)
			}
		}
	}
	e.trace.Ended = true
	return &e.trace
}

type expectation struct {
	trace toolpath.Trace
	at    toolpath.Place
	speed measure.Speed
	tool  int
}

func (e *expectation) add(s toolpath.Step) {
	s.Speed, s.Tool = e.speed, e.tool
	s.Line = len(e.trace.Steps) + 1
	e.trace.Steps = append(e.trace.Steps, s)
}

// stop is the operator looking: the spindle off, and on again afterwards.
func (e *expectation) stop(p toolpath.Program, op int) {
	speed := e.speed
	e.speed = 0
	e.add(toolpath.Step{Kind: toolpath.Stop, From: e.at, To: e.at, Op: op})
	e.speed = speed
	if p.SpinUp > 0 {
		e.add(toolpath.Step{Kind: toolpath.Dwell, From: e.at, To: e.at, Time: p.SpinUp, Op: op})
	}
}

// change is another tool put in: no place is known after it, and the cutter rises
// anew.
func (e *expectation) change(p toolpath.Program, op toolpath.Operation) {
	e.speed = 0
	if p.Change == toolpath.ByPause {
		e.add(toolpath.Step{Kind: toolpath.Stop, From: e.at, To: e.at, Op: -1})
	}
	e.tool, e.at = op.Tool.Number, toolpath.Place{}
	to := e.at
	to.Z, to.Known[2] = p.Setup.Clearance, true
	e.add(toolpath.Step{Kind: toolpath.Rapid, From: e.at, To: to, Op: -1})
	e.at = to
}

func (e *expectation) move(m toolpath.Move, op int) {
	to := toolpath.Place{Point: m.To, Known: [3]bool{true, true, true}}
	s := toolpath.Step{Kind: m.Kind, From: e.at, To: to, Op: op}
	if m.Kind == toolpath.Line || m.Kind == toolpath.Arc {
		s.Feed = m.Feed
	}
	if m.Kind == toolpath.Dwell {
		s.Time = m.Time
	}
	if m.Kind == toolpath.Arc {
		s.Centre, s.Sense = m.Centre, m.Sense
		s.Centre.Z = 0
	}
	e.at = to
	e.add(s)
}
