package main

import (
	"fmt"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/trade"
)

// feedRows tells the feed at speed n, where the given or the handbook's is for
// speed want; it gives what there is to warn of.
func (q atWork) feedRows(t *bookTable, r bookRow, want, n measure.Speed) (warning string) {
	switch {
	case r.cutting != nil:
		return q.millRows(t, r.cutting, want, n)
	case r.drill != nil:
		q.drillFeedRows(t, r.drill, want, n)
	case r.saw != nil:
		q.sawRows(t, r.saw, want, n)
	case q.feed > 0 && q.flutes > 0:
		f, from := q.givenFeed(want, n)
		t.row("feed", feeds(f), from)
		t.row("a tooth", fine(trade.ToothFeed(f, q.flutes, n)), fmt.Sprintf("derived: with %d %s; no material to hold it against", q.flutes, q.teeth()))
	}
	return ""
}

// teeth is what the cutter cuts with.
func (q atWork) teeth() string {
	one, many := "flute", "flutes"
	if q.kind == "saw" {
		one, many = "tooth", "teeth"
	}
	if q.flutes == 1 {
		return one
	}
	return many
}

// givenFeed is the call's own feed at the speed that the machine has, kept to
// what it feeds.
func (q atWork) givenFeed(want, n measure.Speed) (f measure.Feed, from string) {
	f, from = q.feed, "given"
	if n != want {
		f, from = trade.FeedKept(f, want, n), fmt.Sprintf("derived: %s given at %s", q.feed, want)
	}
	return q.bounded(f, from)
}

// bounded is a feed that the machine has, and where it came from.
func (q atWork) bounded(f measure.Feed, from string) (measure.Feed, string) {
	if q.machine == nil {
		return f, from
	}
	most := q.machine.Feeds.High
	if q.kind == "drill" {
		most = min(most, q.machine.Feeds.Down)
	}
	switch {
	case f > most:
		return most, from + "; " + q.machine.Name + " has no more"
	case f < q.machine.Feeds.Low:
		return q.machine.Feeds.Low, from + "; " + q.machine.Name + " has no less"
	}
	return f, from
}

func (q atWork) millRows(t *bookTable, c *trade.Cutting, want, n measure.Speed) (warning string) {
	var low, high, down measure.Feed
	if m := q.machine; m != nil {
		low, high, down = m.Feeds.Low, m.Feeds.High, m.Feeds.Down
	}
	run := c.Run(q.cutter, q.flutes, n, low, high, down)
	_, from := q.bounded(trade.FeedRate(c.PerTooth.Value, q.flutes, n), fmt.Sprintf("derived: the bite times %d %s times the speed, rounded down", q.flutes, q.teeth()))
	if q.feed > 0 {
		run.Feed, from = q.givenFeed(want, n)
		run.Bite, run.Warning = c.Bite(run.Feed, q.flutes, n)
	}
	t.row("feed", feeds(run.Feed), from)
	bite := "derived: that feed's"
	if q.feed == 0 && run.Warning == "" {
		bite = t.from(c.ToothRow)
	}
	t.row("a tooth", fine(run.Bite), bite)
	if q.feed > 0 {
		t.row("  handbook", fine(c.PerTooth.Value), t.from(c.ToothRow))
	}
	if low, high, rows := trade.ToothPrinted(q.material, q.cutter); len(rows) > 0 {
		t.row("  published", trade.ToothSpan(low, high), "handbook "+t.titles(rows)+": mostly carbide; at this diameter or the next below")
	}
	if q.feed == 0 {
		t.row("plunge", feeds(run.Plunge), "derived: "+trade.PlungeShareText()+", or a tooth's bite a turn, the less: "+t.from(c.PlungeRow))
	}
	t.row("slot, step", c.StepDown.Value.Both(), t.from(c.StepRow))
	t.row("side cut", fmt.Sprintf("%s wide, %s deep", c.SideWide.Value, c.SideDeep.Value), t.from(c.SideRow))
	if q.machine != nil && q.machine.Stiffness != "light" {
		t.row("", "for a "+q.machine.Stiffness+" machine", t.from(c.StiffRow))
	}
	return run.Warning
}

func (q atWork) drillFeedRows(t *bookTable, d *trade.Drill, want, n measure.Speed) {
	f, from := q.bounded(trade.DrillFeed(d.PerRev.Value, n), "derived: the feed a turn times the speed, rounded down")
	if q.feed > 0 {
		f, from = q.givenFeed(want, n)
		t.row("feed", feeds(f), from)
		t.row("a turn", fine(trade.ToothFeed(f, 1, n)), "derived: that feed's")
		t.row("  handbook", fine(d.PerRev.Value), t.from(d.FeedRow))
	} else {
		t.row("feed", feeds(f), from)
		t.row("a turn", fine(d.PerRev.Value), t.from(d.FeedRow))
	}
	if p := d.Band; p != nil {
		t.row("  published", fine(p.Low)+" to", t.from(p.Row))
		t.row("", fine(p.High), "handbook: for drills under "+p.Under.Both())
	}
	if first, deeper, row, err := trade.PeckWords(q.material); err == nil {
		t.row("pecks", first, t.from(row))
		t.row("  deeper", deeper, "handbook: as above")
	}
}

func (q atWork) sawRows(t *bookTable, s *trade.Saw, want, n measure.Speed) {
	switch {
	case q.feed > 0 && q.flutes > 0:
		f, from := q.givenFeed(want, n)
		t.row("feed", feeds(f), from)
		t.row("a tooth", fine(trade.ToothFeed(f, q.flutes, n)), "derived: that feed's")
	case q.flutes > 0:
		f, from := q.bounded(trade.FeedRate(s.Tooth.Value, q.flutes, n), fmt.Sprintf("derived: the bite times %d %s times the speed, rounded down", q.flutes, q.teeth()))
		t.row("feed", feeds(f), from)
	}
	t.row("start with", fine(s.Tooth.Value)+" a tooth", t.from(s.Feed))
	t.row("", s.ToothLow.String()+" to "+s.ToothHigh.String(), "handbook: least and most")
	t.row("in the work", fmt.Sprintf("%d teeth at once", s.TeethInWork), t.from(s.Teeth))
	t.row("slit", s.KerfLow.String()+" to "+s.KerfHigh.String()+" wider than the saw", t.from(s.Kerf))
}
