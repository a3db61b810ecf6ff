package survey

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stopshort/post/rs274/read"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

const mm = measure.Millimetre

// opening is the head, a place and a feed: five lines.
const opening = "G17 G21 G40 G49 G54 G80 G90 G94\nG0 Z5.\nM3 S1000\nG0 X0. Y0.\nF60.\n"

func run(t *testing.T, text string, a Asked) *Report {
	t.Helper()
	r, err := Run(strings.NewReader(text), read.Options{}, a)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// String is a box in mm.
func (b Box) String() string {
	s := ""
	for i, known := range b.Known {
		if known {
			s += fmt.Sprintf("%c %s %s ", 'X'+i, b.Low[i].MM(), b.High[i].MM())
		}
	}
	return strings.TrimSpace(s)
}

// Figures of small programs, worked out by hand.
func TestFigures(t *testing.T) {
	for _, c := range []struct {
		lines        string
		lowest       string // Z and line
		cuts, rapids string
		crossing     string // line, Z, count
		still        int    // line of the first cut with the spindle standing
		stop         measure.Length
		why          string
	}{
		{lines: "G1 Z-1.\nG1 X3. Y-4.\nG1 Z-2.\nG0 Z5.\n", lowest: "-2 8", cuts: "X 0 3 Y -4 0 Z -2 5", rapids: "X 0 3 Y -4 0 Z -2 5", crossing: "", stop: -2 * mm, why: "to the stop and no farther"},
		{lines: "G1 Z-1.\nG1 Z-2.0001\nG1 X1.\n", lowest: "-2.0001 7", cuts: "X 0 1 Y 0 0 Z -2.0001 5",
			rapids: "X 0 1 Y 0 0 Z -2.0001 5", crossing: "7 -2.0001 2", stop: -2 * mm, why: "one step of the output past the stop"},
		{lines: "G0 Z-3.\n", lowest: "-3 6", rapids: "X 0 0 Y 0 0 Z -3 5", crossing: "6 -3 1", stop: -2 * mm, why: "a rapid crosses too"},
		{lines: "G1 Z-1.\nG2 X4. Y0. I2. J0.\n", lowest: "-1 6", cuts: "X 0 4 Y 0 2 Z -1 5", stop: -2 * mm, why: "half a turn over the top"},
		{lines: "G3 X4. Y0. I2. J0.\n", lowest: "5 2", cuts: "X 0 4 Y -2 0 Z 5 5", stop: -2 * mm, why: "half a turn below"},
		{lines: "G2 I3. J4. X0. Y0.\n", lowest: "5 2", cuts: "X -2 8 Y -1 9 Z 5 5", stop: -2 * mm, why: "a full circle of radius 5, exactly"},
		{lines: "G18 G3 X4. Z5. I2. K0.\n", lowest: "5 2", cuts: "X 0 4 Y 0 0 Z 5 7", stop: -2 * mm, why: "in XZ, anticlockwise seen from +Y, where X points to the left: over the top"},
		{lines: "G18 G2 X4. Z5. I2. K0.\n", lowest: "3 6", cuts: "X 0 4 Y 0 0 Z 3 5",
			crossing: "6 3 1", stop: 4 * mm, why: "in XZ: its lowest place is half way"},
		{lines: "G19 G3 Y4. Z5. J2.\n", lowest: "3 6", cuts: "X 0 0 Y 0 4 Z 3 5",
			crossing: "6 3 1", stop: 4 * mm, why: "in YZ, anticlockwise seen from +X: under"},
		{lines: "G91 G1 Z-3.\nZ-3.\nZ-3.\n", lowest: "-4 8", cuts: "X 0 0 Y 0 0 Z -4 5", crossing: "8 -4 1", stop: -2 * mm, why: "increments"},
		{lines: "G20 G1 Z-0.1\n", lowest: "-2.54 6", cuts: "X 0 0 Y 0 0 Z -2.54 5", crossing: "6 -2.54 1", stop: -2 * mm, why: "inches"},
		{lines: "M5\nG1 Z-1.\n", lowest: "-1 7", cuts: "X 0 0 Y 0 0 Z -1 5", still: 7, stop: -2 * mm, why: "spindle off"},
		{lines: "G98 G81 X9. Z-3. R1.\n", lowest: "-3 6", cuts: "X 9 9 Y 0 0 Z -3 1", rapids: "X 0 9 Y 0 0 Z -3 5", crossing: "6 -3 1", stop: -2 * mm, why: "a cycle"},
		{lines: "G1 Z-1.99999999\nG1 Z-2.00000001\n", lowest: "-2.0000001 7", cuts: "X -0.0000001 0.0000001 Y -0.0000001 0.0000001 Z -2.0000001 5.0000001",
			crossing: "7 -2.0000001 1", stop: -2 * mm, why: "finer than what is held: outward, a hair past the stop"},
	} {
		r := run(t, opening+c.lines+"G0 Z5.\nM2\n", Asked{Stop: c.stop})
		if got := fmt.Sprintf("%s %d", r.Lowest.Z.MM(), r.Lowest.Line); got != c.lowest {
			t.Errorf("%q: lowest %s, want %s (%s)", c.lines, got, c.lowest, c.why)
		}
		if got := r.Cuts.String(); got != c.cuts {
			t.Errorf("%q: cuts %s, want %s (%s)", c.lines, got, c.cuts, c.why)
		}
		if got := r.Rapids.String(); c.rapids != "" && got != c.rapids {
			t.Errorf("%q: rapids %s, want %s (%s)", c.lines, got, c.rapids, c.why)
		}
		got := ""
		if r.Crossing.Line > 0 {
			got = fmt.Sprintf("%d %s %d", r.Crossing.Line, r.Crossing.Z.MM(), r.Crossing.Count)
		}
		if got != c.crossing || (got != "") != (r.Verdict() == Crossed) {
			t.Errorf("%q: crossing %q, want %q (%s)", c.lines, got, c.crossing, c.why)
		}
		if r.Standing.Line != c.still {
			t.Errorf("%q: the spindle stands on line %d, want %d", c.lines, r.Standing.Line, c.still)
		}
	}
}

// The answer, and that a crossing weighs more than what is not proved.
func TestVerdict(t *testing.T) {
	clear := 3 * mm
	for _, c := range []struct {
		lines string
		want  Verdict
		line  int // of what decides
	}{
		{"G1 Z-1.\nG0 Z5.\n", Holds, 0},
		{"G1 Z-3.\nG41 D1\n", Crossed, 6},
		{"G41 D1\nG1 Z-3.\n", Crossed, 7},
		{"#1=2\nG1 X1. Y1. Z-3.\n", Crossed, 7},
		{"G0 Z1.\nG41 D1\n", RapidDown, 6},
		{"G0 Z1.\nG1 Z-3.\n", Crossed, 7},
		{"G41 D1\n", NotProved, 6},
		{"M6 T1\nG0 Z1.\n", RapidDown, 7}, // from a height that is not known
		{"G1 X1. ; a finding\n", Holds, 0},
		{"G0 Z3.\n", Holds, 0},
		{"G1 Z-1.\nG0 Z0.\n", Holds, 0},                         // up
		{"G1 Z-1.\nG0 Z2.\nG0 Z-1.\nG1 Z-1.5\n", Holds, 0},      // a peck
		{"G1 Z-1.\nG0 Z2.\nG0 Z-1.0001\n", RapidDown, 8},        // deeper than it was cut
		{"G1 Z-1.\nG0 Z2.\nX1.\nG0 Z-1.\n", RapidDown, 9},       // somewhere else
		{"G1 Z-1.\nG0 Z4.\nX1.\nX0.\nG0 Z-1.\n", RapidDown, 10}, // gone and come back
		{"G1 Z-1.\nX1.\nG0 Z2.\nG0 Z-1.\n", Holds, 0},           // at the slot's end
		{"G98 G83 X1. Z-1.9 R3. Q1.\n", Holds, 0},
		{"G98 G83 X1. Z-1.9 R2. Q1.\n", RapidDown, 6},
	} {
		r := run(t, opening+c.lines+"G0 Z5.\nM2\n", Asked{Stop: -2 * mm, Clear: &clear})
		if r.Verdict() != c.want {
			t.Errorf("%q: %v, want %v", c.lines, r.Verdict(), c.want)
			continue
		}
		line := map[Verdict]int{Crossed: r.Crossing.Line, RapidDown: r.Down.Line}[c.want]
		if c.want == NotProved {
			line = r.NotProved[0].First.Line
		}
		if line != c.line {
			t.Errorf("%q: on line %d, want %d", c.lines, line, c.line)
		}
	}
	if r := run(t, opening+"G0 Z-1.\nG0 Z5.\nM2\n", Asked{Stop: -2 * mm}); r.Verdict() != Holds {
		t.Errorf("a rapid down and no clear plane asked: %v", r.Verdict())
	}
}

// An arc's extents against points along it, in any plane and sense, whole turns
// too: no point lies outside, and each side is touched within what the points can
// show.
func TestArcExtents(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string, r float64, turn float64) (measure.Length, measure.Length) {
			return measure.Length(math.Round(r * math.Cos(turn))), measure.Length(math.Round(r * math.Sin(turn)))
		}
		plane := toolpath.ArcPlane(rapid.IntRange(0, 2).Draw(t, "plane"))
		r := rapid.Float64Range(1e4, 1e9).Draw(t, "radius")
		eighths := func(name string) float64 {
			if rapid.Bool().Draw(t, name+" on an axis") {
				return float64(rapid.IntRange(0, 7).Draw(t, name)) * math.Pi / 4
			}
			return rapid.Float64Range(0, 2*math.Pi).Draw(t, name)
		}
		start, end := eighths("start"), eighths("end")
		if rapid.IntRange(0, 9).Draw(t, "full") == 0 {
			end = start
		}
		sense := toolpath.Sense(rapid.IntRange(0, 1).Draw(t, "sense"))
		p := planeAxes[plane]
		c := [2]measure.Length{measure.Length(rapid.Int64Range(-1e9, 1e9).Draw(t, "a")), measure.Length(rapid.Int64Range(-1e9, 1e9).Draw(t, "b"))}
		place := func(a, b measure.Length) (out solid.Point) {
			v := [3]measure.Length{}
			v[p[0]], v[p[1]] = a, b
			return solid.Point{X: v[0], Y: v[1], Z: v[2]}
		}
		ua, ub := at("start", r, start)
		va, vb := at("end", r, end)
		s := toolpath.Step{Kind: toolpath.Arc, Plane: plane, Sense: sense, Centre: place(c[0], c[1]),
			From: toolpath.Place{Point: place(c[0]+ua, c[1]+ub)}, To: toolpath.Place{Point: place(c[0]+va, c[1]+vb)}}
		box := newSpan()
		for _, v := range [][2]measure.Length{{ua, ub}, {va, vb}} {
			box.add(p[0], c[0]+v[0])
			box.add(p[1], c[1]+v[1])
		}
		box.arc(&s)

		from, to := math.Atan2(float64(ub), float64(ua)), math.Atan2(float64(vb), float64(va))
		sweep := to - from
		if sense == toolpath.Clockwise {
			sweep = -sweep
		}
		if sweep <= 0 {
			sweep += 2 * math.Pi
		}
		if sense == toolpath.Clockwise {
			sweep = -sweep
		}
		const n = 2000
		low, high := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
		for i := 0; i <= n; i++ {
			turn := from + sweep*float64(i)/n
			x := [2]float64{float64(c[0]) + r*math.Cos(turn), float64(c[1]) + r*math.Sin(turn)}
			for k := range x {
				low[k], high[k] = min(low[k], x[k]), max(high[k], x[k])
			}
		}
		most := r*(1-math.Cos(math.Pi/n)) + 3 // how far two points' chord hides the top between them
		for k := range low {
			gotLow, gotHigh := float64(box.low[p[k]]), float64(box.high[p[k]])
			if gotLow > low[k]+3 || gotHigh < high[k]-3 || gotLow < low[k]-most || gotHigh > high[k]+most {
				t.Fatalf("axis %d: %.0f to %.0f, points from %.0f to %.0f", k, gotLow, gotHigh, low[k], high[k])
			}
		}
	})
}

