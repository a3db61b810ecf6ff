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

// goldenPrograms are the programs of every job of the demo on every machine that
// has a controller, by name.
func goldenPrograms(t *testing.T) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	files, err := filepath.Glob("../testdata/jobs/*.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		for _, name := range machines.Names() {
			m, err := machines.Find(name)
			if err != nil || m.Controller == nil {
				continue
			}
			j, err := job.Load(file, recipe.Tables())
			if err != nil {
				t.Fatal(err)
			}
			p, err := recipe.Plan(j, m, recipe.Options{})
			if err != nil {
				t.Fatal(err)
			}
			programs := plan.Programs(p, m)
			for i, n := range Names(j.Stem, programs) {
				text, err := write.Program(programs[i], m)
				if err != nil {
					t.Fatal(err)
				}
				out[n+" on "+name] = text.Bytes
			}
		}
	}
	return out
}

// No line of a program of ours has a finding in a class of reader that all of
// them are meant for, assumes anything or leaves a move open. (C takes few lines
// of anyone's: it has rules of its own on comments and on codes to a line.)
func TestOurTextIsPlain(t *testing.T) {
	programs := goldenPrograms(t)
	if len(programs) < 20 {
		t.Errorf("only %d programs", len(programs))
	}
	for name, text := range programs {
		r, err := read.Read(bytes.NewReader(text), read.Options{Slots: 1})
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range r.Notes {
			if n.Kind() != read.Finding || n.Classes()&(read.R|read.A|read.B|read.D|read.E) != 0 {
				t.Errorf("%s: %s %v", name, n.Classes(), n)
			}
		}
	}
}
