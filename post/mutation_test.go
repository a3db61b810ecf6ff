package post

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/exp/slices"

	"stopshort/machines"
	"stopshort/post/rs274/read"
	"stopshort/post/rs274/write"
	"stopshort/toolpath"
	"stopshort/toolpath/job"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/plan"
	"stopshort/toolpath/recipe"
)

// mutant is a kind of fault in a text: what it does to the lines at i, or nil where
// it does not fit there.
type mutant struct {
	name string
	at   func(lines []string, i int) []string
	head bool // it changes what the head tells, and no step
}

// replaced is the lines with those from i to before j replaced.
func replaced(lines []string, i, j int, by ...string) []string {
	return append(append(append([]string(nil), lines[:i]...), by...), lines[j:]...)
}

// inLine is a mutant that replaces the first match of a pattern in a line.
func inLine(name, pattern, by string) mutant {
	re := regexp.MustCompile(pattern)
	return mutant{name: name, at: func(l []string, i int) []string {
		if !re.MatchString(l[i]) {
			return nil
		}
		m := re.FindStringSubmatchIndex(l[i])
		return replaced(l, i, i+1, l[i][:m[0]]+string(re.ExpandString(nil, by, l[i], m))+l[i][m[1]:])
	}}
}

// byStep is a mutant that moves a number by one step of its last place.
func byStep(name, letter string, way int) mutant {
	re := regexp.MustCompile(`^(G[0-3]\b.*? ` + letter + `)(-?[0-9]+)\.([0-9]+)`)
	return mutant{name: name, at: func(l []string, i int) []string {
		m := re.FindStringSubmatch(l[i])
		if m == nil {
			return nil
		}
		n, _ := strconv.Atoi(m[2] + m[3])
		n += way
		sign := ""
		if n < 0 {
			n, sign = -n, "-"
		}
		digits := fmt.Sprintf("%0*d", len(m[3])+1, n)
		at := len(digits) - len(m[3])
		return replaced(l, i, i+1, m[1]+sign+digits[:at]+"."+digits[at:]+l[i][len(m[0]):])
	}}
}

// isMotion tells whether a line is one of the program's moves.
func isMotion(line string) bool { return regexp.MustCompile(`^G[0-3] `).MatchString(line) }

// before is a mutant that puts a line in front of every so many moves.
func before(name, line string) mutant {
	return mutant{name: name, at: func(l []string, i int) []string {
		if !isMotion(l[i]) {
			return nil
		}
		return replaced(l, i, i, line)
	}}
}

