package recipe

import (
	"fmt"
	"strings"

	"stopshort/toolpath"
	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/trade"
)

// millingKeys are the keys of every recipe that mills with one cutter.
var millingKeys = []form.Key{
	{Name: "tool", Kind: form.Count, Required: true, Min: "1", Max: "99", Help: "the cutter's number"},
	{Name: "step", Kind: form.Length, Above: "0 mm", Says: "by material and cutter", Help: "deepest bite of one pass"},
	{Name: "speed", Kind: form.Speed, Above: "0 rpm", Says: "by material and cutter, down to what the machine has", Help: "of the spindle"},
	{Name: "feed", Kind: form.Feed, Above: "0 mm/min", Says: "by material, cutter and speed; round arcs so that the edge keeps its bite", Help: "along the cut"},
	{Name: "plunge", Kind: form.Feed, Above: "0 mm/min", Says: trade.PlungeShareText() + ", one tooth's bite a turn or the machine's fastest, the least", Help: "feed straight down"},
}

// cutting is speed, feeds and step of one cut, each with where it came from.
type cutting struct {
	speed        measure.Figure[measure.Speed]
	feed, plunge measure.Figure[measure.Feed]
	bite         figure // of one tooth
	step         figure
	start        figure  // the handbook's step
	warning      string  // what is wrong with the bite
	arcs         arcFeed // the feeds on arcs; set by [cutting.roundArcs]
}

// cuttingOf takes what the job gives and the handbook for the rest. A handbook
// speed is lowered to what the machine has, and the feed with it; a job's own
// figure stands, and is the judge's to refuse.
func (b *bench) cuttingOf(n *form.Node, tool toolpath.Cutter) (c cutting, ok bool) {
	row, err := trade.MillingOn(b.material.Name, tool.MadeOf, tool.Diameter, b.machine.Stiffness)
	if err != nil {
		n.Fault("tool", "%s", err)
		return c, false
	}
	c.step = row.StepDown
	c.step.Source = rests(c.step.Source, row.StepRow)
	if b.machine.Stiffness != "light" {
		c.step.Source += "; what a " + b.machine.Stiffness + " machine bears: " + row.StiffRow.Rests()
	}
	c.start = c.step
	if n.Set("step") {
		c.step = n.Figure("step")
	}
	if n.Set("speed") {
		c.speed = measure.Figure[measure.Speed]{Value: n.Speed("speed"), From: measure.Given, Source: n.At("speed").String()}
	} else {
		want := trade.WholeTurns(trade.SpindleSpeed(row.Surface.Value, tool.Diameter))
		has, ok := b.machine.Spindle.AtMost(want)
		if !ok {
			n.Fault("speed", "the handbook's %s for a %s cutter is below the machine's slowest: give a speed that you will answer for", want, tool.Diameter)
			return c, false
		}
		c.speed = measure.Figure[measure.Speed]{Value: has, From: measure.Handbook, Source: slower(surface(row), want, has)}
	}
	c.feed, c.plunge = b.feeds(n, tool, row, c.speed.Value)
	if b.machine.Controller != nil { // what a program can say, on the lower side
		c.speed.Value -= c.speed.Value % measure.RPM
		c.feed.Value -= c.feed.Value % b.feedStep()
		c.plunge.Value -= c.plunge.Value % b.feedStep()
	}
	if c.speed.Value == 0 {
		n.Fault("speed", "the speed comes to nothing in whole turns: give 1 rpm or more")
		return c, false
	}
	for _, f := range []struct {
		key  string
		feed measure.Feed
	}{{"feed", c.feed.Value}, {"plunge", c.plunge.Value}} {
		if f.feed == 0 {
			n.Fault(f.key, "it comes to nothing at %s in steps of %s: give more", c.speed.Value, b.feedStep())
			return c, false
		}
	}
	c.bite.Value, c.warning = row.Bite(c.feed.Value, tool.Flutes, c.speed.Value)
	c.bite.From, c.bite.Source = measure.Derived, fmt.Sprintf("the feed over %d flutes and the speed", tool.Flutes)
	return c, true
}

// rests is what a handbook figure is, and what its row rests on.
func rests(says string, r trade.Row) string { return says + " (" + r.Rests() + ")" }

// surface says where a surface speed comes from, with the range that is printed.
func surface(row trade.Cutting) string {
	return rests(fmt.Sprintf("%s, printed %s", row.Surface.Source, trade.SpeedSpan(row.SpeedLow, row.SpeedHigh)), row.SpeedRow)
}

// toothPrinted says what is printed for one tooth, and where; nothing where nothing is.
func toothPrinted(material string, d measure.Length) string {
	low, high, rows := trade.ToothPrinted(material, d)
	if len(rows) == 0 {
		return ""
	}
	var titles []string
	for _, r := range rows {
		titles = append(titles, r.Source)
	}
	return fmt.Sprintf(", printed %s (%s)", trade.ToothSpan(low, high), strings.Join(titles, "; "))
}

