package write

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

const (
	mm    = measure.Millimetre
	perMM = measure.Feed(measure.Millimetre) // mm/min
)

// mill is a converted mill with a controller that takes the plainest text.
func mill() *machines.Machine {
	return &machines.Machine{Units: measure.MM, Controller: &machines.Controller{
		Places: 4, Comments: "parentheses", Dwell: "seconds", LineEnd: "lf", LineLength: 80, SetsSpindle: true,
	}}
}

func rapidTo(x, y, z measure.Length) toolpath.Move {
	return toolpath.Move{Kind: toolpath.Rapid, To: solid.Point{X: x, Y: y, Z: z}}
}

func lineTo(x, y, z measure.Length, f measure.Feed) toolpath.Move {
	return toolpath.Move{Kind: toolpath.Line, To: solid.Point{X: x, Y: y, Z: z}, Feed: f}
}

// clamp is a small program: a slot in two passes and a half turn about its end.
func clamp() toolpath.Program {
	return toolpath.Program{
		Title: "Float-arm clamp (tide gauge)", Digest: "004217730915",
		Setup:  &toolpath.Setup{Number: 2, Name: "pad up", Clearance: 5 * mm},
		SpinUp: 3 * time.Second,
		Head:   []string{"Zero: the middle of the pad, on its top face."},
		Operations: []toolpath.Operation{{
			Cut: 1, Name: "arm slot", Speed: 1590 * measure.RPM,
			Tool: toolpath.Cutter{Number: 3, Kind: toolpath.SlotDrill, MadeOf: "HSS", Diameter: 4 * mm, Measured: 39_800_000,
				Flutes: 2, StickOut: 14 * mm},
			Passes: []toolpath.Pass{
				{Name: "pass 1 of 2", Depth: 5_000_000, Moves: []toolpath.Move{
					rapidTo(0, -9*mm, 5*mm),
					rapidTo(0, -9*mm, 1*mm),
					lineTo(0, -9*mm, -5_000_000, 30*perMM),
					lineTo(0, 9*mm, -5_000_000, 60*perMM),
				}},
				{Name: "pass 2 of 2", Depth: 1*mm + 1000, Moves: []toolpath.Move{
					lineTo(0, 9*mm, -1*mm-1000, 30*perMM),
					lineTo(0, -9*mm, -1*mm-1000, 60*perMM),
					{Kind: toolpath.Arc, To: solid.Point{X: -2_000_000, Y: -9 * mm, Z: -1*mm - 1000}, Centre: solid.Point{X: -1_000_000, Y: -9 * mm},
						Sense: toolpath.Anticlockwise, Feed: 60 * perMM},
					rapidTo(-2_000_000, -9*mm, 5*mm),
				}},
			},
		}},
	}
}

// The text of a small program, line by line as a person wants it.
func TestProgram(t *testing.T) {
	const want = `(FLOAT-ARM CLAMP TIDE GAUGE)
(JOB 004217730915)
(SET-UP 2 PAD UP)
(UNITS ARE MM)
(ZERO THE MIDDLE OF THE PAD ON ITS TOP FACE.)
(TOOL 3 SLOT DRILL 4.0 MM HSS 2 FLUTES)
(THE CUTTER MEASURES 3.98 MM)
(THE CUTTER STICKS OUT 14.0 MM)
(SPINDLE 1590 RPM)
(START WITH THE CUTTER 5.0 MM OR MORE ABOVE ZERO)
(GO BY THE MACHINE MANUAL AND LOCAL RULES.)
(IF IN DOUBT ASK SOMEONE COMPETENT.)
(DRY RUN ABOVE THE WORK FIRST. GUARD ON. EYES PROTECTED.)
G17 G21 G40 G49 G54 G80 G90 G94
G0 Z5.0000
M3 S1590
(3.0 SECONDS FOR THE SPINDLE TO GET UP TO SPEED)
G4 P3.0
(CUT 1 ARM SLOT)
(PASS 1 OF 2 TO 0.5 DEEP)
G0 X0.0000 Y-9.0000
G0 Z1.0000
G1 Z-0.5000 F30.0
G1 Y9.0000 F60.0
(PASS 2 OF 2 TO 1.0001 DEEP)
G1 Z-1.0001 F30.0
G1 Y-9.0000 F60.0
G3 X-0.2000 Y-9.0000 I-0.1000 J0.0000
G0 Z5.0000
M5
M2
`
	got, err := Program(clamp(), mill())
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, string(got.Bytes)); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
	if diff := cmp.Diff([]Span{{19, 29}}, got.Ops); diff != "" {
		t.Errorf("spans: -want +got\n%s", diff)
	}
}

