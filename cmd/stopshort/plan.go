package main

import (
	"fmt"
	"strings"

	"stopshort/machines"
	"stopshort/post"
	"stopshort/toolpath/job"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/recipe"
)

// work is a job taken all the way through the gate for one machine.
type work struct {
	job     *job.Job
	machine *machines.Machine
	*post.Result
}

// through loads a job, plans it for a machine and takes it through the gate.
func through(file, machine string) (*work, error) {
	j, err := job.Load(file, recipe.Tables())
	if err != nil {
		return nil, err
	}
	name := machine
	if name == "" {
		name = j.Machine
	}
	if name == "" {
		return nil, fmt.Errorf("%s names no machine: add machine = \"...\" or give --machine, one of %s",
			file, strings.Join(machines.Names(), ", "))
	}
	m, err := machines.Find(name)
	if err != nil {
		return nil, err
	}
	p, err := recipe.Plan(j, m)
	if err != nil {
		return nil, err
	}
	r, err := post.Through(p, j.Stem, m)
	if err != nil {
		return nil, err
	}
	w := &work{j, m, r}
	return w, w.accept()
}

// accept marks the warnings that the job takes on. A name that is no limit's is
// a fault of the job: it would look as if something were accepted.
func (w *work) accept() error {
	for _, a := range w.job.Accepts {
		found := false
		for i := range w.Verdicts {
			v := &w.Verdicts[i]
			if v.Limit != a.Limit {
				continue
			}
			found = true
			if v.State == limit.Warned {
				v.Accepted, v.Reason = true, a.Reason
			}
		}
		if !found {
			a.Node.Fault("limit", "%q is the name of no limit here: stopshort check prints the names", a.Limit)
		}
	}
	return w.job.Node.Faults()
}

// units is what a person reads this job's lengths in: the job's own, else the
// machine's.
func (w *work) units() measure.Unit {
	switch w.job.Node.Word("units") {
	case "mm":
		return measure.MM
	case "in":
		return measure.In
	}
	return w.machine.Units
}

// refusal is the error for verdicts that stop the job, in full.
func refusal(verdicts []limit.Verdict, u measure.Unit) error {
	var b strings.Builder
	for i, v := range verdicts {
		if i > 0 {
			b.WriteString("\n")
		}
		what := "refused"
		if v.State == limit.Undecided {
			what = "too close to decide"
		}
		cut := v.Setup
		if v.Cut != "" {
			cut += ", " + v.Cut
		}
		fmt.Fprintf(&b, "%s: %s: %s: %s left, never less than %s", what, cut, v.Limit,
			amount(v.Planned, v.Unit, u, measure.Floor), amount(v.NeverLess, v.Unit, u, measure.Ceil))
		if at := where(v); at != "" {
			fmt.Fprintf(&b, " (%s)", at)
		}
		if v.Do != "" {
			fmt.Fprintf(&b, "\n  would do: %s", v.Do)
		}
	}
	return refused{fmt.Errorf("%s", b.String())}
}

// where is the place of a verdict for a person.
func where(v limit.Verdict) string {
	switch {
	case v.Where == 0:
		return ""
	case v.File == "":
		return fmt.Sprintf("move %d", v.Where)
	}
	return fmt.Sprintf("line %d", v.Where)
}

// amount is a verdict's figure with its unit.
func amount(n int64, unit limit.Unit, u measure.Unit, way measure.Rounding) string {
	s, name := figure(n, unit, u, way)
	return s + " " + name
}

// figure is a verdict's figure in a person's unit, and the unit's name.
func figure(n int64, unit limit.Unit, u measure.Unit, way measure.Rounding) (text, name string) {
	switch unit {
	case limit.Speed:
		return rpm(n), "rpm"
	case limit.Feed:
		if u == measure.In {
			return measure.Length(n).Format(measure.In, 2, way), "in/min"
		}
		return measure.Length(n).Format(measure.MM, 1, way), "mm/min"
	}
	if u == measure.In {
		return measure.Length(n).Format(measure.In, 4, way), "in"
	}
	return measure.Length(n).Format(measure.MM, 3, way), "mm"
}

// rpm is a speed without its unit.
func rpm(n int64) string { return strings.TrimSuffix(measure.Speed(n).String(), " rpm") }
