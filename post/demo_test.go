package post

import (
	"testing"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/job"
	"stopshort/toolpath/plan"
	"stopshort/toolpath/recipe"
)

// demoOn is a demo job and a built-in machine, "" the job's own.
func demoOn(t testing.TB, file, machine string) (*job.Job, *machines.Machine) {
	t.Helper()
	j, err := job.Load("../testdata/jobs/"+file, recipe.Tables())
	if err != nil {
		t.Fatal(err)
	}
	if machine == "" {
		machine = j.Machine
	}
	m, err := machines.Find(machine)
	if err != nil {
		t.Fatal(err)
	}
	return j, m
}

// fatal is what ends a test, a drawn one too.
type fatal interface {
	Helper()
	Fatal(...any)
}

// planned is a job's plan on a machine.
func planned(t fatal, j *job.Job, m *machines.Machine) *toolpath.Plan {
	t.Helper()
	p, err := recipe.Plan(j, m, recipe.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// demo is a demo job's first program on its machine.
func demo(t *testing.T, file string) (toolpath.Program, *machines.Machine) {
	t.Helper()
	j, m := demoOn(t, file, "")
	return plan.Programs(planned(t, j, m), m)[0], m
}
