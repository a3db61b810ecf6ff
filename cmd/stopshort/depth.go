package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"stopshort/machines"
	"stopshort/post/handwheel"
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
		Args: none,
		RunE: func(c *cobra.Command, args []string) error {
			var q limit.Question
			var err error
			read := func(flag, text string, into *measure.Length) {
				if err == nil {
					if *into, err = measure.ParseLength(text, measure.NoUnit); err != nil {
						err = fmt.Errorf("--%s: %w", flag, err)
					} else if *into < 0 || *into == 0 && flag != "never-less" && flag != "planned" {
						least := "more than nought"
						if flag == "never-less" || flag == "planned" {
							least = "nought or more"
						}
						err = fmt.Errorf("--%s %s: it must be %s", flag, text, least)
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
				return fmt.Errorf("--never-less %s is more than --leave %s: never-less is the least, leave the aim", least, leave)
			}
			if machine != "" {
				if q.Machine, err = machines.Find(machine); err != nil {
					return err
				}
			}
			return tellDepth(c, q, spokenIn(to))
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

// tellDepth answers: yes or no and the stop first, then what it rests on. u is
// the unit that is told first.
func tellDepth(c *cobra.Command, q limit.Question, u measure.Unit) error {
	a := q.Answer()
	var b strings.Builder
	row := func(name, text string, args ...any) { fmt.Fprintf(&b, "%-13s %s\n", name, fmt.Sprintf(text, args...)) }
	near := func(l measure.Length) string { return l.ShownBoth(u, measure.Nearest) }
	left := func(l measure.Length) string { return l.ShownBoth(u, measure.Floor) }
	if a.Stop <= 0 {
		return refused{fmt.Errorf("refused: no depth is left: %s to the bore's centre less %s for its half and %s to leave is %s",
			near(q.To), near(q.Bore/2), near(q.Leave), near(a.Stop))}
	}
	past := func(l measure.Length) string { return l.ShownBoth(u, measure.Ceil) }
	worst, least := clearOf(a.Worst, q.NeverLess, u)
	switch {
	case a.PastIt:
		row("NO", "%s is %s past the stop", past(a.Depth), past(-a.Spare))
	case a.Thin && q.Planned == nil:
		row("NO", "at the stop %s is left at worst, never less than %s", worst, least)
	case a.Thin:
		row("NO", "at a depth of %s only %s is left at worst, never less than %s", left(a.Depth), worst, least)
	case q.Planned == nil:
	case a.Spare == 0:
		row("YES", "%s is just at the stop", left(a.Depth))
	case a.Spare < measure.Micrometre:
		row("YES", "%s clears the stop by less than %s", left(a.Depth), past(a.Spare))
	default:
		row("YES", "%s clears the stop by %s", left(a.Depth), left(a.Spare))
	}
	switch {
	case a.Yes():
	case a.Do == nil:
		row("would do", "no depth: measure at the machine before the last pass, or leave more")
	case a.DoReading == nil:
		row("would do", "%s or less", left(*a.Do))
	default:
		row("would do", "%s or less: %s", left(*a.Do), turnedTo(q.Machine, *a.DoReading))
	}
	row("stop", "%s", left(a.Stop))
	if r := a.Reading; r != nil {
		row("on the dial", "%s: %s", turnedTo(q.Machine, *r), left(a.Set))
		if a.Set != a.Depth {
			row("", "there the web is %s", left(a.SetLeft))
		}
	}
	if a.Left < 0 {
		row("web left", "none: %s into the bore", past(-a.Left))
	} else {
		row("web left", "%s", left(a.Left))
	}
	if q.Machine != nil {
		var parts []string
		for _, s := range a.Shares {
			t, _ := figure(int64(s.Of), limit.Length, u, measure.Ceil)
			parts = append(parts, s.Name+" "+t)
		}
		row("at worst", "%s", worst)
		row("", "%s", wrapped(strings.Join(parts, " + ")+" "+u.String(), 14, 84))
		if !q.Machine.Errors.Tilt.IsZero() {
			row("", "tilt not counted, it goes by the cut's length: stopshort check counts it for a job")
		}
	}
	row("never less", "%s", least)
	row("from", "%s", wrapped(whenceDepth(c, q), 14, 84))
	if _, err := c.OutOrStdout().Write([]byte(b.String())); err != nil {
		return err
	}
	if !a.Yes() {
		return refused{}
	}
	return nil
}

// turnedTo is a reading as the machine's wheel is turned to it from zero.
func turnedTo(m *machines.Machine, r machines.Reading) string {
	z := m.Axes[2]
	return fmt.Sprintf("%s %s %s from zero", handwheel.Label(z, 2, m.DepthBy), z.Turn(false), r.Text()) // deeper is the minus side
}

// whenceDepth is where the figures of the answer come from.
func whenceDepth(c *cobra.Command, q limit.Question) string {
	says := "stop: derived, to less half the bore and the leave; web left: derived"
	if q.Machine != nil {
		if q.Machine.Axes[2].HasDial() {
			says += "; dial: derived, by the wheel"
		}
		says += "; errors: given, stopshort machine show " + q.Machine.Name + "; at worst: derived"
	}
	if c.Flags().Changed("never-less") {
		return says + "; never less: given"
	}
	return says + "; never less: derived, half of the leave"
}

// spokenIn is the unit a length was written in: inches where it speaks of
// inches or thou.
func spokenIn(text string) measure.Unit {
	if strings.Contains(text, "mm") {
		return measure.MM
	}
	return measure.In
}
