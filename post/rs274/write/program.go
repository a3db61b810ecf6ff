package write

import (
	"fmt"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// Text is a program as it leaves, with the lines of each of its operations.
type Text struct {
	Bytes []byte
	Ops   []Span // one for each operation, in order
	// Told is what the head would say, and each stop, a line each, where the controller
	// takes no comments; else the text says it itself.
	Told []string
}

// Span is the lines of one operation, the first and the last, from 1: from the
// comment with its name to its last move.
type Span struct{ First, Last int }

// longest is the most characters in a line, its end counted, whatever the
// controller takes (common practice of a streaming sender, no source).
const longest = 70

// shortest is the least that a controller may ask for: the line of modes needs
// it.
const shortest = 40

// writer holds the text so far and the state in which it leaves a reader.
type writer struct {
	grid
	dialect
	limit int    // characters in a line, its end counted
	end   string // of a line

	text  []byte
	lines int

	at        solid.Point
	known     bool         // X and Y of at; Z always is, after the first rise
	feed      measure.Feed // in force; nought after a rapid, so that it is said again
	number    int          // of the last line
	lengthsOn bool         // G43 is in force
	cycle     bool         // a drilling cycle is in force
	heading   bool         // what is said now is the head's
	told      []string     // what no comment can say
}

// Program writes p for the machine's controller.
//
// Before the first operation stands a rise to the clearance height, Z alone; it
// is not in p. Every move of p is one line, and
// there are no other moves. The first move of an operation is a rapid at
// clearance, and its last one ends there. The spindle's words stand between the
// operations, outside their spans.
//
// An error says what cannot be written: a figure that is not on the
// controller's grid, an arc that does not close within 0.002 mm or 0.0002 in
// (NISTIR 6556, 3.5.3.2) or that ends where it starts, a move of Z together with
// X or Y on a rapid, a line that is too long. Nothing is returned with an error.
func Program(p toolpath.Program, m *machines.Machine) (Text, error) {
	w, err := forMachine(m)
	if err != nil {
		return Text{}, err
	}
	if err := whole(p, m); err != nil {
		return Text{}, err
	}
	if err := w.first(); err != nil {
		return Text{}, err
	}
	w.heading = true
	if err := w.head(p, m); err != nil {
		return Text{}, err
	}
	w.heading = false
	var t Text
	if err := w.start(p, m); err != nil {
		return Text{}, err
	}
	for i, op := range p.Operations {
		switch {
		case i == 0:
		case op.Tool.Number != p.Operations[i-1].Tool.Number:
			if err := w.change(op, p, m); err != nil {
				return Text{}, fmt.Errorf("cut %d, %q: %w", op.Cut, op.Name, err)
			}
		case op.Speed != p.Operations[i-1].Speed:
			if err := w.spindle(op.Speed, p.SpinUp, m); err != nil {
				return Text{}, fmt.Errorf("cut %d, %q: %w", op.Cut, op.Name, err)
			}
		}
		span := Span{First: w.lines + 1}
		if err := w.operation(op, p.Setup.Clearance, p.SpinUp, m); err != nil {
			return Text{}, fmt.Errorf("cut %d, %q: %w", op.Cut, op.Name, err)
		}
		span.Last = w.lines
		t.Ops = append(t.Ops, span)
	}
	if err := w.finish(); err != nil {
		return Text{}, err
	}
	t.Bytes, t.Told = w.text, w.told
	return t, nil
}

// forMachine is a writer for the abilities of a machine's controller.
func forMachine(m *machines.Machine) (*writer, error) {
	if m == nil || m.Controller == nil {
		return nil, fmt.Errorf("the machine has no controller: its cuts are written as a table of turns")
	}
	c := m.Controller
	w := &writer{grid: grid{m.Units, c.Places}, dialect: dialectOf(c, m.Units), limit: min(longest, c.LineLength), end: "\n"}
	switch {
	case m.Units != measure.MM && m.Units != measure.In:
		return nil, fmt.Errorf("the machine's units are neither mm nor in")
	case c.Places < 2 || c.Places > 5:
		return nil, fmt.Errorf("%d places of a coordinate: write 2 to 5", c.Places)
	case w.limit < shortest:
		return nil, fmt.Errorf("%d characters are too short for a line: write %d or more", c.LineLength, shortest)
	}
	switch c.Comments {
	case "parentheses":
		w.comments = [2]string{"(", ")"}
	case "semicolon":
		w.comments = [2]string{"; ", ""}
	case "none":
	default:
		return nil, fmt.Errorf("comments of the kind %q are not known", c.Comments)
	}
	switch c.LineEnd {
	case "lf":
	case "crlf":
		w.end = "\r\n"
	default:
		return nil, fmt.Errorf("a line's end of the kind %q is not known", c.LineEnd)
	}
	return w, nil
}

// whole looks for what must be right before a line is written.
func whole(p toolpath.Program, m *machines.Machine) error {
	if p.Setup == nil {
		return fmt.Errorf("the program has no set-up")
	}
	if len(p.Operations) == 0 {
		return fmt.Errorf("the program has no operation")
	}
	before := p.Operations[0]
	for _, op := range p.Operations {
		if op.Tool != before.Tool && (p.Change == toolpath.ByFile || op.Tool.Number == before.Tool.Number) {
			return fmt.Errorf("cut %d, %q: tool %d in a program of tool %d: each tool has its own program",
				op.Cut, op.Name, op.Tool.Number, before.Tool.Number)
		}
		if op.Tool == before.Tool && op.Speed != before.Speed && !m.Controller.SetsSpindle {
			return fmt.Errorf("cut %d, %q: another speed than the first cut's, and the spindle is set by hand", op.Cut, op.Name)
		}
		before = op
	}
	return nil
}

// TooLong tells of a line that a controller has no room for.
type TooLong struct {
	Characters int // its end counted
	Line       string
	Most       int
}

func (e TooLong) Error() string {
	return fmt.Sprintf("%d characters in the line %q, and %d are the most", e.Characters, e.Line, e.Most)
}

// put ends a line of words and adds it to the text, with its number where lines
// have one.
func (w *writer) put(line string) error { return w.bare(w.numbered() + line) }

// bare ends a line and adds it to the text.
func (w *writer) bare(line string) error {
	if n := len(line) + len(w.end); n > w.limit {
		return TooLong{Characters: n, Line: line, Most: w.limit}
	}
	w.text = append(append(w.text, line...), w.end...)
	w.lines++
	return nil
}

// putAll puts one line after the other.
func (w *writer) putAll(lines ...string) error {
	for _, line := range lines {
		if err := w.put(line); err != nil {
			return err
		}
	}
	return nil
}
