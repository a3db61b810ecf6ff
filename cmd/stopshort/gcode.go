package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"stopshort/post"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/measure"
)

func gcodeCommand() *cobra.Command {
	var machine, out, lift string
	var as wanted
	c := &cobra.Command{
		Use:   "gcode JOB",
		Short: "write the job's programs, proved from their own text",
		Long: `gcode plans the job, writes its programs as plain RS-274 G-code, reads them back
from their own bytes and holds every limit against that reading. Nothing is
written that breaks a limit.

One program goes to standard output where there is no -o. With -o, a folder
takes each program under its own name:
<job>-<set-up>-<order>-<tool>.ngc.

--lift raises everything by a length, for a dry run above the work: the same
moves, feeds and speeds, with -lifted at the end of each name. It is refused
where the cutter would come within 1 mm of metal or holding, or out of headroom.
` + measuredHelp + ` It writes those
programs alone.`,
		Args: one("JOB"),
		RunE: func(c *cobra.Command, args []string) error {
			var err error
			if as.lift, err = liftBy(lift, c.Flags().Changed("lift")); err != nil {
				return err
			}
			if as.lift > 0 && (as.rough || len(as.measured) > 0) {
				return fmt.Errorf("--lift goes with neither --rough nor --measured: make the dry run of all programs before the first cut")
			}
			w, err := throughAs(args[0], machine, as)
			var wrong *post.LiftFault
			if errors.As(err, &wrong) {
				return fmt.Errorf("--lift %s: %s", lift, wrong.Text)
			}
			if err != nil {
				return err
			}
			return w.gcode(out, c.Flags().Changed("out"), c.OutOrStdout(), c.ErrOrStderr())
		},
	}
	c.Flags().StringVar(&machine, "machine", "", "machine's name or file (default: the job's own)")
	c.Flags().StringVarP(&out, "out", "o", "", "file or folder to write (default: standard output)")
	c.Flags().StringVar(&lift, "lift", "", "raise everything by this length, for a dry run above the work")
	as.flags(c)
	return c
}

// liftBy reads --lift; nought is none given.
func liftBy(text string, given bool) (measure.Length, error) {
	if !given {
		return 0, nil
	}
	l, err := measure.ParseLength(text, measure.NoUnit)
	if err != nil {
		return 0, fmt.Errorf("--lift: %w", err)
	}
	if l <= 0 {
		return 0, fmt.Errorf("--lift %s: it must be more than nought", text)
	}
	return l, nil
}

func (w *work) gcode(out string, given bool, stdout, stderr io.Writer) error {
	if w.machine.Controller == nil {
		return fmt.Errorf("%s has no controller: stopshort handwheel writes its table, and stopshort check tells its limits; gcode needs one of the stepper machines", w.machine.Name)
	}
	if bad := w.Refused(); len(bad) > 0 {
		return w.refusal(bad)
	}
	w.warn(stderr)
	if w.measured {
		w.finishes()
	}
	if !given {
		if n := len(w.Programs); n > 1 {
			return fmt.Errorf("there are %d programs: name a folder for them with -o", n)
		}
		w.tellHeads(stderr)
		if w.machine.Controller.Comments == "none" { // else its head says it
			w.tellMeasuring(stderr)
		}
		_, err := stdout.Write(w.Programs[0].Text)
		return err
	}
	if err := w.spare(out); err != nil {
		return err
	}
	t, err := post.Where(out, len(w.Programs))
	if err != nil {
		return err
	}
	if err := post.Apart(w.Programs, t); err != nil {
		return err
	}
	names, err := post.Commit(w.Programs, t)
	for _, n := range names {
		fmt.Fprintln(stdout, "wrote", n)
	}
	if t.Folder {
		w.mixed(t.Path, stderr)
	}
	if err == nil {
		w.tellHeads(stderr)
		w.tellMeasuring(stderr)
	}
	return err
}

// tellHeads tells what each program's head would say, and what to look at where it waits,
// for a controller that takes no comments: nothing else tells it.
func (w *work) tellHeads(out io.Writer) {
	for _, p := range w.Programs {
		if len(p.Told) == 0 {
			continue
		}
		fmt.Fprintf(out, "%s takes no comments: before it runs\n", p.Name)
		for _, line := range p.Told {
			fmt.Fprintf(out, "  %s\n", line)
		}
	}
}

// mixed tells of programs in the folder that are of another plan: a set of two plans must
// not be run, nor a finish that goes by what was read on an earlier part.
func (w *work) mixed(folder string, stderr io.Writer) {
	cuts := len(w.Programs) > 0 && w.Programs[0].Lift == 0
	for _, l := range post.Leftovers(folder, w.job.Stem, w.Plan.Digest, cuts && !w.measured) {
		if l.Read {
			fmt.Fprintf(stderr, "warning: %s goes by a reading of an earlier part: remove it, so that nobody runs it on this one\n", l.Name)
			continue
		}
		fmt.Fprintf(stderr, "warning: %s is of job %s and not of this plan, job %s: another state of the job, or another machine: remove it, so that nobody runs it\n", l.Name, l.Digest, w.Plan.Digest)
	}
}

// spare keeps -o off the files that the programs are made from.
func (w *work) spare(out string) error {
	target, err := os.Stat(out)
	if err != nil {
		return nil // nothing is there that could be lost
	}
	for _, f := range []string{w.job.File, w.named} {
		if source, err := os.Stat(f); err == nil && os.SameFile(source, target) {
			return fmt.Errorf("-o %s is %s itself, which the program is made from: name another file", out, f)
		}
	}
	return nil
}

// warn tells the warnings, once, at the head.
func (w *work) warn(stderr io.Writer) {
	for _, s := range w.warnings(everySetup) {
		fmt.Fprintln(stderr, "warning: "+s)
	}
}

// everySetup is all of a job's set-ups, by number.
func everySetup(int) bool { return true }

// plannedWarnings are what speaks against the cuts of some set-ups as they are planned, and
// what each program takes for true, a sentence each.
func (w *work) plannedWarnings(of func(setup int) bool) (out []string) {
	for _, s := range w.Plan.Setups {
		if !of(s.Number) {
			continue
		}
		for _, op := range s.Operations {
			for _, warn := range op.Warns {
				out = append(out, oneLine(s.Name)+", "+oneLine(warn))
			}
		}
	}
	for _, p := range w.Programs {
		if a := post.Assumes(p, w.machine); a != "" && of(p.Program.Setup.Number) {
			out = append(out, p.Name+": "+a)
		}
	}
	return out
}

// warnings are the planned ones, the limits that should rather be kept with more, and the
// worst cases that the job accepts, a sentence each, of some set-ups.
func (w *work) warnings(of func(setup int) bool) []string {
	u, out := w.units(), w.plannedWarnings(of)
	for _, v := range w.Verdicts {
		if !of(v.Number[0]) || v.State != limit.Warned && !(v.State == limit.AtWorst && v.Accepted) {
			continue
		}
		s := fmt.Sprintf("%s, %s: %s: ", oneLine(v.Setup), oneLine(v.Cut), oneLine(v.Limit))
		if v.MarginWorst < 0 {
			t := toldOf(v, u)
			s += fmt.Sprintf("%s left at worst, never less than %s", t.worst, t.least)
		} else {
			s += fmt.Sprintf("%s, better %s or more", amount(v.Planned, v.Unit, u, measure.Floor), amount(*v.Better, v.Unit, u, measure.Ceil))
		}
		if v.Accepted {
			s += fmt.Sprintf(" (accepted: %s)", oneLine(v.Reason))
		}
		out = append(out, s)
	}
	return out
}
