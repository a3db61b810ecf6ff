package post

import (
	"errors"
	"reflect"
	"testing"

	"golang.org/x/exp/slices"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/plan"
	"stopshort/toolpath/solid"
)

// planMutants are the kinds of fault in a plan; each changes the operations, which are
// its own, and tells whether it fits. The step is the output's.
var planMutants = []struct {
	name string
	do   func(p *toolpath.Program, step measure.Length) bool
}{
	{"Z one step down", inMoves(func(m *toolpath.Move, step measure.Length) bool { m.To.Z -= step; return true })},
	{"Z one step up", inMoves(func(m *toolpath.Move, step measure.Length) bool { m.To.Z += step; return true })},
	{"X a tenth of a nanometre off", inMoves(func(m *toolpath.Move, _ measure.Length) bool { m.To.X++; return true })},
	{"Y the other way", inMoves(func(m *toolpath.Move, _ measure.Length) bool { m.To.Y = -m.To.Y; return m.To.Y != 0 })},
	{"X and Y exchanged", inMoves(func(m *toolpath.Move, _ measure.Length) bool {
		m.To.X, m.To.Y = m.To.Y, m.To.X
		return m.To.X != m.To.Y
	})},
	{"an arc the other way", inMoves(func(m *toolpath.Move, _ measure.Length) bool {
		m.Sense = 1 - m.Sense
		return m.Kind == toolpath.Arc
	})},
	{"an arc about another centre", inMoves(func(m *toolpath.Move, step measure.Length) bool {
		m.Centre.X += step
		return m.Kind == toolpath.Arc
	})},
	{"an arc made straight", inMoves(func(m *toolpath.Move, _ measure.Length) bool {
		was := m.Kind
		m.Kind = toolpath.Line
		return was == toolpath.Arc
	})},
	{"a rapid made a cut", inMoves(func(m *toolpath.Move, _ measure.Length) bool {
		was := m.Kind
		m.Kind, m.Feed = toolpath.Line, measure.Feed(measure.Millimetre)
		return was == toolpath.Rapid
	})},
	{"a cut made a rapid", inMoves(func(m *toolpath.Move, _ measure.Length) bool {
		was := m.Kind
		m.Kind = toolpath.Rapid
		return was == toolpath.Line
	})},
	{"feed times 25.4", inMoves(func(m *toolpath.Move, _ measure.Length) bool {
		m.Feed = m.Feed * 254 / 10
		return m.Kind != toolpath.Rapid
	})},
	{"every length in inches for mm", inMoves(func(m *toolpath.Move, _ measure.Length) bool {
		was := m.To
		m.To.X, m.To.Y, m.To.Z = m.To.X*254/10, m.To.Y*254/10, m.To.Z*254/10
		return m.To != was
	})},
	{"a move lost", inPasses(func(moves []toolpath.Move, i int) []toolpath.Move { return slices.Delete(moves, i, i+1) })},
	{"a move twice", inPasses(func(moves []toolpath.Move, i int) []toolpath.Move { return slices.Insert(moves, i, moves[i]) })},
	{"two moves exchanged", inPasses(func(moves []toolpath.Move, i int) []toolpath.Move {
		if i == 0 || moves[i] == moves[i-1] {
			return nil
		}
		moves[i], moves[i-1] = moves[i-1], moves[i]
		return moves
	})},
	{"a retract dropped", inPasses(func(moves []toolpath.Move, i int) []toolpath.Move {
		if i == 0 || moves[i].Kind != toolpath.Rapid || moves[i].To.Z <= moves[i-1].To.Z {
			return nil
		}
		return slices.Delete(moves, i, i+1)
	})},
	{"a stray move", inPasses(func(moves []toolpath.Move, i int) []toolpath.Move {
		m := moves[i]
		m.To.Z -= measure.Millimetre
		return slices.Insert(moves, i+1, m)
	})},
	{"a pass or a hole missing", func(p *toolpath.Program, _ measure.Length) bool {
		ops := p.Operations
		last := &ops[len(ops)-1]
		last.Passes = last.Passes[:len(last.Passes)-1]
		return true
	}},
	{"an operation missing", func(p *toolpath.Program, _ measure.Length) bool {
		p.Operations = p.Operations[1:]
		return true
	}},
	{"operations exchanged", func(p *toolpath.Program, _ measure.Length) bool {
		if len(p.Operations) < 2 {
			return false
		}
		p.Operations[0], p.Operations[1] = p.Operations[1], p.Operations[0]
		return true
	}},
	{"the spindle's speed", func(p *toolpath.Program, _ measure.Length) bool { p.Operations[0].Speed += measure.RPM; return true }},
	{"no spindle", func(p *toolpath.Program, _ measure.Length) bool { p.Operations[0].Speed = 0; return true }},
	{"the wait for the spindle", func(p *toolpath.Program, _ measure.Length) bool { p.SpinUp *= 1000; return true }},
	{"no wait for the spindle", func(p *toolpath.Program, _ measure.Length) bool { p.SpinUp = 0; return true }},
	{"another clearance plane", func(p *toolpath.Program, step measure.Length) bool {
		s := *p.Setup
		s.Clearance -= step
		p.Setup = &s
		return true
	}},
	{"another cutter", func(p *toolpath.Program, _ measure.Length) bool {
		for i := range p.Operations {
			p.Operations[i].Tool.Diameter += measure.Millimetre / 2
			p.Operations[i].Tool.Measured += measure.Millimetre / 2
		}
		return true
	}},
	{"a cutter that measures less", func(p *toolpath.Program, _ measure.Length) bool {
		for i := range p.Operations {
			p.Operations[i].Tool.Measured -= measure.Millimetre / 100
		}
		return true
	}},
	{"another tool", func(p *toolpath.Program, _ measure.Length) bool {
		for i := range p.Operations {
			p.Operations[i].Tool.Number += 10
		}
		return true
	}},
	{"another set-up", func(p *toolpath.Program, _ measure.Length) bool {
		s := *p.Setup
		s.Number += 7
		p.Setup = &s
		return true
	}},
	{"another job", func(p *toolpath.Program, _ measure.Length) bool { p.Digest = "000000000000"; return true }},
}