// textMutants are the kinds of fault in a text.
var textMutants = []mutant{
	byStep("Z one step of the output up", "Z", 1),
	byStep("Z one step of the output down", "Z", -1),
	byStep("X one step off", "X", 1),
	byStep("Y one step off", "Y", -1),
	byStep("an arc's centre one step off", "I", 1),
	byStep("a feed one step faster", "F", 1),
	inLine("a sign lost", `^(G[0-3].*?[XYZIJ])-(0\.0*[1-9]|[1-9])`, "${1}${2}"),
	inLine("a sign that was not there", `^(G[0-3].*?[XYZIJ])(0\.0*[1-9]|[1-9])`, "${1}-${2}"),
	inLine("a decimal point lost", `^(G[0-3].*?[XYZIJ]-?[0-9]*)\.([0-9]*[1-9])`, "${1}${2}"),
	inLine("a decimal point a place on", `^(G[0-3].*?[XYZIJ]-?[0-9]*)\.([0-9])([0-9]*[1-9])`, "${1}${2}.${3}"),
	inLine("an exponent", `^(G1 [XYZ]-?[0-9.]+)`, "${1}E1"),
	inLine("an arc the other way", `^G2 `, "G3 "),
	inLine("an arc the other way, the other one", `^G3 `, "G2 "),
	inLine("an arc made straight", `^G[23] (.*?) I\S+ J\S+`, "G1 $1"),
	inLine("an arc's centre lost", `^(G[23].*?) I\S+ J\S+`, "${1}"),
	inLine("a feed made a rapid", `^G1 `, "G0 "),
	inLine("a rapid made a feed", `^G0 (.*)`, "G1 $1 F50.0"),
	{name: "a motion word lost", at: func(l []string, i int) []string {
		if i == 0 || !isMotion(l[i]) || !isMotion(l[i-1]) || l[i][:2] == l[i-1][:2] {
			return nil // the same would be in force
		}
		return replaced(l, i, i+1, l[i][3:])
	}},
	{name: "a feed lost", at: func(l []string, i int) []string {
		at := strings.Index(l[i], " F")
		if !isMotion(l[i]) || at < 0 {
			return nil
		}
		for k := i - 1; k >= 0; k-- {
			if was := strings.Index(l[k], " F"); isMotion(l[k]) && was > 0 {
				if l[k][was:] == l[i][at:] {
					return nil // the same is in force
				}
				break
			}
		}
		return replaced(l, i, i+1, l[i][:at])
	}},
	inLine("a feed in inches taken for mm", `F[0-9.]+`, "F2007.0"),
	inLine("axes exchanged, X for Y", `^(G[01] )X(\S+)$`, "${1}Y${2}"),
	inLine("Z together with a crossing", `^(G0 X\S+.*)`, "${1} Z-1.0000"),
	inLine("an axis twice", `^(G[01] )(X\S+)`, "${1}${2} ${2}"),
	inLine("a letter lost", `^(G[01] )X(\S+)`, "${1}${2}"),
	inLine("millimetres taken for inches", ` G21 `, " G20 "),
	inLine("inches taken for millimetres", ` G20 `, " G21 "),
	inLine("the plane changed", `^G17 `, "G18 "),
	inLine("the plane lost", `^G17 `, ""),
	inLine("increments", ` G90 `, " G91 "),
	inLine("G90 lost", ` G90`, ""),
	inLine("compensation on", ` G40 `, " G41 D1 "),
	inLine("G40 lost", ` G40`, ""),
	inLine("a length offset", ` G49 `, " G43 H1 "),
	inLine("G49 lost", ` G49`, ""),
	inLine("another zero", ` G54 `, " G55 "),
	inLine("G54 lost", ` G54`, ""),
	inLine("feeds as times", ` G94`, " G93"),
	inLine("G94 lost", ` G94`, ""),
	inLine("the units lost", ` G2[01]`, ""),
	inLine("the spindle's word lost", `^M3 S`, "S"),
	inLine("the spindle turns backwards", `^M3 `, "M4 "),
	inLine("the speed lost", `^M3 S.*`, "M3"),
	inLine("the speed ten times", `^(M3 S.*)`, "${1}0"),
	inLine("the speed one off", `^(M3 S[0-9]*)[0-8]$`, "${1}9"),
	inLine("the dwell in the wrong unit", `^G4 P([0-9]+)\.([0-9]+)`, "G4 P${1}000.${2}"),
	inLine("the dwell lost", `^G4 P.*`, ""),
	inLine("the dwell's time lost", `^G4 P.*`, "G4"),
	inLine("the spindle's stop lost", `^M5$`, ""),
	inLine("the end lost", `^M2$`, ""),
	inLine("a pause for an end", `^M2$`, "M0"),
	inLine("a stray move behind the last", `^M5$`, "M5\nG0 Z-1."),
	inLine("a stray move in front of the end", `^M2$`, "G1 X0. Y0. Z-1. F50.\nM2"),
	inLine("a move behind the end", `^M2$`, "M2\nG1 Z-1. F50."),
	inLine("a comment that swallows a word", `^(G[0-3].*) ([XYZ]\S+ ?[^XYZ]*)$`, "${1} (${2})"),
	inLine("a comment that swallows the line", `^(G[0-3].*)`, "(${1})"),
	inLine("a comment that is not closed", `^(G[0-3].*)`, "( ${1}"),
	inLine("a switch may leave a line out", `^(G[0-3].*)`, "/${1}"),
	inLine("an expression", `^(G[01] [XYZ])-?([0-9.]+)`, "${1}[0-${2}]"),
	before("a pause", "M0"),
	before("coolant", "M8"),
	before("another tool", "T9 M6"),
	before("a shift of the zero", "G92 Z0."),
	before("home", "G28 Z0."),
	before("an early end", "M2"),
	before("a stray plunge", "G1 Z-50. F50."),
	before("another offset", "G43 H2"),
	{name: "a line lost", at: func(l []string, i int) []string {
		if !isMotion(l[i]) {
			return nil
		}
		return replaced(l, i, i+1)
	}},
	{name: "a line twice", at: func(l []string, i int) []string {
		if !isMotion(l[i]) {
			return nil
		}
		return replaced(l, i, i, l[i])
	}},
	{name: "two lines exchanged", at: func(l []string, i int) []string {
		if i == 0 || !isMotion(l[i]) || !isMotion(l[i-1]) || l[i] == l[i-1] {
			return nil
		}
		return replaced(l, i-1, i+1, l[i], l[i-1])
	}},
	{name: "a retract dropped", at: func(l []string, i int) []string {
		if i+1 >= len(l) || !regexp.MustCompile(`^G0 Z[0-9]`).MatchString(l[i]) || l[i+1] == "" {
			return nil
		}
		return replaced(l, i, i+1)
	}},
	{name: "a hole or a pass missing", at: func(l []string, i int) []string {
		if !strings.HasPrefix(l[i], "(") || i+1 >= len(l) || !isMotion(l[i+1]) {
			return nil
		}
		to := i + 1
		for to < len(l) && isMotion(l[to]) {
			to++
		}
		return replaced(l, i, to)
	}},
	{name: "the head tells another cutter", head: true, at: inLine("", `^(\(TOOL [0-9]+ .*?)([0-9])(\.[0-9]+ (MM|IN))`, "${1}${2}1${3}").at},
	{name: "the head tells another tool", head: true, at: inLine("", `^\(TOOL [0-9]+ `, "(TOOL 99 ").at},
	{name: "the head tells another speed", head: true, at: inLine("", `^(\(.*SPINDLE.* )([0-9]+) RPM`, "${1}9${2} RPM").at},
	{name: "the head tells another height to start from", head: true, at: inLine("", `^(\(START WITH THE CUTTER )`, "${1}9").at},
	{name: "the head tells other units", head: true, at: func(l []string, i int) []string {
		switch l[i] {
		case "(UNITS ARE MM)":
			return replaced(l, i, i+1, "(UNITS ARE INCHES)")
		case "(UNITS ARE INCHES)":
			return replaced(l, i, i+1, "(UNITS ARE MM)")
		}
		return nil
	}},
	{name: "the head tells another job", head: true, at: inLine("", `^\(JOB [0-9]`, "(JOB ").at},
	{name: "the head tells another set-up", head: true, at: inLine("", `^\(SET-UP [0-9]+`, "(SET-UP 77").at},
	{name: "the head lost", head: true, at: func(l []string, i int) []string {
		if i > 0 {
			return nil
		}
		to := slices.IndexFunc(l, func(s string) bool { return !strings.HasPrefix(s, "(") })
		return replaced(l, 0, to, make([]string, to)...)
	}},
}

