package read

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"github.com/google/go-cmp/cmp"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

const um = measure.Micrometre

// place is a place in micrometres whose first known axes are known.
func place(x, y, z measure.Length, known ...bool) toolpath.Place {
	p := toolpath.Place{Point: solid.Point{X: x * um, Y: y * um, Z: z * um}, Known: [3]bool{true, true, true}}
	copy(p.Known[:], known)
	return p
}

// Each step of a small text, worked out by hand.
func TestSteps(t *testing.T) {
	const text = `(A SMALL TEXT)
G17 G21 G40 G49 G54 G80 G90 G94
G0 Z5.0000
M3 S1200
G4 P3.0
G0 X1.5 Y-2.0000
G1 Z-.25 F60.
Y+2.
G2 X3.5 Y2. I1. J0. Z-.5 F120.5
g03 x1.5 i-1.
M5 G0 Z5.
M0
M2
`
	got, err := Read(strings.NewReader(text), Options{})
	if err != nil {
		t.Fatal(err)
	}
	none := place(0, 0, 0, false, false, false)
	up := place(0, 0, 5000, false, false)
	over := place(1500, -2000, 5000)
	in := place(1500, -2000, -250)
	far := place(1500, 2000, -250)
	right := place(3500, 2000, -500)
	left := place(1500, 2000, -500)
	clear := place(1500, 2000, 5000)
	mmPerMin := measure.Feed(measure.Millimetre)
	centre := solid.Point{X: 2500 * um, Y: 2000 * um}
	rpm := 1200 * measure.RPM
	want := &toolpath.Trace{Ended: true, Steps: []toolpath.Step{
		{Kind: toolpath.Rapid, From: none, To: up, Line: 3, Op: -1},
		{Kind: toolpath.Dwell, From: up, To: up, Time: 3 * time.Second, Speed: rpm, Line: 5, Op: -1},
		{Kind: toolpath.Rapid, From: up, To: over, Speed: rpm, Line: 6, Op: -1},
		{Kind: toolpath.Line, From: over, To: in, Feed: 60 * mmPerMin, Speed: rpm, Line: 7, Op: -1},
		{Kind: toolpath.Line, From: in, To: far, Feed: 60 * mmPerMin, Speed: rpm, Line: 8, Op: -1},
		{Kind: toolpath.Arc, From: far, To: right, Centre: centre, Sense: toolpath.Clockwise, Feed: 1205 * mmPerMin / 10, Speed: rpm, Line: 9, Op: -1},
		{Kind: toolpath.Arc, From: right, To: left, Centre: centre, Sense: toolpath.Anticlockwise, Feed: 1205 * mmPerMin / 10, Speed: rpm, Line: 10, Op: -1},
		{Kind: toolpath.Rapid, From: left, To: clear, Line: 11, Op: -1},
		{Kind: toolpath.Stop, From: clear, To: clear, Line: 12, Op: -1},
	}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
}

// Numbers are exact in both units: an inch is 25.4 mm by definition.
func TestExactNumbers(t *testing.T) {
	for _, c := range []struct {
		units, text string
		want        measure.Length
	}{
		{"G21", "1.", 10_000_000},
		{"G21", "0.0000001", 1},
		{"G21", "-000.10", -1_000_000},
		{"G21", "1.00000000000000000000", 10_000_000},
		{"G20", "1", 254_000_000},
		{"G20", "0.001", 254_000},
		{"G20", "0.015625", 3_968_750}, // 1/64
		{"G20", "0.0000005", 127},
		{"G20", "3937.00787", 999_999_998_980}, // 3937.00787 * 254 000 000
		{"G21", "-0", 0},
	} {
		text := c.units + " G17 G40 G49 G54 G80 G90 G94\nG0 X" + c.text + "\nM2\n"
		got, err := Read(strings.NewReader(text), Options{})
		if err != nil {
			t.Errorf("%s X%s: %v", c.units, c.text, err)
			continue
		}
		if x := got.Steps[0].To.X; x != c.want {
			t.Errorf("%s X%s: %d, want %d", c.units, c.text, x, c.want)
		}
	}
	if rule, _, _ := ruleOf(t, "G20 G17 G40 G49 G54 G80 G90 G94\nG0 X0.0000001\nM2\n"); rule != NotFollowed { // 25.4 of them
		t.Errorf("a tenth of a millionth of an inch is taken: rule %d", rule)
	}
}

// A dwell's unit is told; the text does not say it.
func TestDwellUnit(t *testing.T) {
	for _, c := range []struct {
		o    Options
		want time.Duration
	}{{Options{}, 3000 * time.Second}, {Options{DwellMilliseconds: true}, 3 * time.Second}} {
		got, err := Read(strings.NewReader("G4 P3000\nM2\n"), c.o)
		if err != nil {
			t.Fatal(err)
		}
		if got.Steps[0].Time != c.want {
			t.Errorf("%+v: %v, want %v", c.o, got.Steps[0].Time, c.want)
		}
	}
}

// The result does not depend on where the stream is cut: byte by byte, halves,
// with the error beside the last bytes, and with the text pushed over the edge
// of the buffer by blank lines, one byte at a time.
func TestChunks(t *testing.T) {
	text := before + "N10 G2 X2.0000 Y0.0000 I1.0000 J0.0000 (HALF)\r\nG1 X3.\rM2\r\n"
	want, err := Read(strings.NewReader(text), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for name, cut := range map[string]func(io.Reader) io.Reader{
		"one byte": iotest.OneByteReader, "half": iotest.HalfReader, "data and error": iotest.DataErrReader,
	} {
		got, err := Read(cut(strings.NewReader(text)), Options{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
		} else if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
	for _, end := range []string{"\n", "\r\n"} {
		for size := bufferSize - len(text) - 3; size < bufferSize+3; size++ {
			pad := strings.Repeat(strings.Repeat(" ", 100-len(end))+end, size/100)
			pad += strings.Repeat(" ", size-len(pad)) // on the first line of the text
			got, err := Read(strings.NewReader(pad+text), Options{})
			if err != nil {
				t.Fatalf("%d bytes before: %v", size, err)
			}
			for i := range got.Steps {
				got.Steps[i].Line -= size / 100
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Fatalf("%d bytes before: %s", size, diff)
			}
		}
	}
}

// The reader never panics, each refusal has its line within the text, and the
// cut of the stream changes nothing.
func FuzzRead(f *testing.F) {
	for _, s := range []string{
		before + "G2 X2. Y0. I1. J0.\nM2\n", before + "G3 X0 I1. J1\nM30\n", "%\n", "(", "G", "N1G1X1", "\r\n\r", "G4P1e5",
		before + "G1 X-.5 Y+00. Z1.0000000000000000000\nM5\nM2", "G20G90G17G40G49G54G94G0X1Y1\nF1\nG2X1.0001I999\nM2\n",
		before + "M3 S1 G4 P.5 M0\n/G1", "#1=1", "G1 X[1]", "G99999999999999999999\n", "\x18!~?", before + "X1\nX1\nM2\n(A)\n",
	} {
		f.Add([]byte(s), false)
	}
	f.Fuzz(func(t *testing.T, text []byte, ms bool) {
		o := Options{DwellMilliseconds: ms}
		got, err := Read(bytes.NewReader(text), o)
		again, err2 := Read(iotest.OneByteReader(bytes.NewReader(text)), o)
		if fmt.Sprint(err) != fmt.Sprint(err2) {
			t.Fatalf("%v, and byte by byte %v", err, err2)
		}
		if diff := cmp.Diff(got, again); diff != "" {
			t.Fatal(diff)
		}
		if err != nil {
			e, ok := err.(*Error)
			if !ok || e.Line < 1 || e.Line > 1+bytes.Count(text, []byte("\n"))+bytes.Count(text, []byte("\r")) {
				t.Fatalf("%#v", err)
			}
			return
		}
		at := toolpath.Place{}
		for _, s := range got.Steps {
			if s.From != at {
				t.Fatalf("line %d starts at %v, the step before ended at %v", s.Line, s.From, at)
			}
			at = s.To
			if s.Feed < 0 || s.Speed < 0 || s.Time < 0 || (s.Kind == toolpath.Line || s.Kind == toolpath.Arc) && s.Feed == 0 {
				t.Fatalf("step %+v", s)
			}
			for _, l := range []measure.Length{at.X, at.Y, at.Z} {
				if l.Abs() > measure.MaxLength {
					t.Fatalf("step %+v", s)
				}
			}
		}
	})
}