// inMoves changes one move in the middle of a plan for which it fits.
func inMoves(do func(*toolpath.Move, measure.Length) bool) func(*toolpath.Program, measure.Length) bool {
	return func(p *toolpath.Program, step measure.Length) bool {
		return somewhere(p, func(pass *toolpath.Pass, i int) bool {
			was := pass.Moves[i]
			if do(&pass.Moves[i], step) {
				return true
			}
			pass.Moves[i] = was
			return false
		})
	}
}

func inPasses(do func([]toolpath.Move, int) []toolpath.Move) func(*toolpath.Program, measure.Length) bool {
	return func(p *toolpath.Program, _ measure.Length) bool {
		return somewhere(p, func(pass *toolpath.Pass, i int) bool {
			got := do(slices.Clone(pass.Moves), i)
			if got != nil {
				pass.Moves = got
			}
			return got != nil
		})
	}
}

// somewhere tries the moves from the middle of a program on.
func somewhere(p *toolpath.Program, do func(*toolpath.Pass, int) bool) bool {
	type spot struct{ op, pass, move int }
	var spots []spot
	for o, op := range p.Operations {
		for k, pass := range op.Passes {
			for i := range pass.Moves {
				spots = append(spots, spot{o, k, i})
			}
		}
	}
	for n := range spots {
		s := spots[(n+len(spots)/2)%len(spots)]
		if do(&p.Operations[s.op].Passes[s.pass], s.move) {
			return true
		}
	}
	return false
}

// deep is a program whose operations, passes and moves are its own.
func deep(p toolpath.Program) toolpath.Program {
	p.Operations = slices.Clone(p.Operations)
	for i := range p.Operations {
		p.Operations[i].Passes = slices.Clone(p.Operations[i].Passes)
		for k := range p.Operations[i].Passes {
			p.Operations[i].Passes[k].Moves = slices.Clone(p.Operations[i].Passes[k].Moves)
		}
	}
	return p
}