// mutationOf is what a mutant makes of a text at a line, and how many lines come in in
// front of the spans' ends; ok is false where it does not fit.
func mutationOf(mu mutant, text write.Text, i int) (out write.Text, ok bool) {
	lines := strings.Split(string(text.Bytes), "\n")
	got := mu.at(slices.Clone(lines), i)
	if got == nil {
		return out, false
	}
	bad := strings.Join(got, "\n")
	out.Bytes = []byte(bad)
	if bytes.Equal(out.Bytes, text.Bytes) {
		return out, false
	}
	// The spans go along with the lines, as the writer would have it.
	more := strings.Count(bad, "\n") - strings.Count(string(text.Bytes), "\n")
	for _, s := range text.Ops {
		if s.First > i+1 {
			s.First += more
		}
		if s.Last > i {
			s.Last += more
		}
		out.Ops = append(out.Ops, s)
	}
	return out, true
}

// sayAll is a reading without its lines: what a machine would do, what it is left in,
// and what is told beside it.
func sayAll(t *testing.T, text []byte, m *machines.Machine) string {
	t.Helper()
	r, err := read.Read(bytes.NewReader(text), ReadOptions(m))
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for _, s := range r.Trace.Steps {
		s.Line = 0
		fmt.Fprintln(&b, s)
	}
	for _, n := range r.Notes {
		if n.Kind() != read.Finding || n.Classes()&meantFor != 0 {
			fmt.Fprintln(&b, n.Text())
		}
	}
	fmt.Fprintln(&b, r.Trace.Ended, r.Trace.Left)
	return b.String()
}

// proving is a program with what it is proved against.
type proving struct {
	name string
	p    toolpath.Program
	m    *machines.Machine
	lift measure.Length
	text write.Text
}

