package read

import (
	"errors"
	"fmt"
	"io"

	"stopshort/toolpath"
)

// Options are what the text does not say of itself.
type Options struct {
	// DwellMilliseconds takes the P of a dwell as milliseconds; otherwise it is
	// seconds, as NISTIR 6556, 3.5.4, has it.
	DwellMilliseconds bool
}

// Read collects the steps of a whole program. Each has its line, and -1 as its
// operation. An [*Error] says what was refused; no trace comes with an error.
func Read(r io.Reader, o Options) (*toolpath.Trace, error) {
	t := &toolpath.Trace{}
	err := Each(r, o, func(s toolpath.Step) error {
		t.Steps = append(t.Steps, s)
		return nil
	})
	if err != nil {
		return nil, err
	}
	t.Ended = true // a text without its end word is refused
	return t, nil
}

// Each gives the steps of a program one by one, in constant memory, until the
// program's end, an error of the text or one of yield. Steps that come before an
// error were right as far as they went.
//
// One line gives one step for each dwell, move and stop in it; a move that
// changes nothing is a step too. An arc whose end is its start is a full circle.
// A step's speed is nought while the spindle stands.
func Each(r io.Reader, o Options, yield func(toolpath.Step) error) error {
	in := &lines{r: r}
	s := newState(o, yield)
	var w words
	for {
		line, ended, err := in.next()
		if err == io.EOF {
			break
		}
		s.line++
		if err != nil {
			return s.placed(err)
		}
		if err := s.one(line, ended, &w); err != nil {
			return s.placed(err)
		}
	}
	if !s.ended {
		s.line = max(s.line, 1)
		return s.placed(fault(NoEnd, "the text stops without M2 or M30"))
	}
	return nil
}

// placed gives an error its line.
func (s *state) placed(err error) error {
	var e *Error
	if errors.As(err, &e) {
		e.Line = s.line
		return e
	}
	return fmt.Errorf("line %d: %w", s.line, err)
}

// one does what a line says.
func (s *state) one(line []byte, ended bool, w *words) error {
	if skipBlanks(line, 0) == len(line) {
		return nil
	}
	if s.ended {
		return fault(NotFollowed, "something stands behind the program's end")
	}
	if !ended {
		return fault(NotFollowed, "the last line has no end, and some readers would leave it out")
	}
	if !s.begun && line[skipBlanks(line, 0)] == '%' {
		return fault(NotFollowed, "percent lines cannot be followed")
	}
	s.begun = true
	if err := w.parse(line); err != nil {
		return err
	}
	return s.obey(w)
}
