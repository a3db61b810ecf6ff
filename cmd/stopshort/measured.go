package main

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"stopshort/post"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/recipe"
)

// wanted is what of a job is asked for, besides the machine.
type wanted struct {
	lift     measure.Length // of a dry run; nought is none
	rough    bool           // no finish that waits for a measuring
	measured []string       // readings, SETUP:CUT=LENGTH
}

// flags adds the flags of the measuring before a last pass.
func (w *wanted) flags(c *cobra.Command) {
	c.Flags().BoolVar(&w.rough, "rough", false, "leave out the last passes that wait for a measuring")
	c.Flags().StringArrayVar(&w.measured, "measured", nil, "`SETUP:CUT=LENGTH`, what was read before the last pass: works that pass out again (may be given again)")
}

// measuredHelp is what the commands with these flags say of them.
const measuredHelp = `
Where a limit under a cut is close (its margin at worst is less than the last step),
the cut is measured before its last pass. --rough leaves out those last passes.
--measured SETUP:CUT=LENGTH works such a pass out again from what was read: only the
gauge's error and the last step then count. SETUP and CUT are numbers or names.`

// taken reads --measured: each reading by its set-up's and its cut's number.
func (w *work) taken(texts []string, asked []post.Asked) (map[[2]int]measure.Length, error) {
	out := map[[2]int]measure.Length{}
	for _, text := range texts {
		fault := func(format string, args ...any) error {
			return fmt.Errorf("--measured %s: %s", oneLine(text), fmt.Sprintf(format, args...))
		}
		i := strings.LastIndexByte(text, '=')
		if i < 0 {
			return nil, fault("write SETUP:CUT=LENGTH, such as 1:2=\"20.66 mm\"")
		}
		key, err := w.cutNamed(text[:i])
		if err != nil {
			return nil, fault("%s", err)
		}
		l, err := measure.ParseLength(strings.TrimSpace(text[i+1:]), measure.NoUnit)
		if err != nil {
			return nil, fault("%s", err)
		}
		if l <= 0 {
			return nil, fault("a reading is more than nought")
		}
		if _, twice := out[key]; twice {
			return nil, fault("cut %d of set-up %d is given twice: give the one reading that the row asks for", key[1], key[0])
		}
		a, ok := asks(asked, key)
		if !ok {
			return nil, fault("cut %d of set-up %d asks for no measuring: %s", key[1], key[0], askedFor(asked))
		}
		if err := a.Fits(l, w.machine.Units); err != nil {
			return nil, fault("%s", err)
		}
		out[key] = l
	}
	return out, nil
}

// asks is the measuring of a cut.
func asks(asked []post.Asked, key [2]int) (post.Asked, bool) {
	for _, a := range asked {
		if [2]int{a.Setup.Number, a.Cut} == key {
			return a, true
		}
	}
	return post.Asked{}, false
}

// askedFor lists the cuts that ask for a measuring.
func askedFor(asked []post.Asked) string {
	if len(asked) == 0 {
		return "no cut of this job does on this machine"
	}
	var names []string
	for _, a := range asked {
		names = append(names, fmt.Sprintf("%d:%d (%s)", a.Setup.Number, a.Cut, oneLine(a.Of)))
	}
	return "it is asked for by " + strings.Join(names, ", ")
}

// cutNamed finds a cut by SETUP:CUT, each a number or a name.
func (w *work) cutNamed(text string) (key [2]int, err error) {
	setup, cut, ok := strings.Cut(text, ":")
	if !ok {
		return key, fmt.Errorf("%q names no cut: write SETUP:CUT, such as 1:2", text)
	}
	known := false
	var named *[2]int // a number goes before a name that looks like one
	for _, s := range w.job.Setups {
		number := strconv.Itoa(s.Number)
		known = known || setup == number || setup == s.Name
		for _, c := range s.Cuts {
			at := [2]int{s.Number, c.Number}
			switch text {
			case fmt.Sprintf("%d:%d", s.Number, c.Number):
				return at, nil
			case number + ":" + c.Name, s.Name + ":" + c.Name, fmt.Sprintf("%s:%d", s.Name, c.Number):
				if named == nil {
					named = &at
				}
			}
		}
	}
	if named != nil {
		return *named, nil
	}
	if !known {
		return key, fmt.Errorf("%q is no set-up of %s: it has 1 to %d, by number or name", setup, w.job.File, len(w.job.Setups))
	}
	return key, fmt.Errorf("set-up %s has no cut %q: give its place in the set-up, or its name", setup, cut)
}

// plan works the job out, with a measuring before the last pass of each cut whose limit
// is close, and takes it through the gate.
func (w *work) plan(as wanted) error {
	p, err := recipe.Plan(w.job, w.machine, recipe.Options{})
	if err != nil {
		return err
	}
	if w.Result, err = post.Through(p, w.job.Stem, w.machine); err != nil {
		return err
	}
	for _, v := range w.Verdicts {
		w.known[v.Limit] = true
	}
	with := recipe.Options{Look: post.Close(p, w.Verdicts), Beside: post.CloseBeside(p, w.Verdicts)}
	if len(with.Look)+len(with.Beside) > 0 {
		if p, err = recipe.Plan(w.job, w.machine, with); err != nil {
			return err
		}
	}
	asked := post.Asks(p, w.Verdicts, w.machine)
	taken, err := w.taken(as.measured, asked)
	if err != nil {
		return err
	}
	if len(taken) > 0 {
		with.Taken = taken
		if p, err = recipe.Plan(w.job, w.machine, with); err != nil {
			return err
		}
	}
	w.measured = len(taken) > 0
	w.part = as.rough || w.measured
	// What was measured or left out, and what the job then accepts, stands in the heads: it
	// is planned and judged once more where there is any, so that what is judged is written.
	for again := as.lift > 0 || w.part || len(with.Look)+len(with.Beside) > 0; w.tellAccepted(p, w.Verdicts) || again; again = false {
		switch {
		case as.lift > 0:
			w.Result, err = post.ThroughLifted(p, w.job.Stem, w.machine, as.lift)
		case w.part:
			w.Result, err = post.ToMeasure(p, w.job.Stem, w.machine)
		default:
			w.Result, err = post.Through(p, w.job.Stem, w.machine)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// finishes keeps of the programs those that were worked out from a reading: the others
// are as they were, and were run.
func (w *work) finishes() {
	var out []*post.Proven
	for _, p := range w.Programs {
		if op := p.Program.Operations[0]; op.Part == toolpath.Finish && !op.Waits() {
			out = append(out, p)
		}
	}
	w.Programs = out
}

// tellMeasuring says what is to be measured between two programs.
func (w *work) tellMeasuring(out io.Writer) {
	for _, p := range w.Programs {
		if p.Lift > 0 {
			continue
		}
		for _, op := range p.Program.Operations {
			if op.Part == toolpath.Rough {
				fmt.Fprintf(out, "measure: after %s spindle off, %s; where it reads something else: --measured %d:%d=READING\n",
					p.Name, op.Look.Asks(w.machine.Units), p.Program.Setup.Number, op.Cut)
			}
		}
	}
}
