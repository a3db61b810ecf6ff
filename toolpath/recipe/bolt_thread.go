package recipe

import (
	"fmt"

	"stopshort/toolpath"
	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/trade"
)

// headKey says which head the screw has.
var headKey = form.Key{Name: "head", Kind: form.Word, Choices: []string{trade.SocketCap, trade.Hexagon, trade.Round}, Says: "the usual one of the screw", Help: "the screw's head: its room and its key's"}

// headOf is the screw's head as the job says, else the usual one.
func headOf(n *form.Node, t trade.Thread) (trade.Head, bool) {
	if n.Word("head") == "" {
		return t.Head, true
	}
	h, err := t.HeadShaped(n.Word("head"))
	if err != nil {
		n.Fault("head", "%s", err)
		return h, false
	}
	return h, true
}

// threadLeft is how much of the full thread a tapping drill leaves.
type threadLeft struct {
	fact    toolpath.Fact
	warning string
}

// leaves tells how much of the full thread a tapping drill leaves; it adds a fault
// where the thread would strip or the tap break.
func (x *bolt) leaves(tool toolpath.Cutter) (left threadLeft, ok bool) {
	t := x.thread
	f := t.FullThread(tool.Measured, x.material.Tough)
	if f.Refused != "" {
		x.node.Fault("drill", "tool %d is %s and the handbook has %s for %s (%s): %s (%s): give that drill",
			tool.Number, tool.Measured, t.Tap.Value, t.Name, t.Tap.Source, f.Refused, f.Row.Rests())
		return left, false
	}
	left.fact = toolpath.Fact{Name: "thread", Value: f.Text + " of full", From: measure.Derived,
		Source: fmt.Sprintf("%s less the drill, over %s; the handbook's drill is %s (%s)", t.Major, f.Base, t.Tap.Value, t.Tap.Source)}
	if f.Warning != "" {
		left.warning = fmt.Sprintf("a drill of %s leaves %s of the full thread of %s, %s (%s)", tool.Measured, f.Text, t.Name, f.Warning, f.Row.Rests())
	}
	return left, true
}

// slack is what part of the handbook's clearance drill the job's may differ from it: a
// twentieth, so that the next drill of another list passes, and one for another screw
// does not (own choice: no source gives a clearance hole a tolerance so wide).
const slack = 20

// passes adds a fault where a clearance drill is not the handbook's for the screw, by
// more than the slack: the screw would not pass, or would stand loose.
func (x *bolt) passes(tool toolpath.Cutter) bool {
	t := x.thread
	low, high := t.Clear.Value, t.Clear.Value
	for _, c := range []*figure{t.ClearClose, t.ClearMedium, t.ClearFree} {
		if c != nil {
			low, high = min(low, c.Value), max(high, c.Value)
		}
	}
	low, high = max(low-low/slack, t.Major), high+high/slack
	if d := tool.Diameter; d > low && d <= high {
		return true
	}
	x.node.Fault("clear", "tool %d is %s and the handbook has %s for %s (%s): give that drill",
		tool.Number, tool.Diameter, t.Clear.Value, t.Name, t.Clear.Source)
	return false
}

// edge is what edge distance is asked of an operation's holes: of the screw's
// diameter, and of a tapped hole three pitches beyond its thread.
func (x *bolt) edge(op toolpath.Operation) *toolpath.EdgeRule {
	e := trade.EdgeDistance(x.thread.Major)
	rule := &toolpath.EdgeRule{Warn: e.Warn, Stop: e.Stop}
	if len(op.Makes) > 0 && op.Makes[0].Thread > 0 {
		if t := trade.TappedEdge(x.thread.Major, x.thread.Pitch); t.Value > rule.Stop.Value {
			rule.Stop = t
		}
	}
	return rule
}

// runsOut tells how deep a blind hole's thread is, and what its tap leaves unfinished.
func (x *bolt) runsOut(holes []toolpath.Hole) []toolpath.Fact {
	r, err := trade.RunOutOf(x.node.Word("tap"))
	if err != nil || holes[0].Through {
		return nil
	}
	room := holes[0].ThreadTo - holes[0].Shoulder
	n := x.node
	return []toolpath.Fact{
		{Name: "full thread", Value: x.both(n.Length("depth")) + " deep", From: measure.Given, Source: n.At("depth").String()},
		{Name: "run-out", Value: x.both(room), From: measure.Derived,
			Source: rests(fmt.Sprintf("full diameter beyond the thread; a %s tap wants %s pitches, %s at least", r.Tap, r.Usual, r.Least), r.Row)},
	}
}
