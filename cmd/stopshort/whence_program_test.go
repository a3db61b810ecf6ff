package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"golang.org/x/exp/slices"
)

// footOf is the lines under "where the figures come from", each in one piece, and what
// stands before them.
func footOf(t *testing.T, call, text string) (above string, foot []string) {
	t.Helper()
	above, rest, ok := strings.Cut(text, "\nwhere the figures come from\n")
	if !ok {
		t.Errorf("%s: says nothing of where its figures come from", call)
	}
	for _, line := range strings.Split(strings.ReplaceAll(rest, "\n    ", " "), "\n") {
		if line = strings.TrimSpace(line); line != "" {
			foot = append(foot, line)
		}
	}
	return above, foot
}

// A division says of each of its columns, and of each figure over them, where it is
// from; its sources are named.
func TestWhenceDivide(t *testing.T) {
	published, err := os.ReadFile("../../testdata/published/dividing.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, by := range []string{"dial", "plates"} {
		for _, machine := range []string{"dial-mill-mm", "dial-mill-inch", "knee-mill-inch"} {
			call := by + " on " + machine
			text, ok := outputOf(t, "divide", "19", "--machine", machine, "--circle", "2 in", "--by", by)
			if !ok {
				t.Fatal(call)
			}
			_, foot := footOf(t, call, text)
			all := strings.Join(foot, "\n")
			names := map[string]string{"holes": "given", "circle": "given", "angle": "derived", "ratio": "given", "turns": "derived", "seconds out": "derived", "thou out": ""}
			if by == "plates" {
				for _, title := range []string{"Dividing head practice", "Plain indexing", "Rotary table manual p.5"} {
					if !strings.Contains(string(published), "\""+title+"\"") || !strings.Contains(all, title) {
						t.Errorf("%s: %q is not named, or its answers are not in testdata/published", call, title)
					}
				}
				names["spaces"], names["sector's arms"] = "derived", "derived"
			} else {
				names["degrees:minutes:seconds"] = "derived"
			}
			for name, from := range names {
				if !regexp.MustCompile(`(?m)` + regexp.QuoteMeta(name) + `[^\n]*?: ` + from).MatchString(all) {
					t.Errorf("%s: %s is not said to be %s:\n%s", call, name, from, all)
				}
			}
			if !strings.Contains(all, "stopshort machine show "+machine) {
				t.Errorf("%s: the machine's figures have no source", call)
			}
		}
	}
}

// What check --program finds in a program is marked: what the call gave, what was read;
// the rules of the readers have their source. In JSON each key of a figure is.
func TestWhenceCheckProgram(t *testing.T) {
	name := filepath.Join(t.TempDir(), "any.ngc")
	if err := os.WriteFile(name, []byte("G21 G90 G17\nG0 X0 Y0 Z5\nM3 S900\nG1 Z-2 F40\nX12.5\nG0 Z5\nM30\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	args := []string{"check", "--program", name, "--stop", "-3 mm", "--clear", "1 mm"}
	text, ok := outputOf(t, args...)
	if !ok {
		t.Fatalf("refused:\n%s", text)
	}
	_, foot := footOf(t, "check --program", text)
	for _, want := range []string{"stop: given: --stop", "clear: given: --clear", "all else: derived: ", "rules: handbook: R: the number of its own list of errors (NISTIR 6556"} {
		if !slices.ContainsFunc(foot, func(line string) bool { return strings.HasPrefix(line, want) }) {
			t.Errorf("%q is not in %q", want, foot)
		}
	}
	text, _ = outputOf(t, append(args, "--format", "json")...)
	marked(t, "check --program", text)
	text, _ = outputOf(t, "check", "--program", name, "--stop", "-3 mm", "--format", "json")
	if strings.Contains(text, `"--clear"`) {
		t.Error("a clear plane that nobody gave is said to be given")
	}
}

// A job's limits held against a program are marked as those of its own programs.
func TestWhenceForeign(t *testing.T) {
	const job = "../../testdata/jobs/slot.toml"
	folder := t.TempDir() + "/"
	if _, ok := outputOf(t, "gcode", job, "-o", folder); !ok {
		t.Fatal("refused")
	}
	programs, err := filepath.Glob(folder + "*.ngc")
	if err != nil || len(programs) == 0 {
		t.Fatalf("%d programs, %v", len(programs), err)
	}
	text, ok := outputOf(t, "check", job, "--program", programs[0])
	if !ok {
		t.Fatalf("it does not hold:\n%s", text)
	}
	above, foot := footOf(t, programs[0], text)
	limits := 0
	for _, line := range strings.Split(above, "\n") {
		if m := limitNo.FindStringSubmatch(line); m != nil {
			limits++
			if !slices.ContainsFunc(foot, func(f string) bool { return strings.HasPrefix(f, m[1]+" ") }) {
				t.Errorf("the foot does not say what %s is", m[1])
			}
		}
	}
	if limits < 3 {
		t.Errorf("%d limits have a mark:\n%s", limits, text)
	}
	text, _ = outputOf(t, "check", job, "--program", programs[0], "--format", "json")
	marked(t, programs[0], text)
}

// marked holds a report's marks: each says given, derived or handbook, and a source.
func marked(t *testing.T, call, text string) {
	t.Helper()
	var r struct{ Marks []mark }
	if err := json.Unmarshal([]byte(text), &r); err != nil || len(r.Marks) < 3 {
		t.Errorf("%s: %v, %d marks", call, err, len(r.Marks))
	}
	for _, m := range r.Marks {
		if !origin.MatchString(m.From) || m.Source == "" || m.Name == "" {
			t.Errorf("%s: %+v", call, m)
		}
	}
}
