package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/trade"
)

// bookRow is what the handbook has for the question, as far as it goes.
type bookRow struct {
	surface   measure.SurfaceSpeed
	speed     trade.Row // that figure's
	printed   trade.Row // of what is printed
	low, high measure.SurfaceSpeed
	cutting   *trade.Cutting
	drill     *trade.Drill
	saw       *trade.Saw
}

func (q atWork) row() (r bookRow, err error) {
	if q.material == "" {
		return r, nil
	}
	switch q.kind {
	case "drill":
		d, err := trade.Drilling(q.material, q.madeOf, q.cutter)
		if err != nil {
			return r, err
		}
		return bookRow{surface: d.Surface.Value, speed: d.SpeedRow, printed: d.PrintedRow, low: d.SpeedLow, high: d.SpeedHigh, drill: &d}, nil
	case "saw":
		s, err := trade.Sawing(q.material)
		if err != nil {
			return r, err
		}
		return bookRow{surface: s.Surface.Value, speed: s.Speed, printed: s.Speed, low: s.SpeedLow, high: s.SpeedHigh, saw: &s}, nil
	}
	stiffness := "light"
	if q.machine != nil {
		stiffness = q.machine.Stiffness
	}
	c, err := trade.MillingOn(q.material, q.madeOf, q.cutter, stiffness)
	if err != nil {
		return r, err
	}
	return bookRow{surface: c.Surface.Value, speed: c.SpeedRow, printed: c.SpeedRow, low: c.SpeedLow, high: c.SpeedHigh, cutting: &c}, nil
}

// fastest is the fastest speed that is taken for a spindle's.
const fastest = 1_000_000 * measure.RPM

// tell prints the table: the spindle's speed first, then the feed.
func (q atWork) tell(c *cobra.Command) error {
	r, err := q.row()
	if err != nil {
		return err
	}
	var t bookTable
	v := q.surface
	if v == 0 {
		v = r.surface
	}
	want := q.turns
	if want == 0 {
		want = trade.WholeTurns(trade.SpindleSpeed(v, q.cutter))
	}
	if want > fastest {
		return fmt.Errorf("%s for a cutter of %s is over %s, which no spindle turns: write a larger cutter", want, q.cutter, fastest)
	}
	n := want
	if q.machine != nil {
		has, ok := q.machine.Spindle.AtMost(want)
		if !ok {
			return refused{fmt.Errorf("refused: %s for a cutter of %s is below the machine's slowest, %s: take a smaller cutter", want, q.cutter, has)}
		}
		n = has
	}
	if n == 0 {
		return refused{fmt.Errorf("refused: %s at the edge of %s is less than a turn a minute: take a smaller cutter", v, q.cutter)}
	}
	q.speedRows(&t, r, v, want, n)
	for _, warning := range []string{q.over(r, n), q.feedRows(&t, r, want, n)} {
		if warning != "" {
			fmt.Fprintf(c.ErrOrStderr(), "warning: %s\n", warning)
		}
	}
	return t.write(c.OutOrStdout())
}

func (q atWork) speedRows(t *bookTable, r bookRow, v measure.SurfaceSpeed, want, n measure.Speed) {
	from := "given"
	if q.surface == 0 && q.turns == 0 {
		from = "derived: " + surfaces(v) + " at the edge"
	} else if q.surface != 0 {
		from = "given: " + surfaces(v) + " at the edge"
	}
	if q.turns == 0 {
		from += ", rounded down"
	}
	if n != want {
		t.row("speed", n.String(), "derived: the next below that "+q.machine.Name+" has")
		t.row("", "of "+want.String()+" wanted", from)
	} else {
		t.row("speed", n.String(), from)
	}
	if n != want || q.turns != 0 {
		t.row("edge", surfaces(trade.EdgeSpeed(n, q.cutter)), "derived: at that speed, rounded up")
	}
	if r.high == 0 {
		return
	}
	says := q.material + ", " + q.madeOf + ": "
	switch {
	case r.drill != nil && r.surface == r.high:
		says = q.material + ", drill: no more than what is printed; milling's is "
	case r.drill != nil:
		says = q.material + ", drill, as for milling with HSS: "
	case r.saw != nil:
		says = q.material + ", saw of HSS: "
	}
	t.row("start with", surfaces(r.surface), says+t.from(r.speed))
	if r.printed.Basis != trade.Published && r.printed.Basis != trade.Chosen {
		return // nothing is printed
	}
	printed := "handbook " + t.numbers(r.printed.Source)
	if r.printed.Note != "" && r.drill != nil {
		printed += ": " + r.printed.Note
	}
	t.row("published", trade.SpeedSpan(r.low, r.high), printed)
}

// over warns of an edge that runs faster than anything that is printed.
func (q atWork) over(r bookRow, n measure.Speed) string {
	if v := trade.EdgeSpeed(n, q.cutter); r.high > 0 && v > r.high {
		return fmt.Sprintf("%s at the edge is over %s, the most that is printed", surfaces(v), r.high)
	}
	return ""
}

// surfaces is a surface speed in both units, to a tenth, rounded up.
func surfaces(v measure.SurfaceSpeed) string {
	mm := measure.SurfaceSpeed(measure.Length(v).Round(measure.Metre/10, measure.Ceil))
	return fmt.Sprintf("%s (%s ft/min)", mm, trade.FeetPerMinute(v))
}

// feeds is a feed in both units, rounded down.
func feeds(f measure.Feed) string {
	places := 0
	if f < 10*measure.Feed(measure.Millimetre) {
		places = 1
	}
	return f.Format(measure.MM, places, measure.Floor) + " mm/min (" + f.Format(measure.In, 2, measure.Floor) + " in/min)"
}

// fine is a small length in micrometres' places.
func fine(l measure.Length) string {
	return l.Format(measure.MM, 4, measure.Floor) + " mm (" + l.Format(measure.In, 5, measure.Floor) + " in)"
}
