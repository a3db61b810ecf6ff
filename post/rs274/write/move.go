package write

import (
	"fmt"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// operation writes one operation with its comments.
func (w *writer) operation(op toolpath.Operation, clearance measure.Length, spinUp measure.Time, m *machines.Machine) error {
	if err := w.comment(fmt.Sprintf("CUT %d %s", op.Cut, op.Name)); err != nil {
		return err
	}
	first := true
	for _, pass := range op.Passes {
		if err := w.comment(w.passName(pass)); err != nil {
			return err
		}
		if line, ok, err := w.drilled(pass, clearance); err != nil {
			return fmt.Errorf("%s: %w", pass.Name, err)
		} else if ok {
			if err := w.putMove(line); err != nil {
				return fmt.Errorf("%s: %w", pass.Name, err)
			}
			w.at, w.known, first = pass.Moves[len(pass.Moves)-1].To, true, false
			continue
		}
		if err := w.cycleOff(); err != nil {
			return err
		}
		for i, mv := range pass.Moves {
			if first && (mv.Kind != toolpath.Rapid || mv.To.Z != clearance) {
				return fmt.Errorf("the first move is not a rapid at the clearance height")
			}
			first = false
			if mv.Kind == toolpath.Stop {
				if err := w.stop(mv, op.Speed, spinUp, m); err != nil {
					return fmt.Errorf("%s, move %d: %w", pass.Name, i+1, err)
				}
				continue
			}
			line, err := w.move(mv)
			if err != nil {
				return fmt.Errorf("%s, move %d: %w", pass.Name, i+1, err)
			}
			if err := w.putMove(line); err != nil {
				return fmt.Errorf("%s, move %d: %w", pass.Name, i+1, err)
			}
			w.at, w.known = mv.To, true
		}
	}
	if err := w.cycleOff(); err != nil {
		return err
	}
	if first {
		return fmt.Errorf("there is no move in it")
	}
	if w.at.Z != clearance {
		return fmt.Errorf("the last move does not end at the clearance height")
	}
	return nil
}

// stop lets the operator look: spindle and coolant off, then the program waits, then both
// as they were. It stands where the cutter is.
func (w *writer) stop(mv toolpath.Move, s measure.Speed, spinUp measure.Time, m *machines.Machine) error {
	if mv.To != w.at {
		return fmt.Errorf("a stop that moves")
	}
	if err := w.comment(mv.Note); err != nil {
		return err
	}
	if err := w.putAll(append(w.stopped(), "M0")...); err != nil {
		return err
	}
	if w.comments == ([2]string{}) {
		w.tell(fmt.Sprintf("WHERE IT WAITS IN LINE %d - %s", w.lines, mv.Note))
	}
	if err := w.putAll(w.coolants()...); err != nil {
		return err
	}
	return w.spindle(s, spinUp, m)
}

// passName is a pass for the operator.
func (w *writer) passName(p toolpath.Pass) string {
	if p.Depth <= 0 || p.Name == "" {
		return p.Name
	}
	return p.Name + " TO " + w.figure(p.Depth) + " DEEP"
}

// move is the line of one move from where the cutter is.
func (w *writer) move(mv toolpath.Move) (string, error) {
	switch mv.Kind {
	case toolpath.Rapid:
		return w.rapid(mv)
	case toolpath.Line:
		return w.line(mv)
	case toolpath.Arc:
		return w.arc(mv)
	case toolpath.Dwell:
		return w.still(mv)
	}
	return "", fmt.Errorf("a move of kind %d cannot be written", mv.Kind)
}

// rapid is G0. Z goes alone, since controllers differ in which axis they move
// first.
func (w *writer) rapid(mv toolpath.Move) (string, error) {
	if mv.To.Z != w.at.Z && (!w.known || mv.To.X != w.at.X || mv.To.Y != w.at.Y) {
		return "", fmt.Errorf("a rapid moves Z together with X or Y")
	}
	b, err := w.axes([]byte("G0"), mv, false)
	if err != nil {
		return "", err
	}
	w.feed = 0 // it is said again on the next feed move
	return string(b), nil
}

// line is G1.
func (w *writer) line(mv toolpath.Move) (string, error) {
	b, err := w.axes([]byte("G1"), mv, false)
	if err != nil {
		return "", err
	}
	b, err = w.feedWord(b, mv.Feed)
	return string(b), err
}

// arc is G2 or G3 with its centre from its start.
func (w *writer) arc(mv toolpath.Move) (string, error) {
	if !w.known {
		return "", fmt.Errorf("an arc starts where X and Y are not known")
	}
	if mv.To.X == w.at.X && mv.To.Y == w.at.Y {
		return "", fmt.Errorf("an arc ends where it starts, and would be taken for a full circle: write it as two")
	}
	i, j := mv.Centre.X-w.at.X, mv.Centre.Y-w.at.Y
	if err := w.closes(i, j, mv.Centre.X-mv.To.X, mv.Centre.Y-mv.To.Y); err != nil {
		return "", err
	}
	g := "G2"
	switch mv.Sense {
	case toolpath.Clockwise:
	case toolpath.Anticlockwise:
		g = "G3"
	default:
		return "", fmt.Errorf("an arc of sense %d cannot be written", mv.Sense)
	}
	b, err := w.axes([]byte(g), mv, true)
	if err != nil {
		return "", err
	}
	if b, err = w.word(b, 'I', i); err != nil {
		return "", err
	}
	if b, err = w.word(b, 'J', j); err != nil {
		return "", err
	}
	b, err = w.feedWord(b, mv.Feed)
	return string(b), err
}

// axes adds the words of the axes that change: X and Y in any case where they
// are asked for, were not known, or where nothing changes, since a motion word
// needs one.
func (w *writer) axes(b []byte, mv toolpath.Move, both bool) ([]byte, error) {
	both = both || !w.known || mv.To == w.at
	var err error
	if both || mv.To.X != w.at.X {
		if b, err = w.word(b, 'X', mv.To.X); err != nil {
			return nil, err
		}
	}
	if both || mv.To.Y != w.at.Y {
		if b, err = w.word(b, 'Y', mv.To.Y); err != nil {
			return nil, err
		}
	}
	if mv.To.Z != w.at.Z {
		b, err = w.word(b, 'Z', mv.To.Z)
	}
	return b, err
}

// word adds a letter with a length.
func (w *writer) word(b []byte, letter byte, l measure.Length) ([]byte, error) {
	if l.Abs() > measure.MaxLength {
		return nil, fmt.Errorf("%c of %d tenths of a nanometre is over 100 m", letter, l)
	}
	n, ok := w.steps(l)
	if !ok {
		return nil, fmt.Errorf("%c of %d tenths of a nanometre lies between two steps of %d places of %s",
			letter, l, w.places, w.unit)
	}
	return fixed(append(b, ' ', letter), n, w.places), nil
}

// feedWord adds F where it changes or follows a rapid.
func (w *writer) feedWord(b []byte, f measure.Feed) ([]byte, error) {
	if f <= 0 {
		return nil, fmt.Errorf("a cut without a feed")
	}
	n, ok := w.feedSteps(f)
	if !ok {
		return nil, fmt.Errorf("a feed of %d tenths of a nanometre a minute lies between two steps of %d places of %s/min",
			f, w.feedPlaces(), w.unit)
	}
	if f == w.feed {
		return b, nil
	}
	w.feed = f
	return fixed(append(b, ' ', 'F'), n, w.feedPlaces()), nil
}
