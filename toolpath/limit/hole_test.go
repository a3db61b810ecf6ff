package limit

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// inUm is a point in micrometres.
func inUm(x, y, z measure.Length) solid.Point {
	return solid.Point{X: x * um, Y: y * um, Z: z * um}
}

// drilled is a hole of 4 mm at X, Y in micrometres, its tip at a height; the
// drill's point is 1 mm long.
func drilled(x, y, tip measure.Length) toolpath.Hole {
	return toolpath.Hole{At: inUm(x, y, 0), Diameter: 4 * mm, Shoulder: (tip + 1000) * um, Tip: tip * um}
}

// driller is a board with a drill of 4 mm whose point is 1 mm long, and no
// errors that could fall the wrong way.
func driller(t testing.TB, holes ...toolpath.Hole) *board {
	b := newBoard(t)
	b.machine.Errors = noErrors
	b.tool.Kind, b.tool.Point, b.tool.FluteLength, b.tool.StickOut = toolpath.Drill, mm, 30*mm, 40*mm
	b.makes = holes
	for _, h := range holes {
		b.setup.Features = append(b.setup.Features, featureOf("these", 1, h))
	}
	return b
}

func featureOf(name string, cut int, h toolpath.Hole) toolpath.Feature {
	f := toolpath.Feature{Name: name, Cut: cut, Diameter: h.Wide()}
	at := h.At
	f.Axis = &at
	for _, s := range h.Sweeps() {
		f.Bodies = append(f.Bodies, s)
	}
	return f
}

// plunge draws one hole: over it, down to a height, up.
func (b *board) plunge(p solid.Point, to measure.Length) {
	b.rapid(p.With(solid.Z, 5*mm))
	b.rapid(p.With(solid.Z, mm))
	b.line(p.With(solid.Z, to))
	b.rapid(p.With(solid.Z, 5*mm))
}

func TestHoleAsPlanned(t *testing.T) {
	b := driller(t, drilled(0, 0, -5000))
	b.plunge(at(0, 0, 0), -5*mm)
	b.want("hole, each side", 0, OK, 3)
	b.want("hole depth, to the tip", 0, OK, 3)
	b.want("hole comes to its depth", 0, OK, 0)
	b.want("floor under the hole", 5*mm, OK, 3) // the block is 10 high
}

func TestHoleOffItsPlan(t *testing.T) {
	name := struct{ side, deep, comes string }{"hole, each side", "hole depth, to the tip", "hole comes to its depth"}
	for _, c := range []struct {
		what  string
		draw  func(*board)
		limit string
		left  measure.Length
		line  int
	}{
		{"a tenth too deep", func(b *board) { b.plunge(at(0, 0, 0), -5*mm-1) }, name.deep, -1, 3},
		{"not deep enough", func(b *board) { b.plunge(at(0, 0, 0), -4*mm) }, name.comes, -mm, 0},
		{"nowhere near it", func(b *board) { b.plunge(at(8, 0, 0), -5*mm) }, name.side, -solid.Far, 3},
		{"fed off its axis", func(b *board) {
			b.rapid(at(0, 0, 5))
			b.line(at(0, 0, -5))
			b.line(inUm(30, 40, -5000)) // 0.03, 0.04: 0.05 off
		}, name.side, -50 * um, 3},
		{"fed from one hole into another", func(b *board) {
			b.makes = append(b.makes, drilled(10_000, 0, -5000))
			b.rapid(at(0, 0, 5))
			b.line(at(0, 0, -5))
			b.line(at(10, 0, -5))
		}, name.side, -10 * mm, 3},
		{"one of two left out", func(b *board) {
			b.makes = append(b.makes, drilled(10_000, 0, -5000))
			b.plunge(at(0, 0, 0), -5*mm)
		}, name.comes, -5 * mm, 0},
		{"all left out", func(b *board) { b.rapid(at(0, 0, 5)) }, name.comes, -5 * mm, 0},
	} {
		t.Run(c.what, func(t *testing.T) {
			b := driller(t, drilled(0, 0, -5000))
			b.t = t
			c.draw(b)
			b.want(c.limit, c.left, Refused, c.line)
		})
	}
}