// written is the text of p, or the test fails.
func written(t *testing.T, p toolpath.Program, m *machines.Machine) string {
	t.Helper()
	got, err := Program(p, m)
	if err != nil {
		t.Fatal(err)
	}
	return string(got.Bytes)
}

// What a controller can do changes these lines and no others.
func TestAbilities(t *testing.T) {
	plain := written(t, clamp(), mill())
	for _, c := range []struct {
		name     string
		change   func(*machines.Controller)
		from, to string // in the plain text and in the changed one
	}{
		{"milliseconds", func(c *machines.Controller) { c.Dwell = "milliseconds" }, "G4 P3.0\n", "G4 P3000\n"},
		{"speed by hand", func(c *machines.Controller) { c.SetsSpindle = false },
			"(SPINDLE 1590 RPM)\n", "(SET THE SPINDLE BY HAND TO 1590 RPM)\n"},
		{"line ends", func(c *machines.Controller) { c.LineEnd = "crlf" }, "\n", "\r\n"},
	} {
		m := mill()
		c.change(m.Controller)
		want := strings.ReplaceAll(plain, c.from, c.to)
		if want == plain {
			t.Fatalf("%s: nothing to change", c.name)
		}
		if diff := cmp.Diff(want, written(t, clamp(), m)); diff != "" {
			t.Errorf("%s: -want +got\n%s", c.name, diff)
		}
	}
}

func TestNoComments(t *testing.T) {
	m := mill()
	m.Controller.Comments = "none"
	got, err := Program(clamp(), m)
	if err != nil {
		t.Fatal(err)
	}
	var want []string
	for _, line := range strings.SplitAfter(written(t, clamp(), mill()), "\n") {
		if !strings.HasPrefix(line, "(") {
			want = append(want, line)
		}
	}
	if diff := cmp.Diff(strings.Join(want, ""), string(got.Bytes)); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
	if diff := cmp.Diff([]Span{{5, 12}}, got.Ops); diff != "" {
		t.Errorf("spans: -want +got\n%s", diff)
	}
}

// A quarter of an inch and a feed of 2.36 in/min are exact in inches; 6.35 mm is
// the same length.
func TestInch(t *testing.T) {
	m := mill()
	m.Units = measure.In
	p := clamp()
	p.Operations[0].Tool.Diameter = 127 * mm / 20 // 6.35 mm
	p.Operations[0].Passes = []toolpath.Pass{{Name: "finish", Moves: []toolpath.Move{
		rapidTo(0, -127*mm/20, 25_400_000),
		lineTo(0, -127*mm/20, -254_000, 236*2_540_000),
		rapidTo(0, -127*mm/20, 25_400_000),
	}}}
	p.Setup.Clearance = 25_400_000 // 0.1 in
	got := written(t, p, m)
	for _, line := range []string{
		"(UNITS ARE INCHES)", "(TOOL 3 SLOT DRILL 0.250 IN HSS 2 FLUTES)", "G17 G20 G40 G49 G54 G80 G90 G94",
		"G0 Z0.1000", "G0 X0.0000 Y-0.2500", "G1 Z-0.0010 F2.36", "(START WITH THE CUTTER 0.100 IN OR MORE ABOVE ZERO)",
	} {
		if !strings.Contains(got, line+"\n") {
			t.Errorf("no line %q in\n%s", line, got)
		}
	}
}

// Another speed is another start of the spindle, with its wait, outside the
// lines of both operations.
func TestSecondSpeed(t *testing.T) {
	p := clamp()
	second := p.Operations[0]
	second.Cut, second.Speed = 2, 2000*measure.RPM
	p.Operations = append(p.Operations, second)
	got, err := Program(p, mill())
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]Span{{19, 29}, {33, 43}}, got.Ops); diff != "" {
		t.Errorf("spans: -want +got\n%s", diff)
	}
	lines := strings.Split(string(got.Bytes), "\n")
	want := []string{"M3 S2000", "(3.0 SECONDS FOR THE SPINDLE TO GET UP TO SPEED)", "G4 P3.0"}
	if diff := cmp.Diff(want, lines[29:32]); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
	if lines[8] != "(SPINDLE 1590 THEN 2000 RPM)" {
		t.Errorf("line 9 is %q", lines[8])
	}
}

