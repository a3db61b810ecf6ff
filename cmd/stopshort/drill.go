package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
	"stopshort/toolpath/trade"
)

func drillCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "drill SIZE",
		Short: "show a drill's diameter, its nearest neighbours, the length of its point, what it is for",
		Long: `drill shows a drill by its name or its diameter: "#29", F, "7/64 in", "3.3 mm".
The nearest stock drills of each sort below and above stand beside it, with how
much smaller or larger they are; then how long its point is; then the threads that
the handbook has it for.`,
		Args: one("SIZE, with quotes about it, as \"#29\" or \"7/64 in\""),
		RunE: func(c *cobra.Command, args []string) error {
			d, err := trade.DrillNamed(args[0])
			if err != nil {
				return err
			}
			var t bookTable
			drillRows(&t, d)
			return t.write(c.OutOrStdout())
		},
	}
}

func drillRows(t *bookTable, d trade.DrillSize) {
	if d.Sort == "" {
		t.row(d.Name, d.Diameter.Both(), "given: no stock drill")
	} else {
		t.row(d.Name, d.Diameter.Both(), t.from(d.Row))
	}
	for _, same := range trade.DrillsOf(d.Diameter) {
		if same.Name != d.Name {
			t.row("same as", same.Name, t.from(same.Row))
		}
	}
	t.row("beside it", "handbook, the nearest of the stock list; derived, by how much", "")
	t.row("", fmt.Sprintf("%-24s%s", "smaller", "larger"), "")
	for _, sort := range []string{trade.NumberDrill, trade.LetterDrill, trade.FractionDrill, trade.MetricDrill} {
		below, above := trade.DrillsBeside(d.Diameter, sort)
		t.row(sort, fmt.Sprintf("%-24s%s", beside(below, d), beside(above, d)), "")
	}
	for _, angle := range []measure.Angle{118, 135, 90} {
		angle *= measure.Degree
		from := "derived: geometry, rounded up"
		for _, kind := range []string{"drill", "spot drill"} {
			if p, err := trade.Point(kind); err == nil && p.Value == angle {
				from += "; a " + kind + "'s, where nothing else is said (handbook, " + fromWhere(p.Source) + ")"
			}
		}
		t.row("point, "+angle.String(), solid.PointLength(d.Diameter, angle, measure.Ceil).Format(measure.MM, 2, measure.Ceil)+" mm", from)
	}
	for _, use := range trade.UsesOf(d.Diameter) {
		f := ""
		if use.Hole.Hole == trade.TappingHole {
			f = ", " + use.Thread.FullThread(d.Diameter, use.Hole.For == trade.ToughMetal).Text
		}
		what := use.Hole.Hole
		if use.Hole.For != "" {
			what += ", " + use.Hole.For
		}
		t.row(what, use.Thread.Name+f, t.from(use.Hole.Row))
	}
}

// fromWhere is what stands in the last brackets of a figure's source.
func fromWhere(source string) string {
	if i := strings.LastIndex(source, "("); i >= 0 {
		return strings.TrimSuffix(source[i+1:], ")")
	}
	return source
}

// beside is a neighbour and how much smaller or larger it is.
func beside(n *trade.DrillSize, d trade.DrillSize) string {
	if n == nil {
		return "none"
	}
	off := n.Diameter - d.Diameter
	sign := "+"
	if off < 0 {
		sign = "-"
	}
	return fmt.Sprintf("%-9s %s%s mm", n.Name, sign, off.Abs().Format(measure.MM, 3, measure.Nearest))
}
