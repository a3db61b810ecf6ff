package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"stopshort/post"
	"stopshort/toolpath/limit"
)

func gcodeCommand() *cobra.Command {
	var machine, out string
	c := &cobra.Command{
		Use:   "gcode JOB",
		Short: "write the job's programs, proved from their own text",
		Long: `gcode plans the job, writes its programs as plain RS-274 G-code, reads them back
from their own bytes and holds every limit against that reading. Nothing is
written that breaks a limit.

One program goes to standard output where there is no -o. With -o, a folder
takes each program under its own name:
<job>-<set-up>-<order>-<tool>.ngc.`,
		Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			w, err := through(args[0], machine)
			if err != nil {
				return err
			}
			return w.gcode(out, c.Flags().Changed("out"), c.OutOrStdout(), c.ErrOrStderr())
		},
	}
	c.Flags().StringVar(&machine, "machine", "", "machine's name or file (default: the job's own)")
	c.Flags().StringVarP(&out, "out", "o", "", "file or folder to write (default: standard output)")
	return c
}

func (w *work) gcode(out string, given bool, stdout, stderr io.Writer) error {
	if w.machine.Controller == nil {
		return fmt.Errorf("%s has no controller: stopshort check tells its limits, and gcode needs one of the stepper machines", w.machine.Name)
	}
	if bad := w.Refused(); len(bad) > 0 {
		return refusal(bad, w.units())
	}
	w.warn(stderr)
	if !given {
		if n := len(w.Programs); n > 1 {
			return fmt.Errorf("there are %d programs: name a folder for them with -o", n)
		}
		_, err := stdout.Write(w.Programs[0].Text)
		return err
	}
	t, err := post.Where(out, len(w.Programs))
	if err != nil {
		return err
	}
	names, err := post.Commit(w.Programs, t)
	for _, n := range names {
		fmt.Fprintln(stdout, "wrote", n)
	}
	return err
}

// warn tells the warnings, once, at the head.
func (w *work) warn(stderr io.Writer) {
	u := w.units()
	for _, v := range w.Verdicts {
		if v.State != limit.Warned {
			continue
		}
		fmt.Fprintf(stderr, "warning: %s, %s: %s: %s left at worst, never less than %s",
			v.Setup, v.Cut, v.Limit, amount(v.NeverLess+v.MarginWorst, v.Unit, u, 1), amount(v.NeverLess, v.Unit, u, 2))
		if v.Accepted {
			fmt.Fprintf(stderr, " (accepted: %s)", v.Reason)
		}
		fmt.Fprintln(stderr)
	}
}
