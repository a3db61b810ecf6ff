package machines

import (
	"testing"

	"stopshort/toolpath/measure"
)

// By hand. A nut of 0.05 mm on lines of 0.02: 5.96 is held at 5.95, and the next line up is
// 5.94; 6 falls on both. A nut of 0.127 on lines of 0.024: 42 steps are 5.334, 222 lines
// 5.328.
func TestStopAt(t *testing.T) {
	const mm, um = measure.Millimetre, measure.Micrometre
	mill := func(lead, lines, step string) *Machine {
		m, err := Find("dial-mill-mm")
		if err != nil {
			t.Fatal(err)
		}
		own := *m
		z := &own.Axes[2]
		if z.Lead, err = measure.ParseLead(lead); err != nil {
			t.Fatal(err)
		}
		if z.Lines, err = measure.ParseNumber(lines); err != nil {
			t.Fatal(err)
		}
		nut, err := measure.ParseLength(step, measure.NoUnit)
		if err != nil {
			t.Fatal(err)
		}
		own.Stop = Stop{Kind: "nut", Step: nut, On: own.DepthBy}
		return &own
	}
	for _, c := range []struct {
		m               *Machine
		deep, nut, line measure.Length
		exact, ok       bool
	}{
		{mill("2.5 mm", "125", "0.05 mm"), -5_960 * um, -5_950 * um, -5_940 * um, false, true},
		{mill("2.5 mm", "125", "0.05 mm"), -5_960 * um, 0, 0, true, false},
		{mill("2.5 mm", "125", "0.05 mm"), -6 * mm, -6 * mm, -6 * mm, true, true},
		{mill("1.5 mm", "62.5", "0.127 mm"), -5_400 * um, -5_334 * um, -5_328 * um, false, true},
	} {
		nut, line, ok := c.m.StopAt(c.m.DepthBy, c.deep, c.exact)
		if nut != c.nut || line != c.line || ok != c.ok {
			t.Errorf("%s: nut at %s, line %s, %v; want %s, %s, %v", c.deep, nut, line, ok, c.nut, c.line, c.ok)
		}
	}
	m := mill("2.5 mm", "125", "0.05 mm")
	m.Stop.On = "quill"
	if _, _, ok := m.StopAt("head", -6*mm, false); ok {
		t.Error("a nut on the quill halts the head")
	}
}
