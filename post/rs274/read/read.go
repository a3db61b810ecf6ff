package read

import (
	"fmt"
	"io"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// Options are what the text does not say of itself.
type Options struct {
	// DwellMilliseconds takes the P of a dwell as milliseconds; otherwise it is
	// seconds, as NISTIR 6556, 3.5.4, has it.
	DwellMilliseconds bool
	// Units are those of a text that names none: MM or In. NoUnit: such a text
	// is not proved.
	Units measure.Unit
	// Slots is how many tools the machine's table holds, for T, H and D; nought
	// is not known, and then no number is too large.
	Slots int
	// ChangeAtStop takes M0 behind a T of another tool than the one that is in as a
	// change by the operator: that tool is in, and no place is known.
	ChangeAtStop bool
	// PeckLift is how far above its last depth a peck of G83 comes down by a rapid, and
	// one of G73 lifts; nought is 0.010 in (public source of the reference interpreter).
	PeckLift measure.Length
}

// Reading is a whole program: its moves, and what there is to say beside them.
type Reading struct {
	Trace *toolpath.Trace
	Notes []Note
	Lines int
}

// First is the first note that is not a finding of other classes only: one that
// leaves the moves open, that assumes something, or that one of the classes
// would refuse the line by. It is nil where the text is plain to all of them.
func (r *Reading) First(classes Class) *Note {
	for i := range r.Notes {
		if n := &r.Notes[i]; n.Kind() != Finding || n.Classes()&classes != 0 {
			return n
		}
	}
	return nil
}

// Read collects a whole program. The error is the stream's.
func Read(r io.Reader, o Options) (*Reading, error) {
	out := &Reading{Trace: &toolpath.Trace{}}
	end, err := Each(r, o, func(s *toolpath.Step) error {
		out.Trace.Steps = append(out.Trace.Steps, *s)
		return nil
	}, func(n Note) { out.Notes = append(out.Notes, n) })
	out.Trace.Ended, out.Trace.Left, out.Lines = end.Ended, end.Left, end.Lines
	return out, err
}

// End is how a text ended.
type End struct {
	Lines int
	Ended bool // by M2, M30 or a second percent line
	Left  toolpath.Left
}

// Each gives the steps of a program one by one, and the notes of each line before
// or between its steps, in constant memory, until the stream's end or an error of
// the stream or of give. The step is good until the next one.
//
// One line gives one step for each dwell, move and stop in it; a move that
// changes nothing is a step too. An arc whose end is its start is a full circle.
// A cycle is the moves that it makes. A step's speed is nought while the spindle
// stands, or turns at a speed that is not said; its feed is nought where none is
// in force, or where G93 tells a time in its place.
func Each(r io.Reader, o Options, give func(*toolpath.Step) error, tell func(Note)) (End, error) {
	return each(r, newState(o, give, tell), true)
}

// each reads to the end; quick allows the quick way.
func each(r io.Reader, s *state, quick bool) (End, error) {
	in := &lines{r: r}
	for s.err == nil {
		if s.quick && quick {
			in.lo += s.quickly(in.whole())
			if s.err != nil {
				break
			}
		}
		l, err := in.next()
		if err == io.EOF {
			break
		}
		if err != nil {
			return End{Lines: s.line}, fmt.Errorf("line %d: %w", s.line+1, err)
		}
		s.line++
		s.one(l)
		s.quick = s.plain()
	}
	if s.err != nil {
		return End{Lines: s.line}, fmt.Errorf("line %d: %w", s.line, s.err)
	}
	s.finish()
	return End{Lines: s.line, Ended: s.ended || s.percent && s.closed, Left: s.left()}, nil
}

// left is the state at the end.
func (s *state) left() toolpath.Left {
	l := toolpath.Left{Coolant: s.coolant, Offset: s.lengths, Plane: s.plane, Unit: s.unit, Stated: s.said&s.clear&quickModes == quickModes}
	if s.turning {
		l.Speed = s.speed
	}
	return l
}

// one reads one line.
func (s *state) one(l line) {
	if l.cut {
		s.length(l.text, l.raw)
		if s.ended || s.closed {
			s.afterEnd(l.text)
			return
		}
		s.begun = true
		s.note(TooLongToRead)
		s.forget(true, true, true)
		s.clear = 0 // it may have set any mode
		s.motion = unclear
		return
	}
	if !l.ended && skipBlanks(l.text, 0) < len(l.text) {
		s.note(NoLineEnd)
	}
	s.full(l.text, l.raw)
}

// finish tells what is wrong with the text's end.
func (s *state) finish() {
	s.line = max(s.line, 1)
	switch {
	case s.percent && !s.closed:
		s.note(NoSecondPercent)
	case !s.ended && !s.closed:
		s.note(NoEnd)
	}
}
