package recipe

import (
	"strings"

	"stopshort/toolpath"
	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
	"stopshort/toolpath/trade"
)

// finishing begins the name of each pass that takes a thin cut.
const finishing = "finish"

// arcFeed is the least and the most feed of a cut's arcs, where they are not the
// feed along a line; nought is none.
type arcFeed struct{ least, most measure.Feed }

// roundArcs gives the centre of a cutter on each arc the feed at which its edge keeps
// the bite that it has along a line, within the handbook's and the machine's bounds.
// It does nothing where the job gives the feed itself.
//
// Round the outside of the work the feed is raised in finishing passes alone, and not
// where it was lowered already: where more is cut, the thickest bite is taken in front
// of the cutter and goes with its centre.
func (c *cutting) roundArcs(b *bench, n *form.Node, tool toolpath.Cutter, passes []toolpath.Pass) {
	if n.Set("feed") {
		return
	}
	var here solid.Point
	for i := range passes {
		for k := range passes[i].Moves {
			m := &passes[i].Moves[k]
			if m.Kind == toolpath.Arc {
				radius, _ := solid.Hypot(m.Centre.X-here.X, m.Centre.Y-here.Y)
				f := onArc(b, m.Feed, radius, tool.Measured, m.Hollow)
				if f > m.Feed && (m.Feed < c.feed.Value || !strings.HasPrefix(passes[i].Name, finishing)) {
					f = m.Feed
				}
				if f != m.Feed {
					c.arcs.note(f)
				}
				m.Feed = f
			}
			here = m.To
		}
	}
}

// onArc is the feed of the cutter's centre on an arc of that radius, in a program's
// steps.
func onArc(b *bench, feed measure.Feed, radius, d measure.Length, inside bool) measure.Feed {
	round := 2*radius - d
	if inside {
		round = 2*radius + d
	}
	f := min(trade.ArcFeed(feed, round, d, inside), b.machine.Feeds.High)
	f -= f % b.feedStep()
	return max(f, min(b.machine.Feeds.Low, feed), b.feedStep())
}

func (a *arcFeed) note(f measure.Feed) {
	if a.least == 0 || f < a.least {
		a.least = f
	}
	a.most = max(a.most, f)
}

// facts tells the feeds on arcs.
func (a arcFeed) facts(u measure.Unit) []toolpath.Fact {
	if a.most == 0 {
		return nil
	}
	f := toolpath.Fact{Name: "on arcs", Value: feedIn(a.least, u), From: measure.Handbook, Source: trade.ArcRule()}
	if a.least != a.most {
		f.Value += " to " + feedIn(a.most, u)
	}
	return []toolpath.Fact{f}
}
