package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"golang.org/x/exp/slices"

	"stopshort/machines"
	"stopshort/post"
	"stopshort/toolpath"
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
	measured bool            // last passes were worked out from readings
	part     bool            // finishes that wait for a measuring are left out
	known    map[string]bool // the names of the whole job's limits
}

// throughAs loads a job, plans what of it is wanted for a machine and takes that through
// the gate.
func throughAs(file, machine string, as wanted) (*work, error) {
	w, err := loaded(file, machine)
	if err != nil {
		return nil, err
	}
	if err := w.plan(as); err != nil {
		return nil, err
	}
	return w, w.accept()
}

// planned loads a job and plans it for a machine; no program is written and no limit
// held yet.
func planned(file, machine string) (*work, error) {
	w, err := loaded(file, machine)
	if err != nil {
		return nil, err
	}
	p, err := recipe.Plan(w.job, w.machine, recipe.Options{})
	if err != nil {
		return nil, err
	}
	w.Result = &post.Result{Plan: p}
	return w, nil
}

// loaded is a job and the machine that is asked for or that it names.
func loaded(file, machine string) (*work, error) {
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
	return &work{job: j, machine: m, named: name, known: map[string]bool{}}, nil
}

// accept marks the warnings and worst cases that the job takes on. A name that is no
// limit's is a fault of the job: it would look as if something were accepted.
func (w *work) accept() error {
	for _, a := range w.job.Accepts {
		if !limit.Accept(w.Verdicts, a.Limit, a.Reason) && !w.known[a.Limit] {
			a.Node.Fault("limit", "%q is the name of no limit here: stopshort check prints the names", a.Limit)
		}
	}
	return w.job.Node.Faults()
}

// tellAccepted puts what the job takes on into the facts of each set-up where that limit
// is met, for the heads of its programs and its table. It tells whether anything of what
// stood there is another.
func (w *work) tellAccepted(p *toolpath.Plan, verdicts []limit.Verdict) (changed bool) {
	for i := range p.Setups {
		s := &p.Setups[i]
		if !slices.ContainsFunc(verdicts, func(v limit.Verdict) bool { return v.Number[0] == s.Number }) {
			continue // not looked at this time
		}
		var told []string
		for _, a := range w.job.Accepts {
			if slices.ContainsFunc(verdicts, func(v limit.Verdict) bool {
				return v.Number[0] == s.Number && v.Limit == a.Limit && (v.State == limit.Warned || v.State == limit.AtWorst)
			}) {
				told = append(told, fmt.Sprintf("accepted - %s - %s", a.Limit, a.Reason))
			}
		}
		if !slices.Equal(told, s.Accepted) {
			s.Accepted, changed = told, true
		}
	}
	return changed
}

// units is what a person reads this job's lengths in: the job's own, else the
// machine's.
func (w *work) units() measure.Unit {
	return w.job.Units(w.machine.Units)
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
		switch v.State {
		case limit.Undecided:
			what = "too close to decide"
		case limit.AtWorst:
			what = "refused at worst"
		}
		cut := v.Setup
		if v.Cut != "" {
			cut += ", " + v.Cut
		}
		fmt.Fprintf(&b, "%s: %s: %s: ", what, oneLine(cut), oneLine(v.Limit))
		if v.Figure != "" {
			fmt.Fprintf(&b, "%s", v.Figure)
		} else {
			t := toldOf(v, u)
			fmt.Fprintf(&b, "%s left, ", t.left)
			if v.State == limit.AtWorst {
				fmt.Fprintf(&b, "%s at worst, ", t.worst)
			}
			fmt.Fprintf(&b, "never less than %s", t.least)
		}
		if text := w.line(v); text != "" {
			fmt.Fprintf(&b, ", at %s", text)
		}
		if v.State == limit.AtWorst && len(v.Shares) > 0 {
			fmt.Fprintf(&b, "\n  at worst: %s", sharesOf(v, u))
		}
		if do := w.wouldDo(v); do != "" {
			fmt.Fprintf(&b, "\n  would do: %s", do)
		}
		b.WriteString(askedBy(v))
	}
	return refused{fmt.Errorf("%s", b.String())}
}

// wouldDo is what would do where a limit does not hold.
func (w *work) wouldDo(v limit.Verdict) string {
	if v.State != limit.AtWorst {
		return v.Do
	}
	var ways []string
	for _, s := range w.Plan.Setups {
		for _, op := range s.Operations {
			if op.Waits() && op.Look.Limit == v.Limit && v.Number == [2]int{s.Number, op.Cut} {
				ways = append(ways, fmt.Sprintf("measure before the last pass: --rough, and then --measured %d:%d=READING", s.Number, op.Cut))
			}
		}
	}
	if v.Do != "" {
		ways = append(ways, v.Do)
	}
	return strings.Join(append(ways, "accept the limit by name with its reason"), "; or ")
}

// sharesOf is what a worst case is made of.
func sharesOf(v limit.Verdict, u measure.Unit) string {
	var parts []string
	var sum measure.Length
	for _, s := range v.Shares {
		t, _ := figure(int64(s.Of), limit.Length, u, measure.Ceil)
		parts = append(parts, s.Name+" "+t)
		sum += s.Of
	}
	return fmt.Sprintf("%s together %s", strings.Join(parts, " + "), amount(int64(sum), limit.Length, u, measure.Ceil))
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
