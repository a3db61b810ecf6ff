package limit

import (
	"testing"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

const (
	mm   = measure.Millimetre
	um   = measure.Micrometre
	mmin = measure.Feed(mm)
)

// board is a block 40 by 20 by 10 with its top at nought, a cutter of 4 mm, and
// a trace that a test draws by hand.
type board struct {
	t       testing.TB
	setup   toolpath.Setup
	tool    toolpath.Cutter
	machine *machines.Machine
	steps   []toolpath.Step
	at      toolpath.Place
	makes   []toolpath.Hole                 // the holes that the cut is to make
	wall    *measure.Figure[measure.Length] // that the job asks for
	op      int                             // the cut's number; nought is 1
	book    toolpath.Proportions            // what the handbook asks
	screw   *toolpath.Screw                 // that the holes are for
}

// noErrors is a machine on which nothing can fall the wrong way.
var noErrors machines.Errors

func newBoard(t testing.TB) *board {
	m, err := machines.Find("stepper-mill-mm")
	if err != nil {
		t.Fatal(err)
	}
	b := &board{t: t, machine: m}
	b.book.Wall = toolpath.WallRule{Most: mm, Share: measure.Ratio{Num: 1, Den: 2}, Source: "1 mm or half the smaller diameter"}
	b.setup = toolpath.Setup{
		Number: 1, Name: "on the bench", Clearance: 5 * mm,
		Metal: []solid.Body{solid.Box{Low: at(-20, -10, -10), High: at(20, 10, 0)}},
		Touch: [2]measure.Length{-15 * mm, 0},
	}
	b.tool = toolpath.Cutter{
		Number: 1, Kind: toolpath.SlotDrill, MadeOf: "HSS", Diameter: 4 * mm, Measured: 4 * mm, Flutes: 2,
		FluteLength: 8 * mm, StickOut: 14 * mm, Shank: 4 * mm, Holder: 20 * mm, HolderLength: 40 * mm, CentreCut: true,
	}
	return b
}

func at(x, y, z measure.Length) solid.Point { return solid.Point{X: x * mm, Y: y * mm, Z: z * mm} }

func (b *board) step(kind toolpath.Motion, p solid.Point) *toolpath.Step {
	to := toolpath.Place{Point: p, Known: [3]bool{true, true, true}}
	b.steps = append(b.steps, toolpath.Step{Kind: kind, From: b.at, To: to, Speed: 1500 * measure.RPM, Line: len(b.steps) + 1})
	b.at = to
	s := &b.steps[len(b.steps)-1]
	if kind != toolpath.Rapid {
		s.Feed = 60 * mmin
	}
	return s
}

func (b *board) rapid(p solid.Point) { b.step(toolpath.Rapid, p) }
func (b *board) line(p solid.Point)  { b.step(toolpath.Line, p) }

// verdicts is the judge's word on everything.
func (b *board) verdicts() []Verdict {
	j := New(&b.setup, b.machine)
	j.Program("x.ngc", []toolpath.Operation{{Cut: max(b.op, 1), Name: "cut", Tool: b.tool, Speed: 1500 * measure.RPM, Makes: b.makes, Wall: b.wall, Book: b.book, Screw: b.screw}},
		&toolpath.Trace{Steps: b.steps})
	return j.Verdicts()
}

// verdict is the judge's word on one limit; a test fails where it was not met.
func (b *board) verdict(name string) Verdict {
	b.t.Helper()
	var names []string
	for _, v := range b.verdicts() {
		if v.Limit == name {
			return v
		}
		names = append(names, v.Limit)
	}
	b.t.Fatalf("%q was not met; met: %q", name, names)
	return Verdict{}
}

// none asks that a limit is not met.
func (b *board) none(name string) {
	b.t.Helper()
	for _, v := range b.verdicts() {
		if v.Limit == name {
			b.t.Errorf("%s: %s left, %s; want no such limit", name, measure.Length(v.Planned), v.State)
		}
	}
}

// want asks for what is left, in micrometres, and the judge's word.
func (b *board) want(name string, left measure.Length, s State, line int) Verdict {
	b.t.Helper()
	v := b.verdict(name)
	if v.Planned != int64(left) || v.State != s || v.Where != line {
		b.t.Errorf("%s: %s left, %s, line %d; want %s, %s, line %d", name,
			measure.Length(v.Planned), v.State, v.Where, left, s, line)
	}
	return v
}

// slot draws a slot along X at a depth, entered outside the metal.
func (b *board) slot(depth measure.Length) {
	b.rapid(at(-23, 0, 5))
	b.rapid(at(-23, 0, 1))
	b.line(solid.Point{X: -23 * mm, Z: -depth})
	b.line(solid.Point{X: 23 * mm, Z: -depth})
	b.rapid(at(23, 0, 5))
}

func (b *board) keepOut(name string, kind toolpath.LimitKind, body solid.Body, least measure.Length) {
	b.setup.Limits = append(b.setup.Limits, toolpath.Limit{
		Name: name, Kind: kind, Solid: body, NeverLess: measure.Figure[measure.Length]{Value: least},
	})
}

// A bore of 6 mm along X, its centre 7 mm down: its top stands at 4 mm.
func boreAlongX() solid.Cylinder {
	return solid.Cylinder{From: at(-20, 0, -7), To: at(20, 0, -7), Radius: 3 * mm}
}

func TestWeb(t *testing.T) {
	for _, c := range []struct {
		depth, left measure.Length
		state       State
	}{
		{3 * mm, mm, OK},
		{35 * mm / 10, mm / 2, OK},        // just the never-less
		{35*mm/10 + 1, mm/2 - 1, Refused}, // a tenth of a nanometre past it
		{4 * mm, 0, Refused},              // it meets the bore
		{45 * mm / 10, -mm / 2, Refused},  // it is in the bore
	} {
		b := newBoard(t)
		b.machine.Errors = machines.Errors{} // nothing can fall the wrong way
		b.keepOut("web", toolpath.Web, boreAlongX(), mm/2)
		b.slot(c.depth)
		b.want("web", c.left, c.state, 4)
	}
}

// The worst case adds up the machine's errors in Z, the bore's own, and
// nothing sideways, since the web is straight down.
func TestWebAtWorst(t *testing.T) {
	b := newBoard(t)
	b.machine.Errors = machines.Errors{
		TouchZ: 50 * um, TouchXY: 70 * um, Setting: 10 * um, Stop: 20 * um, Play: 30 * um,
		Lead: measure.NewRatio(1, 1000), Tilt: measure.NewRatio(1, 1000), RunOut: 15 * um, Bend: 25 * um,
	}
	b.keepOut("web", toolpath.Web, boreAlongX(), mm/2)
	b.setup.Limits[0].Uncertain = []toolpath.Share{{Name: "place of the bore", Of: 40 * um}}
	b.slot(3 * mm)
	v := b.want("web", mm, OK, 4)
	// 50 + 10 + 20 + 30 + 40, a thousandth of 3 mm deep, and a thousandth of the
	// way from the touching place to the far end of what is cut: from X -15 to 22.
	want := 150*um + 3*um + 37*um
	got := measure.Length(v.Margin - v.MarginWorst)
	if got < want || got > want+10 { // the stretch that cuts is taken a hair long
		t.Errorf("the shares add up to %d, want %d: %v", got, want, v.Shares)
	}
	b.setup.Limits[0].NeverLess.Value = mm - got
	if v := b.verdict("web"); v.State != OK || v.MarginWorst != 0 {
		t.Errorf("just never-less at worst is %s", v.State)
	}
	b.setup.Limits[0].NeverLess.Value = mm - got + 1
	if v := b.verdict("web"); v.State != Warned {
		t.Errorf("a tenth of a nanometre less than never-less at worst is %s", v.State)
	}
}

func TestRapids(t *testing.T) {
	sideways, near := "rapids sideways over the clearance plane", "rapids to metal and holding"
	for _, c := range []struct {
		name  string
		draw  func(*board)
		limit string
		left  measure.Length
		state State
		line  int
	}{
		{"down beside the metal, 1 mm clear", func(b *board) { b.rapid(at(-23, 0, 5)); b.rapid(at(-23, 0, -4)) }, near, mm, OK, 2},
		{"down beside the metal, half a millimetre clear", func(b *board) {
			b.rapid(at(-23, 0, 5).Plus(solid.Point{X: mm / 2}))
			b.rapid(at(-23, 0, -4).Plus(solid.Point{X: mm / 2}))
		}, near, mm / 2, Refused, 2},
		{"down on the metal", func(b *board) { b.rapid(at(0, 0, 5)); b.rapid(at(0, 0, -1)) }, near, -mm, Refused, 2},
		{"down to 1 mm above the metal", func(b *board) { b.rapid(at(0, 0, 5)); b.rapid(at(0, 0, 1)) }, near, mm, OK, 2},
		{"sideways below the plane", func(b *board) { b.rapid(at(0, 0, 5)); b.line(at(0, 0, 2)); b.rapid(at(9, 0, 2)) }, sideways, -3 * mm, Refused, 3},
		{"down into its own hole, 0.25 mm short", func(b *board) {
			b.rapid(at(0, 0, 5))
			b.line(at(0, 0, -3))
			b.rapid(at(0, 0, 5))
			b.rapid(at(0, 0, -3).Plus(solid.Point{Z: mm / 4}))
		}, near, 5 * mm, OK, 1},
		{"down into its own hole, 0.2 mm short", func(b *board) {
			b.rapid(at(0, 0, 5))
			b.line(at(0, 0, -3))
			b.rapid(at(0, 0, 5))
			b.rapid(at(0, 0, -3).Plus(solid.Point{Z: mm / 5}))
		}, near, -28 * mm / 10, Refused, 4},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := newBoard(t)
			b.t = t
			c.draw(b)
			b.want(c.limit, c.left, c.state, c.line)
		})
	}
}

