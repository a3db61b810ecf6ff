package main

import (
	"fmt"

	"github.com/spf13/cobra"
)

// one asks for exactly one argument, what says which.
func one(what string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) == 1 {
			return nil
		}
		return fmt.Errorf("%d names are given and %s takes one: write %s %s", len(args), c.Name(), c.CommandPath(), what)
	}
}

// none asks for no argument: a word left over is mostly a length whose space
// has no quotes about it, or a command that is written wrongly.
func none(c *cobra.Command, args []string) error {
	switch {
	case len(args) == 0:
		return nil
	case c.HasAvailableSubCommands():
		return fmt.Errorf("%q is no command of %s: %s --help lists them", args[0], c.CommandPath(), c.CommandPath())
	}
	return fmt.Errorf("%q is left over: put quotes about a length with a space, as --to \"0.650 in\"; %s --help lists the flags", args[0], c.CommandPath())
}

// wrongFlag adds to a fault of the flags where they are listed.
func wrongFlag(c *cobra.Command, err error) error {
	return fmt.Errorf("%w: %s --help lists the flags", err, c.CommandPath())
}
