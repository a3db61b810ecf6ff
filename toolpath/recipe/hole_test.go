package recipe

import (
	"errors"
	"strings"
	"testing"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/form"
	"stopshort/toolpath/job"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

const (
	mm = measure.Millimetre
	um = measure.Micrometre
)

// planOf plans a job's text for a machine.
func planOf(t *testing.T, machine, text string) (*toolpath.Plan, error) {
	t.Helper()
	j, err := job.Read("x.toml", []byte(text), Tables())
	if err != nil {
		return nil, err
	}
	m, err := machines.Find(machine)
	if err != nil {
		t.Fatal(err)
	}
	return Plan(j, m, Options{})
}

// tools are a spot drill, M3's two drills and a slot drill.
const tools = `units = "mm"
material = "bronze"
[[tool]]
number = 1
kind = "spot drill"
diameter = 3
flute_length = 10
stick_out = 20
holder = 16
[[tool]]
number = 2
kind = "drill"
diameter = 2.5
flute_length = 26
stick_out = 28
holder = 16
[[tool]]
number = 3
kind = "slot drill"
diameter = 6
flute_length = 30
stick_out = 34
holder = 20
[[tool]]
number = 4
kind = "drill"
diameter = 3.4
flute_length = 30
stick_out = 34
holder = 16
`

const block = `[stock]
low = [-40, -20, -20]
size = [80, 40, 20]
`

const setup = `[[setup]]
zero = [0, 0, 0]
touch_at = [-35, -15]
`

// hole is a cut of clear holes 5 deep, with its places.
func hole(places string) string {
	return `[[setup.cut]]
recipe = "bolt holes"
screw = "M3"
hole = "clearance"
depth = 5
spot = 1
clear = 4
` + places + "\n"
}

// placesOf is where a plan's first operation makes its holes, in tenths of a
// nanometre.
func placesOf(t *testing.T, machine, text string) (out [][2]int64) {
	t.Helper()
	p, err := planOf(t, machine, text)
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range p.Setups[0].Operations[0].Makes {
		out = append(out, [2]int64{int64(h.At.X), int64(h.At.Y)})
	}
	return out
}

func TestPlaces(t *testing.T) {
	for _, c := range []struct {
		what, machine, places string
		want                  [][2]int64
	}{
		// The controller has 4 places of a millimetre: 1 000 tenths.
		{"points, nearest", "stepper-mill-mm", `points = [1.00004, 2.00006, -3, 4]`, [][2]int64{{10_000_000, 20_001_000}, {-30_000_000, 40_000_000}}},
		{"a row of three", "stepper-mill-mm", `row = [{ from = [0, 0], to = [10, -5], count = 3 }]`, [][2]int64{{0, 0}, {50_000_000, -25_000_000}, {100_000_000, -50_000_000}}},
		// A third of 10 is 3.3333 and two are 6.6667 to the nearest.
		{"thirds", "stepper-mill-mm", `row = [{ from = [0, 0], to = [10, 0], count = 4 }]`, [][2]int64{{0, 0}, {33_333_000, 0}, {66_667_000, 0}, {100_000_000, 0}}},
		{"a row and points", "stepper-mill-mm", `row = [{ from = [0, 0], to = [10, 0], count = 2 }]
points = [0, 9]`, [][2]int64{{0, 0}, {100_000_000, 0}, {0, 90_000_000}}},
		// 4 places of an inch are 25 400 tenths: 1 mm is 393.70 of them, so 394.
		{"millimetres on an inch machine", "stepper-mill-inch", `points = [1, 0]`, [][2]int64{{394 * 25_400, 0}}},
	} {
		got := placesOf(t, c.machine, tools+block+setup+hole(c.places))
		if len(got) != len(c.want) {
			t.Errorf("%s: %v, want %v", c.what, got, c.want)
			continue
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("%s: place %d is %v, want %v", c.what, i+1, got[i], c.want[i])
			}
		}
	}
}

// A pair keeps its pitch wherever the bore is: 0.06 um off the grid each hole for
// itself would go to the outside, and the pitch be 0.2 um too wide.
func TestPairKeepsItsPitch(t *testing.T) {
	bore := func(at string) string {
		return `[[bore]]
name = "b"
diameter = 10
along = "z"
at = [` + at + `]
`
	}
	pair := `pair = { bore = "b", apart = 32.5 }`
	for _, c := range []struct {
		at     string
		middle [2]int64
	}{
		{"0, 0", [2]int64{0, 0}},
		{"0.00004, 1", [2]int64{0, 10_000_000}},
		{"0.00006, 0", [2]int64{1000, 0}},
		{"-0.00006, 0", [2]int64{-1000, 0}},
	} {
		got := placesOf(t, "stepper-mill-mm", tools+block+bore(c.at)+setup+hole(pair))
		for i, side := range []int64{-162_500_000, 162_500_000} {
			if want := [2]int64{c.middle[0] + side, c.middle[1]}; got[i] != want {
				t.Errorf("bore at %s: hole %d at %v, want %v", c.at, i+1, got[i], want)
			}
		}
	}
	// Along Y, and aside.
	got := placesOf(t, "stepper-mill-mm", tools+block+bore("2, 0")+setup+hole(`pair = { bore = "b", apart = 20, along = "y", offset = -3 }`))
	for i, y := range []int64{-100_000_000, 100_000_000} {
		if want := [2]int64{-10_000_000, y}; got[i] != want {
			t.Errorf("along Y: hole %d at %v, want %v", i+1, got[i], want)
		}
	}
}

