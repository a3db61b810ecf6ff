package rs274_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stopshort/machines"
	"stopshort/post/rs274/read"
	"stopshort/post/rs274/write"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// drawMachine is a machine with any abilities that a program depends on.
func drawMachine(t *rapid.T) *machines.Machine {
	return &machines.Machine{
		Units: rapid.SampledFrom([]measure.Unit{measure.MM, measure.In}).Draw(t, "units"),
		Controller: &machines.Controller{
			Places:      rapid.IntRange(3, 5).Draw(t, "places"),
			Comments:    rapid.SampledFrom([]string{"parentheses", "none"}).Draw(t, "comments"),
			Dwell:       rapid.SampledFrom([]string{"seconds", "milliseconds"}).Draw(t, "dwell"),
			LineEnd:     rapid.SampledFrom([]string{"lf", "crlf"}).Draw(t, "line end"),
			LineLength:  rapid.IntRange(70, 127).Draw(t, "line length"),
			SetsSpindle: rapid.Bool().Draw(t, "sets spindle"),
		},
	}
}

// drawer draws moves that keep the writer's rules, all counted in steps.
type drawer struct {
	step, feedStep int64
	at             solid.Point
	clear          measure.Length
}

func (d *drawer) point(x, y, z int64) solid.Point {
	s := measure.Length(d.step)
	return solid.Point{X: measure.Length(x) * s, Y: measure.Length(y) * s, Z: measure.Length(z) * s}
}

func (d *drawer) feed(t *rapid.T) measure.Feed {
	return measure.Feed(rapid.Int64Range(1, 20000).Draw(t, "feed") * d.feedStep)
}

func (d *drawer) rapidXY(t *rapid.T) toolpath.Move {
	p := d.point(rapid.Int64Range(-200000, 200000).Draw(t, "x"), rapid.Int64Range(-200000, 200000).Draw(t, "y"), 0)
	p.Z = d.at.Z
	return toolpath.Move{Kind: toolpath.Rapid, To: p}
}

func (d *drawer) toZ(k toolpath.Motion, z measure.Length, f measure.Feed) toolpath.Move {
	p := d.at
	p.Z = z
	return toolpath.Move{Kind: k, To: p, Feed: f}
}

// arc turns the start about a centre by quarters, or mirrors it, so that the two
// radii are the same to the last step.
func (d *drawer) arc(t *rapid.T) toolpath.Move {
	a := rapid.Int64Range(1, 100000).Draw(t, "a")
	b := rapid.Int64Range(-100000, 100000).Draw(t, "b")
	ends := [][2]int64{{-b, a}, {-a, -b}, {b, -a}, {a, -b}, {-a, b}, {b, a}, {-b, -a}}
	e := rapid.SampledFrom(ends).Draw(t, "end")
	if e == [2]int64{a, b} {
		e = [2]int64{-a, -b}
	}
	c := d.at.Minus(d.point(a, b, 0))
	to := c.Plus(d.point(e[0], e[1], rapid.Int64Range(-500, 500).Draw(t, "helix")))
	c.Z = 0
	return toolpath.Move{Kind: toolpath.Arc, To: to, Centre: c,
		Sense: rapid.SampledFrom([]toolpath.Sense{toolpath.Clockwise, toolpath.Anticlockwise}).Draw(t, "sense"), Feed: d.feed(t)}
}

func (d *drawer) operation(t *rapid.T, cut int, speed measure.Speed) toolpath.Operation {
	op := toolpath.Operation{Cut: cut, Name: rapid.String().Draw(t, "name"), Speed: speed}
	add := func(p *toolpath.Pass, mv toolpath.Move) {
		p.Moves = append(p.Moves, mv)
		d.at = mv.To
	}
	for i := range rapid.IntRange(1, 3).Draw(t, "passes") {
		p := toolpath.Pass{Name: fmt.Sprintf("pass %d", i+1), Depth: measure.Length(i) * measure.Millimetre}
		add(&p, d.rapidXY(t))
		z := measure.Length(rapid.Int64Range(-90000, -1).Draw(t, "z") * d.step)
		add(&p, d.toZ(toolpath.Line, z, d.feed(t)))
		for range rapid.IntRange(0, 5).Draw(t, "moves") {
			switch rapid.IntRange(0, 2).Draw(t, "kind") {
			case 0:
				add(&p, d.arc(t))
			case 1:
				mv := d.rapidXY(t)
				mv.Kind, mv.Feed = toolpath.Line, d.feed(t)
				add(&p, mv)
			case 2:
				add(&p, d.toZ(toolpath.Line, d.at.Z-measure.Length(d.step), d.feed(t)))
			}
		}
		add(&p, d.toZ(toolpath.Rapid, d.clear, 0))
		op.Passes = append(op.Passes, p)
	}
	return op
}

