package post

import (
	"bytes"
	"errors"
	"fmt"
	"strings"

	"stopshort/machines"
	"stopshort/post/rs274/read"
	"stopshort/post/rs274/write"
	"stopshort/toolpath"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/plan"
)

// Proven is a program that was read back and equals its plan, with the trace
// that its own bytes gave. Of a dry run the trace is the lifted one, and what
// equals the plan is that trace with the lift taken off; and so it is with what a finish
// was moved by for what was measured before it.
type Proven struct {
	Program toolpath.Program // as planned
	Name    string           // of its file
	Text    []byte
	Told    []string // what its head would say, where the controller takes no comments
	Trace   *toolpath.Trace
	Lift    measure.Length // of a dry run; nought is none
	Shift   measure.Length // of a finish that was measured for
}

// Fault is our own output failing its proof: the text does not say what the
// plan asks for. Nothing of it may be kept.
type Fault struct {
	Name string
	Line int
	Text string
}

func (f *Fault) Error() string {
	return fmt.Sprintf("%s: line %d: %s: this is a fault of stopshort itself, and nothing was written", f.Name, f.Line, f.Text)
}

// prove writes a program, reads it back from its own bytes and holds the
// reading against the plan, step by step: kind, place, centre, sense, feed,
// speed and time. A lift of nought is none.
func prove(p toolpath.Program, name string, m *machines.Machine, lift measure.Length) (*Proven, error) {
	shift := shiftOf(p.Operations[0], m)
	written := shifted(p, shift)
	if lift > 0 {
		written = raised(written, m, lift)
	}
	text, err := writer(written, m)
	var long write.TooLong
	if errors.As(err, &long) {
		return nil, fmt.Errorf("%s: %w: give the machine's file a longer line_length or fewer places, or the set-up a zero nearer to the work", name, err)
	}
	if err != nil {
		return nil, &Fault{Name: name, Text: err.Error()}
	}
	trace, fault := holds(text, p, m, lift)
	if fault != nil {
		fault.Name = name
		return nil, fault
	}
	return &Proven{Program: p, Name: name, Text: text.Bytes, Told: text.Told, Trace: trace, Lift: lift, Shift: shift}, nil
}

// writer is what writes a program; tests put a faulty one in its place.
var writer = write.Program

// holds reads a text and holds it against its plan: steps, state and head.
func holds(text write.Text, p toolpath.Program, m *machines.Machine, lift measure.Length) (*toolpath.Trace, *Fault) {
	trace, err := Reading(text, m)
	if err != nil {
		return nil, &Fault{Text: "it does not read back: " + err.Error()}
	}
	shift := shiftOf(p.Operations[0], m)
	if fault := equal(asked(p, m), lowered(trace, lift+shift)); fault != nil {
		return nil, fault
	}
	if fault := spans(text, trace); fault != nil {
		return nil, fault
	}
	p = shifted(p, shift)
	if lift > 0 {
		p = raised(p, m, lift)
	}
	if fault := headSays(text, p, m); fault != nil {
		return nil, fault
	}
	if fault := stopsSaid(text, p, trace, m.Controller.Comments == "none"); fault != nil {
		return nil, fault
	}
	return trace, nil
}

// spans asks that each operation's lines end with its last step: what is said of a
// line is said of the right cut.
func spans(text write.Text, trace *toolpath.Trace) *Fault {
	last := map[int]int{}
	for _, s := range trace.Steps {
		last[s.Op] = s.Line
	}
	lines := strings.Split(string(text.Bytes), "\n")
	for i, span := range text.Ops {
		end := span.Last // but for the word that ends a cycle
		for end > last[i] && end <= len(lines) && strings.HasSuffix(strings.TrimSpace(lines[end-1]), "G80") {
			end--
		}
		if span.First > span.Last || last[i] != end || i > 0 && span.First <= text.Ops[i-1].Last {
			return &Fault{Line: span.Last, Text: fmt.Sprintf("the lines %d to %d are not those of cut %d of the program", span.First, span.Last, i+1)}
		}
	}
	return nil
}

// Reading is the trace of a text, each step with the operation it belongs to. A
// text that is not plain is an error: one that leaves a move open, assumes
// anything, or would be refused by a reader it is meant for.
func Reading(text write.Text, m *machines.Machine) (*toolpath.Trace, error) {
	reading, err := read.Read(bytes.NewReader(text.Bytes), ReadOptions(m))
	if err != nil {
		return nil, err
	}
	if n := against(reading, m); n != nil {
		return nil, errors.New(n.String())
	}
	trace := reading.Trace
	op := 0
	for i := range trace.Steps {
		s := &trace.Steps[i]
		for op < len(text.Ops) && s.Line > text.Ops[op].Last {
			op++
		}
		s.Op = -1
		if op < len(text.Ops) && s.Line >= text.Ops[op].First {
			s.Op = op
		}
	}
	return trace, nil
}