// The demo part's second set-up, by hand: the tapping drill of the lugs goes from -10.15
// to a tip of -24.10 in pecks of 2 D and then 1 D (the handbook's rule, chosen), each time up to 1 mm over the lug and down again to 0.25 mm short.
func TestPecks(t *testing.T) {
	j, err := job.Load("../../testdata/jobs/foot.toml", Tables())
	if err != nil {
		t.Fatal(err)
	}
	m, err := machines.Find("stepper-mill-mm")
	if err != nil {
		t.Fatal(err)
	}
	p, err := Plan(j, m, Options{})
	if err != nil {
		t.Fatal(err)
	}
	// 2.5 / 2 over the tangent of 59 degrees is 0.75107 (1.25 x 0.600861): on the grid the shoulder
	// stands no higher than -23.35 and the tip at -24.1011.
	want := []struct {
		kind toolpath.Motion
		z    measure.Length // micrometres and tenths of one
	}{
		{toolpath.Rapid, 50_000}, {toolpath.Rapid, -91_500},
		{toolpath.Line, -151_500}, {toolpath.Rapid, -91_500}, {toolpath.Rapid, -149_000},
		{toolpath.Line, -176_500}, {toolpath.Rapid, -91_500}, {toolpath.Rapid, -174_000},
		{toolpath.Line, -201_500}, {toolpath.Rapid, -91_500}, {toolpath.Rapid, -199_000},
		{toolpath.Line, -226_500}, {toolpath.Rapid, -91_500}, {toolpath.Rapid, -224_000},
		{toolpath.Line, -241_011}, {toolpath.Rapid, 50_000},
	}
	for _, op := range p.Setups[0].Operations {
		if op.Name != "lug screws, tapping drill" {
			continue
		}
		moves := op.Passes[0].Moves
		if len(moves) != len(want) {
			t.Fatalf("%d moves, want %d: %v", len(moves), len(want), moves)
		}
		for i, w := range want {
			if moves[i].Kind != w.kind || moves[i].To.Z != w.z*um/10 || moves[i].To.X != -1625*mm/100 || moves[i].To.Y != 0 {
				t.Errorf("move %d: %s to %v, want %s to Z %s", i+1, moves[i].Kind, moves[i].To, w.kind, w.z*um/10)
			}
		}
		return
	}
	t.Fatal("no tapping drill")
}

// A drill comes down by a rapid to 1 mm above the metal, but stays up where a
// clamp stands within 1 mm of it on the way, holder and all.
func TestDescend(t *testing.T) {
	for _, c := range []struct {
		what, clamp string
		z           measure.Length
	}{
		{"nothing beside it", "", mm},
		// The spot drill is 1.5 about its axis: the clamp begins 2.5 or 2.4 from it.
		{"a clamp just 1 mm beside it", "low = [2.5, -5, 0]\nsize = [5, 10, 4]", mm},
		{"a clamp 0.9 mm beside it", "low = [2.4, -5, 0]\nsize = [5, 10, 4]", 9 * mm},
		// The holder's nose, 8 about the axis, is 20 up: at 21 when the tip is at 1.
		{"a clamp just 1 mm under the nose", "low = [5, -5, 0]\nsize = [5, 10, 20]", mm},
		{"a clamp 0.9 mm under it", "low = [5, -5, 0]\nsize = [5, 10, 20.1]", 255 * mm / 10},
	} {
		text := tools + block + setup
		if c.clamp != "" {
			text += "[[setup.clamp]]\n" + c.clamp + "\n"
		}
		p, err := planOf(t, "stepper-mill-mm", text+hole("points = [0, 0]"))
		if err != nil {
			t.Fatal(err)
		}
		moves := p.Setups[0].Operations[0].Passes[0].Moves
		low := moves[0].To.Z
		for _, m := range moves {
			if m.Kind != toolpath.Rapid {
				break
			}
			low = m.To.Z
		}
		if low != c.z {
			t.Errorf("%s: comes down to %s by a rapid, want %s", c.what, low, c.z)
		}
	}
}

