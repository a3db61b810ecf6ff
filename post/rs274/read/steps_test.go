package read

import (
	"fmt"
	"strings"
	"testing"
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
	got := reading(t, text, Options{})
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
	want := &toolpath.Trace{Ended: true, Left: toolpath.Left{Unit: measure.Millimetre, Stated: true}, Steps: []toolpath.Step{
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
	if diff := cmp.Diff(want, got.Trace); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
}

// told is steps in short: kind, where to in mm, the centre of an arc, the slack.
func told(steps []toolpath.Step) string {
	var out []string
	for _, s := range steps {
		line := strings.ToUpper(s.Kind.String()[:1])
		if s.Kind == toolpath.Arc {
			line += []string{"-", "+"}[s.Sense]
		}
		if s.Kind == toolpath.Dwell {
			out = append(out, line+measure.FormatTime(s.Time))
			continue
		}
		var at []string
		for i, v := range []measure.Length{s.To.X, s.To.Y, s.To.Z} {
			if s.To.Known[i] {
				at = append(at, v.MM())
			} else {
				at = append(at, "?")
			}
		}
		line += " " + strings.Join(at, " ")
		if s.Kind == toolpath.Arc {
			c := []string{s.Centre.X.MM(), s.Centre.Y.MM(), s.Centre.Z.MM()}
			line += " about " + strings.Join(c, " ")
		}
		if s.Slack != 0 {
			line += fmt.Sprintf(" ~%d", s.Slack)
		}
		out = append(out, line)
	}
	return strings.Join(out, "; ")
}

// What lines mean, worked out by hand from NISTIR 6556; each stands after the
// head, G0 X0. Y0. Z5. and F60.
func TestMeaning(t *testing.T) {
	for _, c := range []struct{ lines, want, source string }{
		{"G91\nG1 X1. Z-1.\nX1. Y-2.\nG90 X1.", "L 1 0 4; L 2 -2 4; L 1 -2 4", "3.5.17 distance modes"},
		{"G20 G1 X1.\nG21 X1.", "L 25.4 0 5; L 1 0 5", "3.5.7 units"},
		{"G90.1 G2 X2. Y0. I1. J0.\nG91.1 G3 X0. Y0. I-1. J0.", "A- 2 0 5 about 1 0 0; A+ 0 0 5 about 1 0 0", "absolute centres"},
		{"G1 X10. Y5.\nG90.1 G91 G3 X-2. Y0. I9. J5.", "L 10 5 5; A+ 8 5 5 about 9 5 0", "absolute centres, increments of the end"},
		{"G3 X1. Y1. I0. J1. Z4.", "A+ 1 1 4 about 0 1 0", "3.5.3 helix"},
		{"G2 X0. Y0. I1. Z4.", "A- 0 0 4 about 1 0 0", "3.5.3.2 a full turn"},
		{"G2 I1. Z4.", "A- 0 0 4 about 1 0 0", "a full turn without its end"},
		{"G18 G2 X2. Z5. I1. K0.", "A- 2 0 5 about 1 0 5", "3.5.3 XZ plane"},
		{"G19 G3 Y2. Z5. J1.", "A+ 0 2 5 about 0 1 5", "3.5.3 YZ plane"},
		{"G2 X2. Y0. R1.", "A- 2 0 5 about 1 0 0", "3.5.3.1 half a turn"},
		{"G2 X6. Y0. R5.", "A- 6 0 5 about 3 -4 0 ~3", "3.5.3.1: 3, 4, 5; clockwise and short: the centre to the right"},
		{"G3 X6. Y0. R5.", "A+ 6 0 5 about 3 4 0 ~3", "3.5.3.1: to the left"},
		{"G2 X6. Y0. R-5.", "A- 6 0 5 about 3 4 0 ~3", "3.5.3.1: the long way"},
		{"G18 G3 X6. Z5. R5.", "A+ 6 0 5 about 3 0 1 ~3", "3.5.3.1 in XZ: anticlockwise seen from +Y, Z turned to X; going along +X the left is -Z"},
		{"G99 G81 X1. Y2. Z-3. R1.\nX4.\nG80", "R 1 2 5; R 1 2 1; L 1 2 -3; R 1 2 1; R 4 2 1; L 4 2 -3; R 4 2 1", "3.5.16.2"},
		{"G98 G81 X1. Z-3. R1.\nX4.", "R 1 0 5; R 1 0 1; L 1 0 -3; R 1 0 5; R 4 0 5; R 4 0 1; L 4 0 -3; R 4 0 5", "3.5.20"},
		{"G98 G82 X1. Z-3. R1. P1.5", "R 1 0 5; R 1 0 1; L 1 0 -3; D1.5 s; R 1 0 5", "3.5.16.3"},
		{"G99 G83 X1. Z-3. R1. Q1.5", "R 1 0 5; R 1 0 1; L 1 0 -0.5; R 1 0 1; R 1 0 -0.246; L 1 0 -2; R 1 0 1; R 1 0 -1.746; L 1 0 -3; R 1 0 1", "3.5.16.4, back to 0.254 above"},
		{"G99 G73 X1. Z-2. R1. Q1.5", "R 1 0 5; R 1 0 1; L 1 0 -0.5; R 1 0 -0.246; L 1 0 -2; R 1 0 1", "chip breaking"},
		{"G0 Z0.\nG98 G81 X1. Z-3. R1.", "R 0 0 0; R 0 0 1; R 1 0 1; L 1 0 -3; R 1 0 1", "3.5.16.1: from below R, up first; G98 to the height held before it if above R"},
		{"G91 G98 G81 X1. Z-3. R-4. L2", "R 1 0 5; R 1 0 1; L 1 0 -2; R 1 0 5; R 2 0 5; R 2 0 1; L 2 0 -2; R 2 0 5", "3.5.16 in G91: R from present Z, Z from R, repeated"},
		{"G91 G28 Z0.\nG90 G0 X3.", "R 0 0 5; R ? ? ?; R 3 ? ?", "3.5.8 by way of the place that is said"},
		{"G28 Z0.\nG1 X1. Y1. Z1.", "R 0 0 0; R ? ? ?; L 1 1 1", "3.5.8 in G90 through zero"},
		{"G53 G0 Z0.\nZ3.", "R 0 0 ?; R 0 0 3", "3.5.12"},
		{"G55\nG0 X1. Y1. Z1.\nG54 X2.", "R ? ? ?; R 2 ? ?", "3.5.13"},
		{"G92 X0.\nG1 X1.\nG92.1\nX2. Y0. Z1.", "L ? ? ?; L 2 0 1", "3.5.18"},
		{"G41 D1\nG1 X1. Y1. Z-1.\nG2 X2. I1.\nG40\nG1 X3. Y0.", "L ? ? -1; L ? ? -1; L 3 0 -1", "10: the centre's path is not the one that is written"},
		{"/G1 X1.\nG1 Y1.", "L 1 0 5; L ? 1 ?", "2.2.2 block delete"},
		{"#1=5\nG1 X1. Y1. Z1.", "L 1 1 1", "parameters"},
		{"G1 X[1+2] Y1.\nZ1.\nX1. Y1.", "L ? ? 1; L 1 1 1", "expressions"},
		{"G1 X1. T3 M6\nG1 Z-1.", "L 1 ? ?; L 1 ? -1", "3.6.3: the axes may move"},
		{"G1 X0.00000012345", "L 0.0000001 0 5 ~1", "finer than what is held"},
		{"G1 X1.00000000000000000000001", "L 1 0 5 ~1", "many digits"},
		{"G1 X-0.99999999999999999999", "L -0.9999999 0 5 ~1", "many digits"},
		{"G1 X100000.0001\nX1.", "L ? 0 5; L 1 0 5", "over 100 m"},
		{"G91 G1 X99999.\nX2.", "L 99999 0 5; L ? 0 5", "over 100 m"},
		{"M1\nM60\nM0", "S 0 0 5; S 0 0 5; S 0 0 5", "3.6.1"},
		{"M2\nG1 X1.", "", "3.6.1: nothing after it is run"},
		{"G4 P1 G1 X1.", "D1 s; L 1 0 5", "3.8: dwell, then move"},
		{"G1 X1. M0", "L 1 0 5; S 1 0 5", "3.8: stops come last"},
	} {
		r := reading(t, before+c.lines+"\nM2\n", Options{})
		if got := told(r.Trace.Steps[1:]); got != c.want {
			t.Errorf("%q (%s):\n got %s\nwant %s\n%v", c.lines, c.source, got, c.want, r.Notes)
		}
	}
}

// What is not proved, what is assumed, and on which line.
func TestNotes(t *testing.T) {
	const head = "G17 G21 G40 G49 G54 G80 G90 G94\n"
	for _, c := range []struct {
		text string
		want string // the notes that are no findings
	}{
		{before + "M2\n", ""},
		{"G0 Z5.\nM2\n", "line 1: neither G20 nor G21 was said; line 1: G90: not said, and taken as in force; " +
			"line 1: G40: not said, and taken as in force; line 1: G49: not said, and taken as in force; line 1: G54: not said, and taken as in force"},
		{head + "G91 G1 Z-1. F60.\nM2\n", "line 2: Z: an increment from a place that is not known; line 2: a cut at a height that is not known"},
		{head + "G0 X1.\nG1 X2. F60.\nM2\n", "line 2: the cutter starts high enough to cross; line 3: a cut at a height that is not known"},
		{head + "G2 X1. I1. F60.\nM2\n", "line 2: an arc from a place that is not known"},
		{head + "G0 G43 H2 Z5.\nM2\n", "line 2: H2: the length offset is right for the tool that is in"},
		{head + "T3 M6\nG0 G43 H5 Z5.\nM2\n", "line 3: H5: not the number of the tool that is in: its length offset is right for that one all the same"},
		{head + "T5 M6\nG0 G43 H5 Z5.\nM2\n", "line 3: H5: the length offset is right for the tool that is in"},
		{before + "G98 G81 X1. R1. Z-1. F50.\nG91 X3.\nM2\n", "line 5: G81: readers differ on what a cycle keeps when the unit or G90 and G91 change within it"},
		{before + "G99 G81 X1. R1. Z-1. F50.\nG20 X3.\nM2\n", "line 5: G81: readers differ on what a cycle keeps when the unit or G90 and G91 change within it"},
		{before + "G99 G81 X1. R1. Z-1. F50.\nG20 X.3 R.1 Z-.1 F2.\nM2\n", ""},
		{head + "G43 H2\nG0 Z5.\nG49\nG0 Z9.\nM2\n", "line 2: H2: the length offset is right for the tool that is in; line 5: a move in Z after the length offset was taken away"},
		{before + "G43 H2\nM2\n", "line 4: G43: the length offset comes after moves in Z: their height is not of the same zero; line 4: H2: the length offset is right for the tool that is in"},
		{before + "T1 M6\nT2 M6\nM2\n", "line 5: M6: each tool is set to the same zero in Z"},
		{before + "G41 D1\nM2\n", "line 4: G41: cutter compensation: the path lies beside the one that is written"},
		{before + "G55\nM2\n", "line 4: G55: another zero than G54: no place is known in it"},
		{before + "G10 L2 P1 X0.\nG1 X1.\nM2\n", "line 4: G10: another zero than G54: no place is known in it; line 5: a cut at a height that is not known"},
		{before + "G30\nM2\n", "line 4: G30: goes to a place that the text does not say"},
		{before + "o1 while [#1 LT 3]\nM2\n", "line 4: loops and subprograms"},
		{before + "M98 P100\nM2\n", "line 4: M98: not known"},
		{before + "A90.\nM2\n", "line 4: A: a turning axis"},
		{before + "G38.2 Z-1.\nM2\n", "line 4: G38.2: stops where it touches"},
		{before + "G84 X1. Z-1. R1.\nM2\n", "line 4: G84: what it does is not followed"},
		{before + "/G91\nM2\n", "line 4: a line that a switch may leave out changes a mode"},
		{before + "/M2\nG0 Z9.\nM2\n", "line 4: a line that a switch may leave out changes a mode"},
		{before + "G90 G91\nG1 X1.\nM2\n", "line 4: G91: beside another of its modal group; line 5: a mode is not known since an earlier line"},
		{before + "G20 G21\nG1 X1.\nG21\nG1 X1. Y1. Z1.\nM2\n", "line 4: G21: beside another of its modal group; line 5: a mode is not known since an earlier line"},
		{before + "M4 S100\nM2\n", "line 4: M4: the cutter is made to turn anticlockwise"},
		{before + "G64\nM2\n", "line 4: G64: corners may be rounded, inside of them"},
		{before + "G81 X1. Z-1. R1.\nM2\n", "line 4: G98: not said, and taken as in force: back to the height before the cycle"},
		{before + "G98 G83 X1. Z-1. R1. Q0.0000001\nM2\n", "line 4: G83: a cycle of more than 10000 moves"},
		{before + "M2\nG1 X1.\n", "line 5: what stands behind the program's end is not run"},
		{before + "G4 P1 X1.\nM2\n", "line 4: a dwell together with axis words and no motion word"},
		// 0.0001 mm about 250 mm is 4e-7, about 150 mm 6.7e-7 (A, public source: 5e-7).
		{before + "G2 X0. Y0.0001 I250. J0.\nM2\n", "line 4: an arc so short that some readers take it for a full turn"},
		{before + "G2 X0. Y0.0001 I150. J0.\nM2\n", ""},
		{before + "G3 X0. Y0.0001 I250. J0.\nM2\n", ""}, // all but a full turn
		{before + "G3 X0. Y0.0001 R-250.\nM2\n", ""},
		{before + "G3 X0. Y0.0001 R250.\nM2\n", "line 4: an arc so short that some readers take it for a full turn"},
		{before + "G2 X3. Y0. I1.\nM2\n", "line 4: no reader agrees where an arc goes whose two radii differ so much"},
	} {
		var got []string
		for _, n := range reading(t, c.text, Options{}).Notes {
			if n.Kind() != Finding {
				got = append(got, n.String())
			}
		}
		if got := strings.Join(got, "; "); got != c.want {
			t.Errorf("%q:\n got %s\nwant %s", c.text, got, c.want)
		}
	}
}
