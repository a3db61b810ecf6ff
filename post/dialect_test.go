package post

import (
	"os"
	"strings"
	"testing"

	"stopshort/machines"
	"stopshort/post/rs274/read"
	"stopshort/post/rs274/write"
	"stopshort/toolpath"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/plan"
)

// speaking is the built-in mill in mm with lines of its controller changed and added.
func speaking(t *testing.T, keys string, changes ...string) *machines.Machine {
	t.Helper()
	text, err := os.ReadFile("../machines/stepper-mill-mm.toml")
	if err != nil {
		t.Fatal(err)
	}
	s := string(text)
	for i := 0; i < len(changes); i += 2 {
		if strings.Count(s, changes[i]) != 1 {
			t.Fatalf("%q stands %d times in the machine's file", changes[i], strings.Count(s, changes[i]))
		}
		s = strings.Replace(s, changes[i], changes[i+1], 1)
	}
	m, err := machines.Read("d.toml", []byte(s+keys))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// programsOf is a demo job's programs on a machine.
func programsOf(t *testing.T, file string, m *machines.Machine) []toolpath.Program {
	t.Helper()
	j, _ := demoOn(t, file, "")
	return plan.Programs(planned(t, j, m), m)
}

// Faults that a dialect could have are caught as those of the plainest text are.
func TestFaultsInDialectsAreCaught(t *testing.T) {
	everything := speaking(t, "cycles = [81, 83]\nline_numbers = 10\npercent = true\nhead_words = \"M8\"\ntool_lengths = true\n",
		`tool_change  = "files"`, `tool_change = "code"`, `= "seconds"`, `= "milliseconds"`)
	pause := speaking(t, "native_units = \"in\"\n", `tool_change  = "files"`, `tool_change = "pause"`)
	chords := speaking(t, "", "places       = 4", "places = 2")
	for _, c := range []struct {
		name     string
		m        *machines.Machine
		file     string
		n        int // program
		old, new string
	}{
		{"a dwell in seconds for milliseconds", everything, "clamp.toml", 1, "G4 P3000\n", "G4 P3.0\n"},
		{"a hole one step deeper", everything, "clamp.toml", 1, "Z-24.1011 R-9.1500 Q2.5000", "Z-24.1012 R-9.1500 Q2.5000"},
		{"a hole's start lower", everything, "clamp.toml", 1, "Z-24.1011 R-9.1500 Q2.5000", "Z-24.1011 R-9.2500 Q2.5000"},
		{"a peck deeper", everything, "clamp.toml", 1, "Q2.5000", "Q2.6000"},
		{"pecks lost", everything, "clamp.toml", 1, "G83 X-16.2500 Y0.0000 Z-24.1011 R-9.1500 Q2.5000", "G81 X-16.2500 Y0.0000 Z-24.1011 R-9.1500"},
		{"a hole lost", everything, "clamp.toml", 1, "N230 G83 X16.2500 Y0.0000 Z-24.1011 R-9.1500 Q2.5000 F93.0\n", ""},
		{"holes joined at the height of their start", everything, "clamp.toml", 1, "G94 G98", "G94 G99"},
		{"the cycle goes on", everything, "clamp.toml", 1, "N100 G80\n", "N100 X0.0000\n"},
		{"a change lost", everything, "clamp.toml", 1, "T2 M6\n", "M9\n"},
		{"another tool", everything, "clamp.toml", 1, "T2 M6\n", "T4 M6\n"},
		{"no rise after a change", everything, "clamp.toml", 1, "T2 M6\nN170 G43 H2\nN180 G0 Z5.0000\n", "T2 M6\nN170 G43 H2\n"},
		{"the second percent lost", everything, "clamp.toml", 1, "M2\n%\n", "M2\n"},
		{"a line number too great", everything, "clamp.toml", 1, "N100 G80\n", "N100000 G80\n"},
		{"lengths lost", everything, "clamp.toml", 1, "N170 G43 H2\n", "N170 G49\n"},
		{"a pause lost", pause, "clamp.toml", 1, "T2\nM0\n", "T2\n"},
		{"a pause with the spindle on", pause, "clamp.toml", 1, "M5\n(CHANGE THE TOOL AND TOUCH OFF HEIGHT AGAIN)\n(TOOL 2 ", "(CHANGE THE TOOL AND TOUCH OFF HEIGHT AGAIN)\n(TOOL 2 "},
		{"the wrong tool in a pause", pause, "clamp.toml", 1, "T2\nM0\n", "T4\nM0\n"},
		{"X not said after a pause", pause, "clamp.toml", 1, "(TAPPING DRILL 1 OF 2 TO 24.1011 DEEP)\nG0 X-16.2500 Y0.0000\n", "(TAPPING DRILL 1 OF 2 TO 24.1011 DEEP)\nG0 Y0.0000\n"},
		{"Z not said after a pause", pause, "clamp.toml", 1, "T2\nM0\nG0 Z5.0000\n", "T2\nM0\n"},
		{"native units before the end", pause, "clamp.toml", 1, "(CUT 2 ARMS FOOT TAPPING DRILL)\n", "G20\n"},
		{"a chord's corner one step in", chords, "collar.toml", 0, "X8.83 Y-11.27", "X8.83 Y-11.26"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := programsOf(t, c.file, c.m)[c.n]
			text, err := write.Program(p, c.m)
			if err != nil {
				t.Fatal(err)
			}
			whole := string(text.Bytes)
			if !strings.Contains(whole, c.old) {
				t.Fatalf("the text has no %q\n%s", c.old, whole)
			}
			if _, f := holds(text, p, c.m, 0); f != nil {
				t.Fatalf("the text as it is does not pass: %v", f)
			}
			bad := text
			bad.Bytes = []byte(strings.Replace(whole, c.old, c.new, 1))
			if _, f := holds(bad, p, c.m, 0); f == nil {
				t.Error("it passed")
			}
		})
	}
}

