package write

import (
	"strings"
	"testing"
	"time"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// Each is refused with these words, and nothing comes with the refusal.
func TestRefusals(t *testing.T) {
	moves := func(p *toolpath.Program) []toolpath.Move { return p.Operations[0].Passes[0].Moves }
	last := func(p *toolpath.Program) []toolpath.Move { return p.Operations[0].Passes[1].Moves }
	for _, c := range []struct {
		name string
		do   func(*toolpath.Program, *machines.Machine)
		want string
	}{
		{"X off the grid", func(p *toolpath.Program, m *machines.Machine) { moves(p)[0].To.X = 1 }, "X of 1 tenths of a nanometre lies between two steps of 4 places of mm"},
		{"Z off the grid", func(p *toolpath.Program, m *machines.Machine) { moves(p)[2].To.Z-- }, "Z of -5000001 tenths"},
		{"Y too far", func(p *toolpath.Program, m *machines.Machine) { moves(p)[0].To.Y = measure.MaxLength + 1000 }, "over 100 m"},
		{"inch grid on a metric plan", func(p *toolpath.Program, m *machines.Machine) { m.Units = measure.In }, "lies between two steps of 4 places of in"},
		{"clearance off the grid", func(p *toolpath.Program, m *machines.Machine) { p.Setup.Clearance++ }, "the clearance height: Z of"},
		{"centre off the grid", func(p *toolpath.Program, m *machines.Machine) { last(p)[2].Centre.X += 7 }, "I of -999993 tenths"},
		{"feed off the grid", func(p *toolpath.Program, m *machines.Machine) { moves(p)[2].Feed++ }, "a feed of 300000001 tenths"},
		{"no feed", func(p *toolpath.Program, m *machines.Machine) { moves(p)[2].Feed = 0 }, "a cut without a feed"},
		{"feed below nought", func(p *toolpath.Program, m *machines.Machine) { moves(p)[2].Feed = -perMM }, "a cut without a feed"},
		{"half a turn", func(p *toolpath.Program, m *machines.Machine) { p.Operations[0].Speed += 500 }, "must be whole turns above nought"},
		{"spindle stopped", func(p *toolpath.Program, m *machines.Machine) { p.Operations[0].Speed = 0 }, "must be whole turns above nought"},
		{"dwell too fine", func(p *toolpath.Program, m *machines.Machine) { p.SpinUp = 1234 * time.Millisecond }, "write whole hundredths of a second"},
		{"dwell below nought", func(p *toolpath.Program, m *machines.Machine) { p.SpinUp = -time.Second }, "write whole hundredths of a second"},
		{"dwell as a move", func(p *toolpath.Program, m *machines.Machine) { moves(p)[1].Kind = toolpath.Dwell }, "a dwell that moves, or lasts no time"},
		{"unknown move", func(p *toolpath.Program, m *machines.Machine) { moves(p)[1].Kind = 9 }, "a move of kind 9 cannot be written"},
		{"unknown sense", func(p *toolpath.Program, m *machines.Machine) { last(p)[2].Sense = 2 }, "an arc of sense 2 cannot be written"},
		{"a full circle", func(p *toolpath.Program, m *machines.Machine) {
			last(p)[2].To.X = 0
		}, "an arc ends where it starts, and would be taken for a full circle"},
		{"no radius", func(p *toolpath.Program, m *machines.Machine) { last(p)[2].Centre.X = 0 }, "an arc without a radius"},
		// a plunge at once, from where the operator left the cutter
		{"first move cuts", func(p *toolpath.Program, m *machines.Machine) { moves(p)[0] = lineTo(0, 0, -1*mm, perMM) }, "the first move is not a rapid at the clearance height"},
		{"first move low", func(p *toolpath.Program, m *machines.Machine) { moves(p)[0].To.Z = 1 * mm }, "the first move is not a rapid at the clearance height"},
		{"crossing while it goes down", func(p *toolpath.Program, m *machines.Machine) { moves(p)[1].To.X = 1 * mm }, "a rapid moves Z together with X or Y"},
		{"last move low", func(p *toolpath.Program, m *machines.Machine) { last(p)[3].To.Z = 4 * mm }, "does not end at the clearance height"},
		{"nothing to do", func(p *toolpath.Program, m *machines.Machine) { p.Operations[0].Passes = nil }, "there is no move in it"},
		{"no operation", func(p *toolpath.Program, m *machines.Machine) { p.Operations = nil }, "the program has no operation"},
		{"no set-up", func(p *toolpath.Program, m *machines.Machine) { p.Setup = nil }, "the program has no set-up"},
		{"two tools", func(p *toolpath.Program, m *machines.Machine) {
			other := p.Operations[0]
			other.Tool.Number = 4
			p.Operations = append(p.Operations, other)
		}, "tool 4 in a program of tool 3"},
		{"two speeds by hand", func(p *toolpath.Program, m *machines.Machine) {
			other := p.Operations[0]
			other.Speed += measure.RPM
			p.Operations = append(p.Operations, other)
			m.Controller.SetsSpindle = false
		}, "the spindle is set by hand"},
		// the arc's line without its feed is 43 characters and its end
		{"line too long", func(p *toolpath.Program, m *machines.Machine) {
			last(p)[2].Centre.X, last(p)[2].To.X = -1000*mm, -2000*mm
			m.Controller.LineLength = 43
		}, "44 characters in the line \"G3 X-2000.0000 Y-9.0000 I-1000.0000 J0.0000\""},
		{"no controller", func(p *toolpath.Program, m *machines.Machine) { m.Controller = nil }, "the machine has no controller"},
		{"units of no controller", func(p *toolpath.Program, m *machines.Machine) { m.Units = measure.InThou }, "neither mm nor in"},
		{"places", func(p *toolpath.Program, m *machines.Machine) { m.Controller.Places = 6 }, "6 places of a coordinate: write 2 to 5"},
		{"dwell word", func(p *toolpath.Program, m *machines.Machine) { m.Controller.Dwell = "" }, "write seconds or milliseconds"},
		{"comment kind", func(p *toolpath.Program, m *machines.Machine) { m.Controller.Comments = "colon" }, "comments of the kind \"colon\" are not known"},
		{"line's end", func(p *toolpath.Program, m *machines.Machine) { m.Controller.LineEnd = "cr" }, "a line's end of the kind \"cr\" is not known"},
		{"short lines", func(p *toolpath.Program, m *machines.Machine) { m.Controller.LineLength = 20 }, "20 characters are too short for a line"},
	} {
		p, m := clamp(), mill()
		c.do(&p, m)
		got, err := Program(p, m)
		if err == nil {
			t.Errorf("%s: written", c.name)
			continue
		}
		if !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: refused with %q, want %q in it", c.name, err, c.want)
		}
		if got.Bytes != nil || got.Ops != nil {
			t.Errorf("%s: something comes with the refusal", c.name)
		}
	}
}

