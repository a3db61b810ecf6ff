package limit

import (
	"testing"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// measuredBoard is a slot 3 mm deep over a bore whose top stands at 4 mm, cut as the
// finish after a measuring that found the floor 40 micrometres high, its last step 600.
func measuredBoard(t *testing.T, direct bool) (*board, *toolpath.Look) {
	b := newBoard(t)
	b.machine.Errors = machines.Errors{
		TouchZ: 50 * um, TouchXY: 70 * um, Setting: 10 * um, Stop: 20 * um, Play: 30 * um, Gauge: 8 * um,
		Lead: measure.NewRatio(1, 1000), Tilt: measure.NewRatio(1, 1000), RunOut: 15 * um, Bend: 25 * um,
	}
	b.keepOut("web", toolpath.Web, boreAlongX(), mm/2)
	b.setup.Limits[0].Uncertain = []toolpath.Share{{Name: "place of the bore", Of: 40 * um}}
	b.keepOut("floor", toolpath.Floor, b.setup.Metal[0], 0)
	b.setup.Limits[1].Solid = boreAlongX() // a second solid, at the same height
	b.slot(3 * mm)
	taken := 5*mm + 40*um
	return b, &toolpath.Look{Limit: "web", Reads: 5 * mm, Taken: &taken, Rises: true, Direct: direct, Step: 600 * um}
}

func (b *board) judged(look *toolpath.Look, part toolpath.Part) map[string]Verdict {
	j := New(&b.setup, b.machine)
	j.Program("x.ngc", []toolpath.Operation{{Cut: 1, Name: "cut", Tool: b.tool, Speed: 1500 * measure.RPM, Part: part, Look: look}},
		&toolpath.Trace{Steps: b.steps})
	out := map[string]Verdict{}
	for _, v := range j.Verdicts() {
		out[v.Limit] = v
	}
	return out
}

// After a measuring the gauge's error and the last step's count.
func TestMeasured(t *testing.T) {
	worst := func(v Verdict) measure.Length { return measure.Length(v.Margin - v.MarginWorst) }
	// The gauge's 8; 10, 20 and 30 of setting, stopping and locking once more; a
	// thousandth of the step and of what it is moved by.
	step := (8+10+20+30)*um + 640*um/1000
	// Unmeasured: as in TestWebAtWorst, without the bore's own 40.
	whole := (50+10+20+30)*um + 3*um + 37*um
	near := func(what string, got, want measure.Length) {
		t.Helper()
		if got < want || got > want+10 { // the stretch that cuts is taken a hair long
			t.Errorf("%s: %s, want %s", what, got, want)
		}
	}

	b, look := measuredBoard(t, true)
	v := b.judged(look, toolpath.Finish)
	near("the web that was measured over its pin", worst(v["web"]), step)
	near("another limit, whose own place was not measured", worst(v["floor"]), whole+40*um)

	b, look = measuredBoard(t, false)
	v = b.judged(look, toolpath.Finish)
	near("a web under a depth that was measured", worst(v["web"]), step+40*um)
	near("another limit, the depth measured", worst(v["floor"]), step)

	// The rough before it, and a finish that was not measured for, have it all.
	b, look = measuredBoard(t, true)
	v = b.judged(look, toolpath.Rough)
	near("the rough", worst(v["web"]), whole+40*um)
	look.Taken = nil
	v = b.judged(look, toolpath.Finish)
	near("not measured", worst(v["web"]), whole+40*um)
}

// Taken on is a warning or a worst case, never what does not hold as planned.
func TestAccept(t *testing.T) {
	vs := []Verdict{{Limit: "web", State: AtWorst}, {Limit: "web", State: Refused}, {Limit: "web", State: Undecided},
		{Limit: "web", State: OK}, {Limit: "web", State: Warned}, {Limit: "wall", State: AtWorst}}
	if Accept(vs, "edge", "x") {
		t.Error("a limit that is not there is found")
	}
	if !Accept(vs, "web", "because") {
		t.Error("the web is not found")
	}
	for i, want := range []bool{false, true, true, false, false, true} {
		if vs[i].Stops() != want {
			t.Errorf("%d: %s stops: %v", i, vs[i].State, vs[i].Stops())
		}
		if got := vs[i].Accepted; got != (i == 0 || i == 4) {
			t.Errorf("%d: %s is taken on: %v", i, vs[i].State, got)
		}
	}
}
