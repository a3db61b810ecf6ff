package post

import (
	"bytes"
	"path/filepath"
	"testing"

	"stopshort/machines"
	"stopshort/post/rs274/read"
	"stopshort/post/rs274/write"
	"stopshort/toolpath/job"
	"stopshort/toolpath/plan"
	"stopshort/toolpath/recipe"
)

// No line of a program of ours has a finding in a class of reader that all of
// them are meant for, assumes anything or leaves a move open: every job of the
// demo on every machine that has a controller.
func TestOurTextIsPlain(t *testing.T) {
	files, err := filepath.Glob("../testdata/jobs/*.toml")
	if err != nil || len(files) < 3 {
		t.Fatal(files, err)
	}
	programs := 0
	for _, file := range files {
		for _, name := range machines.Names() {
			m, err := machines.Find(name)
			if err != nil {
				t.Fatal(err)
			}
			if m.Controller == nil {
				continue
			}
			j, err := job.Load(file, recipe.Tables())
			if err != nil {
				t.Fatal(err)
			}
			p, err := recipe.Plan(j, m)
			if err != nil {
				t.Fatalf("%s on %s: %v", file, name, err)
			}
			for _, program := range plan.Programs(p, m) {
				text, err := write.Program(program, m)
				if err != nil {
					t.Fatalf("%s on %s: %v", file, name, err)
				}
				r, err := read.Read(bytes.NewReader(text.Bytes), read.Options{Slots: 1})
				if err != nil {
					t.Fatal(err)
				}
				programs++
				for _, n := range r.Notes {
					if n.Kind() != read.Finding || n.Classes()&(read.R|read.A|read.B|read.D|read.E) != 0 {
						t.Errorf("%s on %s: %s %v", file, name, n.Classes(), n)
					}
				}
			}
		}
	}
	if programs < 20 {
		t.Errorf("only %d programs", programs)
	}
}
