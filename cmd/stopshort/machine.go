package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"stopshort/machines"
)

func machineCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "machine",
		Short: "list the built-in machines, or show what one can do",
		Args:  none,
		RunE:  func(c *cobra.Command, args []string) error { return c.Help() },
	}
	c.AddCommand(&cobra.Command{
		Use:   "list",
		Short: "list the built-in machines",
		Args:  none,
		RunE: func(c *cobra.Command, args []string) error {
			for _, name := range machines.Names() {
				m, err := machines.Find(name)
				if err != nil {
					return err
				}
				if _, err := fmt.Fprintf(c.OutOrStdout(), "%-18s %s\n", name, m.Title); err != nil {
					return err
				}
			}
			return nil
		},
	}, &cobra.Command{
		Use:   "show NAME",
		Short: "show what a machine can do, and what its positions may be out by",
		Args:  one("NAME"),
		RunE: func(c *cobra.Command, args []string) error {
			m, err := machines.Find(args[0])
			if err != nil {
				return err
			}
			wide := 0
			for _, f := range m.Facts() {
				wide = max(wide, len(f[0]))
			}
			for _, f := range m.Facts() {
				if _, err := fmt.Fprintf(c.OutOrStdout(), "%-*s  %s\n", wide, f[0], f[1]); err != nil {
					return err
				}
			}
			_, err = fmt.Fprintf(c.OutOrStdout(), "%-*s  %s\n", wide, "from", "given: the machine's file")
			return err
		},
	})
	return c
}
