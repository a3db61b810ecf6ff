package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"stopshort/machines"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/measure"
)

func depthCommand() *cobra.Command {
	var to, bore, leave, least, planned, machine string
	c := &cobra.Command{
		Use:   "depth --to LENGTH --bore DIAMETER --leave LENGTH",
		Short: "say how deep a cut over a bore may go, and whether a planned depth clears that stop",
		Long: `depth says where the stop stands for a cut that is to leave a web over a bore
lying under it: --to is from the touched face down to the bore's centre, --bore
the bore's diameter, --leave the web. A planned depth past the stop is refused.
With a machine the web is also held against the machine's errors, never less
than --never-less (half of the leave where it is not given), and a dial's whole
turns and lines from zero are told.`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, args []string) error {
			var q limit.Question
			var err error
			read := func(flag, text string, into *measure.Length) {
				if err == nil {
					if *into, err = measure.ParseLength(text, measure.NoUnit); err != nil {
						err = fmt.Errorf("--%s: %w", flag, err)
					} else if *into < 0 || *into == 0 && flag != "never-less" && flag != "planned" {
						err = fmt.Errorf("--%s %s: it must be more than nought", flag, text)
					}
				}
			}
			for _, flag := range []string{"to", "bore", "leave"} {
				if !c.Flags().Changed(flag) {
					return fmt.Errorf("--%s is missing: depth needs --to, --bore and --leave, each with its unit", flag)
				}
			}
			read("to", to, &q.To)
			read("bore", bore, &q.Bore)
			read("leave", leave, &q.Leave)
			q.NeverLess = q.Leave.Half(measure.Ceil)
			if c.Flags().Changed("never-less") {
				read("never-less", least, &q.NeverLess)
			}
			if c.Flags().Changed("planned") {
				var p measure.Length
				read("planned", planned, &p)
				q.Planned = &p
			}
			if err != nil {
				return err
			}
			if q.Bore%2 != 0 {
				return fmt.Errorf("--bore %s does not halve exactly: write it a tenth of a nanometre larger", bore)
			}
			if q.NeverLess > q.Leave {
				return fmt.Errorf("--never-less %s is more than --leave %s: never-less is the least, leave the aim", q.NeverLess, q.Leave)
			}
			if machine != "" {
				if q.Machine, err = machines.Find(machine); err != nil {
					return err
				}
			}
			return tellDepth(c, q)
		},
	}
	f := c.Flags()
	f.StringVar(&to, "to", "", "from the touched face to the bore's centre")
	f.StringVar(&bore, "bore", "", "the bore's diameter")
	f.StringVar(&leave, "leave", "", "the web to leave")
	f.StringVar(&least, "never-less", "", "least web when the errors are counted (default: half of the leave)")
	f.StringVar(&planned, "planned", "", "a depth to hold against the stop")
	f.StringVar(&machine, "machine", "", "machine's name or file")
	return c
}

func tellDepth(c *cobra.Command, q limit.Question) error {
	a := q.Answer()
	var b strings.Builder
	row := func(name, text string) { fmt.Fprintf(&b, "%-12s %s\n", name, text) }
	if a.Stop <= 0 {
		return refused{fmt.Errorf("refused: no depth is left: %s to the bore's centre less %s for its half and %s to leave is %s",
			q.To, q.Bore/2, q.Leave, a.Stop)}
	}
	switch {
	case q.Planned == nil && a.Thin:
		row("NO", fmt.Sprintf("at the stop %s is left at worst", a.Worst.Both()))
	case q.Planned == nil:
		row("stop", a.Stop.Both())
	case a.PastIt:
		row("NO", fmt.Sprintf("%s is %s past the stop", a.Depth.Both(), (-a.Spare).Both()))
	case a.Thin:
		row("NO", fmt.Sprintf("%s clears the stop, but %s is left at worst", a.Depth.Both(), a.Worst.Both()))
	default:
		row("YES", fmt.Sprintf("%s clears the stop by %s", a.Depth.Both(), a.Spare.Both()))
	}
	if q.Planned != nil || a.Thin {
		row("stop", a.Stop.Both())
	}
	if a.Reading != nil {
		left := q.To - q.Bore/2 - a.Set
		row("dial", fmt.Sprintf("%s from zero: %s, web %s", a.Reading.Text(), a.Set.Both(), left.Both()))
	}
	row("web left", a.Left.Both())
	if q.Machine != nil {
		var parts []string
		for _, s := range a.Shares {
			parts = append(parts, s.Name+" "+s.Of.String())
		}
		row("at worst", a.Worst.Both())
		row("", wrapped(strings.Join(parts, " + "), 13, 85))
	}
	row("never less", q.NeverLess.Both())
	if _, err := c.OutOrStdout().Write([]byte(b.String())); err != nil {
		return err
	}
	if !a.Yes() {
		return refused{}
	}
	return nil
}