// A flat cutter does not make a pointed hole: its corners stand beside the
// point. The hole is 4 deep to the shoulder and 5 to the tip, so that they stand
// 1 mm too low.
func TestPointIsHeld(t *testing.T) {
	b := driller(t, drilled(0, 0, -5000))
	b.tool.Point, b.tool.Kind = 0, toolpath.SlotDrill
	b.plunge(at(0, 0, 0), -5*mm)
	b.want("hole depth, to the tip", -mm, Refused, 3)
}

// A cutter of 4 circles in a hole of 6: 1 mm from the axis nothing is left, and
// a tenth of a nanometre further is that much too far. An arc whose ends stand 1
// and 2 from the axis goes 1 too far, and one about another centre too.
func TestCircling(t *testing.T) {
	for _, c := range []struct {
		what        string
		from, to    measure.Length
		centre      measure.Length
		left, under measure.Length // what is left, to how much less the bound may be
	}{
		{"just", -mm, mm, 0, 0, 0},
		{"a tenth over", -mm - 1, mm + 1, 0, -1, 0},
		{"a spiral", -mm, 2 * mm, 0, -mm, 0},
		// A half circle of radius 1 about X 1: furthest 2 from the axis, at its end.
		{"about another centre", 0, 2 * mm, mm, -mm, 3 * um},
	} {
		h := toolpath.Hole{At: at(0, 0, 0), Diameter: 6 * mm, Shoulder: -mm, Tip: -mm}
		b := newBoard(t)
		b.machine.Errors = noErrors
		b.makes = []toolpath.Hole{h}
		b.rapid(at(0, 0, 5))
		b.line(at(0, 0, -1))
		b.line(solid.Point{X: c.from, Z: -mm})
		s := b.step(toolpath.Arc, solid.Point{X: c.to, Z: -mm})
		s.Centre, s.Sense = solid.Point{X: c.centre}, toolpath.Clockwise
		v := measure.Length(b.verdict("hole, each side").Planned)
		if v > c.left || v < c.left-c.under {
			t.Errorf("%s: %d tenths left, want %d or up to %d less", c.what, v, c.left, c.under)
		}
	}
}

// Two holes of 4 with their axes 5.5 apart leave 1.5, 4.9 apart 0.9, which is
// less than 1 mm.
func TestWallBetweenHoles(t *testing.T) {
	for _, c := range []struct {
		apart, left measure.Length
		state       State
	}{{5500, 1500 * um, OK}, {5000, mm, OK}, {4900, 900 * um, Refused}, {3000, -mm, Refused}} {
		holes := []toolpath.Hole{drilled(0, 0, -5000), drilled(c.apart, 0, -5000)}
		b := driller(t, holes...)
		for _, h := range holes {
			b.plunge(h.At, -5*mm)
		}
		v := b.want("wall between the holes", c.left, c.state, 3)
		if v.NeverLess != int64(mm) {
			t.Errorf("never less than %s, want 1 mm", measure.Length(v.NeverLess))
		}
	}
}

// A tapped hole counts by its thread's outside: a thread of 5 in a hole of 4.
func TestWallByTheThread(t *testing.T) {
	one, two := drilled(0, 0, -5000), drilled(6000, 0, -5000)
	one.Thread, one.ThreadTo = 5*mm, -3*mm
	b := driller(t, one, two)
	b.plunge(one.At, -5*mm)
	b.plunge(two.At, -5*mm)
	b.want("wall between the holes", 1500*um, OK, 3) // 6 - 2.5 - 2
}

// The least wall is half the smaller diameter where that is less than 1 mm. A
// wall of 0.8 beside a hole of 1 is enough; the same wall beside a hole of 4 is
// not, though the other was met first.
func TestLeastWallOfEach(t *testing.T) {
	b := driller(t, drilled(0, 0, -5000))
	small := toolpath.Hole{At: inUm(-3300, 0, 0), Diameter: mm, Shoulder: -mm, Tip: -mm} // 3.3 - 2 - 0.5
	b.setup.Features = []toolpath.Feature{featureOf("old", 0, small), featureOf("old", 0, drilled(0, 4800, -5000))}
	b.plunge(at(0, 0, 0), -5*mm)
	v := b.want("wall to old", 800*um, Refused, 3)
	if v.NeverLess != int64(mm) || v.Margin != int64(-200*um) {
		t.Errorf("never less than %s, margin %s; want 1 mm and -0.2 mm", measure.Length(v.NeverLess), measure.Length(v.Margin))
	}
	b.setup.Features = b.setup.Features[:1]
	if v := b.want("wall to old", 800*um, OK, 3); v.NeverLess != int64(mm/2) {
		t.Errorf("never less than %s, want half of 1 mm", measure.Length(v.NeverLess))
	}
}

