package main

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/exp/slices"

	"stopshort/post"
	"stopshort/post/rs274/read"
	"stopshort/post/rs274/survey"
	"stopshort/toolpath"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/recipe"
)

// foreign is a program that was not planned here, held against a job's set-up.
type foreign struct {
	*work
	call    *programCall
	setup   *toolpath.Setup
	cutters string
	lines   int
	ended   bool
	steps   int
	digest  string // of the job that the program was made from, where its head tells one
	notes   survey.Notes
	open    []limit.Open
	assumed []limit.Open
}

// runJob holds the program against one set-up of a job.
func (p *programCall) runJob(c *cobra.Command, job, machine, format string) error {
	for _, flag := range []string{"stop", "clear"} {
		if c.Flags().Changed(flag) {
			return fmt.Errorf("--%s is for a program without a job: the job has limits of its own", flag)
		}
	}
	w, err := planned(job, machine)
	if err != nil {
		return err
	}
	o, err := p.options(c, w.machine)
	if err != nil {
		return err
	}
	w.inLines = true
	f := &foreign{work: w, call: p}
	if f.setup, err = f.setupNamed(p.setup); err != nil {
		return err
	}
	if err := f.judge(c, o); err != nil {
		return err
	}
	tell := f.text
	if format == "json" {
		tell = f.json
	}
	if err := tell(c.OutOrStdout()); err != nil {
		return err
	}
	switch {
	case len(f.Refused()) > 0:
		return f.refusal(f.Refused())
	case f.unproved() > 0:
		return unproved{}
	}
	return nil
}

// setupNamed is the set-up that was asked for, by number or name; with one set-up
// nothing need be asked.
func (f *foreign) setupNamed(name string) (*toolpath.Setup, error) {
	all := f.Plan.Setups
	if name == "" && len(all) == 1 {
		return &all[0], nil
	}
	for i := range all {
		if name == strconv.Itoa(all[i].Number) || name != "" && name == all[i].Name {
			return &all[i], nil
		}
	}
	if name == "" {
		return nil, fmt.Errorf("%s has %d set-ups: say which one the program is for with --setup, by number or name", f.job.File, len(all))
	}
	return nil, fmt.Errorf("--setup %q is no set-up of %s: it has 1 to %d, by number or name", name, f.job.File, len(all))
}

// judge reads the program to its end and holds each step against the set-up's
// limits.
func (f *foreign) judge(c *cobra.Command, o read.Options) error {
	tool, err := f.cutter()
	if err != nil {
		return err
	}
	judge, err := limit.NewForeign(f.setup, f.machine, f.call.name(), recipe.Proportions)
	if err != nil {
		return err
	}
	in, done, err := f.call.open(c)
	if err != nil {
		return err
	}
	defer done()
	head := &prefix{Reader: in, most: post.HeadSize}
	end, err := read.Each(head, o, func(s *toolpath.Step) error {
		f.steps++
		if t, why := tool(s.Tool); why != "" {
			judge.Lost(*s, why)
		} else {
			judge.Step(*s, t)
		}
		return nil
	}, f.notes.Add)
	if err != nil {
		return fmt.Errorf("%s: %w", f.call.name(), err)
	}
	f.lines, f.ended = end.Lines, end.Ended
	f.digest, _ = post.DigestIn(head.text)
	result := *f.Result
	result.Verdicts, result.Programs = judge.Verdicts(), nil
	f.Result = &result
	f.open, f.assumed = judge.NotProved(), judge.Assumed()
	for _, a := range f.job.Accepts { // its name may be of a limit that this program does not meet
		limit.Accept(f.Verdicts, a.Limit, a.Reason)
	}
	return nil
}

