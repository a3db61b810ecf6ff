package main

import (
	"fmt"
	"io"
	"strconv"

	"github.com/spf13/cobra"
	"golang.org/x/exp/slices"

	"stopshort/post"
	"stopshort/post/handwheel"
	"stopshort/toolpath/limit"
)

func handwheelCommand() *cobra.Command {
	var machine, setup, format, out string
	var as wanted
	c := &cobra.Command{
		Use:   "handwheel JOB",
		Short: "write the job as rows of wheels and dials, for a machine that is turned by hand",
		Long: `handwheel plans the job and tells each movement as a row: which wheel, which way,
whole turns and lines, what the dial then shows, and what is left to the stop. Each
place is met from one side, so that the play between screw and nut does no harm. The
rows are added up again from their own text, held against the plan, and every limit is
held against what they come to, before anything is printed.

The table goes to standard output where there is no -o. With -o, a folder takes it
as <job>-handwheel.txt, .csv or .json.
` + measuredHelp + ` The
table then says where to go on.`,
		Args: one("JOB"),
		RunE: func(c *cobra.Command, args []string) error {
			if format != "text" && format != "csv" && format != "json" {
				return fmt.Errorf("--format %q: write text, csv or json", format)
			}
			w, err := throughAs(args[0], machine, as)
			if err != nil {
				return err
			}
			if w.machine.Controller != nil {
				return fmt.Errorf("%s has a controller and is not turned by hand: stopshort gcode writes its programs", w.machine.Name)
			}
			h, err := w.byHand(setup)
			if err != nil {
				return err
			}
			return w.handwheel(h, format, out, c.Flags().Changed("out"), c.OutOrStdout(), c.ErrOrStderr())
		},
	}
	c.Flags().StringVar(&machine, "machine", "", "machine's name or file (default: the job's own)")
	c.Flags().StringVar(&setup, "setup", "", "number or name of one set-up (default: all)")
	c.Flags().StringVar(&format, "format", "text", "text, csv or json")
	c.Flags().StringVarP(&out, "out", "o", "", "file or folder to write (default: standard output)")
	as.flags(c)
	return c
}

// byHand takes the plan through the table's gate; from here on the verdicts are those
// of the table. Where only a part is made, the finishes that wait are left out.
func (w *work) byHand(setup string) (*post.Hand, error) {
	var setups []int
	for i, s := range w.Plan.Setups {
		if setup == "" || setup == s.Name || setup == strconv.Itoa(s.Number) {
			setups = append(setups, i)
		}
	}
	if len(setups) == 0 {
		return nil, fmt.Errorf("--setup %q is no set-up of %s: it has 1 to %d, by number or name", setup, w.job.File, len(w.Plan.Setups))
	}
	rows := func() (*post.Hand, error) {
		return post.ByHand(w.Plan, setups, w.job.Material, w.machine, w.part)
	}
	h, err := rows()
	if err == nil && w.tellAccepted(w.Plan, h.Verdicts) {
		h, err = rows()
	}
	if err != nil {
		return nil, err
	}
	h.Table.Whence = w.whence(setups)
	w.Verdicts = h.Verdicts
	for _, a := range w.job.Accepts {
		limit.Accept(w.Verdicts, a.Limit, a.Reason)
	}
	return h, nil
}

func (w *work) handwheel(h *post.Hand, format, out string, given bool, stdout, stderr io.Writer) error {
	if bad := w.Refused(); len(bad) > 0 {
		return w.refusal(bad)
	}
	told := func(setup int) bool {
		return slices.ContainsFunc(h.Table.Rows, func(r handwheel.Row) bool { return r.Setup == setup })
	}
	h.Table.Warnings = append(w.warnings(told), h.Warnings()...)
	if format == "csv" { // it has no head
		for _, s := range h.Table.Warnings {
			fmt.Fprintln(stderr, "warning: "+s)
		}
	}
	text, ending := []byte(h.Table.Text()), ".txt"
	switch format {
	case "csv":
		text, ending = h.CSV, ".csv"
	case "json":
		var err error
		if text, err = h.Table.JSON(); err != nil {
			return err
		}
		ending = ".json"
	}
	if !given {
		_, err := plain{stdout}.Write(text)
		return err
	}
	if err := w.spare(out); err != nil {
		return err
	}
	t, err := post.Where(out, 1)
	if err != nil {
		return err
	}
	names, err := post.Commit([]*post.Proven{{Name: w.job.Stem + "-handwheel" + ending, Text: text}}, t)
	for _, n := range names {
		fmt.Fprintln(stdout, "wrote", n)
	}
	return err
}