// A crossing is judged as the box it spans: a controller may not go straight.
func TestRapidSpansABox(t *testing.T) {
	b := newBoard(t)
	b.keepOut("clamp", toolpath.Holding, solid.Box{Low: at(10, -10, 0), High: at(12, -8, 12)}, 0)
	b.rapid(at(-15, -5, 5))
	b.rapid(at(15, 5, 5)) // the straight line passes 8 mm from the clamp
	v := b.verdict("rapids to metal and holding")
	if v.State != Refused {
		t.Errorf("a crossing round a clamp is %s", v.State)
	}
}

func TestHoldingMeetsEveryPartOfTheCutter(t *testing.T) {
	for _, c := range []struct {
		part string
		body solid.Box
		left measure.Length
	}{
		// The cut runs along X at Y nought, 3 deep; the cutter reaches Y 2.
		{"teeth", solid.Box{Low: at(-20, 3, -3), High: at(20, 9, 2)}, mm},
		// The holder, 10 about its axis, has its nose at -3 + 14 = 11.
		{"holder", solid.Box{Low: at(-20, 9, 0), High: at(20, 9+1, 12)}, -mm},
	} {
		b := newBoard(t)
		b.keepOut("clamp", toolpath.Holding, c.body, 0)
		b.slot(3 * mm)
		v := b.verdict("clamp")
		if v.Planned != int64(c.left) {
			t.Errorf("%s: %s left, want %s", c.part, measure.Length(v.Planned), c.left)
		}
	}
}