// demos are the programs of the demo's jobs, in mm and in inches, some of them lifted.
func demos(t *testing.T) (out []proving) {
	t.Helper()
	files, err := filepath.Glob("../testdata/jobs/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		j, err := job.Load(file, recipe.Tables())
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range []string{"stepper-mill-mm", "stepper-mill-inch"} {
			m, err := machines.Find(name)
			if err != nil {
				t.Fatal(err)
			}
			p, err := recipe.Plan(j, m)
			if err != nil {
				t.Fatal(err)
			}
			for i, program := range plan.Programs(p, m) {
				if name == "stepper-mill-inch" && i > 0 {
					continue // one of each job is enough
				}
				for _, lift := range []measure.Length{0, plan.ForMachine(m).Round(2, 37*measure.Millimetre, measure.Ceil)} {
					if lift > 0 && i > 0 {
						continue
					}
					x := proving{name: fmt.Sprintf("%s program %d on %s lifted %s", j.Stem, i+1, name, lift), p: program, m: m, lift: lift}
					written := program
					if lift > 0 {
						written = raised(program, m, lift)
					}
					if x.text, err = write.Program(written, m); err != nil {
						t.Fatal(err)
					}
					if _, f := holds(x.text, x.p, x.m, x.lift); f != nil {
						t.Fatalf("%s: the text as it is does not pass: %v", x.name, f)
					}
					out = append(out, x)
				}
			}
		}
	}
	return out
}

// Every kind of fault in a text changes what it does, what it leaves or what it tells,
// wherever it is put, and is caught.
func TestMutantsOfTheText(t *testing.T) {
	all := demos(t)
	tried := map[string]int{}
	for _, x := range all {
		was := sayAll(t, x.text.Bytes, x.m)
		lines := strings.Count(string(x.text.Bytes), "\n")
		most := min(max(1500/lines, 1), 8) // long texts take long
		if testing.Short() {
			most = min(most, 2)
		}
		for k, mu := range textMutants {
			// Spread over the text, not at its start only; each kind begins elsewhere.
			found := 0
			step := max(1, lines/97)
			for n := 0; n < lines && found < most; n++ {
				i := (n*step + k*7) % lines
				bad, ok := mutationOf(mu, x.text, i)
				if !ok {
					continue
				}
				found++
				tried[mu.name]++
				if !mu.head && sayAll(t, bad.Bytes, x.m) == was {
					t.Errorf("%s: %s at line %d changes nothing", x.name, mu.name, i+1)
				}
				if _, f := holds(bad, x.p, x.m, x.lift); f == nil {
					t.Errorf("%s: %s at line %d passed", x.name, mu.name, i+1)
				}
			}
		}
	}
	for _, mu := range textMutants {
		if tried[mu.name] == 0 {
			t.Errorf("%s: fits nowhere", mu.name)
		}
	}
	t.Logf("%d kinds of fault in the text of %d programs, %d in all", len(textMutants), len(all), func() (n int) {
		for _, k := range tried {
			n += k
		}
		return n
	}())
}