// cutter tells which of the set-up's tools cuts where the program has put in a tool of
// a number; why is not empty where that is not known. Another tool of the job is as
// little known: nothing of the set-up is planned for it.
//
// --tool is the cutter of the whole program, until it changes to another number.
// Without it a number is the set-up's tool of that number; before the first change it
// is the one tool that the set-up uses.
func (f *foreign) cutter() (func(number int) (t toolpath.Cutter, why string), error) {
	tools := map[int]toolpath.Cutter{}
	var numbers []int
	for _, op := range f.setup.Operations {
		if _, met := tools[op.Tool.Number]; !met {
			tools[op.Tool.Number] = op.Tool
			numbers = append(numbers, op.Tool.Number)
		}
	}
	slices.Sort(numbers)
	var used []string
	for _, n := range numbers {
		used = append(used, strconv.Itoa(n))
	}
	which := strings.Join(used, ", ")
	if asked := f.call.tool; asked != "" {
		n, err := strconv.Atoi(asked)
		t, ok := tools[n]
		if err != nil || !ok {
			return nil, fmt.Errorf("--tool %q is no tool of set-up %d of %s: it uses %s, by number", asked, f.setup.Number, f.job.File, which)
		}
		f.cutters = f.asCutter(t)
		first := 0
		return func(number int) (toolpath.Cutter, string) {
			if first == 0 {
				first = number
			}
			if number != first && number != 0 {
				return t, fmt.Sprintf("T%d: the program changes to another cutter than the one of --tool", number)
			}
			return t, ""
		}, nil
	}
	f.cutters = "the set-up's tools by the program's T and M6"
	if len(numbers) == 1 {
		f.cutters = f.asCutter(tools[numbers[0]])
	}
	return func(number int) (toolpath.Cutter, string) {
		if number == 0 && len(numbers) == 1 {
			number = numbers[0]
		}
		switch t, ok := tools[number]; {
		case ok:
			return t, ""
		case number == 0:
			return t, "no cutter is put in by T and M6: say which one with --tool, of " + which
		default:
			return t, fmt.Sprintf("T%d is no tool of the set-up: say which one it is with --tool, of %s", number, which)
		}
	}, nil
}

func (f *foreign) asCutter(t toolpath.Cutter) string {
	return fmt.Sprintf("tool %d, %s %s, %s", t.Number, t.Kind, t.Diameter.BothFrom(f.units()), t.MadeOf)
}

// otherPlan tells whether the program says of itself that it was made from another job, or for another machine.
func (f *foreign) otherPlan() bool { return f.digest != "" && f.digest != f.Plan.Digest }

// prefix keeps the beginning of what is read through it.
type prefix struct {
	io.Reader
	text []byte
	most int
}

func (p *prefix) Read(b []byte) (int, error) {
	n, err := p.Reader.Read(b)
	p.text = append(p.text, b[:max(0, min(n, p.most-len(p.text)))]...)
	return n, err
}

// unproved is how many kinds of thing are not proved.
func (f *foreign) unproved() int { return len(f.open) + len(f.notes.NotProved()) }

// text is the check for a person: the answer, the table of limits with the program's
// lines, and what there is to say of lines.
func (f *foreign) text(out io.Writer) error {
	var b strings.Builder
	u := f.units()
	answer := f.answer(u, 0) // the warnings of the job's own cuts are not the program's
	if len(f.Refused()) == 0 && f.unproved() > 0 {
		answer = "NOT PROVED: see below. Of what could be followed: " + answer
	}
	fmt.Fprintf(&b, "%s\n\n", wrapped(answer, 0, 98))
	fmt.Fprintf(&b, "%-9s %s: %s, %s\n", "program", f.call.name(), plural(f.lines, "line"), plural(f.steps, "step"))
	fmt.Fprintf(&b, "%-9s %s, job %s, set-up %d, %s, on %s\n", "held to", oneLine(f.job.Title), f.Plan.Digest, f.setup.Number, oneLine(f.setup.Name), f.machine.Name)
	fmt.Fprintf(&b, "%-9s %s\n", "cutter", f.cutters)
	if f.otherPlan() {
		fmt.Fprintf(&b, "%-9s its head is of job %s: another state of this job, another machine, or another job\n", "of", f.digest)
	}
	from := marks{job: f.job.File}
	f.table(&b, u, &from)
	f.shares(&b, u)
	from.foot(&b, f.work)
	open := asSayings(f.notes.NotProved())
	for _, o := range f.open {
		open = append(open, toTell(o))
	}
	rowsOf(&b, "not proved, by the first line of each kind", open)
	assumed := asSayings(f.notes.Assumed())
	for _, o := range f.assumed {
		assumed = append(assumed, toTell(o))
	}
	rowsOf(&b, "the above holds if", assumed)
	findings(&b, f.notes.Findings())
	fmt.Fprintf(&b, "\nGo by the machine's manual and local rules, and ask a competent person where in doubt.\n")
	_, err := io.WriteString(plain{out}, b.String())
	return err
}

// toTell is what the judge leaves open, as a row.
func toTell(o limit.Open) saying { return saying{o.Line, o.Count, o.Text} }