// The classes that a dialect is meant for, by hand: what each class does not
// take (its sources stand in post/rs274/read/rule.go).
func TestMeantFor(t *testing.T) {
	files := `tool_change  = "files"`
	for _, c := range []struct {
		name    string
		m       *machines.Machine
		without read.Class
	}{
		{"the plainest", speaking(t, ""), read.C},
		{"semicolons", speaking(t, "", `"parentheses"`, `"semicolon"`), read.C | read.R},
		{"percent", speaking(t, "percent = true\n"), read.C | read.A},
		{"cycles", speaking(t, "cycles = [81]\n"), read.C | read.A},
		{"chips broken", speaking(t, "cycles = [73]\n"), read.C | read.A | read.R},
		{"tools by code", speaking(t, "", files, `tool_change = "code"`), read.C | read.A},
		{"tools by pause", speaking(t, "", files, `tool_change = "pause"`), read.C},
		{"mist", speaking(t, "head_words = \"M7\"\n"), read.C | read.A},
		{"flood and the exact way", speaking(t, "head_words = \"M8 G61\"\n"), read.C},
		{"numbers", speaking(t, "line_numbers = 1\n"), read.C},
	} {
		if got, want := MeantFor(c.m), (read.R|read.A|read.B|read.C|read.D|read.E)&^c.without; got != want {
			t.Errorf("%s: %s, want %s", c.name, got, want)
		}
		// and no class that it is meant for has a finding in its text
		for _, p := range programsOf(t, "clamp.toml", c.m) {
			if _, err := prove(p, "p.ngc", c.m, 0); err != nil {
				t.Errorf("%s: %v", c.name, err)
			}
		}
	}
}

// Programs that change their tools have no tool in their names, and one a set-up.
func TestNamesOfSeveralTools(t *testing.T) {
	m := speaking(t, "", `tool_change  = "files"`, `tool_change = "pause"`)
	got := strings.Join(Names("clamp", programsOf(t, "clamp.toml", m)), " ")
	if want := "clamp-01-01.ngc clamp-02-01.ngc"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// A refusal that is short by less than two steps of the places names them; one that is
// short by more, or holds, does not.
func TestPlacesAreNamed(t *testing.T) {
	m := speaking(t, "", "places       = 4", "places = 2")
	short := func(margin, worst measure.Length, state limit.State) limit.Verdict {
		return limit.Verdict{Unit: limit.Length, Margin: int64(margin), MarginWorst: int64(worst), State: state, Do: "cut less deep"}
	}
	um := measure.Micrometre
	got := []limit.Verdict{
		short(30*um, -19*um, limit.Refused), short(-19*um, -50*um, limit.Refused), short(30*um, -19*um, limit.Warned),
		short(30*um, -20*um, limit.Refused),
	}
	namePlaces(got, m)
	named := "cut less deep; 2 places round by up to 0.010 mm (0.0004 in): more may do"
	for i, want := range []string{named, "cut less deep", "cut less deep", "cut less deep"} {
		if got[i].Do != want {
			t.Errorf("%d: %q, want %q", i, got[i].Do, want)
		}
	}
}
