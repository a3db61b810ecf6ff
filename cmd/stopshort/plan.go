package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"stopshort/machines"
	"stopshort/post"
	"stopshort/toolpath/form"
	"stopshort/toolpath/job"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/recipe"
)

// work is a job taken all the way through the gate for one machine.
type work struct {
	job     *job.Job
	machine *machines.Machine
	named   string // the machine's name or file, as it was asked for
	inLines bool   // the table tells each limit's line
	*post.Result
}

// through loads a job, plans it for a machine and takes it through the gate.
func through(file, machine string) (*work, error) { return throughLifted(file, machine, 0) }

// throughLifted is through for a dry run that is lifted: nought is none.
func throughLifted(file, machine string, lift measure.Length) (*work, error) {
	w, err := planned(file, machine)
	if err != nil {
		return nil, err
	}
	r, err := post.Through(w.Plan, w.job.Stem, w.machine)
	if lift > 0 {
		r, err = post.ThroughLifted(w.Plan, w.job.Stem, w.machine, lift)
	}
	if err != nil {
		return nil, err
	}
	w.Result = r
	return w, w.accept()
}

// planned loads a job and plans it for a machine; no program is written and no limit
// held yet.
func planned(file, machine string) (*work, error) {
	j, err := job.Load(file, recipe.Tables())
	if err != nil {
		return nil, err
	}
	name := machine
	if name == "" {
		name = j.Machine
		if filepath.Ext(name) == ".toml" && !filepath.IsAbs(name) { // a file is named from where the job is
			name = filepath.Join(filepath.Dir(file), name)
		}
	}
	if name == "" {
		return nil, fmt.Errorf("%s names no machine: add machine = \"...\" or give --machine, one of %s",
			file, strings.Join(machines.Names(), ", "))
	}
	m, err := machines.Find(name)
	var faults form.Faults
	if err != nil && machine == "" && !errors.As(err, &faults) { // the job names it: say where
		j.Node.Fault("machine", "%s", err)
		return nil, j.Node.Faults()
	}
	if err != nil {
		return nil, err
	}
	p, err := recipe.Plan(j, m)
	if err != nil {
		return nil, err
	}
	return &work{job: j, machine: m, named: name, Result: &post.Result{Plan: p}}, nil
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
func (w *work) refusal(verdicts []limit.Verdict) error {
	var b strings.Builder
	u := w.units()
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
		fmt.Fprintf(&b, "%s: %s: %s: ", what, oneLine(cut), oneLine(v.Limit))
		if v.Figure != "" {
			fmt.Fprintf(&b, "%s", v.Figure)
		} else {
			fmt.Fprintf(&b, "%s left, never less than %s",
				amount(v.Planned, v.Unit, u, measure.Floor), amount(v.NeverLess, v.Unit, u, measure.Ceil))
		}
		if text := w.line(v); text != "" {
			fmt.Fprintf(&b, ", at %s", text)
		}
		if v.Do != "" {
			fmt.Fprintf(&b, "\n  would do: %s", v.Do)
		}
		b.WriteString(askedBy(v))
	}
	return refused{fmt.Errorf("%s", b.String())}
}

// line is the line of the program that a verdict speaks of, as it would have
// been written; without a program the move's count.
func (w *work) line(v limit.Verdict) string {
	for _, p := range w.Programs {
		if p.Name != v.File || v.Where == 0 {
			continue
		}
		lines := strings.Split(string(p.Text), "\n")
		s := strings.TrimRight(lines[v.Where-1], "\r") + ", " + where(v)
		if len(w.Programs) > 1 {
			s += " of " + v.File
		}
		return s
	}
	return where(v)
}

// where is the place of a verdict for a person.
func where(v limit.Verdict) string {
	switch {
	case v.Where == 0:
		return ""
	case v.File == "":
		return fmt.Sprintf("move %d", v.Where)
	case v.File == post.TableName:
		return fmt.Sprintf("row %d of %s", v.Where, v.File)
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
	case limit.Count:
		return strconv.FormatInt(n, 10), ""
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