// Every kind of fault in a plan is caught against the text of the right one.
func TestMutantsOfThePlan(t *testing.T) {
	all, tried := demos(t), map[string]int{}
	for _, x := range all {
		step := plan.ForMachine(x.m).Step(2)
		for _, mu := range planMutants {
			bad := deep(x.p)
			if !mu.do(&bad, step) {
				continue
			}
			tried[mu.name]++
			if len(bad.Operations) > 0 && reflect.DeepEqual(bad, x.p) {
				t.Errorf("%s: %s changes nothing", x.name, mu.name)
			}
			if len(bad.Operations) == 0 {
				continue // there is no such program
			}
			if _, f := holds(x.text, bad, x.m, x.lift); f == nil {
				t.Errorf("%s: %s passed", x.name, mu.name)
			}
		}
	}
	for _, mu := range planMutants {
		if tried[mu.name] == 0 {
			t.Errorf("%s: fits nowhere", mu.name)
		}
	}
	t.Logf("%d kinds of fault in the plans of %d programs", len(planMutants), len(all))
}

// A fault in the plan that the writer writes faithfully meets a limit, or is none that
// a writer writes: nothing is written either way.
func TestFaultsInThePlanMeetALimit(t *testing.T) {
	for _, c := range []struct {
		name, job string
		do        func(*toolpath.Setup)
	}{
		{"a slot one step too deep", "slot.toml", func(s *toolpath.Setup) {
			low := measure.Length(0)
			each(s, func(m *toolpath.Move) { low = min(low, m.To.Z) })
			each(s, func(m *toolpath.Move) {
				if m.To.Z == low {
					m.To.Z -= measure.Millimetre / 10000
				}
			})
		}},
		{"a slot two steps too wide", "slot.toml", func(s *toolpath.Setup) {
			each(s, func(m *toolpath.Move) {
				if m.To.X > 0 {
					m.To.X += 2 * measure.Millimetre / 10000
				}
			})
		}},
		{"a hole missing", "foot.toml", func(s *toolpath.Setup) {
			op := &s.Operations[1]
			op.Passes = op.Passes[:len(op.Passes)-1]
		}},
		{"a hole's last peck missing", "foot.toml", func(s *toolpath.Setup) {
			moves := &s.Operations[1].Passes[0].Moves
			n := len(*moves)
			*moves = append((*moves)[:n-2], (*moves)[n-1])
		}},
		{"feeds times 25.4", "slot.toml", func(s *toolpath.Setup) { each(s, func(m *toolpath.Move) { m.Feed = m.Feed * 254 / 10 }) }},
		{"a speed the spindle has not", "slot.toml", func(s *toolpath.Setup) { s.Operations[0].Speed *= 2 }},
		{"a retract dropped", "foot.toml", func(s *toolpath.Setup) {
			for i := range s.Operations[1].Passes {
				moves := &s.Operations[1].Passes[i].Moves
				*moves = slices.DeleteFunc(*moves, func(m toolpath.Move) bool { return m.Kind == toolpath.Rapid && m.To.Z == s.Clearance })
			}
		}},
		{"a crossing below the clearance plane", "slot.toml", func(s *toolpath.Setup) {
			moves := &s.Operations[0].Passes[0].Moves
			over := (*moves)[0]
			low, aside := over, over
			low.To.Z -= measure.Millimetre
			aside.To = low.To.Plus(solid.Point{X: 5 * measure.Millimetre})
			*moves = append([]toolpath.Move{over, low, aside, low, over}, (*moves)[1:]...)
		}},
		{"a cutter a millimetre larger", "slot.toml", func(s *toolpath.Setup) {
			s.Operations[0].Tool.Diameter += measure.Millimetre
			s.Operations[0].Tool.Measured += measure.Millimetre
		}},
		{"everything 1 mm to the right", "foot.toml", func(s *toolpath.Setup) { each(s, func(m *toolpath.Move) { m.To.X += measure.Millimetre }) }},
	} {
		j, m := demoOn(t, c.job, "stepper-mill-mm")
		p := planned(t, j, m)
		if r, err := Through(p, j.Stem, m); err != nil || len(r.Refused()) > 0 {
			t.Fatalf("%s does not pass as it is: %v", c.job, err)
		}
		c.do(&p.Setups[0])
		r, err := Through(p, j.Stem, m)
		var fault *Fault
		if errors.As(err, &fault) {
			continue
		}
		if err != nil || len(r.Refused()) == 0 {
			t.Errorf("%s passes (%v)", c.name, err)
		}
	}
}

// each changes every move of a set-up.
func each(s *toolpath.Setup, do func(*toolpath.Move)) {
	for o := range s.Operations {
		for k := range s.Operations[o].Passes {
			for i := range s.Operations[o].Passes[k].Moves {
				do(&s.Operations[o].Passes[k].Moves[i])
			}
		}
	}
}