// A hole over another on one axis has no wall to it. From the other side it has
// one where it ends short: tips at -5 and -5.6 leave 0.6.
func TestCoaxial(t *testing.T) {
	h := drilled(0, 0, -5000)
	b := driller(t, h)
	b.setup.Features = append(b.setup.Features, featureOf("mark", 0, drilled(0, 0, -1500)))
	b.plunge(at(0, 0, 0), -5*mm)
	b.none("wall to mark")

	from := func(tip measure.Length) toolpath.Feature {
		axis := at(0, 0, 0)
		return toolpath.Feature{Name: "below", Diameter: 4 * mm, Axis: &axis,
			Bodies: []solid.Body{solid.Cylinder{From: at(0, 0, -10), To: inUm(0, 0, tip), Radius: 2 * mm}}}
	}
	b = driller(t, h)
	b.setup.Features = []toolpath.Feature{from(-5600)}
	b.plunge(at(0, 0, 0), -5*mm)
	b.want("wall to below", 600*um, Refused, 3)
	b.setup.Features = []toolpath.Feature{from(-4900)}
	b.none("wall to below")
}

// Metal above the place where a hole is said to start is cut too: a bore along
// X of 4, its axis 4 down, lies in the way of a hole said to start at -8.
func TestMetalAboveTheStart(t *testing.T) {
	h := toolpath.Hole{At: at(0, 0, -8), Diameter: 4 * mm, Shoulder: -9 * mm, Tip: -9 * mm}
	b := driller(t)
	b.tool.Point, b.tool.Kind = 0, toolpath.SlotDrill
	b.makes = []toolpath.Hole{h}
	b.keepOut("web to bore b", toolpath.Web, solid.Cylinder{From: at(-20, 0, -4), To: at(20, 0, -4), Radius: 2 * mm}, mm)
	b.setup.Limits[0].Cut = 1
	b.plunge(at(0, 0, 0), -9*mm)
	if v := b.verdict("web to bore b"); v.State == OK || v.Planned >= 0 {
		t.Errorf("%s left, %s: the cutter goes through the bore", measure.Length(v.Planned), v.State)
	}
}

// A face of 4 on a step 6 high: the cutter keeps off the step's side, which
// begins at X 3, so 1 mm is left. Where the step leans over above the face (a
// lying bar of radius 6 with its middle at the height of 4, from X 0.5) it is the
// bar's bulge that counts.
func TestRim(t *testing.T) {
	face := toolpath.Hole{At: at(0, 0, 0), Diameter: 4 * mm, Shoulder: -mm, Tip: -mm}
	b := newBoard(t)
	b.machine.Errors = noErrors
	b.setup.Clearance = 12 * mm
	b.makes = []toolpath.Hole{face}
	b.setup.Metal = append(b.setup.Metal, solid.Box{Low: at(3, -10, -10), High: at(20, 10, 6)})
	b.plunge(at(0, 0, 0), -mm)
	b.want("rim to the metal beside it", mm, OK, 3)

	b.setup.Metal[1] = solid.Cylinder{From: at(8, -10, 4), To: at(8, 10, 4), Radius: 55 * mm / 10} // from X 2.5
	b.want("rim to the metal beside it", 500*um, OK, 3)
}

// A face on a block 20 wide from -10 to 10: at Y 8 its rim is on the edge, at 9
// over it. Sunk by 1 it cleans up by 1.
func TestCleansUp(t *testing.T) {
	for _, c := range []struct {
		y, left measure.Length
		state   State
	}{{8, mm, OK}, {9, -2 * mm, Refused}} {
		b := newBoard(t)
		b.machine.Errors = noErrors
		b.makes = []toolpath.Hole{{At: at(0, c.y, 0), Diameter: 4 * mm, Shoulder: -mm, Tip: -mm}}
		b.plunge(at(0, c.y, 0), -mm)
		b.want("face cleans up", c.left, c.state, 3)
	}
}