// expect is the steps that a program must give, told from its moves alone.
func expect(p toolpath.Program) []toolpath.Step {
	var at toolpath.Place
	var out []toolpath.Step
	at.Z, at.Known[2] = p.Setup.Clearance, true
	out = append(out, toolpath.Step{Kind: toolpath.Rapid, To: at, Op: -1})
	var speed measure.Speed
	for i, op := range p.Operations {
		if op.Speed != speed && p.SpinUp > 0 {
			out = append(out, toolpath.Step{Kind: toolpath.Dwell, From: at, To: at, Time: p.SpinUp, Speed: op.Speed, Op: -1})
		}
		speed = op.Speed
		for _, pass := range op.Passes {
			for _, mv := range pass.Moves {
				to := toolpath.Place{Point: mv.To, Known: [3]bool{true, true, true}}
				s := toolpath.Step{Kind: mv.Kind, From: at, To: to, Speed: speed, Op: i, Feed: mv.Feed}
				if mv.Kind == toolpath.Arc {
					s.Centre, s.Sense = mv.Centre, mv.Sense
				}
				out = append(out, s)
				at = to
			}
		}
	}
	return out
}

// The steps that are read are the moves that were written, exactly, each within
// the lines of its operation, for any program on the grid.
func TestWriteThenRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawMachine(t)
		d := &drawer{step: int64(m.Units.Size()) / int64(math.Pow10(m.Controller.Places)), feedStep: 1_000_000}
		if m.Units == measure.In {
			d.feedStep = 2_540_000
		}
		d.clear = measure.Length(rapid.Int64Range(1, 200000).Draw(t, "clearance") * d.step)
		d.at.Z = d.clear
		p := toolpath.Program{
			Title: rapid.String().Draw(t, "title"), Digest: "123456789012",
			Setup:  &toolpath.Setup{Number: 1, Name: "a", Clearance: d.clear},
			SpinUp: time.Duration(rapid.IntRange(0, 500).Draw(t, "spin-up")) * 10 * time.Millisecond,
			Head:   rapid.SliceOfN(rapid.String(), 0, 4).Draw(t, "head"),
		}
		speed := measure.Speed(rapid.IntRange(1, 9000).Draw(t, "rpm")) * measure.RPM
		for i := range rapid.IntRange(1, 3).Draw(t, "operations") {
			p.Operations = append(p.Operations, d.operation(t, i+1, speed))
			if m.Controller.SetsSpindle {
				speed += measure.Speed(rapid.IntRange(0, 1).Draw(t, "faster")) * measure.RPM
			}
		}
		text, err := write.Program(p, m)
		if err != nil {
			t.Fatal(err)
		}
		checkBytes(t, text.Bytes, m)
		r, err := read.Read(bytes.NewReader(text.Bytes), read.Options{DwellMilliseconds: m.Controller.Dwell == "milliseconds"})
		if err != nil {
			t.Fatal(err)
		}
		if n := r.First(read.R | read.A); n != nil {
			t.Fatalf("%v\n%s", n, text.Bytes)
		}
		got := r.Trace
		last := 0
		for i := range got.Steps {
			s := &got.Steps[i]
			if s.Line <= last {
				t.Fatalf("step %d on line %d, the one before on line %d", i, s.Line, last)
			}
			last = s.Line
			for op, span := range text.Ops {
				if s.Line >= span.First && s.Line <= span.Last {
					s.Op = op
				}
			}
			s.Line = 0
		}
		if diff := cmp.Diff(expect(p), got.Steps); diff != "" {
			t.Fatalf("-moves +read\n%s\n%s", diff, text.Bytes)
		}
	})
}

// checkBytes looks at what every reader asks of the bytes themselves.
func checkBytes(t *rapid.T, text []byte, m *machines.Machine) {
	end := "\n"
	if m.Controller.LineEnd == "crlf" {
		end = "\r\n"
	}
	if !bytes.HasSuffix(text, []byte("M2"+end)) {
		t.Fatalf("the text does not end with M2 and a line's end")
	}
	for _, line := range strings.Split(strings.TrimSuffix(string(text), end), end) {
		if len(line)+len(end) > min(70, m.Controller.LineLength) {
			t.Fatalf("%d characters in %q", len(line)+len(end), line)
		}
		for _, c := range []byte(line) {
			if c < ' ' || c > '~' || strings.ContainsRune("!?~%$;@^", rune(c)) {
				t.Fatalf("byte %d in %q", c, line)
			}
		}
		if strings.HasPrefix(line, "(") {
			if m.Controller.Comments == "none" || strings.Count(line, "(") != 1 || strings.Index(line, ")") != len(line)-1 {
				t.Fatalf("comment %q", line)
			}
		} else if words := strings.Fields(line); strings.ContainsAny(line, "XYZ") && !strings.Contains("G0 G1 G2 G3", words[0]) {
			t.Fatalf("line %q moves without its own motion word", line)
		} else if strings.ContainsAny(line, "()") || strings.Contains(line, "-0.0000 ") || strings.Contains(line, "  ") {
			t.Fatalf("line %q", line)
		}
	}
}
