package read

import (
	"testing"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// A stop behind the number of another tool is a change by the operator, where that is
// said of the text: the tool is in, and no place is known until it is said again.
func TestChangeAtStop(t *testing.T) {
	const text = "G17 G21 G40 G49 G54 G80 G90 G94\nG0 Z5.\nG0 X1. Y2.\nT7\nM0\nG0 Z5.\nG0 X1. Y2.\nM0\nG0 X3.\nM2\n"
	for _, o := range []Options{{}, {ChangeAtStop: true}} {
		s := reading(t, text, o).Trace.Steps
		if len(s) != 7 || s[2].Kind != toolpath.Stop || s[5].Kind != toolpath.Stop {
			t.Fatalf("%+v", s)
		}
		if !s[2].To.AllKnown() || s[2].Tool != 0 {
			t.Errorf("%v: the stop itself: %+v", o.ChangeAtStop, s[2])
		}
		after := s[3]
		if o.ChangeAtStop {
			if after.From != (toolpath.Place{}) || after.To.Known != [3]bool{false, false, true} || after.Tool != 7 {
				t.Errorf("after the change: %+v", after)
			}
		} else if !after.From.AllKnown() || after.Tool != 0 {
			t.Errorf("after a stop: %+v", after)
		}
		// The second stop changes nothing: the tool is in.
		if !s[6].From.AllKnown() || !s[6].To.AllKnown() {
			t.Errorf("%v: after the second stop: %+v", o.ChangeAtStop, s[6])
		}
	}
}

// How far a peck comes back, or lifts, is the controller's own; where nothing is said
// 0.010 in (public source of the reference interpreter).
func TestPeckLift(t *testing.T) {
	for _, c := range []struct {
		cycle string
		lift  measure.Length
		want  []measure.Length // heights in micrometres after the hole is come over
	}{
		{"G83", 0, []measure.Length{1000, -1000, 1000, -746, -3000, 5000}},
		{"G83", 500 * um, []measure.Length{1000, -1000, 1000, -500, -3000, 5000}},
		{"G83", 2000 * um, []measure.Length{1000, -1000, 1000, -3000, 5000}},
		{"G73", 0, []measure.Length{1000, -1000, -746, -3000, 5000}},
		{"G73", 250 * um, []measure.Length{1000, -1000, -750, -3000, 5000}},
	} {
		text := "G17 G21 G40 G49 G54 G80 G90 G94 G98\nG0 Z5.\nM3 S100\n" + c.cycle + " X1. Y2. Z-3. R1. Q2. F60.\nG80\nM2\n"
		s := reading(t, text, Options{PeckLift: c.lift}).Trace.Steps
		if len(s) != 2+len(c.want) {
			t.Fatalf("%s: %+v", c.cycle, s)
		}
		for i, z := range c.want {
			if got := s[2+i].To.Z; got != z*um {
				t.Errorf("%s, lift %s: height %d is %s, want %s", c.cycle, c.lift, i, got, z*um)
			}
		}
	}
}