// A spot drill starts on flat metal: on a block yes, half over its edge no, on
// a lying bar of radius 10 a mark of 4 falls away by 10 - sqrt(100 - 4) = 0.2020.
func TestFlatStart(t *testing.T) {
	name := "flat metal where the drill starts"
	mark := func(y, z measure.Length) *board {
		b := driller(t)
		b.tool.Kind, b.tool.Point = toolpath.SpotDrill, 2*mm
		b.makes = []toolpath.Hole{{At: at(0, y, z), Diameter: 4 * mm, Shoulder: z * mm, Tip: (z - 2) * mm}}
		b.plunge(at(0, y, z), (z-2)*mm)
		return b
	}
	mark(0, 0).want(name, 50*um, OK, 3)
	mark(9, 0).want(name, -2*mm, Refused, 3)
	own := mark(9, 0) // its own mark is no face to start on
	own.setup.Features = []toolpath.Feature{featureOf("mark", 1, own.makes[0])}
	own.want(name, -2*mm, Refused, 3)
	// On a standing bar of 10 the place 6, 6 lies 8.4852814 from the axis: the mark
	// reaches 0.4852814 over the skin, though its four sides do not.
	b := mark(6, 0)
	b.makes[0].At.X = 6 * mm
	b.steps = nil
	b.plunge(at(6, 6, 0), -2*mm)
	b.setup.Metal = []solid.Body{solid.Cylinder{From: at(0, 0, -10), To: at(0, 0, 0), Radius: 10 * mm}}
	b.want(name, -4_852_814, Refused, 3)
	b = mark(0, 0)
	b.setup.Metal = []solid.Body{solid.Cylinder{From: at(-20, 0, -10), To: at(20, 0, -10), Radius: 10 * mm}}
	v := b.verdict(name)
	if left := measure.Length(v.Planned); v.State != Refused || left < -1521*um/10 || left > -1520*um/10 {
		t.Errorf("on a bar %s left, want -0.1520 mm", left)
	}
	// On a face that an earlier cut has sunk there it starts flat.
	b = mark(0, -1)
	b.want(name, 50*um-mm, Refused, 3)
	b.setup.Features = []toolpath.Feature{featureOf("face", 0, toolpath.Hole{At: at(0, 0, 0), Diameter: 6 * mm, Shoulder: -mm, Tip: -mm})}
	b.want(name, 50*um, OK, 3)
	// In a face of 3, 1 deep, a mark of 2 leaves the point 4 wide at the face's top.
	b.makes = []toolpath.Hole{{At: at(0, 0, -1), Diameter: 2 * mm, Shoulder: -mm, Tip: -2 * mm}}
	b.steps = nil
	b.plunge(at(0, 0, 0), -2*mm)
	face := func(d measure.Length) {
		b.setup.Features = []toolpath.Feature{featureOf("face", 0, toolpath.Hole{At: at(0, 0, 0), Diameter: d * mm, Shoulder: -mm, Tip: -mm})}
	}
	face(3)
	b.want(name, 50*um-mm, Refused, 3)
	face(4)
	b.want(name, 50*um, OK, 3)
}

// Where metal ends beside a hole, over blanks of boxes and bars.
func TestToEdge(t *testing.T) {
	block := solid.Box{Low: at(-20, -10, -10), High: at(20, 10, 0)}
	for _, c := range []struct {
		what      string
		metal     []solid.Body
		x, y, tip measure.Length // micrometres
		want      measure.Length
	}{
		{"a block", []solid.Body{block}, 15000, 3000, -5000, 5 * mm},
		{"two blocks side by side", []solid.Body{block, solid.Box{Low: at(20, -10, -10), High: at(40, 10, 0)}}, 20000, 3000, -5000, 7 * mm},
		{"two blocks with a gap", []solid.Body{block, solid.Box{Low: at(21, -10, -10), High: at(40, 10, 0)}}, 18000, 0, -5000, 2 * mm},
		// An inner corner at 0, 0 stands 3, 4 away: 5, though the metal goes on along X and Y.
		{"an inner corner", []solid.Body{solid.Box{Low: at(-20, -20, -10), High: at(20, 0, 0)}, solid.Box{Low: at(-20, -20, -10), High: at(0, 20, 0)}}, -3000, -4000, -5000, 5 * mm},
		// A standing bar of radius 10 with the hole 3, 4 from its axis: 5 to the skin.
		{"a standing bar", []solid.Body{solid.Cylinder{From: at(0, 0, -10), To: at(0, 0, 0), Radius: 10 * mm}}, 3000, 4000, -5000, 5 * mm},
		// A lying bar of radius 10, faced down to 6 above its axis: 8 to each side.
		{"a lying bar", []solid.Body{solid.Cylinder{From: at(-20, 0, -6), To: at(20, 0, -6), Radius: 10 * mm}}, 0, 0, -5000, 8 * mm},
		// ... and its end is nearer than its side.
		{"a lying bar's end", []solid.Body{solid.Cylinder{From: at(-20, 0, -6), To: at(20, 0, -6), Radius: 10 * mm}}, 13000, 0, -5000, 7 * mm},
		// A plate 4 thick on a block that ends at X 0: 1 mm beside the hole the metal ends below.
		{"a step underneath", []solid.Body{solid.Box{Low: at(-20, -10, -10), High: at(0, 10, 0)}, solid.Box{Low: at(-20, -10, -4), High: at(20, 10, 0)}}, -1000, 0, -5000, mm},
		{"a step that is not reached", []solid.Body{solid.Box{Low: at(-20, -10, -10), High: at(0, 10, 0)}, solid.Box{Low: at(-20, -10, -4), High: at(20, 10, 0)}}, -1000, 0, -3000, 10 * mm},
		{"outside", []solid.Body{block}, 25000, 0, -5000, 0},
	} {
		j := New(&toolpath.Setup{Metal: c.metal}, newBoard(t).machine)
		if got, _ := j.toEdge(drilled(c.x, c.y, c.tip)); got != c.want {
			t.Errorf("%s: %s to the edge, want %s", c.what, got, c.want)
		}
	}
}