// equal tells where the reading first differs from what the plan asks for.
func equal(want, got *toolpath.Trace) *Fault {
	if !got.Ended {
		return &Fault{Text: "the program does not end"}
	}
	for i, w := range want.Steps {
		if i >= len(got.Steps) {
			return &Fault{Text: fmt.Sprintf("it stops after %d steps of %d", i, len(want.Steps))}
		}
		g := got.Steps[i]
		line := g.Line
		g.Line = w.Line
		if g.Kind == toolpath.Rapid || g.Kind == toolpath.Dwell {
			g.Feed = 0 // not used by the step
		}
		if g != w {
			return &Fault{Line: line, Text: fmt.Sprintf("it reads as %s and the plan asks for %s", said(g), said(w))}
		}
	}
	if n := len(got.Steps); n > len(want.Steps) {
		return &Fault{Line: got.Steps[len(want.Steps)].Line, Text: fmt.Sprintf("it has %d steps and the plan %d", n, len(want.Steps))}
	}
	if got.Left != want.Left {
		return &Fault{Text: fmt.Sprintf("it ends in the state %+v, and the state to end in is %+v", got.Left, want.Left)}
	}
	return nil
}

// said is a step for a message.
func said(s toolpath.Step) string {
	t := fmt.Sprintf("%s to X%s Y%s Z%s, %s, %s", s.Kind, s.To.X.MM(), s.To.Y.MM(), s.To.Z.MM(), s.Feed, s.Speed)
	if s.Kind == toolpath.Arc {
		t += fmt.Sprintf(", centre X%s Y%s", s.Centre.X.MM(), s.Centre.Y.MM())
	}
	if s.Time > 0 {
		t += fmt.Sprintf(", %s", s.Time)
	}
	if s.Tool != 0 || s.Offset != 0 || s.Coolant != 0 {
		t += fmt.Sprintf(", tool %d, length offset %d, %s", s.Tool, s.Offset, s.Coolant)
	}
	return t
}

// Result is everything about one job on one machine: its programs, proved, and
// the judge's word on every limit.
type Result struct {
	Plan     *toolpath.Plan
	Programs []*Proven // empty where the machine has no controller
	Verdicts []limit.Verdict
}

// Through takes a plan through the gate: each program is written and proved,
// and every limit is held against what was read back. On a machine without a
// controller the limits are held against the plan's own steps, on its dials'
// lines.
func Through(p *toolpath.Plan, stem string, m *machines.Machine) (*Result, error) {
	return through(p, stem, m, 0, false)
}

// ToMeasure is [Through] without the finishes that wait for a measuring: they are
// neither made nor judged.
func ToMeasure(p *toolpath.Plan, stem string, m *machines.Machine) (*Result, error) {
	return through(p, stem, m, 0, true)
}

// through is [Through] for programs that are lifted: nought is none; with leaveOut without
// the finishes that wait for a measuring.
func through(p *toolpath.Plan, stem string, m *machines.Machine, lift measure.Length, leaveOut bool) (*Result, error) {
	r := &Result{Plan: p}
	programs := plan.Programs(p, m)
	names := Names(stem, programs)
	if lift > 0 {
		for i := range names {
			names[i] = LiftedName(names[i])
		}
	}
	for i := range p.Setups {
		s := &p.Setups[i]
		judge := limit.New(s, m)
		for k, program := range programs {
			if program.Setup != s || leaveOut && program.Operations[0].Waits() {
				continue
			}
			trace, file := expected(program), ""
			if m.Controller != nil {
				proven, err := prove(program, names[k], m, lift)
				if err != nil {
					return nil, err
				}
				r.Programs = append(r.Programs, proven)
				trace, file = lowered(proven.Trace, lift+proven.Shift), proven.Name
			}
			judge.Program(file, program.Operations, trace)
		}
		r.Verdicts = append(r.Verdicts, judge.Verdicts()...)
	}
	namePlaces(r.Verdicts, m)
	return r, nil
}

// Refused is the verdicts that keep anything from being written.
func (r *Result) Refused() []limit.Verdict {
	var out []limit.Verdict
	for _, v := range r.Verdicts {
		if v.Stops() {
			out = append(out, v)
		}
	}
	return out
}
