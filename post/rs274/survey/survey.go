package survey

import (
	"io"

	"stopshort/post/rs274/read"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// Asked is what a program is held against.
type Asked struct {
	Stop  measure.Length  // nothing goes below it
	Clear *measure.Length // no rapid goes down below it; nil is not asked
}

// Place is a line and where its step goes to.
type Place struct {
	Line  int // from 1; nought where there is none
	Z     measure.Length
	Exact bool // Z is not rounded; else the true one is not lower
	Step  toolpath.Step
	Count int // how many steps are like it; this is the first
}

// Report is what a program does.
type Report struct {
	Asked
	Lines, Steps int
	Ended        bool

	Lowest       Place // of all moves: the first step that comes so deep
	Cuts, Rapids Box
	CutSteps     int
	First        Place // the first move
	Standing     Place // cuts with the spindle standing, or at a speed that is not said
	Crossing     Place // steps below the stop
	Down         Place // rapids down below the clear plane, but into what was cut there
	Findings     []Tally
	NotProved    []Tally
	Assumed      []Tally
}

// Verdict is the answer. The order is of weight: a crossing is a crossing also
// where something else is not proved.
type Verdict uint8

// The verdicts.
const (
	Holds Verdict = iota
	NotProved
	RapidDown
	Crossed
)

// String is the verdict for a program.
func (v Verdict) String() string {
	return [...]string{"stop not crossed", "not proved", "rapid down below the clear plane", "stop crossed"}[v]
}

// Verdict is the answer of the report.
func (r *Report) Verdict() Verdict {
	switch {
	case r.Crossing.Line > 0:
		return Crossed
	case r.Down.Line > 0:
		return RapidDown
	case len(r.NotProved) > 0:
		return NotProved
	}
	return Holds
}

// surveyor goes along with the reader.
type surveyor struct {
	Report
	cuts, rapids span
	last         toolpath.Motion // of the moves
	clear        measure.Length
	lowest       measure.Length // nothing was lower
	// The cutter has cut down to depth where it stands, in X and Y.
	depth   measure.Length
	drilled bool
	notes   Notes
}

// Run reads a program to its end. The error is the stream's.
func Run(r io.Reader, o read.Options, a Asked) (*Report, error) {
	const far = 4 * measure.MaxLength
	s := &surveyor{Report: Report{Asked: a}, cuts: newSpan(), rapids: newSpan(), clear: -far, lowest: far,
		last: toolpath.Dwell}
	if a.Clear != nil {
		s.clear = *a.Clear
	}
	end, err := read.Each(r, o, s.step, s.notes.Add)
	if err != nil {
		return nil, err
	}
	s.Lines, s.Ended = end.Lines, end.Ended
	s.Cuts, s.Report.Rapids = s.cuts.box(), s.rapids.box()
	s.NotProved, s.Assumed, s.Findings = s.notes.NotProved(), s.notes.Assumed(), s.notes.Findings()
	return &s.Report, nil
}

// step takes in one step.
func (s *surveyor) step(t *toolpath.Step) error {
	s.Steps++
	if t.Kind >= toolpath.Dwell {
		return nil
	}
	if s.First.Line == 0 {
		s.First = Place{Line: t.Line, Z: t.To.Z, Exact: t.Slack == 0, Step: *t, Count: 1}
	}
	box := &s.cuts
	if t.Kind == toolpath.Rapid {
		box = &s.rapids
		if t.To.Known[2] && t.To.Z-t.Slack < s.clear {
			s.down(t)
		}
	} else {
		s.CutSteps++
		if t.Speed == 0 {
			mark(&s.Standing, t, t.To.Z)
		}
	}
	if (t.Kind == toolpath.Rapid) != (s.last == toolpath.Rapid) || s.last == toolpath.Dwell || t.Slack != 0 {
		box.place(t.From, t.Slack)
		s.last = t.Kind
	}
	low, known := t.To.Z-t.Slack, t.To.Known[2]
	if t.Slack == 0 && t.To.AllKnown() {
		box.add(0, t.To.X)
		box.add(1, t.To.Y)
		box.add(2, t.To.Z)
	} else {
		box.place(t.To, t.Slack)
	}
	if t.Kind == toolpath.Arc {
		if z, any := box.arc(t); any && z < low {
			low = z
		}
	}
	if known {
		s.height(t, low)
	}
	s.hole(t)
	return nil
}

// place takes in what is known of a place, and slack about it.
func (s *span) place(p toolpath.Place, slack measure.Length) {
	for i, v := range [3]measure.Length{p.X, p.Y, p.Z} {
		if p.Known[i] {
			s.add(i, v-slack)
			s.add(i, v+slack)
		}
	}
}

// height takes in how deep a step goes.
func (s *surveyor) height(t *toolpath.Step, low measure.Length) {
	if low < s.lowest {
		s.lowest = low
		s.Lowest = Place{Line: t.Line, Z: low, Exact: exact(t, low), Step: *t, Count: 1}
	}
	if low < s.Stop {
		mark(&s.Crossing, t, low)
	}
}

// exact tells whether a step's lowest height is not rounded: that of an arc that
// goes below its ends may be.
func exact(t *toolpath.Step, low measure.Length) bool { return t.Slack == 0 && low == t.To.Z }

// mark keeps the first and counts.
func mark(p *Place, t *toolpath.Step, z measure.Length) {
	if p.Line == 0 {
		*p = Place{Line: t.Line, Z: z, Exact: exact(t, z), Step: *t}
	}
	p.Count++
}

// down looks at a rapid that ends below the clear plane. One that goes down into
// what was cut at that very place, and no deeper, as a peck does, is left alone.
func (s *surveyor) down(t *toolpath.Step) {
	if t.From.Known[2] && t.From.Z <= t.To.Z {
		return
	}
	if s.drilled && t.Slack == 0 && t.From.AllKnown() && t.From.X == t.To.X && t.From.Y == t.To.Y && t.To.Z >= s.depth {
		return
	}
	mark(&s.Down, t, t.To.Z-t.Slack)
}

// hole keeps how deep it was cut where the cutter stands.
func (s *surveyor) hole(t *toolpath.Step) {
	stays := t.From.Known[0] && t.From.Known[1] && t.From.X == t.To.X && t.From.Y == t.To.Y
	switch {
	case !t.To.AllKnown() || t.Kind == toolpath.Rapid && !stays:
		s.drilled = false
	case t.Kind == toolpath.Rapid:
	case stays && s.drilled:
		s.depth = min(s.depth, t.To.Z)
	default:
		s.drilled, s.depth = true, t.To.Z
	}
}