// A block and a bar as one blank: what is told is never more than the truth,
// which is found by looking at places all round.
func TestToEdgeIsNoMore(t *testing.T) {
	m := newBoard(t).machine
	rapid.Check(t, func(t *rapid.T) {
		coordinate := rapid.Int64Range(-12, 12)
		size := rapid.Int64Range(1, 12)
		var metal []solid.Body
		inside := func(x, y float64) bool {
			for _, b := range metal {
				switch b := b.(type) {
				case solid.Box:
					if float64(b.Low.X) <= x && x <= float64(b.High.X) && float64(b.Low.Y) <= y && y <= float64(b.High.Y) {
						return true
					}
				case solid.Cylinder:
					dx, dy, r := x-float64(b.From.X), y-float64(b.From.Y), float64(b.Radius)
					if dx*dx+dy*dy <= r*r {
						return true
					}
				}
			}
			return false
		}
		for range rapid.IntRange(1, 4).Draw(t, "pieces") {
			x, y := measure.Length(coordinate.Draw(t, "x")), measure.Length(coordinate.Draw(t, "y"))
			w, h := measure.Length(size.Draw(t, "w")), measure.Length(size.Draw(t, "h"))
			if rapid.Bool().Draw(t, "round") {
				metal = append(metal, solid.Cylinder{From: at(x, y, -10), To: at(x, y, 0), Radius: w * mm})
			} else {
				metal = append(metal, solid.Box{Low: at(x, y, -10), High: at(x+w, y+h, 0)})
			}
		}
		p := at(measure.Length(coordinate.Draw(t, "px")), measure.Length(coordinate.Draw(t, "py")), 0)
		j := New(&toolpath.Setup{Metal: metal}, m)
		d, _ := j.toEdge(toolpath.Hole{At: p, Diameter: mm, Shoulder: -5 * mm, Tip: -5 * mm})
		if d == 0 {
			return
		}
		// Every place nearer than d is metal.
		const n = 24
		for i := -n; i <= n; i++ {
			for k := -n; k <= n; k++ {
				x, y := float64(i)/n*float64(d), float64(k)/n*float64(d)
				if x*x+y*y < float64(d)*float64(d)*0.9999 && !inside(float64(p.X)+x, float64(p.Y)+y) {
					t.Fatalf("%s to the edge of %v from %v, but there is none at %v, %v off", d, metal, p, x, y)
				}
			}
		}
	})
}

