package read

import (
	"testing"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// Tool, length offset and coolant of each step, worked out by hand (NISTIR 6556, 3.5.11,
// 3.6.3, 3.6.4 and 3.7.3): T alone puts nothing in, M6 leaves the coolant running, M7 and
// M8 may both run, M9 stops both. A line's M words come before its motion (3.8, table 8).
func TestToolOffsetCoolant(t *testing.T) {
	const text = `G17 G21 G40 G49 G54 G80 G90 G94
G0 X0 Y0 Z9
T4
G0 X1 M8
M6
G0 X0 Y0
G43 H7 Z9
G0 X1 M7
T5 M6
G0 X0 Y0
G43 H8 Z9
G49
G0 X1 Y1
M9 X2
M8
M2
`
	const mist, flood = toolpath.Mist, toolpath.Flood
	want := []struct {
		tool, offset int
		coolant      toolpath.Coolant
	}{
		{0, 0, 0}, {0, 0, flood}, {4, 0, flood}, {4, 7, flood}, {4, 7, flood | mist}, {5, 7, flood | mist}, {5, 8, flood | mist},
		{5, 0, flood | mist}, {5, 0, 0},
	}
	r := reading(t, text, Options{})
	if len(r.Trace.Steps) != len(want) {
		t.Fatalf("%d steps, want %d", len(r.Trace.Steps), len(want))
	}
	for i, s := range r.Trace.Steps {
		if s.Tool != want[i].tool || s.Offset != want[i].offset || s.Coolant != want[i].coolant {
			t.Errorf("line %d: tool %d, offset %d, %s; want %+v", s.Line, s.Tool, s.Offset, s.Coolant, want[i])
		}
	}
	if l := r.Trace.Left; l.Coolant != flood || l.Offset != 0 {
		t.Errorf("it ends in %+v", l)
	}
}

// The state at the end is that before M2 stops what is on; what a text did not say is
// not stated.
func TestLeft(t *testing.T) {
	const modes = "G17 G21 G40 G49 G54 G80 G90 G94\n"
	stated := toolpath.Left{Unit: measure.Millimetre, Stated: true}
	with := func(change func(*toolpath.Left)) toolpath.Left {
		l := stated
		change(&l)
		return l
	}
	for _, c := range []struct {
		text string
		want toolpath.Left
	}{
		{modes + "M2\n", stated},
		{modes + "M3 S900\nM5\nM2\n", stated},
		{modes + "M3 S900\nM2\n", with(func(l *toolpath.Left) { l.Speed = 900 * measure.RPM })},
		{modes + "G18\nM2\n", with(func(l *toolpath.Left) { l.Plane = toolpath.PlaneZX })},
		{modes + "G20\nM2\n", with(func(l *toolpath.Left) { l.Unit = measure.Inch })},
		{modes + "M7\nM8\nM2\n", with(func(l *toolpath.Left) { l.Coolant = toolpath.Mist | toolpath.Flood })},
		{modes + "G43 H3\nM2\n", with(func(l *toolpath.Left) { l.Offset = 3 })},
		{"G21 G40 G49 G54 G80 G90 G94\nM2\n", with(func(l *toolpath.Left) { l.Stated = false })},
		{"G17 G21 G40 G49 G80 G90 G94\nM2\n", with(func(l *toolpath.Left) { l.Stated = false })},
	} {
		if got := reading(t, c.text, Options{}).Trace.Left; got != c.want {
			t.Errorf("%q ends in %+v, want %+v", c.text, got, c.want)
		}
	}
}