func TestTeethShankHolder(t *testing.T) {
	b := newBoard(t)
	b.slot(9 * mm) // flutes of 8
	b.want("flutes over the depth", -mm, Refused, 4)
	b = newBoard(t)
	b.tool.FluteLength, b.tool.StickOut = 8*mm, 8*mm
	b.slot(85 * mm / 10)
	if v := b.verdict("holder to the metal"); v.State != Refused || v.Planned != int64(-mm/2) {
		t.Errorf("a holder half a millimetre in the metal: %s, %s", measure.Length(v.Planned), v.State)
	}
}

func TestCentre(t *testing.T) {
	name := "no metal under the cutter's centre"
	b := newBoard(t)
	b.tool.CentreCut = false
	b.rapid(at(0, 0, 5))
	b.line(at(0, 0, -2))
	b.want(name, -2*mm, Refused, 2)

	b = newBoard(t) // over a hole that was cut before: 3 deep, now to 5
	b.tool.CentreCut = false
	b.rapid(at(-23, 0, 5))
	b.line(at(-23, 0, -3))
	b.line(at(23, 0, -3))
	b.line(at(0, 0, -3))
	b.line(at(0, 0, -3)) // stands still
	b.line(at(0, 0, -5))
	b.want(name, -2*mm, Refused, 6)

	b = newBoard(t)
	b.tool.CentreCut = false
	b.slot(3 * mm)
	j := New(&b.setup, b.machine)
	j.Program("", []toolpath.Operation{{Cut: 1, Tool: b.tool}}, &toolpath.Trace{Steps: b.steps})
	for _, v := range j.Verdicts() {
		if v.Limit == name && v.State != OK {
			t.Errorf("going down outside the metal is %s", v.State)
		}
	}
}

