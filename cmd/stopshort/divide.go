package main

import (
	"fmt"
	"io"
	"math/big"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"stopshort/machines"
	"stopshort/toolpath/measure"
)

func divideCommand() *cobra.Command {
	var machine, circle, start, by string
	c := &cobra.Command{
		Use:   "divide HOLES --machine MACHINE --circle DIAMETER",
		Short: "tell the turns of a rotary table for holes on a circle, from zero for each",
		Long: `divide tells how far the wheel of the machine's rotary table is turned for each of
some holes that lie evenly on a circle: by its dial, or by turns and holes of its
dividing plates (simple indexing), from zero for each hole, so that nothing adds up.
Beside each stands what it is out by: in seconds of arc, and in thou at the circle.

Of the plates it takes the circle of holes on which the worst place is out by the
least. Every place is come to with the wheel turned one way: where it was passed, go
back by more than the play, a quarter turn at least, and come up again.`,
		Args: one("HOLES, as 6"),
		RunE: func(c *cobra.Command, args []string) error {
			n, err := strconv.ParseInt(args[0], 10, 32)
			if err != nil {
				return fmt.Errorf("%q is no number of holes: write a whole number, as 6", args[0])
			}
			if machine == "" {
				return fmt.Errorf("--machine is missing: name one that has a rotary table")
			}
			m, err := machines.Find(machine)
			if err != nil {
				return err
			}
			if m.Rotary == nil {
				return fmt.Errorf("%s has no rotary table: add [rotary_table] to the machine's file", m.Name)
			}
			if circle == "" {
				return fmt.Errorf("--circle is missing: write the diameter that the holes lie on, as --circle \"2 in\"")
			}
			d, err := measure.ParseLength(circle, m.Units)
			if err != nil {
				return fmt.Errorf("--circle: %w", err)
			}
			if d <= 0 {
				return fmt.Errorf("--circle %s: write a diameter above nought", d)
			}
			from, err := measure.ParseAngle(start)
			if err != nil {
				return fmt.Errorf("--start: %w", err)
			}
			switch by {
			case "dial", "plates":
			default:
				return fmt.Errorf("--by %q: write dial or plates", by)
			}
			return divide(c.OutOrStdout(), m, n, d, from, by == "plates")
		},
	}
	c.Flags().StringVar(&machine, "machine", "", "machine's name or file")
	c.Flags().StringVar(&circle, "circle", "", "diameter of the circle that the holes lie on")
	c.Flags().StringVar(&start, "start", "0 deg", "angle of the first hole from zero")
	c.Flags().StringVar(&by, "by", "dial", "dial or plates")
	return c
}

// divide writes the table of a division.
func divide(out io.Writer, m *machines.Machine, n int64, circle measure.Length, start measure.Angle, plates bool) error {
	r := m.Rotary
	var all []machines.Division
	var err error
	holes := int64(0)
	if plates {
		holes, all, err = r.ByPlate(n, start)
	} else {
		all, err = r.ByDial(n, start)
	}
	if err != nil {
		return err
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%d holes on a circle of %s, by the rotary table of %s, %d to 1\n", n, circle.Both(), m.Name, r.Ratio)
	if plates {
		fmt.Fprintf(&b, "circle of %d holes; count spaces: the hole that the pin comes from is nought\n", holes)
		if step, even := evenStep(all); even {
			fmt.Fprintf(&b, "every step is the same: %s", plural(int(step.Turns), "turn"))
			if step.Spaces > 0 {
				fmt.Fprintf(&b, " + %s; set the sector's arms %d holes apart, both counted", plural(int(step.Spaces), "space"), step.Spaces+1)
			}
			b.WriteString("\n")
		}
	} else {
		fmt.Fprintf(&b, "a turn of its wheel is %s, its dial is set to %s\n", r.PerTurn(), r.Least)
	}
	fmt.Fprintf(&b, "turn the wheel %s, and come to every place that way: the table goes clockwise from above\n\n", r.Words[0])
	head := "degrees:minutes:seconds"
	if plates {
		head = fmt.Sprintf("spaces of %d", holes)
	}
	fmt.Fprintf(&b, "hole  %-14s  %5s + %-23s  %11s  %s\n", "angle", "turns", head, "seconds out", "thou out")
	for k, d := range all {
		rest := machines.AngleText(d.Rest)
		if plates {
			rest = strconv.FormatInt(d.Spaces, 10)
		}
		fmt.Fprintf(&b, "%4d  %-14s  %5d + %-23s  %11s  %8s\n", k+1, angleOf(d.Angle), d.Turns, rest, signed(d.Off), d.OffAt(circle/2).Format(measure.InThou, 2, measure.Ceil))
	}
	fmt.Fprintf(&b, "\nwhere the figures come from\n")
	for _, s := range divideWhence(m, plates) {
		fmt.Fprintf(&b, "  %s\n", wrapped(s, 4, widest-4))
	}
	_, err = io.WriteString(out, b.String())
	return err
}

// divideWhence is where the figures of a division come from, a sentence each.
func divideWhence(m *machines.Machine, plates bool) []string {
	out := []string{
		"holes, circle: given: the call; angle: derived: 360 deg over the holes, from --start",
		fmt.Sprintf("ratio, dial, plates: given, the machine: stopshort machine show %s", m.Name),
	}
	if plates {
		out = append(out, "turns, spaces: derived: the angle times the ratio, to the nearest hole (simple indexing: Dividing head practice; Plain indexing)",
			"sector's arms: derived: a hole more than the spaces (Rotary table manual p.5)")
	} else {
		out = append(out, "turns, degrees:minutes:seconds: derived: the angle times the ratio, to the nearest that the dial shows")
	}
	return append(out, "seconds out: derived: the place that is set less the angle; thou out: the same on the circle, rounded up")
}

// evenStep is the step from hole to hole where all come out with nothing over.
func evenStep(all []machines.Division) (machines.Division, bool) {
	for _, d := range all {
		if d.Off.Sign() != 0 {
			return d, false
		}
	}
	return all[1], all[0].Angle.Sign() == 0
}

// angleOf is seconds of arc for a person: to a tenth of a second.
func angleOf(seconds *big.Rat) string {
	f := new(big.Rat).Mul(seconds, big.NewRat(10, 1))
	whole := new(big.Int).Add(new(big.Int).Mul(f.Num(), big.NewInt(2)), f.Denom())
	whole.Quo(whole, new(big.Int).Mul(f.Denom(), big.NewInt(2)))
	return machines.AngleText(measure.Angle(whole.Int64()) * measure.ArcSecond / 10)
}

// signed is seconds of arc with their sign, to a tenth; nought has none.
func signed(v *big.Rat) string {
	s := v.FloatString(1)
	switch {
	case v.Sign() == 0:
		return "0"
	case v.Sign() > 0:
		return "+" + s
	}
	return s
}
