package main

import (
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"stopshort/post"
	"stopshort/toolpath"
)

// Exit statuses (README, "Exit status").
const (
	exitDone    = 0
	exitRefused = 1 // a limit refuses
	exitInput   = 2 // the input, the call or the disk is wrong
	exitProof   = 3 // a program is not proved, or our own output failed its proof
)

// refused is the error of a command whose answer is no: what there is to say
// was said.
type refused struct{ error }

// unproved is the error of a command whose answer is that it cannot tell; it was
// said.
type unproved struct{ error }

// run is the whole command, for main and for the tests.
//
// Rules for talking to people: what was asked for goes to standard output, and
// nothing else; what went wrong, and warnings, to standard error. An error is a
// sentence in lower case, behind the command's name, with what would do. The
// number that is needed comes first.
func run(args []string, out, errs io.Writer) int {
	errs = plain{errs}
	root := command(out, errs)
	root.SetArgs(args)
	err := root.Execute()
	var limit toolpath.Refusal
	var proof *post.Fault
	var no refused
	var open unproved
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &no):
		if no.error != nil {
			fmt.Fprintf(errs, "stopshort: %v\n", err)
		}
		return exitRefused
	case errors.As(err, &open):
		return exitProof
	case errors.As(err, &limit):
		fmt.Fprintf(errs, "stopshort: refused: %v\n", err)
		return exitRefused
	case errors.As(err, &proof):
		fmt.Fprintf(errs, "stopshort: %v\n", err)
		return exitProof
	}
	fmt.Fprintf(errs, "stopshort: %v\n", err)
	return exitInput
}

func command(out, errs io.Writer) *cobra.Command {
	root := &cobra.Command{
		Use:   "stopshort",
		Short: "plan the milling of small parts, and refuse any cut that would go too deep",
		Long: `stopshort plans the milling of small parts, one cut at a time, and refuses any
cut that would go too deep. From one job file it gives plain RS-274 G-code for a
mill converted to stepper motors, or a table of turns and dial readings for one that
is turned by hand, each proved from its own text, with every limit and what is left at
worst; and it answers "may I go this deep?". It also holds any RS-274 program against
a stop.

Exit status: 0 done; 1 a limit refuses; 2 the input, the call or the disk is
wrong; 3 a program is not proved, or our own output failed its proof.

What it gives is taken to a machine that can hurt you: go by the machine's
manual and local rules, and ask a competent person where in doubt.`,
		Args:              none,
		SilenceErrors:     true,
		SilenceUsage:      true,
		CompletionOptions: cobra.CompletionOptions{DisableDefaultCmd: true},
		RunE: func(c *cobra.Command, args []string) error {
			return c.Help()
		},
	}
	root.SetFlagErrorFunc(wrongFlag)
	root.SetOut(out)
	root.SetErr(errs)
	root.AddCommand(gcodeCommand(), handwheelCommand(), checkCommand(), depthCommand(), machineCommand(), newCommand(), threadCommand(), drillCommand(), speedCommand(), divideCommand())
	return root
}