// planMutants are the kinds of fault in a plan; each changes the operations, which are
// its own, and tells whether it fits. The step is the output's.
var planMutants = []struct {
	name string
	do   func(p *toolpath.Program, step measure.Length) bool
}{
	{"Z one step down", inMoves(func(m *toolpath.Move, step measure.Length) bool { m.To.Z -= step; return true })},
	{"Z one step up", inMoves(func(m *toolpath.Move, step measure.Length) bool { m.To.Z += step; return true })},
	{"X a tenth of a nanometre off", inMoves(func(m *toolpath.Move, _ measure.Length) bool { m.To.X++; return true })},
	{"Y the other way", inMoves(func(m *toolpath.Move, _ measure.Length) bool { m.To.Y = -m.To.Y; return m.To.Y != 0 })},
	{"X and Y exchanged", inMoves(func(m *toolpath.Move, _ measure.Length) bool {
		m.To.X, m.To.Y = m.To.Y, m.To.X
		return m.To.X != m.To.Y
	})},
	{"an arc the other way", inMoves(func(m *toolpath.Move, _ measure.Length) bool {
		m.Sense = 1 - m.Sense
		return m.Kind == toolpath.Arc
	})},
	{"an arc about another centre", inMoves(func(m *toolpath.Move, step measure.Length) bool {
		m.Centre.X += step
		return m.Kind == toolpath.Arc
	})},
	{"an arc made straight", inMoves(func(m *toolpath.Move, _ measure.Length) bool {
		was := m.Kind
		m.Kind = toolpath.Line
		return was == toolpath.Arc
	})},
	{"a rapid made a cut", inMoves(func(m *toolpath.Move, _ measure.Length) bool {
		was := m.Kind
		m.Kind, m.Feed = toolpath.Line, measure.Feed(measure.Millimetre)
		return was == toolpath.Rapid
	})},
	{"a cut made a rapid", inMoves(func(m *toolpath.Move, _ measure.Length) bool {
		was := m.Kind
		m.Kind = toolpath.Rapid
		return was == toolpath.Line
	})},
	{"feed times 25.4", inMoves(func(m *toolpath.Move, _ measure.Length) bool {
		m.Feed = m.Feed * 254 / 10
		return m.Kind != toolpath.Rapid
	})},
	{"every length in inches for mm", inMoves(func(m *toolpath.Move, _ measure.Length) bool {
		was := m.To
		m.To.X, m.To.Y, m.To.Z = m.To.X*254/10, m.To.Y*254/10, m.To.Z*254/10
		return m.To != was
	})},
	{"a move lost", inPasses(func(moves []toolpath.Move, i int) []toolpath.Move { return slices.Delete(moves, i, i+1) })},
	{"a move twice", inPasses(func(moves []toolpath.Move, i int) []toolpath.Move { return slices.Insert(moves, i, moves[i]) })},
	{"two moves exchanged", inPasses(func(moves []toolpath.Move, i int) []toolpath.Move {
		if i == 0 || moves[i] == moves[i-1] {
			return nil
		}
		moves[i], moves[i-1] = moves[i-1], moves[i]
		return moves
	})},
	{"a retract dropped", inPasses(func(moves []toolpath.Move, i int) []toolpath.Move {
		if i == 0 || moves[i].Kind != toolpath.Rapid || moves[i].To.Z <= moves[i-1].To.Z {
			return nil
		}
		return slices.Delete(moves, i, i+1)
	})},
	{"a stray move", inPasses(func(moves []toolpath.Move, i int) []toolpath.Move {
		m := moves[i]
		m.To.Z -= measure.Millimetre
		return slices.Insert(moves, i+1, m)
	})},
	{"a pass or a hole missing", func(p *toolpath.Program, _ measure.Length) bool {
		ops := p.Operations
		last := &ops[len(ops)-1]
		last.Passes = last.Passes[:len(last.Passes)-1]
		return true
	}},
	{"an operation missing", func(p *toolpath.Program, _ measure.Length) bool {
		p.Operations = p.Operations[1:]
		return true
	}},
	{"operations exchanged", func(p *toolpath.Program, _ measure.Length) bool {
		if len(p.Operations) < 2 {
			return false
		}
		p.Operations[0], p.Operations[1] = p.Operations[1], p.Operations[0]
		return true
	}},
	{"the spindle's speed", func(p *toolpath.Program, _ measure.Length) bool { p.Operations[0].Speed += measure.RPM; return true }},
	{"no spindle", func(p *toolpath.Program, _ measure.Length) bool { p.Operations[0].Speed = 0; return true }},
	{"the wait for the spindle", func(p *toolpath.Program, _ measure.Length) bool { p.SpinUp *= 1000; return true }},
	{"no wait for the spindle", func(p *toolpath.Program, _ measure.Length) bool { p.SpinUp = 0; return true }},
	{"another clearance plane", func(p *toolpath.Program, step measure.Length) bool {
		s := *p.Setup
		s.Clearance -= step
		p.Setup = &s
		return true
	}},
	{"another cutter", func(p *toolpath.Program, _ measure.Length) bool {
		for i := range p.Operations {
			p.Operations[i].Tool.Diameter += measure.Millimetre / 2
			p.Operations[i].Tool.Measured += measure.Millimetre / 2
		}
		return true
	}},
	{"a cutter that measures less", func(p *toolpath.Program, _ measure.Length) bool {
		for i := range p.Operations {
			p.Operations[i].Tool.Measured -= measure.Millimetre / 100
		}
		return true
	}},
	{"another tool", func(p *toolpath.Program, _ measure.Length) bool {
		for i := range p.Operations {
			p.Operations[i].Tool.Number += 10
		}
		return true
	}},
	{"another set-up", func(p *toolpath.Program, _ measure.Length) bool {
		s := *p.Setup
		s.Number += 7
		p.Setup = &s
		return true
	}},
	{"another job", func(p *toolpath.Program, _ measure.Length) bool { p.Digest = "000000000000"; return true }},
}