// The same program gives the same bytes whatever the locale of the process says
// (a decimal comma in a coordinate is an alarm on a controller).
func TestSameBytesInAnyLocale(t *testing.T) {
	want := written(t, clamp(), mill())
	for _, locale := range []string{"de_DE.UTF-8", "fr_FR.UTF-8", "nl_NL.UTF-8"} {
		t.Setenv("LC_ALL", locale)
		if got := written(t, clamp(), mill()); got != want || strings.Contains(got, ",") {
			t.Errorf("%s: the text differs", locale)
		}
	}
}

// F stands on the first feed move after a rapid even where it is the same as
// before (some controllers forget it), and not again after that.
func TestFeedAfterRapid(t *testing.T) {
	p := clamp()
	p.Operations[0].Passes = []toolpath.Pass{{Moves: []toolpath.Move{
		rapidTo(0, 0, 5*mm), lineTo(0, 0, -1*mm, 60*perMM), lineTo(1*mm, 0, -1*mm, 60*perMM), rapidTo(1*mm, 0, 5*mm),
		rapidTo(2*mm, 0, 5*mm), lineTo(2*mm, 0, -1*mm, 60*perMM), rapidTo(2*mm, 0, 5*mm),
	}}}
	got := written(t, p, mill())
	const want = `(CUT 1 ARM SLOT)
G0 X0.0000 Y0.0000
G1 Z-1.0000 F60.0
G1 X1.0000
G0 Z5.0000
G0 X2.0000
G1 Z-1.0000 F60.0
G0 Z5.0000
M5
M2
`
	if !strings.HasSuffix(got, want) {
		t.Errorf("got\n%s", got)
	}
}

// A move to where the cutter is already still is a line with axis words, since
// a motion word alone is an error.
func TestMoveToTheSamePlace(t *testing.T) {
	p := clamp()
	p.Operations[0].Passes = []toolpath.Pass{{Moves: []toolpath.Move{rapidTo(1*mm, 0, 5*mm), rapidTo(1*mm, 0, 5*mm)}}}
	if got := written(t, p, mill()); strings.Count(got, "G0 X1.0000 Y0.0000\n") != 2 {
		t.Errorf("got\n%s", got)
	}
}

// Long coordinates at four places stay within the line (some readers take no more): an arc
// with every word, and centres in the thousands. Longer ones are refused, but for the feed.
func TestLongestArc(t *testing.T) {
	p := clamp()
	far := solid.Point{X: -1234*mm - 5_678_000, Y: -2345*mm - 6_789_000, Z: 5 * mm}
	low := far
	low.Z = -1 * mm
	end := low
	end.Y += 2 * 1000 * mm
	end.Z = -2 * mm
	arc := toolpath.Move{Kind: toolpath.Arc, To: end, Centre: solid.Point{X: far.X, Y: far.Y + 1000*mm}, Feed: 1234 * perMM}
	up := end
	up.Z = 5 * mm
	p.Operations[0].Passes = []toolpath.Pass{{Moves: []toolpath.Move{
		{Kind: toolpath.Rapid, To: far}, {Kind: toolpath.Line, To: low, Feed: perMM}, arc, {Kind: toolpath.Rapid, To: up}}}}
	const want = "G2 X-1234.5678 Y-345.6789 Z-2.0000 I0.0000 J1000.0000 F1234.0\n"
	if got := written(t, p, mill()); !strings.Contains(got, want) {
		t.Errorf("got\n%s", got)
	}
	// Where the feed has no room it goes before, on a line of its own.
	m := mill()
	m.Controller.LineLength = len(want) - 1
	const apart = "\nF1234.0\nG2 X-1234.5678 Y-345.6789 Z-2.0000 I0.0000 J1000.0000\n"
	if got := written(t, p, m); !strings.Contains(got, apart) {
		t.Errorf("got\n%s", got)
	}
	m.Controller.LineLength = len(apart) - len("\nF1234.0\n") - 1
	if _, err := Program(p, m); err == nil {
		t.Errorf("an arc of %d characters is written where %d are the most", m.Controller.LineLength+1, m.Controller.LineLength)
	}
}
