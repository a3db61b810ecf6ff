package write

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// pegs is a small program of two tools: a hole drilled in three pecks of 2 mm from 1 mm
// above, and a face sunk with another tool that waits at its bottom.
func pegs(change toolpath.Change) toolpath.Program {
	drill := toolpath.Cutter{Number: 2, Kind: toolpath.Drill, MadeOf: "HSS", Diameter: 2 * mm}
	mill := toolpath.Cutter{Number: 7, Kind: toolpath.EndMill, MadeOf: "HSS", Diameter: 6 * mm}
	wait := rapidTo(4*mm, -3*mm, -1*mm)
	wait.Kind, wait.Time = toolpath.Dwell, 500*time.Millisecond
	return toolpath.Program{
		Title: "Gauge foot", Digest: "1",
		Setup: &toolpath.Setup{Number: 1, Name: "up", Clearance: 5 * mm}, SpinUp: 2 * time.Second, Change: change,
		Operations: []toolpath.Operation{
			{Cut: 1, Name: "peg", Speed: 2000 * measure.RPM, Tool: drill, Passes: []toolpath.Pass{{Name: "hole", Moves: []toolpath.Move{
				rapidTo(4*mm, -3*mm, 5*mm), rapidTo(4*mm, -3*mm, 1*mm),
				lineTo(4*mm, -3*mm, -1*mm, 50*perMM), rapidTo(4*mm, -3*mm, 1*mm), rapidTo(4*mm, -3*mm, -750*measure.Micrometre),
				lineTo(4*mm, -3*mm, -3*mm, 50*perMM), rapidTo(4*mm, -3*mm, 1*mm), rapidTo(4*mm, -3*mm, -2750*measure.Micrometre),
				lineTo(4*mm, -3*mm, -4*mm, 50*perMM), rapidTo(4*mm, -3*mm, 5*mm),
			}}}},
			{Cut: 2, Name: "face", Speed: 1000 * measure.RPM, Tool: mill, Passes: []toolpath.Pass{{Name: "sink", Moves: []toolpath.Move{
				rapidTo(4*mm, -3*mm, 5*mm), lineTo(4*mm, -3*mm, -1*mm, 30*perMM), wait, rapidTo(4*mm, -3*mm, 5*mm),
			}}}},
		},
	}
}

// plainPegs is the same with one tool, drilled twice.
func plainPegs() toolpath.Program {
	p := pegs(toolpath.ByFile)
	p.Operations[1].Tool, p.Operations[1].Speed = p.Operations[0].Tool, p.Operations[0].Speed
	return p
}

