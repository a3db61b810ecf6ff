package machines

import (
	"fmt"
	"math/big"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
)

// meets settles what a wheel moves and from which side positions are met, by the
// habits of the trade where the file does not say: X and Y turning clockwise, a
// depth going deeper; head and quill carry the cutter, all else the work.
func (a *Axis) meets(n *form.Node, z bool, by string) {
	a.Approach, a.Moves = n.Word("approach"), n.Word("moves")
	switch {
	case z && a.Approach == "+":
		n.Fault("approach", "%q does not go with a depth, which is set going deeper: leave it out", a.Approach)
	case z:
		a.Approach = "-"
	case a.Approach == "" && a.Sense != "":
		a.Approach = a.Sense
	case a.Approach == "":
		a.Approach = "+"
	}
	if a.Moves == "" {
		a.Moves = "work"
		if z && (by == "head" || by == "quill") {
			a.Moves = "cutter"
		}
	}
}

// called holds what a line is called against what lead and lines give. Where they
// differ the file must say which is right: an inch dial on a metric screw is out by
// 15.7 thou in each inch.
func (a *Axis) called(n *form.Node) {
	if !n.Set("line") {
		if n.Set("go_by") {
			n.Fault("go_by", "needs line beside it: write what one line is called")
		}
		return
	}
	a.Line = n.Length("line")
	travel := big.NewRat(int64(a.Line), 1)
	if a.Diameter {
		travel.Quo(travel, big.NewRat(2, 1))
	}
	screw := new(big.Rat).Quo(big.NewRat(a.Lead.Num, a.Lead.Den), big.NewRat(a.Lines.Num, a.Lines.Den))
	off := new(big.Rat).Sub(travel, screw)
	if off.Sign() == 0 {
		return
	}
	off.Quo(off.Abs(off), travel)
	if off.Cmp(big.NewRat(1, 10)) > 0 {
		n.Fault("line", "a line is called %s and the screw moves %s for one: look at lead, lines and shows", a.Line, ratText(screw))
		return
	}
	switch n.Word("go_by") {
	case "screw":
	case "dial":
		lead := new(big.Rat).Mul(travel, big.NewRat(a.Lines.Num, a.Lines.Den))
		if !lead.Num().IsInt64() || !lead.Denom().IsInt64() {
			n.Fault("line", "a turn comes to a figure that cannot be held exactly: write line and lines with fewer figures")
			return
		}
		a.Lead = measure.NewRatio(lead.Num().Int64(), lead.Denom().Int64())
	default:
		thou := new(big.Rat).Mul(off, big.NewRat(1000, 1))
		mm := new(big.Rat).Mul(off, big.NewRat(254, 10))
		n.Fault("line", "%s thou (%s mm) in each inch of the dial: a line is called %s and the screw moves %s for one; clock a gauge over five turns, then write go_by = \"screw\" or go_by = \"dial\"",
			thou.FloatString(1), mm.FloatString(2), lengthText(measure.In, a.Line), ratText(screw))
	}
}

// ratText is tenths of a nanometre for a person.
func ratText(r *big.Rat) string {
	return fmt.Sprintf("%s mm", new(big.Rat).Quo(r, big.NewRat(int64(measure.Millimetre), 1)).FloatString(5))
}

// readSources reads the second wheel that sets Z, and which of the two mills and
// which drills. With one there is no question.
func (m *Machine) readSources(n *form.Node) {
	if s := n.Sub("second_z"); s != nil {
		m.Second = &Second{By: s.Word("by"), Axis: readAxis(s, m.Units, false)}
		m.Second.meets(s, true, m.Second.By)
		switch {
		case m.Second.By == m.DepthBy:
			s.Fault("by", "the %s is what [z] describes: a second wheel sets Z by something else", m.DepthBy)
		case m.Kind == "lathe":
			s.Fault("by", "a lathe's depth is set by its saddle alone: leave second_z out")
		case m.Controller != nil:
			s.Fault("by", "a machine with a controller sets Z by its motor alone: leave second_z out")
		}
	}
	for _, use := range []struct {
		key  string
		into *string
	}{{"mill_by", &m.MillBy}, {"drill_by", &m.DrillBy}} {
		*use.into = n.Word(use.key)
		if *use.into == "" && m.Second == nil {
			*use.into = m.DepthBy
		}
		if _, ok := m.ZAxis(*use.into); !ok {
			n.Fault(use.key, "no %s sets Z here: write %s", *use.into, m.sources())
		}
	}
	m.RoundColumn = n.Flag("round_column")
	if m.RoundColumn && m.Controller == nil && (m.MillBy == "head" || m.DrillBy == "head") {
		n.Fault("round_column", "moving the head on a round column loses X and Y: let the quill set Z, for milling too")
	}
}

// sources is what can set Z here, for a message.
func (m *Machine) sources() string {
	if m.Second == nil {
		return m.DepthBy
	}
	return m.DepthBy + " or " + m.Second.By
}

// Sources is what can set Z, the main one first.
func (m *Machine) Sources() []string {
	if m.Second == nil {
		return []string{m.DepthBy}
	}
	return []string{m.DepthBy, m.Second.By}
}