// Notes are counted by rule, so that a long program takes no more room.
func TestTallies(t *testing.T) {
	r := run(t, opening+strings.Repeat("G1 X1. ; cut\n", 500)+"M2\n", Asked{Stop: -2 * mm})
	found := false
	for _, f := range r.Findings {
		if f.First.ID() == "12" {
			found = f.Count == 500 && f.First.Line == 6
		}
	}
	if !found || len(r.Findings) > 3 {
		t.Errorf("findings %v", r.Findings)
	}
}

// BenchmarkRun is the survey of a million blocks.
func BenchmarkRun(b *testing.B) {
	text := opening + strings.Repeat("G1 X12.3450 Y-3.2100 Z-0.5000 F150.0\nG2 X14.3450 Y-3.2100 I1.0000 J0.0000\nG1 X2.3450 Y-3.2100\nG1 Y9.3000\n", 250_000) + "M2\n"
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		if r, err := Run(strings.NewReader(text), read.Options{}, Asked{Stop: -mm}); err != nil || r.Verdict() != Holds {
			b.Fatal(r, err)
		}
	}
}

// The survey of any text agrees with its trace, looked through step by step.
func FuzzRun(f *testing.F) {
	for _, text := range []string{
		"", opening + "G1 Z-3.\nG18 G2 X4. I2.\nG0 Z5.\nM2\n", opening + "G98 G83 X1. Z-3. R1. Q.5\nG0 Z-1.\n", "G20 G91 Z1\n#1=2\nG90 G1 Z-1 F1\n",
	} {
		f.Add(text, int64(-20_000_000), int64(10_000_000))
	}
	f.Fuzz(func(t *testing.T, text string, stop, clear int64) {
		limit := measure.MaxLength
		a := Asked{Stop: max(-limit, min(limit, measure.Length(stop)))}
		plane := max(-limit, min(limit, measure.Length(clear)))
		a.Clear = &plane
		got, err := Run(strings.NewReader(text), read.Options{}, a)
		if err != nil {
			t.Fatal(err)
		}
		r, err := read.Read(strings.NewReader(text), read.Options{})
		if err != nil {
			t.Fatal(err)
		}
		lowest, line, known, down := measure.Length(0), 0, false, false
		for _, s := range r.Trace.Steps {
			if s.Kind >= toolpath.Dwell || !s.To.Known[2] {
				continue
			}
			if z := s.To.Z - s.Slack; !known || z < lowest {
				lowest, line, known = z, s.Line, true
			}
			down = down || s.Kind == toolpath.Rapid && s.To.Z < plane && (!s.From.Known[2] || s.From.Z > s.To.Z)
		}
		if known != (got.Lowest.Line > 0) || known && got.Lowest.Z > lowest || got.Lowest.Z == lowest && got.Lowest.Line != line {
			t.Fatalf("lowest %v on line %d, and the trace has %v on line %d", got.Lowest.Z, got.Lowest.Line, lowest, line)
		}
		if known && lowest < a.Stop && got.Verdict() != Crossed {
			t.Fatalf("%v, and the trace goes down to %v", got.Verdict(), lowest)
		}
		if got.Verdict() == Crossed && got.Lowest.Z >= a.Stop || got.Down.Line > 0 && !down && r.First(0) == nil {
			t.Fatalf("%v: %+v", got.Verdict(), got)
		}
		if open := r.First(0) != nil && len(got.NotProved)+len(got.Assumed) == 0; open {
			t.Fatalf("the trace has %v and the survey nothing", r.First(0))
		}
	})
}