// Each ability changes just these lines. The text in the plainest dialect is told in
// TestProgram.
func TestDialects(t *testing.T) {
	for _, c := range []struct {
		name string
		of   toolpath.Program
		do   func(*machines.Controller)
		want []string // stretches of the text
		not  []string
	}{
		{"without cycles", plainPegs(), func(c *machines.Controller) {}, []string{`(HOLE)
G0 X4.0000 Y-3.0000
G0 Z1.0000
G1 Z-1.0000 F50.0
G0 Z1.0000
G0 Z-0.7500
G1 Z-3.0000 F50.0
G0 Z1.0000
G0 Z-2.7500
G1 Z-4.0000 F50.0
G0 Z5.0000
(CUT 2 FACE)
(SINK)
G0 X4.0000 Y-3.0000
G1 Z-1.0000 F30.0
G4 P0.5
G0 Z5.0000
M5
M2
`}, []string{"\nG8", "G98"}},
		{"pecks out of the hole", plainPegs(), func(c *machines.Controller) { c.Cycles = []int{83} }, []string{
			"G17 G21 G40 G49 G54 G80 G90 G94 G98\n", `(HOLE)
G83 X4.0000 Y-3.0000 Z-4.0000 R1.0000 Q2.0000 F50.0
G80
(CUT 2 FACE)
(SINK)
G0 X4.0000 Y-3.0000
`}, nil},
		{"another lift", plainPegs(), func(c *machines.Controller) { c.Cycles, c.PeckLift = []int{83}, 300*measure.Micrometre },
			[]string{"(HOLE)\nG0 X4.0000 Y-3.0000\nG0 Z1.0000\nG1 Z-1.0000 F50.0\n"}, []string{"G83"}},
		{"a dwell at the bottom", plainPegs(), func(c *machines.Controller) { c.Cycles = []int{81, 82} }, []string{
			"(SINK)\nG82 X4.0000 Y-3.0000 Z-1.0000 R5.0000 P0.5 F30.0\nG80\nM5\n"}, []string{"G81", "G83"}},
		{"a dwell at the bottom in milliseconds", plainPegs(), func(c *machines.Controller) { c.Cycles, c.Dwell = []int{82}, "milliseconds" }, []string{
			"G4 P2000\n", "(SINK)\nG82 X4.0000 Y-3.0000 Z-1.0000 R5.0000 P500 F30.0\n"}, nil},
		{"a straight hole", func() toolpath.Program {
			p := plainPegs()
			m := &p.Operations[1].Passes[0].Moves
			*m = append((*m)[:2:2], (*m)[3])
			return p
		}(), func(c *machines.Controller) { c.Cycles = []int{81} }, []string{"(SINK)\nG81 X4.0000 Y-3.0000 Z-1.0000 R5.0000 F30.0\nG80\n"}, nil},
		{"chips broken", func() toolpath.Program {
			p := plainPegs()
			m := p.Operations[0].Passes[0].Moves
			p.Operations[0].Passes[0].Moves = append(append(append(m[:3:3], m[4:6]...), m[7:8]...), m[8:]...)
			return p
		}(), func(c *machines.Controller) { c.Cycles = []int{73, 83} }, []string{"(HOLE)\nG73 X4.0000 Y-3.0000 Z-4.0000 R1.0000 Q2.0000 F50.0\nG80\n"}, nil},
		{"one peck fed otherwise", func() toolpath.Program {
			p := plainPegs()
			p.Operations[0].Passes[0].Moves[5].Feed = 40 * perMM
			return p
		}(), func(c *machines.Controller) { c.Cycles = []int{81, 83} }, []string{"G1 Z-3.0000 F40.0\n"}, []string{"G83"}},
		{"one peck deeper", func() toolpath.Program {
			p := plainPegs()
			p.Operations[0].Passes[0].Moves[5].To.Z -= 1000
			return p
		}(), func(c *machines.Controller) { c.Cycles = []int{73, 81, 82, 83} }, []string{"G1 Z-3.0001 F50.0\n"}, []string{"G83", "G73"}},
		{"no room for a cycle", plainPegs(), func(c *machines.Controller) { c.Cycles, c.LineLength = []int{83}, 45 }, []string{"(HOLE)\nG0 X4.0000 Y-3.0000\nG0 Z1.0000\n"}, []string{"G83"}},
		{"by pause", pegs(toolpath.ByPause), func(c *machines.Controller) {}, []string{
			"(TOOL 2 DRILL 2.0 MM HSS)\n(TOOL 7 END MILL 6.0 MM HSS)\n(BEGIN WITH TOOL 2. THE PROGRAM WAITS FOR EACH CHANGE)\n", `G0 Z5.0000
M5
(CHANGE THE TOOL AND TOUCH OFF HEIGHT AGAIN)
(TOOL 7 END MILL 6.0 MM HSS)
(START WITH THE CUTTER 5.0 MM OR MORE ABOVE ZERO)
T7
M0
G0 Z5.0000
M3 S1000
(2.0 SECONDS FOR THE SPINDLE TO GET UP TO SPEED)
G4 P2.0
(CUT 2 FACE)
(SINK)
G0 X4.0000 Y-3.0000
`}, []string{"M6"}},
		{"by pause with a spindle set by hand", pegs(toolpath.ByPause), func(c *machines.Controller) { c.SetsSpindle = false }, []string{
			"(SET THE SPINDLE BY HAND TO 2000 RPM)\n", "(SET THE SPINDLE BY HAND TO 1000 RPM)\nT7\nM0\n"}, nil},
		{"by code", pegs(toolpath.ByCode), func(c *machines.Controller) {}, []string{
			"(ALL TOOLS MUST BE SET TO ONE LENGTH)\n", "G90 G94\nT2 M6\nG0 Z5.0000\nM3 S2000\n", "M5\nT7 M6\nG0 Z5.0000\nM3 S1000\n"}, []string{"M0", "G43"}},
		{"by code with lengths", pegs(toolpath.ByCode), func(c *machines.Controller) { c.ToolLengths = true }, []string{
			"(THE TABLE OF LENGTHS MUST HOLD EVERY TOOL)\n", "G90 G94\nT2 M6\nG43 H2\nG0 Z5.0000\n", "M5\nT7 M6\nG43 H7\nG0 Z5.0000\n", "M5\nG49\nM2\n"}, nil},
		{"semicolons", plainPegs(), func(c *machines.Controller) { c.Comments = "semicolon" }, []string{"; GAUGE FOOT\n; JOB 1\n", "\n; HOLE\n"}, []string{"(", ")"}},
		{"no comments", plainPegs(), func(c *machines.Controller) { c.Comments = "none" }, []string{"M3 S2000\nG4 P2.0\nG0 X4.0000 Y-3.0000\n"}, []string{"(", ";"}},
		{"numbers", plainPegs(), func(c *machines.Controller) { c.LineNumbers = 5 }, []string{
			"FIRST. GUARD ON. EYES PROTECTED.)\nN5 G17 G21 G40 G49 G54 G80 G90 G94\nN10 G0 Z5.0000\nN15 M3 S2000\n(2.0 SECONDS FOR THE SPINDLE TO GET UP TO SPEED)\nN20 G4 P2.0\n"}, nil},
		{"percent", plainPegs(), func(c *machines.Controller) { c.Percent, c.LineNumbers = true, 1 }, []string{"%\n(GAUGE FOOT)\n", "N19 M5\nN20 M2\n%\n"}, nil},
		{"words of one's own", plainPegs(), func(c *machines.Controller) {
			c.HeadWords, c.EndWords, c.End = []string{"G61", "M8"}, []string{"M9", "G80"}, "M30"
		}, []string{"G90 G94\nG61\nM8\nG0 Z5.0000\n", "M5\nM9\nG80\nM30\n"}, []string{"M2\n"}},
		{"a coolant over a change", pegs(toolpath.ByCode), func(c *machines.Controller) { c.HeadWords = []string{"M7"} }, []string{
			"T2 M6\nM7\nG0 Z5.0000\n", "M5\nM9\nT7 M6\nG0 Z5.0000\nM7\nM3 S1000\n", "M5\nM9\nM2\n"}, nil},
		{"left in inches", plainPegs(), func(c *machines.Controller) { c.NativeUnits = measure.In }, []string{"G0 Z5.0000\nM5\nG20\nM2\n"}, nil},
		{"left in mm", plainPegs(), func(c *machines.Controller) { c.NativeUnits = measure.MM }, []string{"G0 Z5.0000\nM5\nM2\n"}, nil},
		{"two places", plainPegs(), func(c *machines.Controller) { c.Places = 2 }, []string{"G0 X4.00 Y-3.00\n", "G0 Z-2.75\n"}, nil},
		{"three places", plainPegs(), func(c *machines.Controller) { c.Places = 3 }, []string{"G0 Z-2.750\n"}, nil},
		{"five places", plainPegs(), func(c *machines.Controller) { c.Places = 5 }, []string{"G0 Z-2.75000\n"}, nil},
		{"line ends", plainPegs(), func(c *machines.Controller) { c.LineEnd = "crlf" }, []string{"M5\r\nM2\r\n"}, nil},
	} {
		m := mill()
		m.Controller.PeckLift = 250 * measure.Micrometre
		c.do(m.Controller)
		got := written(t, c.of, m)
		for _, w := range c.want {
			if !strings.Contains(got, w) {
				t.Errorf("%s: no\n%s\nin\n%s", c.name, w, got)
			}
		}
		for _, w := range c.not {
			if strings.Contains(got, w) {
				t.Errorf("%s: %q in\n%s", c.name, w, got)
			}
		}
	}
}