func TestTouchingPlace(t *testing.T) {
	name := "touching place"
	b := newBoard(t)
	b.setup.Touch = [2]measure.Length{0, 5 * mm}
	b.slot(3 * mm) // cuts to Y 2
	b.want(name, 3*mm, OK, 4)
	b.setup.Touch = [2]measure.Length{0, mm}
	b.want(name, -mm, Refused, 4)
	b.setup.Touch = [2]measure.Length{25 * mm, 0} // beside the block
	b.want(name, -5*mm, Refused, 4)
}

func TestSpeedsAndFeeds(t *testing.T) {
	for _, c := range []struct {
		name, limit string
		change      func(*board)
		left        int64
		state       State
	}{
		{"as it is", "spindle speed", func(*board) {}, int64(1400 * measure.RPM), OK},
		{"too fast", "spindle speed", func(b *board) { b.steps[3].Speed = 3001 * measure.RPM }, int64(-measure.RPM), Refused},
		{"standing", "spindle speed", func(b *board) { b.steps[3].Speed = 0 }, int64(-100 * measure.RPM), Refused},
		{"feed", "feed", func(b *board) { b.steps[3].Feed = 601 * mmin }, int64(-mmin), Refused},
		{"plunge", "feed down", func(b *board) { b.steps[2].Feed = 151 * mmin }, int64(-mmin), Refused},
		{"plunge at the most", "feed down", func(b *board) { b.steps[2].Feed = 150 * mmin }, 0, OK},
		{"a list of speeds", "spindle speed", func(b *board) {
			b.machine.Spindle.Speeds = []measure.Speed{500 * measure.RPM, 1490 * measure.RPM}
		}, int64(-10 * measure.RPM), Refused},
	} {
		b := newBoard(t)
		b.machine.Spindle = machines.Spindle{Low: 100 * measure.RPM, High: 3000 * measure.RPM}
		b.machine.Feeds = machines.Feeds{Low: 5 * mmin, High: 600 * mmin, Down: 150 * mmin}
		b.slot(3 * mm)
		c.change(b)
		if v := b.verdict(c.limit); v.Planned != c.left || v.State != c.state {
			t.Errorf("%s: %d left, %s; want %d, %s", c.name, v.Planned, v.State, c.left, c.state)
		}
	}
}

func TestTravelAndRoom(t *testing.T) {
	b := newBoard(t)
	b.machine.Axes[0].Travel = 45 * mm
	low, high := -23*mm, 4*mm
	b.setup.Room.Low[0], b.setup.Room.High[2] = &low, &high
	b.slot(3 * mm) // from X -23 to 23, up to 5
	b.want("travel of X", -mm, Refused, 0)
	b.want("room left", 0, OK, 0)
	b.want("room up", -mm, Refused, 0)
}

// A half circle of radius 5 about a bore of 1 keeps exactly 5 - 2 - 0.5 = 2.5
// from it. On a helix it is judged by chords, which are grown to hold it: the bound
// is within what their bulge is.
func TestArcKeepsOff(t *testing.T) {
	for _, sense := range []toolpath.Sense{toolpath.Clockwise, toolpath.Anticlockwise} {
		for _, c := range []struct{ rise, short measure.Length }{{0, 0}, {1, 3 * um}} {
			b := newBoard(t)
			b.keepOut("wall", toolpath.Wall, solid.Cylinder{From: at(0, 0, -10), To: at(0, 0, 0), Radius: mm / 2}, mm)
			b.rapid(at(-5, 0, 5))
			b.line(at(-5, 0, -2))
			s := b.step(toolpath.Arc, at(5, 0, -2+c.rise))
			s.Centre, s.Sense = solid.Point{}, sense
			v := b.verdict("wall")
			if left := measure.Length(v.Planned); left > 25*mm/10 || left < 25*mm/10-c.short {
				t.Errorf("rising %s: %s left, want 2.5 mm or up to %s less", c.rise*mm, left, c.short)
			}
		}
	}
}