// The metal under a tip, all over the hole's width.
func TestUnder(t *testing.T) {
	block := solid.Box{Low: at(-20, -10, -10), High: at(20, 10, 0)}
	bar := solid.Cylinder{From: at(-20, 0, -10), To: at(20, 0, -10), Radius: 10 * mm}
	for _, c := range []struct {
		what  string
		metal []solid.Body
		y     measure.Length // mm
		tip   measure.Length
		want  measure.Length
	}{
		{"a block", []solid.Body{block}, 0, -7000, 3 * mm},
		{"on another", []solid.Body{block, solid.Box{Low: at(-20, -10, -14), High: at(20, 10, -10)}}, 0, -7000, 7 * mm},
		{"with air between", []solid.Body{block, solid.Box{Low: at(-20, -10, -14), High: at(20, 10, -11)}}, 0, -7000, 3 * mm},
		{"half over a step", []solid.Body{block, solid.Box{Low: at(-20, 1, -14), High: at(20, 10, -10)}}, 0, -7000, 3 * mm},
		{"out of it", []solid.Body{block}, 0, -11000, -2 * mm},
		// Its rim 6 from a bar's axis, where the underside stands at -18.
		{"a lying bar", []solid.Body{bar}, 4, -15000, 3 * mm},
		// Its rim 8 from the axis of a standing bar of 10, its foot at -20.
		{"a standing bar", []solid.Body{solid.Cylinder{From: at(0, 0, -20), To: at(0, 0, 0), Radius: 10 * mm}}, 6, -15000, 5 * mm},
		{"through its skin", []solid.Body{solid.Cylinder{From: at(0, 0, -20), To: at(0, 0, 0), Radius: 10 * mm}}, 9, -15000, -2 * mm},
	} {
		j := New(&toolpath.Setup{Metal: c.metal}, newBoard(t).machine)
		if got := j.under(drilled(0, c.y*1000, c.tip)); got != c.want {
			t.Errorf("%s: %s under the hole, want %s", c.what, got, c.want)
		}
	}
}

// A cutter that does not cut to its centre goes down over a drilled hole, to
// where the drill's point begins; a tenth lower its centre rubs.
func TestCentreOverAHole(t *testing.T) {
	name := "no metal under the cutter's centre"
	draw := func(to measure.Length) Verdict {
		b := driller(t, drilled(0, 0, -5000))
		drill := b.tool
		b.plunge(at(0, 0, 0), -5*mm)
		face := newBoard(t)
		face.tool.CentreCut = false
		face.plunge(at(0, 0, 0), to)
		j := New(&b.setup, b.machine)
		j.Program("1", []toolpath.Operation{{Cut: 1, Name: "drill", Tool: drill, Makes: b.makes}}, &toolpath.Trace{Steps: b.steps})
		j.Program("2", []toolpath.Operation{{Cut: 2, Name: "face", Tool: face.tool}}, &toolpath.Trace{Steps: face.steps})
		for _, v := range j.Verdicts() {
			if v.Limit == name {
				return v
			}
		}
		t.Fatal("not met")
		return Verdict{}
	}
	if v := draw(-4 * mm); v.State != OK {
		t.Errorf("over a hole that is deep enough: %s", v.State)
	}
	if v := draw(-4*mm - 1); v.State != Refused {
		t.Errorf("into the drill's point: %s", v.State)
	}
}

// The touched face is the one whose height is set: on a blank of two steps
// only the upper one here.
func TestTouchesTheFaceThatIsSet(t *testing.T) {
	b := newBoard(t)
	b.setup.Metal = append(b.setup.Metal, solid.Box{Low: at(20, -10, -10), High: at(40, 10, -6)})
	b.setup.Touch = [2]measure.Length{30 * mm, 0}
	b.slot(3 * mm)
	if v := b.verdict("touching place"); v.State != Refused {
		t.Errorf("touching a face 6 below the one that is set: %s", v.State)
	}
	b.setup.Touch = [2]measure.Length{15 * mm, 7 * mm}
	b.want("touching place", 3*mm, OK, 4) // 3 to the edge, 5 to the cut
}

func BenchmarkHoles(b *testing.B) {
	for _, n := range []int{1000, 2000, 10_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			d := driller(b)
			d.setup.Metal = []solid.Body{solid.Box{Low: at(-5, -5, -10), High: at(1005, 1005, 0)}}
			for i := range measure.Length(n) {
				h := drilled(i%100*10_000, i/100*10_000, -5000)
				d.makes = append(d.makes, h)
				d.setup.Features = append(d.setup.Features, featureOf("these", 1, h))
				d.plunge(h.At, -5*mm)
			}
			b.ResetTimer()
			for range b.N {
				if vs := d.verdicts(); len(vs) == 0 {
					b.Fatal("nothing was met")
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*n), "us/hole")
		})
	}
}