// inMoves changes one move in the middle of a plan for which it fits.
func inMoves(do func(*toolpath.Move, measure.Length) bool) func(*toolpath.Program, measure.Length) bool {
	return func(p *toolpath.Program, step measure.Length) bool {
		return somewhere(p, func(pass *toolpath.Pass, i int) bool {
			was := pass.Moves[i]
			if do(&pass.Moves[i], step) {
				return true
			}
			pass.Moves[i] = was
			return false
		})
	}
}

func inPasses(do func([]toolpath.Move, int) []toolpath.Move) func(*toolpath.Program, measure.Length) bool {
	return func(p *toolpath.Program, _ measure.Length) bool {
		return somewhere(p, func(pass *toolpath.Pass, i int) bool {
			got := do(slices.Clone(pass.Moves), i)
			if got != nil {
				pass.Moves = got
			}
			return got != nil
		})
	}
}

// somewhere tries the moves from the middle of a program on.
func somewhere(p *toolpath.Program, do func(*toolpath.Pass, int) bool) bool {
	type spot struct{ op, pass, move int }
	var spots []spot
	for o, op := range p.Operations {
		for k, pass := range op.Passes {
			for i := range pass.Moves {
				spots = append(spots, spot{o, k, i})
			}
		}
	}
	for n := range spots {
		s := spots[(n+len(spots)/2)%len(spots)]
		if do(&p.Operations[s.op].Passes[s.pass], s.move) {
			return true
		}
	}
	return false
}

// deep is a program whose operations, passes and moves are its own.
func deep(p toolpath.Program) toolpath.Program {
	p.Operations = slices.Clone(p.Operations)
	for i := range p.Operations {
		p.Operations[i].Passes = slices.Clone(p.Operations[i].Passes)
		for k := range p.Operations[i].Passes {
			p.Operations[i].Passes[k].Moves = slices.Clone(p.Operations[i].Passes[k].Moves)
		}
	}
	return p
}

// Every kind of fault in a plan is caught against the text of the right one.
func TestMutantsOfThePlan(t *testing.T) {
	all, tried := demos(t), map[string]int{}
	for _, x := range all {
		step := plan.ForMachine(x.m).Step(2)
		for _, mu := range planMutants {
			bad := deep(x.p)
			if !mu.do(&bad, step) {
				continue
			}
			tried[mu.name]++
			if len(bad.Operations) > 0 && reflect.DeepEqual(bad, x.p) {
				t.Errorf("%s: %s changes nothing", x.name, mu.name)
			}
			if len(bad.Operations) == 0 {
				continue // there is no such program
			}
			if _, f := holds(x.text, bad, x.m, x.lift); f == nil {
				t.Errorf("%s: %s passed", x.name, mu.name)
			}
		}
	}
	for _, mu := range planMutants {
		if tried[mu.name] == 0 {
			t.Errorf("%s: fits nowhere", mu.name)
		}
	}
	t.Logf("%d kinds of fault in the plans of %d programs", len(planMutants), len(all))
}

// A writer with a fault gives nothing that could be written, in cut and dry run: the
// error is a Fault, which is exit status 3.
func TestAFaultyWriterWritesNothing(t *testing.T) {
	defer func() { writer = write.Program }()
	j, err := job.Load("../testdata/jobs/foot.toml", recipe.Tables())
	if err != nil {
		t.Fatal(err)
	}
	m, err := machines.Find("stepper-mill-mm")
	if err != nil {
		t.Fatal(err)
	}
	p, err := recipe.Plan(j, m)
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for k, mu := range textMutants {
		// The fault is in one program of the set only, another one for each kind.
		in := k % 6
		writer = func(p toolpath.Program, m *machines.Machine) (write.Text, error) {
			text, err := write.Program(p, m)
			if n++; n-1 != in {
				return text, err
			}
			for i := range strings.Count(string(text.Bytes), "\n") {
				if bad, ok := mutationOf(mu, text, i); ok {
					return bad, nil
				}
			}
			n-- // it does not fit here: in the next one
			return text, nil
		}
		for _, lift := range []measure.Length{0, 30 * measure.Millimetre} {
			n = 0
			var r *Result
			var err error
			if lift > 0 {
				r, err = ThroughLifted(p, j.Stem, m, lift)
			} else {
				r, err = Through(p, j.Stem, m)
			}
			var fault *Fault
			if n > in && (!errors.As(err, &fault) || r != nil || fault.Name == "") {
				t.Errorf("%s, lifted %s: %v", mu.name, lift, err)
			}
		}
	}
}
