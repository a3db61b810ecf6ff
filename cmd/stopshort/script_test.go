package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"golang.org/x/exp/slices"
)

// TestMain lets the scripts run the command in this very binary.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"stopshort": func() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) },
	})
}

// TestScripts runs whole commands, one file for each promise. $JOBS is the
// folder of the demo's jobs. Exit statuses are asserted with "status N cmd...".
func TestScripts(t *testing.T) {
	jobs, err := filepath.Abs("../../testdata/jobs")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: "../../testdata/script",
		Setup: func(e *testscript.Env) error {
			e.Setenv("JOBS", jobs)
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"status": status,
			"edit":   edit,
			"refuse": refuse,
			"fill":   fill,
		},
	})
}

// edit writes base.toml to another file with texts replaced, each of which must
// stand in it once: edit FILE OLD NEW [OLD NEW]... "\n" in NEW is a line's end.
func edit(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 3 || len(args)%2 == 0 {
		ts.Fatalf("usage: edit FILE OLD NEW [OLD NEW]...")
	}
	text := ts.ReadFile("base.toml")
	for i := 1; i < len(args); i += 2 {
		if n := strings.Count(text, args[i]); n != 1 {
			ts.Fatalf("%q stands %d times in base.toml", args[i], n)
		}
		text = strings.Replace(text, args[i], strings.ReplaceAll(args[i+1], `\n`, "\n"), 1)
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(text), 0o666))
}

// refuse runs stopshort gcode twice, once where an old file stands and once
// where none does, and asks for the exit status, for every pattern in what is
// said, for nothing on standard output, and for a folder that is left as it
// was: refuse STATUS JOB [FLAG]... : PATTERN...
func refuse(ts *testscript.TestScript, neg bool, args []string) {
	colon := slices.Index(args, ":")
	if neg || colon < 2 || colon == len(args)-1 {
		ts.Fatalf("usage: refuse STATUS JOB [FLAG]... : PATTERN...")
	}
	dir, old := ts.MkAbs("target"), "(an old program)\n"
	ts.Check(os.RemoveAll(dir))
	ts.Check(os.Mkdir(dir, 0o777))
	ts.Check(os.WriteFile(filepath.Join(dir, "old.ngc"), []byte(old), 0o666))
	for _, name := range []string{"old.ngc", "new.ngc"} {
		call := append([]string{args[0], "stopshort", "gcode"}, args[1:colon]...)
		status(ts, false, append(call, "-o", filepath.Join(dir, name)))
		if out := ts.ReadFile("stdout"); out != "" {
			ts.Fatalf("standard output holds %q", out)
		}
		said := ts.ReadFile("stderr")
		for _, p := range args[colon+1:] {
			if !regexp.MustCompile(`(?m)` + p).MatchString(said) {
				ts.Fatalf("%q is not in what is said:\n%s", p, said)
			}
		}
		left, err := os.ReadDir(dir)
		ts.Check(err)
		if len(left) != 1 || ts.ReadFile(filepath.Join(dir, "old.ngc")) != old {
			ts.Fatalf("the folder was changed: %v", left)
		}
	}
}

// fill writes a file of one text repeated, or of a size without anything in
// it: fill FILE TEXT TIMES, fill FILE "" BYTES. "\xff" in TEXT is that byte.
func fill(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: fill FILE TEXT TIMES")
	}
	n, err := strconv.Atoi(args[2])
	ts.Check(err)
	file := ts.MkAbs(args[0])
	if args[1] == "" {
		ts.Check(os.WriteFile(file, nil, 0o666))
		ts.Check(os.Truncate(file, int64(n)))
		return
	}
	text := strings.ReplaceAll(args[1], `\xff`, "\xff")
	ts.Check(os.WriteFile(file, []byte(strings.Repeat(text, n)), 0o666))
}

// status runs a command and asks for its exit status: status 1 stopshort ...
func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N command...")
	}
	err := ts.Exec(args[1], args[2:]...)
	got := 0
	if err != nil {
		got = -1
		if e, ok := err.(interface{ ExitCode() int }); ok {
			got = e.ExitCode()
		}
	}
	if want := args[0]; want != string(rune('0'+got)) {
		ts.Fatalf("exit status %d, want %s", got, want)
	}
}
