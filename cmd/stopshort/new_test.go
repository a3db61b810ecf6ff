package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stopshort/machines"
)

// The new job of every built-in machine, in both units, runs as it is: every key
// is known, every limit holds also at worst and none warns, and a machine with a
// controller gets its programs.
func TestNewRunsOnEveryMachine(t *testing.T) {
	for _, name := range machines.Names() {
		m, err := machines.Find(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, units := range []string{"mm", "in"} {
			dir := t.TempDir()
			file := filepath.Join(dir, "j.toml")
			ok := func(args ...string) string {
				var out, errs bytes.Buffer
				// What is to be measured between two programs is told on standard error.
				if status := run(args, &out, &errs); status != 0 || errs.Len() > 0 && (args[0] != "gcode" || !strings.HasPrefix(errs.String(), "measure: after j-") || strings.Count(errs.String(), "\n") > 1) {
					t.Fatalf("%s in %s: %s: exit status %d: %s", name, units, args[0], status, errs.String())
				}
				return out.String()
			}
			ok("new", "--machine", name, "--units", units, "-o", file)
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if printed := ok("new", "--machine", name, "--units", units); printed != string(text) {
				t.Errorf("%s in %s: printed and written differ", name, units)
			}
			for i, l := range strings.Split(string(text), "\n") {
				if n := len([]rune(l)); n > 100 {
					t.Errorf("%s in %s: line %d has %d columns", name, units, i+1, n)
				}
			}
			var told struct {
				Limits []struct{ Limit, Verdict string }
			}
			if err := json.Unmarshal([]byte(ok("check", file, "--format", "json")), &told); err != nil {
				t.Fatal(err)
			}
			if len(told.Limits) < 20 {
				t.Errorf("%s in %s: %d limits", name, units, len(told.Limits))
			}
			for _, l := range told.Limits {
				if l.Verdict != "ok" {
					t.Errorf("%s in %s: %s: %s", name, units, l.Limit, l.Verdict)
				}
			}
			if m.Controller == nil {
				continue
			}
			if got := strings.Count(ok("gcode", file, "-o", dir), "wrote "); got != 4 {
				t.Errorf("%s in %s: %d programs, want one for each of 3 tools and one for the measured last pass", name, units, got)
			}
		}
	}
}

// Every key of the new job has a comment, and each is told once.
func TestNewExplainsItsKeys(t *testing.T) {
	var out, errs bytes.Buffer
	if status := run([]string{"new"}, &out, &errs); status != 0 {
		t.Fatal(errs.String())
	}
	section, tools, before := "", 0, ""
	for _, l := range strings.Split(out.String(), "\n") {
		l = strings.TrimSpace(l)
		key, value, is := strings.Cut(l, " = ")
		key = strings.TrimSpace(key)
		switch {
		case strings.HasPrefix(l, "["):
			if section = l; l == "[[tool]]" {
				tools++
			}
		case is && !strings.HasPrefix(l, "#") && (section != "[[tool]]" || tools == 1):
			if !strings.Contains(value, "  # ") && !strings.HasPrefix(before, "# ") {
				t.Errorf("%s %s has no comment", section, key)
			}
		case is && !strings.HasPrefix(l, "#") && key != "tip":
			if strings.Contains(value, "#") {
				t.Errorf("tool %d: %s is explained again", tools, key)
			}
		}
		before = l
	}
	if tools != 3 {
		t.Errorf("%d tools", tools)
	}
}
