package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"testing"
)

// limitsOf is what a check as JSON tells, by cut and limit.
func limitsOf(t *testing.T, args ...string) map[string]row {
	t.Helper()
	var out, errs bytes.Buffer
	if status := run(append(args, "--format", "json"), &out, &errs); status != exitDone {
		t.Fatalf("%v: status %d: %s", args, status, errs.String())
	}
	var r report
	if err := json.Unmarshal(out.Bytes(), &r); err != nil {
		t.Fatal(err)
	}
	rows := map[string]row{}
	for _, x := range r.Limits {
		rows[fmt.Sprintf("%s/%s/%s", x.Setup, x.Cut, x.Limit)] = x
	}
	return rows
}

func number(t *testing.T, raw json.RawMessage) (f float64) {
	t.Helper()
	if err := json.Unmarshal(raw, &f); err != nil {
		t.Fatal(err)
	}
	return f
}

// The job's own programs, held against it as anyone's are, keep every limit; of the
// limits that belong to a cut, the least of all programs of a set-up is what the job's
// own check tells.
func TestOurOwnProgramsAsAnyones(t *testing.T) {
	files, err := filepath.Glob("../../testdata/jobs/*.toml")
	if err != nil || len(files) < 5 {
		t.Fatal(files, err)
	}
	parts := regexp.MustCompile(`-(\d\d)-\d\d-(\d\d)(-rough|-finish)?\.ngc$`)
	for _, file := range files {
		dir := t.TempDir()
		var out, errs bytes.Buffer
		if status := run([]string{"gcode", file, "-o", dir}, &out, &errs); status != exitDone {
			t.Fatalf("%s: %s", file, errs.String())
		}
		own := limitsOf(t, "check", file)
		programs, err := os.ReadDir(dir)
		if err != nil {
			t.Fatal(err)
		}
		met := 0
		least := map[string]float64{}
		for _, p := range programs {
			m := parts.FindStringSubmatch(p.Name())
			if m == nil {
				t.Fatalf("%s is no name of ours", p.Name())
			}
			for name, x := range limitsOf(t, "check", file, "--program", filepath.Join(dir, p.Name()), "--setup", m[1][1:], "--tool", m[2][1:]) {
				if _, ours := own[name]; !ours {
					if x.Cut != "" {
						t.Errorf("%s: %q is no limit of the job's own check", p.Name(), name)
					}
					continue
				}
				v := number(t, x.Planned)
				if was, ok := least[name]; !ok || v < was {
					least[name] = v
				}
			}
		}
		for name, v := range least {
			if own[name].Cut == "" {
				continue // of the whole set-up: each program goes its own way
			}
			met++
			if want := number(t, own[name].Planned); v != want {
				t.Errorf("%s: %s: %v left, and the job's own check says %v", file, name, v, want)
			}
		}
		if met < 2 {
			t.Errorf("%s: only %d limits of cuts were met", file, met)
		}
	}
}