// The two radii of an arc may be 0.002 mm or 0.0002 in apart (NISTIR 6556,
// 3.5.3.2), and not one step more. The arcs are half turns of about 1 mm along
// X, so the radii are the lengths themselves.
func TestRadiiApart(t *testing.T) {
	for _, c := range []struct {
		unit  measure.Unit
		apart measure.Length
		ok    bool
	}{
		{measure.MM, 20_000, true},
		{measure.MM, 21_000, false},
		{measure.MM, -20_000, true},
		{measure.MM, -21_000, false},
		{measure.In, 50_800, true},
		{measure.In, 53_340, false},
	} {
		w := &writer{grid: grid{c.unit, 5}, known: true}
		r := 20 * measure.Thou // 0.508 mm
		_, err := w.arc(toolpath.Move{Kind: toolpath.Arc, Feed: measure.Feed(c.unit.Size()),
			To: solid.Point{X: 2*r + c.apart}, Centre: solid.Point{X: r}})
		if (err == nil) != c.ok {
			t.Errorf("%v, radii %d apart: %v", c.unit, c.apart, err)
		}
	}
	// Off the axes: 3, 4, 5 mm, and the end 0.002 mm and a hair farther out, the
	// hair being 0.0001 mm sideways at first order 0.00006 mm.
	w := &writer{grid: grid{measure.MM, 4}, known: true}
	for _, c := range []struct {
		x, y measure.Length
		ok   bool
	}{
		{3*mm + 12_000, 4*mm + 16_000, true},
		{3*mm + 13_000, 4*mm + 16_000, false},
		{3*mm - 12_000, 4*mm - 16_000, true},
		{3*mm - 13_000, 4*mm - 16_000, false},
	} {
		mv := toolpath.Move{Kind: toolpath.Arc, Feed: perMM, Centre: solid.Point{X: 3 * mm, Y: 4 * mm},
			To: solid.Point{X: 3*mm + c.x, Y: 4*mm + c.y}}
		if _, err := w.arc(mv); (err == nil) != c.ok {
			t.Errorf("end at %d, %d from the centre: %v", c.x, c.y, err)
		}
	}
}