// Holes that start at different heights: the least under a head counts, and the
// least thread. One top at nought, the other at -9; the split at -9.5.
func TestScrewInEachHole(t *testing.T) {
	p, err := planOf(t, "stepper-mill-mm", tools+`[stock]
pieces = [{ low = [-40, -20, -20], size = [40, 40, 20] }, { low = [-1, -20, -20], size = [41, 40, 11] }]
`+setup+`[[setup.cut]]
recipe = "bolt holes"
screw = "M3"
hole = "split"
through = true
split_at = -9.5
spot = 1
drill = 2
clear = 4
screw_length = 18
points = [-20, 0, 20, 0]
`)
	if err != nil {
		t.Fatal(err)
	}
	for _, op := range p.Setups[0].Operations {
		if !strings.HasSuffix(op.Name, "tapping drill") {
			continue
		}
		s := op.Screw
		// Under the heads 9.5 and 0.5. The screws' ends at -18 and -27: 8.5 of
		// thread and all 10.5 of it; 2 to the underside, and 7 out of it.
		if s.Grip != mm/2 || s.Engages != 85*mm/10 || s.TipRoom != -7*mm {
			t.Errorf("grip %s, thread %s, room %s; want 0.5, 8.5, -7", s.Grip, s.Engages, s.TipRoom)
		}
		if s.LeastGrip.Value != 15*mm/10 {
			t.Errorf("least grip %s, want 1.5", s.LeastGrip.Value)
		}
		return
	}
	t.Fatal("no tapping drill")
}

// A split hole's thread that ends above the split would be drilled away.
func TestThreadUnderTheSplit(t *testing.T) {
	cut := func(depth string) string {
		return `[[setup.cut]]
recipe = "bolt holes"
screw = "M3"
hole = "split"
depth = ` + depth + `
split_at = -8
spot = 1
drill = 2
clear = 4
points = [0, 0]
`
	}
	if _, err := planOf(t, "stepper-mill-mm", tools+block+setup+cut("14")); err != nil {
		t.Error(err)
	}
	_, err := planOf(t, "stepper-mill-mm", tools+block+setup+cut("8"))
	var faults form.Faults
	if !errors.As(err, &faults) || !strings.Contains(err.Error(), "begin only under the split") {
		t.Errorf("a thread that ends at the split: %v", err)
	}
}

// The height to set is that of the face that is touched, not of the highest.
func TestTouchedFace(t *testing.T) {
	for _, c := range []struct {
		touch string
		top   measure.Length
	}{{"[-30, 0]", 0}, {"[30, 0]", -9 * mm}} {
		p, err := planOf(t, "stepper-mill-mm", tools+`[stock]
pieces = [{ low = [-40, -20, -20], size = [40, 40, 20] }, { low = [-1, -20, -20], size = [41, 40, 11] }]
[[setup]]
zero = [0, 0, 0]
touch_at = `+c.touch+"\n"+hole("points = [-20, 0]"))
		if err != nil {
			t.Fatal(err)
		}
		if got := p.Setups[0].Top; got != c.top {
			t.Errorf("touching at %s: the face is set to %s, want %s", c.touch, got, c.top)
		}
		said := strings.Join(p.Setups[0].Told(), "\n")
		if c.top != 0 && !strings.Contains(said, "set height -9.000 there") {
			t.Errorf("touching at %s: %s", c.touch, said)
		}
	}
}

// What an earlier set-up drilled stands in the later one: a hole of 3.4 to 5 below
// the top, then the part on its back.
func TestHolesCarriedOn(t *testing.T) {
	p, err := planOf(t, "stepper-mill-mm", tools+block+setup+hole("points = [10, 5]")+`[[setup]]
up = "-z"
right = "+x"
zero = [0, 0, -20]
touch_at = [-35, -15]
`+hole("points = [-10, 5]"))
	if err != nil {
		t.Fatal(err)
	}
	f := p.Setups[1].Features[len(p.Setups[0].Features)-1] // the clearance drill's, after the mark's
	// On its back Y runs the other way, and the old top is 20 down.
	c, ok := f.Bodies[0].(solid.Cylinder)
	if !ok || c.Radius != 17*mm/10 || c.To != (solid.Point{X: 10 * mm, Y: -5 * mm, Z: -20 * mm}) {
		t.Fatalf("carried on as %v", f.Bodies)
	}
	// 5 to the shoulder and 1.02146 of point (1.7 over the tangent of 59 degrees):
	// the tip was 6.0214 down, on the grid and no deeper.
	if tip := c.From.Z; tip != -139_786_000 {
		t.Errorf("its tip stands at %s, want -13.9786", tip)
	}
	if f.Axis == nil || f.Axis.X != 10*mm || f.Axis.Y != -5*mm {
		t.Errorf("its axis is %v", f.Axis)
	}
}
