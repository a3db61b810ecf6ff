package post

import (
	"fmt"
	"strings"

	"golang.org/x/exp/slices"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/plan"
	"stopshort/toolpath/solid"
)

// overWork is the least that a dry run keeps above everything: as much as a
// rapid keeps clear (own choice, as there).
const overWork = measure.Millimetre

// LiftFault is a lift that nothing can be written for.
type LiftFault struct{ Text string }

func (f *LiftFault) Error() string { return f.Text }

// ThroughLifted is [Through] for a dry run: every height of every program, the
// clearance plane too, is raised by one length, which is put on the machine's
// grid upwards. Zero, feeds and spindle stay those of the cut.
//
// Each text is read back, the lift is taken off what was read, and the rest must
// equal the plan and is held against every limit. Besides, as it was read, with
// the lift on, the lowest point of the cutter must stay 1 mm or more above the
// highest point of metal and holding, wherever it goes, and the clearance plane
// under the headroom; and the Z slide must reach from the deepest cut to the
// lifted clearance plane, since dry run and cut are run from one zero. These are
// verdicts like the others.
//
// The error is a [LiftFault] where the lift is not more than nought or goes
// beyond what lengths are held to. A machine without a controller has no
// programs, and nothing is lifted.
func ThroughLifted(p *toolpath.Plan, stem string, m *machines.Machine, lift measure.Length) (*Result, error) {
	switch {
	case lift <= 0:
		return nil, &LiftFault{"it must be more than nought"}
	case lift > measure.MaxLength:
		return nil, &LiftFault{fmt.Sprintf("%s at most", measure.MaxLength)}
	case m.Controller == nil:
		return Through(p, stem, m)
	}
	lift = plan.ForMachine(m).Round(solid.Z, lift, measure.Ceil)
	for _, s := range p.Setups {
		if to := s.Clearance + lift; to > measure.MaxLength {
			return nil, &LiftFault{fmt.Sprintf("it takes the clearance plane to %s from the zero: %s at most", to, measure.MaxLength)}
		}
	}
	r, err := through(p, stem, m, lift, false)
	if err != nil {
		return nil, err
	}
	r.Verdicts = append(r.Verdicts, aboveAll(p, m, r.Programs, lift)...)
	return r, nil
}

// raised is a program with every height raised, and with what its head must say
// of that.
func raised(p toolpath.Program, m *machines.Machine, lift measure.Length) toolpath.Program {
	s := *p.Setup
	s.Clearance += lift
	low := p.Setup.Clearance
	ops := make([]toolpath.Operation, len(p.Operations))
	for i := range ops {
		for _, pass := range p.Operations[i].Passes {
			for _, mv := range pass.Moves {
				low = min(low, mv.To.Z)
			}
		}
		ops[i] = movedUp(p.Operations[i], lift)
		for k := range ops[i].Passes {
			pass := &ops[i].Passes[k]
			pass.Depth = 0 // it is not cut
			for n := range pass.Moves {
				if pass.Moves[n].Kind == toolpath.Stop {
					pass.Moves[n].Note = "dry run: nothing is there to measure"
				}
			}
		}
	}
	by, unit := shown(lift, m.Units, measure.Nearest), m.Units.String()
	p.Title = fmt.Sprintf("dry run lifted by %s %s. %s", by, unit, p.Title)
	// What is done by hand after the cut is left out: nothing is cut.
	p.Head = append([]string{
		fmt.Sprintf("every height is %s over that of the cut", by),
		fmt.Sprintf("at its lowest the cutter is %s over metal and holding", shown(low+lift-highest(p.Setup), m.Units, measure.Floor)),
		"the cutter must not touch. stop where it comes near",
		"spindle and feeds are as in the cut",
		"touch off as for the cut and do not raise the zero",
	}, s.Told()...)
	p.Setup, p.Operations = &s, ops
	return p
}

// lowered is a trace with the lift taken off every height that is known.
func lowered(t *toolpath.Trace, lift measure.Length) *toolpath.Trace {
	if lift == 0 {
		return t
	}
	out := &toolpath.Trace{Steps: slices.Clone(t.Steps), Ended: t.Ended, Left: t.Left}
	for i := range out.Steps {
		for _, p := range []*toolpath.Place{&out.Steps[i].From, &out.Steps[i].To} {
			if p.Known[solid.Z] {
				p.Z -= lift
			}
		}
	}
	return out
}

