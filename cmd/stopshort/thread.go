package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/trade"
)

func threadCommand() *cobra.Command {
	var drill, material string
	c := &cobra.Command{
		Use:   "thread NAME",
		Short: "show a thread's drills, heads and faces, and where each figure is from",
		Long: `thread shows what the handbook has for a thread: M3, 8BA, "4-40 UNC",
"1/4 x 40 ME". With --drill it says whether a hole of that size may be tapped: how
much of the full thread it leaves, refused under 40 per cent and over 95, warned of
under 45, over 85, and over 75 in tough metal.`,
		Args: one("NAME, with quotes about a name that has a space, as \"1/4 x 40 ME\""),
		RunE: func(c *cobra.Command, args []string) error {
			th, err := trade.ThreadNamed(args[0])
			if err != nil {
				return err
			}
			tough := false
			if material != "" {
				m, err := trade.Material(material)
				if err != nil {
					return fmt.Errorf("--material: %w", err)
				}
				tough = m.Tough
			}
			var t bookTable
			var no error
			if c.Flags().Changed("drill") {
				d, err := trade.DrillNamed(drill)
				if err != nil {
					return fmt.Errorf("--drill: %w", err)
				}
				if no = tapped(&t, th, d, tough); no != nil {
					no = refused{}
				}
			}
			threadRows(&t, th, tough)
			if err := t.write(c.OutOrStdout()); err != nil {
				return err
			}
			return no
		},
	}
	c.Flags().StringVar(&drill, "drill", "", "a drill to judge as the tapping drill: #29, F, 7/64 in, 2.5 mm")
	c.Flags().StringVar(&material, "material", "", "what is tapped; in a tough one the tap bears less")
	return c
}

// tapped answers whether a hole of a drill may be tapped; the error is a no.
func tapped(t *bookTable, th trade.Thread, d trade.DrillSize, tough bool) error {
	f := th.FullThread(d.Diameter, tough)
	bounds := f.Row
	bounds.Note = ""
	if f.Refused != "" {
		t.row("NO", sized(d)+": "+f.Refused+" (derived; the bound: "+t.from(bounds)+")", "")
		return fmt.Errorf("%s", f.Refused)
	}
	t.row("YES", sized(d)+" leaves "+f.Text+" of the full thread (derived)", "")
	if f.Warning != "" {
		t.row("warning", f.Warning+" ("+t.from(bounds)+")", "")
	}
	return nil
}

func threadRows(t *bookTable, th trade.Thread, tough bool) {
	t.row(th.Name, fmt.Sprintf("%s, %s; full thread (100 per cent) is %s pitches: %s", th.Series, th.Angle, th.Base, t.from(trade.Row{Basis: th.Form.Basis, Source: th.Form.Source})), "")
	t.row("pitch", pitch(th), t.from(th.Rests))
	t.row("outside", th.Major.Both(), t.from(th.Rests))
	if same := th.SameOutside(); len(same) > 0 {
		t.row("  same too", strings.Join(same, ", "), "handbook: other threads of that diameter")
	}
	t.row("minor", th.Minor.Both(), "derived: basic; no tapping drill is smaller")
	for _, h := range th.Holes {
		what := h.Hole + " drill"
		if h.For != "" {
			what = "  " + h.For
		}
		if h.Hole == trade.ClearanceHole {
			what = "clearance, " + h.For
		}
		t.row(what, bored(th, h, tough), t.from(h.Row))
		if h.Hole == trade.TappingHole && h.For == "" {
			printed(t, th, trade.TappingHole)
			if th.TapTough == nil {
				aim := trade.ToughAim()
				d := trade.DrillNear(th.HoleFor(aim))
				t.row("  tough metal", bored(th, trade.ThreadHole{Hole: trade.TappingHole, For: trade.ToughMetal, Drill: d}, tough),
					fmt.Sprintf("derived: no table; the stock drill nearest %d per cent", aim))
			}
		}
	}
	printed(t, th, trade.ClearanceHole)
	for _, h := range th.Heads {
		headRows(t, h)
	}
}

func printed(t *bookTable, th trade.Thread, hole string) {
	for _, p := range th.Printed {
		if p.Hole == hole {
			from := t.from(p.Row)
			if p.Why != "" {
				from += ": " + p.Why
			}
			t.row("  printed too", bored(th, p, false), from)
		}
	}
}

func headRows(t *bookTable, h trade.Head) {
	wide := "across " + h.Across.Both()
	if h.Corners > 0 {
		wide = "flats " + h.Across.Both()
	}
	t.row(h.Shape+" head", wide, t.from(h.Rows[0]))
	if h.Corners > 0 {
		t.row("  corners", "across "+above(h.Corners), "derived: geometry")
	}
	t.row("  high", h.High.Both(), t.from(h.Rows[1]))
	if len(h.Rows) > 4 {
		t.row("  counterbore", above(h.Counterbore)+", "+h.CounterboreDeep.Format(measure.MM, 2, measure.Nearest)+" deep", t.from(h.Rows[4]))
	}
	t.row("  spot face", above(h.SpotBare), t.from(h.Rows[3]))
	if h.SpotFace > h.SpotBare {
		t.row("  for a "+h.Key, above(h.SpotFace), t.from(h.Rows[2]))
	}
}

// pitch is a thread's pitch in millimetres and by the inch, as it is known first.
func pitch(th trade.Thread) string {
	mm := th.Pitch.Format(measure.MM, 4, measure.Nearest) + " mm"
	if th.Lead.Den == 1 && th.Pitch%measure.Micrometre == 0 {
		mm = th.Pitch.String()
	}
	if n, ok := th.ToTheInch(); ok {
		return fmt.Sprintf("%d to the inch (%s)", n, mm)
	}
	return mm
}

// bored is a hole's drill, with the share of the full thread where it is tapped.
func bored(th trade.Thread, h trade.ThreadHole, tough bool) string {
	s := sized(h.Drill)
	if h.Hole != trade.TappingHole {
		return s
	}
	f := th.FullThread(h.Drill.Diameter, tough || h.For == trade.ToughMetal)
	s += ", " + f.Text
	switch {
	case f.Refused != "":
		s += " (NO)"
	case f.Warning != "":
		s += " (!)"
	}
	return s
}

// above is a size that has to be reached, rounded up.
func above(l measure.Length) string {
	return l.Format(measure.MM, 2, measure.Ceil) + " mm (" + l.Format(measure.In, 3, measure.Ceil) + " in)"
}

// sized is a drill by its name and in both units.
func sized(d trade.DrillSize) string {
	if d.Sort == trade.NumberDrill || d.Sort == trade.LetterDrill {
		return d.Name + ", " + d.Diameter.Both()
	}
	return d.Diameter.Both()
}
