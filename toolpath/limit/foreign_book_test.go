package limit

import (
	"testing"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// Two cutters of the stranger's board: the job's own, and a drill of 4 that the
// handbook says may cut 0.2 wider and is told of when it sticks out 10.
func twoCutters(b *board) (flat, drill toolpath.Cutter, book func(toolpath.Cutter) toolpath.Proportions) {
	flat, drill = b.tool, b.tool
	drill.Number, drill.Kind, drill.Point = 2, toolpath.Drill, mm
	drill.Diameter = 2 * mm // as marked; both cut 4 wide
	rules := b.book
	return flat, drill, func(c toolpath.Cutter) toolpath.Proportions {
		p := rules
		if c.Kind == toolpath.Drill {
			p.Oversize.Value, p.StickOut.Value = mm/5, 10*mm
		}
		p.SlotWarn.Value, p.SlotStop.Value = c.Diameter/4, c.Diameter/2
		return p
	}
}

// by is the judge's word where the steps from a line on, from 1, are the second cutter's.
func (b *board) by(second int) (*Foreign, map[string]Verdict) {
	b.t.Helper()
	flat, drill, book := twoCutters(b)
	f, err := NewForeign(&b.setup, b.machine, "x.ngc", book)
	if err != nil {
		b.t.Fatal(err)
	}
	for _, s := range b.steps {
		if s.Line < second {
			f.Step(s, flat)
		} else {
			f.Step(s, drill)
		}
	}
	out := map[string]Verdict{}
	for _, v := range f.Verdicts() {
		out[v.Cut+": "+v.Limit] = v
	}
	return f, out
}

// A slot is asked for what its cutter allows, 2 mm here; what the plan's own cutter
// would allow does not count, and a hole is not asked.
func TestForeignSlotDepthByItsCutter(t *testing.T) {
	const name = "slot: slot depth, short of 0.5 cutters"
	for _, c := range []struct {
		what  string
		aside measure.Length // in micrometres
		deep  measure.Length
		want  measure.Length
		state State
	}{
		{"all that it may be", 0, 2 * mm, 0, Warned},
		{"a millimetre too deep", 0, 3 * mm, -mm, Refused},
		{"beside what the slot makes", 1100, 3 * mm, -mm, Refused},
		{"not told", 0, mm, mm, OK},
	} {
		b := stranger(t)
		b.setup.Operations[0].Book.SlotStop.Value = 16 * mm
		b.down(inUm(-23_000, c.aside, 0).With(solid.Z, -c.deep))
		b.line(inUm(23_000, c.aside, 0).With(solid.Z, -c.deep))
		b.lift()
		b.down(at(0, 7, -4))
		b.lift()
		_, vs := b.by(100)
		if v, ok := vs[name]; !ok || v.Planned != int64(c.want) || v.State != c.state || v.Where == 0 {
			t.Errorf("%s: %+v", c.what, v)
		}
		for k := range vs {
			if k == "holes: slot depth, short of 0.5 cutters" {
				t.Errorf("%s: a hole is asked for a slot's depth", c.what)
			}
		}
	}
	// Two cutters in one slot: the first is told from 1 mm on, the second from a half.
	b := stranger(t)
	b.setup.Operations[0].Book.SlotStop.Value = 16 * mm
	b.slot(1200 * um)
	n := len(b.steps)
	b.slot(100 * um)
	_, vs := b.by(n + 1)
	if v := vs[name]; v.Planned != int64(800*um) || v.State != Warned {
		t.Errorf("two cutters: %+v", v)
	}
}

// What a drill cuts wider counts for the hole that it cuts, whoever began the hole and
// whatever the job makes it with: between two holes of 5 that are 8 apart stand 3, less
// half of 0.2 for each. A drill is told that sticks out 14.
func TestForeignDrillWhereTheJobHasNone(t *testing.T) {
	draw := func() *board {
		b := stranger(t)
		op := &b.setup.Operations[1]
		op.Makes = append(op.Makes, toolpath.Hole{At: at(8, 7, 0), Diameter: 5 * mm, Shoulder: -4 * mm, Tip: -4 * mm})
		for _, h := range op.Makes {
			b.setup.Features = append(b.setup.Features, featureOf("holes", 2, h))
		}
		b.setup.Metal = []solid.Body{solid.Box{Low: at(-20, -12, -10), High: at(20, 12, 0)}}
		for _, deep := range []measure.Length{-mm, -4 * mm} {
			b.down(at(0, 7, 0).With(solid.Z, deep))
			b.lift()
			b.down(at(8, 7, 0).With(solid.Z, deep))
			b.lift()
		}
		return b
	}
	const wall, out = "holes: wall between the holes", "holes: stick-out, short of 5 diameters"
	b := draw()
	_, vs := b.by(100)
	if v := vs[wall]; v.Planned != int64(3*mm) || v.Margin != v.MarginWorst {
		t.Errorf("without a drill: %+v", v)
	}
	if v, ok := vs[out]; ok {
		t.Errorf("without a drill: %+v", v)
	}
	b = draw()
	_, vs = b.by(9)
	if v := vs[wall]; v.Planned != int64(3*mm) || v.Margin-v.MarginWorst != int64(mm/5) {
		t.Errorf("a drill after the cutter: %s less at worst, want 0.2 mm: %+v", measure.Length(v.Margin-v.MarginWorst), v)
	}
	if v := vs[out]; v.Planned != int64(-4*mm) || v.State != Warned {
		t.Errorf("a drill that sticks out: %+v", v)
	}
	if w := b.setup.Features[0].Wider; w != 0 {
		t.Errorf("the plan's own hole is now %s wider", w)
	}
	_, vs = draw().by(13) // the second hole alone is drilled
	if v := vs[wall]; v.Margin-v.MarginWorst != int64(mm/10) {
		t.Errorf("one drilled hole: %+v", v)
	}
}

// Where the job drills, the metal to the edge is asked of who mills the hole too.
func TestForeignMilledWhereTheJobDrills(t *testing.T) {
	b := stranger(t)
	b.setup.Operations[1].Tool.Number, b.setup.Operations[1].Tool.Kind, b.setup.Operations[1].Tool.Point = 2, toolpath.Drill, mm
	b.down(at(0, 7, -2))
	b.lift()
	_, vs := b.by(100)
	if v := vs["holes: metal to the edge"]; v.Planned != int64(mm/2) { // 10 - 7 - 2.5
		t.Errorf("%+v", v)
	}
}

// A wall was held to the hole as the job makes it; a drill then makes it wider.
func TestForeignWiderAfterItsWall(t *testing.T) {
	b := stranger(t)
	b.setup.Features = []toolpath.Feature{featureOf("holes", 2, b.setup.Operations[1].Makes[0])}
	b.setup.Operations[0].Cut = 3
	for i := range b.setup.Limits {
		if l := &b.setup.Limits[i]; l.Cut == 1 {
			l.Cut = 3
		}
	}
	b.slot(3 * mm)
	n := len(b.steps)
	b.down(at(0, 7, -3))
	b.lift()
	f, _ := b.by(100)
	if o := f.NotProved(); len(o) != 0 {
		t.Errorf("without a drill: %v", o)
	}
	f, _ = b.by(n + 1)
	if o := f.NotProved(); len(o) != 1 || o[0].Line != n+3 {
		t.Errorf("a drill after the slot: %v", o)
	}
}