// A program of a machine that asks for everything, whole.
func TestEverythingAtOnce(t *testing.T) {
	m := mill()
	*m.Controller = machines.Controller{
		Places: 3, Cycles: []int{81, 82, 83}, PeckLift: 250 * measure.Micrometre, ToolLengths: true, Comments: "semicolon",
		LineNumbers: 10, Percent: true, Dwell: "milliseconds", HeadWords: []string{"M8", "G61"}, EndWords: []string{"G80"}, End: "M30",
		NativeUnits: measure.In, LineLength: 70, LineEnd: "crlf", SetsSpindle: true,
	}
	want := strings.ReplaceAll(`%
; GAUGE FOOT
; JOB 1
; SET-UP 1 UP
; UNITS ARE MM
; TOOL 2 DRILL 2.0 MM HSS
; TOOL 7 END MILL 6.0 MM HSS
; THE TABLE OF LENGTHS MUST HOLD EVERY TOOL
; SPINDLE 2000 THEN 1000 RPM
; START WITH THE CUTTER 5.0 MM OR MORE ABOVE ZERO
; GO BY THE MACHINE MANUAL AND LOCAL RULES.
; IF IN DOUBT ASK SOMEONE COMPETENT.
; DRY RUN ABOVE THE WORK FIRST. GUARD ON. EYES PROTECTED.
N10 G17 G21 G40 G49 G54 G80 G90 G94 G98
N20 G61
N30 T2 M6
N40 G43 H2
N50 M8
N60 G0 Z5.000
N70 M3 S2000
; 2.0 SECONDS FOR THE SPINDLE TO GET UP TO SPEED
N80 G4 P2000
; CUT 1 PEG
; HOLE
N90 G83 X4.000 Y-3.000 Z-4.000 R1.000 Q2.000 F50.0
N100 G80
N110 M5
N120 M9
N130 T7 M6
N140 G43 H7
N150 G0 Z5.000
N160 M8
N170 M3 S1000
; 2.0 SECONDS FOR THE SPINDLE TO GET UP TO SPEED
N180 G4 P2000
; CUT 2 FACE
; SINK
N190 G82 X4.000 Y-3.000 Z-1.000 R5.000 P500 F30.0
N200 G80
N210 M5
N220 M9
N230 G49
N240 G80
N250 G20
N260 M30
%
`, "\n", "\r\n")
	if d := cmp.Diff(want, written(t, pegs(toolpath.ByCode), m)); d != "" {
		t.Errorf("-want +got\n%s", d)
	}
}

// A number after 99999 (NISTIR 6556, 3.3.1) is the first again.
func TestNumbersBeginAgain(t *testing.T) {
	w := &writer{dialect: dialect{numbers: 1000}, limit: 70, end: "\n"}
	for range 101 {
		if err := w.put("M5"); err != nil {
			t.Fatal(err)
		}
	}
	if got := string(w.text); !strings.Contains(got, "N98000 M5\nN99000 M5\nN1000 M5\nN2000 M5\n") {
		t.Errorf("%s", got)
	}
}