// slower says where a handbook speed comes from, and that the machine has it only
// lower.
func slower(source string, want, has measure.Speed) string {
	if has == want {
		return source
	}
	return fmt.Sprintf("%s, which is %s; the machine's next below", source, want)
}

func (b *bench) feeds(n *form.Node, tool toolpath.Cutter, row trade.Cutting, speed measure.Speed) (feed, plunge measure.Figure[measure.Feed]) {
	f := b.machine.Feeds
	run := row.Run(tool.Diameter, tool.Flutes, speed, f.Low, f.High, f.Down)
	source := rests(fmt.Sprintf("%s a tooth: %s", row.PerTooth.Value, row.PerTooth.Source), row.ToothRow) + toothPrinted(b.material.Name, tool.Diameter)
	switch straight := trade.FeedRate(row.PerTooth.Value, tool.Flutes, speed); {
	case run.Feed < straight:
		source += "; no more than the machine feeds"
	case run.Feed > straight:
		source += "; no less than the machine feeds"
	}
	feed = measure.Figure[measure.Feed]{Value: b.rounded(run.Feed), From: measure.Handbook, Source: source}
	if n.Set("feed") {
		feed = measure.Figure[measure.Feed]{Value: n.Feed("feed"), From: measure.Given, Source: n.At("feed").String()}
	}
	down := min(trade.PlungeFeed(row.PerTooth.Value, tool.Flutes, speed), trade.PlungeShare(feed.Value), f.Down)
	plunge = measure.Figure[measure.Feed]{Value: b.rounded(down), From: measure.Handbook,
		Source: rests(trade.PlungeShareText()+" or one tooth's bite a turn, the less; no more than the machine goes down", row.PlungeRow)}
	if n.Set("plunge") {
		plunge = measure.Figure[measure.Feed]{Value: n.Feed("plunge"), From: measure.Given, Source: n.At("plunge").String()}
	}
	return feed, plunge
}

// feedStep is the finest feed that a program says: 0.1 mm/min, 0.01 in/min.
func (b *bench) feedStep() measure.Feed {
	if b.machine.Units == measure.In {
		return measure.Feed(measure.Inch) / 100
	}
	return measure.Feed(measure.Millimetre) / 10
}

// rounded puts a feed down to figures a person would set: ten steps, or one
// where it is slow; not below what the machine has, where it was not.
func (b *bench) rounded(f measure.Feed) measure.Feed {
	step := b.feedStep()
	if f >= 100*step {
		step *= 10
	}
	if low := b.machine.Feeds.Low; f >= low && f-f%step < low {
		step = b.feedStep()
	}
	return f - f%step
}

func (c cutting) facts(u measure.Unit) []toolpath.Fact {
	facts := []toolpath.Fact{
		{Name: "speed", Value: c.speed.Value.String(), From: c.speed.From, Source: c.speed.Source},
		{Name: "feed", Value: feedIn(c.feed.Value, u), From: c.feed.From, Source: c.feed.Source},
		{Name: "a tooth", Value: fine(c.bite.Value, u), From: c.bite.From, Source: c.bite.Source},
		{Name: "plunge", Value: feedIn(c.plunge.Value, u), From: c.plunge.From, Source: c.plunge.Source},
	}
	return append(facts, c.arcs.facts(u)...)
}

// warns is what is wrong with the bite, for a cut of that name.
func (c cutting) warns(name string) []string {
	if c.warning == "" {
		return nil
	}
	return []string{name + ": " + c.warning}
}

// deepPass is the warning of passes as wide as the cutter that are deeper than half of it:
// the most that is printed for any material (the notes of cutting.toml's rows of steps).
func (b *bench) deepPass(name string, tool toolpath.Cutter, c cutting, deepest measure.Length) []string {
	if 2*deepest <= tool.Diameter {
		return nil
	}
	return []string{fmt.Sprintf("%s: passes of %s are deeper than half the cutter's %s, the most that is published: it may break; the handbook starts with %s, %s",
		name, b.both(deepest), b.both(tool.Diameter), b.both(c.start.Value), c.start.Source)}
}

// deepestPass is the most that one of some levels under a top takes.
func deepestPass(top measure.Length, levels []measure.Length) (most measure.Length) {
	for _, z := range levels {
		most, top = max(most, top-z), z
	}
	return most
}

// fine is a small length in the machine's own unit.
func fine(l measure.Length, u measure.Unit) string {
	if u == measure.In {
		return l.Format(measure.In, 5, measure.Ceil) + " in"
	}
	return l.Format(measure.MM, 4, measure.Ceil) + " mm"
}

// feedIn is a feed in the machine's own unit.
func feedIn(f measure.Feed, u measure.Unit) string {
	if u == measure.In {
		return f.Format(measure.In, 2, measure.Nearest) + " in/min"
	}
	return f.String()
}
