package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
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
		},
	})
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
