package limit

import (
	"strings"
	"testing"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// stranger is a board whose set-up makes a slot 6 wide along X, 3 deep, and a hole
// of 5 at X 0, Y 7 with a flat floor 4 deep; a bore of 6 lies along X under it all, its
// top at 6.5. The slot's cut asks for 1 mm of web, the hole's for 2.
func stranger(t *testing.T) *board {
	b := newBoard(t)
	b.machine.Errors = machines.Errors{}
	b.setup.Touch = [2]measure.Length{-15 * mm, -8 * mm}
	web := func(cut int, least measure.Length) toolpath.Limit {
		return toolpath.Limit{
			Name: "web to bore oil way", Kind: toolpath.Web, Cut: cut,
			Solid:     solid.Cylinder{From: at(-20, 7, -10).Plus(solid.Point{Z: mm / 2}), To: at(20, 7, -10).Plus(solid.Point{Z: mm / 2}), Radius: 3 * mm},
			NeverLess: measure.Figure[measure.Length]{Value: least},
		}
	}
	shape := &solid.Channel{From: at(-20, 0, -3), To: at(20, 0, -3), Width: 6 * mm, OpenFrom: true, OpenTo: true}
	size := func(name string, what toolpath.SizeKind) toolpath.Limit {
		return toolpath.Limit{Name: name, Kind: toolpath.Size, Size: what, Side: toolpath.KeepIn, Channel: shape, Cut: 1}
	}
	b.setup.Limits = []toolpath.Limit{web(1, mm), web(2, 2*mm), size("slot width, each side", toolpath.SlotWidth), size("slot depth", toolpath.SlotDepth)}
	b.setup.Operations = []toolpath.Operation{
		{Cut: 1, Of: "slot", Name: "slot", Tool: b.tool},
		{Cut: 2, Of: "holes", Name: "holes", Tool: b.tool, Makes: []toolpath.Hole{
			{At: at(0, 7, 0), Diameter: 5 * mm, Shoulder: -4 * mm, Tip: -4 * mm},
		}},
	}
	return b
}

// held is the judge's word on the board's steps as somebody else's program.
func (b *board) held() (*Foreign, []Verdict) {
	b.t.Helper()
	f, err := NewForeign(&b.setup, b.machine, "x.ngc", func(toolpath.Cutter) toolpath.Proportions { return b.book })
	if err != nil {
		b.t.Fatal(err)
	}
	for _, s := range b.steps {
		f.Step(s, b.tool)
	}
	return f, f.Verdicts()
}

// refuses asks which limits stop the program, each as "cut: limit, line".
func (b *board) refuses(want ...string) {
	b.t.Helper()
	_, vs := b.held()
	var got []string
	for _, v := range vs {
		if v.Stops() {
			got = append(got, v.Cut+": "+v.Limit)
		}
	}
	if strings.Join(got, "; ") != strings.Join(want, "; ") {
		b.t.Errorf("refused by %q, want %q", got, want)
	}
}

// down goes to a place and down to a depth there, by feed.
func (b *board) down(p solid.Point) {
	b.rapid(p.With(solid.Z, 5*mm))
	b.rapid(p.With(solid.Z, mm))
	b.line(p)
}

func (b *board) lift() { b.rapid(b.at.Point.With(solid.Z, 5*mm)) }

func TestForeignInsideWhatIsMade(t *testing.T) {
	for _, c := range []struct {
		name string
		draw func(*board)
		want []string
	}{
		{"the slot along its middle, and the hole round its axis", func(b *board) {
			b.slot(3 * mm)
			b.down(at(0, 7, -4))
			b.lift()
		}, nil},
		{"the slot's whole width by two ways", func(b *board) {
			b.down(at(-23, -1, -3))
			b.line(at(23, -1, -3))
			b.line(at(23, 1, -3))
			b.line(at(-23, 1, -3))
			b.lift()
		}, nil},
		{"a tenth of a nanometre beside the slot", func(b *board) {
			b.down(at(-23, 1, -3).Plus(solid.Point{Y: 1}))
			b.line(at(23, 1, -3).Plus(solid.Point{Y: 1}))
			b.lift()
		}, []string{"slot: slot width, each side"}},
		{"a tenth of a nanometre under its floor", func(b *board) { b.slot(3*mm + 1) }, []string{"slot: slot depth"}},
		{"the hole too deep: what is left over the bore counts for both cuts", func(b *board) {
			b.down(at(0, 7, -5))
			b.lift()
		}, []string{"holes: web to bore oil way", "holes: hole depth, to the tip"}},
		{"the hole beside its place", func(b *board) {
			b.down(at(1, 7, -1))
			b.lift()
		}, []string{"holes: hole, each side"}},
		{"where nothing is made", func(b *board) {
			b.down(at(15, 7, -1))
			b.lift()
		}, []string{"slot: slot width, each side"}},
		{"over the metal", func(b *board) {
			b.down(at(15, 7, 0))
			b.line(at(-15, 7, 0))
			b.lift()
		}, nil},
		{"down by a rapid where the hole will be", func(b *board) {
			b.rapid(at(0, 7, 5))
			b.rapid(at(0, 7, -1))
			b.lift()
		}, []string{": rapids to metal and holding"}},
		{"down by the first rapid, from a height that is not known", func(b *board) {
			b.rapid(at(0, 7, 5))
			b.steps[0].From.Known = [3]bool{}
			b.steps[0].To.Known, b.at.Known = [3]bool{true, true, false}, [3]bool{true, true, false}
			b.rapid(at(0, 7, -1))
			b.steps[1].From.Known[2] = false
			b.lift()
		}, []string{": rapids to metal and holding"}},
		{"down again by a rapid into what was cut there, as a peck does", func(b *board) {
			b.down(at(0, 7, -2))
			b.lift()
			b.rapid(at(0, 7, -1))
			b.line(at(0, 7, -3))
			b.lift()
		}, nil},
		{"down again by a rapid beside it", func(b *board) {
			b.down(at(0, 7, -2))
			b.lift()
			b.rapid(solid.Point{X: mm / 4, Y: 7 * mm, Z: 5 * mm})
			b.rapid(solid.Point{X: mm / 4, Y: 7 * mm, Z: -mm})
			b.lift()
		}, []string{": rapids to metal and holding"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := stranger(t)
			c.draw(b)
			b.refuses(c.want...)
		})
	}
}

// The hole's floor at 4 leaves 2.5 of the bore's top at 6.5: the 2 mm of its own cut
// hold. A slot's cut there would leave as much and is asked for 1 mm; what stays in no
// shape is held against both.
func TestForeignLimitsOfEachCut(t *testing.T) {
	b := stranger(t)
	b.down(at(0, 7, -4))
	b.lift()
	_, vs := b.held()
	n := 0
	for _, v := range vs {
		if v.Limit == "web to bore oil way" {
			n++
			if v.Cut != "holes" || v.Planned != int64(25*mm/10) || v.NeverLess != int64(2*mm) || v.Where != 3 {
				t.Errorf("%+v", v)
			}
		}
	}
	if n != 1 {
		t.Errorf("%d webs, want that of the cut that makes the hole", n)
	}
	b = stranger(t)
	b.down(at(10, 7, -6))
	b.lift()
	b.refuses("slot: web to bore oil way", "slot: slot width, each side", "slot: slot depth", "holes: web to bore oil way")
}

// An arc in another plane goes deeper than its ends: from X -5 to 5 about a centre 2
// above the floor's height, in ZX, it dips to 3 under the top of its ends.
func TestForeignArcOutOfPlane(t *testing.T) {
	draw := func(low measure.Length) *board {
		b := stranger(t)
		b.rapid(at(-5, 0, 5))
		b.line(at(-5, 0, 1))
		s := b.step(toolpath.Arc, at(5, 0, 1))
		// G18: from (-5, 1) to (5, 1) through the lowest place; its centre above.
		s.Plane = toolpath.PlaneZX
		depth := low + mm // under the ends
		// r = (25 + d d) / 2d, for a chord of 10 and a rise of d, in tenths of a nm
		r := ((5*mm)*(5*mm)/depth + depth) / 2
		s.Centre = solid.Point{Z: mm - depth + r}
		s.Sense = toolpath.Clockwise // Z turns into X anticlockwise, and from -X to Z is the way over the top
		b.lift()
		return b
	}
	// 3 mm deep less a chord's bulge and what its two radii differ by.
	b := draw(3*mm - 5*um)
	b.refuses()
	f, vs := b.held()
	if len(f.NotProved()) > 0 {
		t.Errorf("not proved: %v", f.NotProved())
	}
	for _, v := range vs {
		if v.Limit == "slot depth" && (v.Planned < 0 || v.Planned > int64(8*um)) {
			t.Errorf("the arc leaves %s of the slot's depth, want 5 um less a bulge or so", measure.Length(v.Planned))
		}
	}
	draw(3*mm + um).refuses("slot: slot depth")
}

// What is known within a slack only counts with all of it.
func TestForeignSlack(t *testing.T) {
	b := stranger(t)
	b.slot(3 * mm)
	b.steps[3].Slack = 1
	b.refuses("slot: slot depth")
	b = stranger(t)
	b.slot(3*mm - 1)
	b.steps[3].Slack = 1
	b.refuses()
	// The slack of an arc's centre is not one of its height.
	b = stranger(t)
	b.down(at(-23, 0, -3))
	b.line(at(-5, 0, -3))
	s := b.step(toolpath.Arc, at(-4, 0, -3))
	s.Centre, s.Slack, s.CentreSlack = solid.Point{X: -45 * mm / 10, Z: 0}, 3, 3
	b.lift()
	b.refuses()
}

func TestForeignOpen(t *testing.T) {
	b := stranger(t)
	b.rapid(at(0, 7, 5))
	b.line(at(0, 7, -4))
	b.steps[1].From.Known[0] = false
	f, _ := b.held()
	if o := f.NotProved(); len(o) != 1 || o[0].Line != 2 || o[0].Text != "a cut at a place that is not known" {
		t.Errorf("%v", o)
	}
	b = stranger(t)
	b.slot(mm)
	b.steps[2].Feed, b.steps[3].Feed = 0, 0
	f, _ = b.held()
	if o := f.NotProved(); len(o) != 1 || o[0].Line != 3 || o[0].Count != 2 {
		t.Errorf("%v", o)
	}
	// A spindle that stands is refused where the program sets it, and else taken as
	// turning.
	b = stranger(t)
	b.slot(mm)
	for i := range b.steps {
		b.steps[i].Speed = 0
	}
	b.refuses(": spindle speed")
	byHand := *b.machine
	c := *b.machine.Controller
	c.SetsSpindle = false
	byHand.Controller = &c
	b.machine = &byHand
	b.refuses()
	if f, _ := b.held(); len(f.Assumed()) != 1 {
		t.Errorf("%v", f.Assumed())
	}
}

func TestForeignNeedsSomethingMade(t *testing.T) {
	b := newBoard(t)
	if _, err := NewForeign(&b.setup, b.machine, "x.ngc", nil); err == nil {
		t.Error("a set-up without cuts was taken")
	}
}