// highest is the highest point of what stands in a set-up: metal, and what holds
// it.
func highest(s *toolpath.Setup) measure.Length {
	top := -solid.Far
	for _, b := range append(slices.Clone(s.Metal), s.Beside...) {
		top = max(top, solid.Bounds(b).High.Z)
	}
	for _, l := range s.Limits {
		if l.Kind == toolpath.Holding || l.Kind == toolpath.Packing {
			top = max(top, solid.Bounds(l.Solid).High.Z)
		}
	}
	return top
}

// way is how low and how high the cutter's lowest point goes in a set-up's
// lifted programs, and where.
type way struct {
	setup         *toolpath.Setup
	low, high     measure.Length
	lowAt, highAt step
}

// step is a line of a program.
type step struct {
	file string
	line int
}

func wayOf(s *toolpath.Setup, programs []*Proven) way {
	w := way{setup: s, low: solid.Far, high: -solid.Far}
	for _, p := range programs {
		if p.Program.Setup != s {
			continue
		}
		for _, t := range p.Trace.Steps {
			for _, at := range []toolpath.Place{t.From, t.To} {
				if !at.Known[solid.Z] {
					continue
				}
				if at.Z < w.low {
					w.low, w.lowAt = at.Z, step{p.Name, t.Line}
				}
				if at.Z > w.high {
					w.high, w.highAt = at.Z, step{p.Name, t.Line}
				}
			}
		}
	}
	return w
}

// deepest is the lowest that a set-up needs with the lift taken off: its deepest
// cut, or the face that is touched.
func (w way) deepest(lift measure.Length) measure.Length { return min(w.low-lift, w.setup.Top) }

// aboveAll holds the lifted traces themselves against what stands in each set-up,
// its headroom, and the travel of Z.
func aboveAll(p *toolpath.Plan, m *machines.Machine, programs []*Proven, lift measure.Length) []limit.Verdict {
	var ways []way
	// The lifts that would do in every set-up are from least to most.
	least, most := measure.Length(0), solid.Far
	travel := m.Axes[solid.Z].Travel
	for i := range p.Setups {
		s := &p.Setups[i]
		w := wayOf(s, programs)
		ways = append(ways, w)
		least = max(least, highest(s)+overWork-(w.low-lift))
		most = min(most, travel-(w.high-lift-w.deepest(lift)))
		if room := s.Room.High[solid.Z]; room != nil {
			most = min(most, *room-(w.high-lift))
		}
	}
	do := wouldDo(m, least, most)
	var out []limit.Verdict
	for _, w := range ways {
		add := func(name string, left, neverLess measure.Length, source string, at step) {
			v := limit.Verdict{
				Setup: w.setup.Name, Limit: name, Unit: limit.Length,
				Planned: int64(left), High: int64(left), NeverLess: int64(neverLess),
				Margin: int64(left - neverLess), MarginWorst: int64(left - neverLess),
				From: measure.Default, Source: source, File: at.file, Where: at.line, Do: do,
			}
			if left < neverLess {
				v.State = limit.Refused
			}
			out = append(out, v)
		}
		add("dry run over metal and holding", w.low-highest(w.setup), overWork, "a rapid keeps 1 mm clear", w.lowAt)
		add("travel of Z from the deepest cut to the dry run", travel-(w.high-w.deepest(lift)), 0, "nought for a clearance", w.highAt)
		if room := w.setup.Room.High[solid.Z]; room != nil {
			add("headroom over the dry run", *room-w.high, 0, "nought for a clearance", w.highAt)
		}
	}
	return out
}

// wouldDo is which lifts would do.
func wouldDo(m *machines.Machine, least, most measure.Length) string {
	g := plan.ForMachine(m)
	from := g.Round(solid.Z, least, measure.Ceil).ShownBoth(m.Units, measure.Ceil)
	to := g.Round(solid.Z, most, measure.Floor).ShownBoth(m.Units, measure.Floor)
	const lower = "lower the clearance plane or what holds the part"
	switch {
	case most <= 0:
		return fmt.Sprintf("no lift: %s is wanted and there is no room; %s", from, lower)
	case g.Round(solid.Z, least, measure.Ceil) > most:
		return fmt.Sprintf("no lift: %s is wanted and there is room for %s; %s", from, to, lower)
	}
	return fmt.Sprintf("a lift of %s or more, and no more than %s", from, to)
}

// shown is a length for the head: to 3 decimals of a millimetre or 4 of an inch,
// and to 2 more where it needs them.
func shown(l measure.Length, u measure.Unit, way measure.Rounding) string {
	places := 3
	if u == measure.In {
		places = 4
	}
	s := l.Format(u, 5, way)
	for len(s)-strings.IndexByte(s, '.')-1 > places && s[len(s)-1] == '0' {
		s = s[:len(s)-1]
	}
	return s
}
