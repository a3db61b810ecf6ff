package recipe

import (
	"fmt"
	"strings"
	"testing"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/job"
	"stopshort/toolpath/measure"
)

// profileJob is a boss of 24 about a bore of 18, with what else is given; the stock
// reaches from -22, -14 to 22, 18 and is 12 thick.
type profileJob struct{ stock, tool, setup, cut, lugs string }

func (p profileJob) String() string {
	or := func(s, d string) string {
		if s == "" {
			return d
		}
		return s
	}
	return `units = "mm"
material = "bronze"
stock = ` + or(p.stock, `{ low = [-22, -14, -12], size = [44, 32, 12] }`) + `
[[bore]]
name = "b"
diameter = 18
along = "z"
at = [0, 0]
[[tool]]
number = 1
kind = "end mill"
flutes = 4
` + or(p.tool, "diameter = 6\nflute_length = 16\nstick_out = 30\nholder = 25") + `
[[setup]]
zero = [0, 0, 0]
touch_at = [0, 11]
` + p.setup + `
[[setup.cut]]
recipe = "profile"
tool = 1
bore = "b"
wall = 3
` + or(p.cut, "depth = 12.3") + "\n" + p.lugs
}

const twoLugs = `[[setup.cut.lug]]
towards = "+x"
reach = 21
across = 12
[[setup.cut.lug]]
towards = "-x"
reach = 21
across = 12
`

func profileOf(t *testing.T, p profileJob) toolpath.Operation {
	t.Helper()
	plan, err := planOf(t, "stepper-mill-mm", p.String())
	if err != nil {
		t.Fatal(err)
	}
	return plan.Setups[0].Operations[0]
}

// What holds the part itself: a stud through it, two studs, a clamp on it; not what
// holds the waste only, and not jaws, which let go of the part as it comes free.
func TestWhatHoldsThePart(t *testing.T) {
	const stud = `{ at = [0, 0], washer = 22, washer_top = 2, nut = 13, top = 9 }`
	for _, c := range []struct {
		what, setup, cut, stock string
		frees                   bool
		by                      int
	}{
		{"nothing", "", "", "", true, 0},
		{"a stud", "stud = [" + stud + "]", "", "", true, 1},
		{"two studs", "stud = [" + stud + ", { at = [16, 0], nut = 5, top = 9 }]", "", "", true, 2},
		{"a clamp on the boss", "clamp = [{ low = [-10, -6, 0], size = [20, 12, 8] }]", "", "", true, 2},
		{"a clamp over the bore alone", "clamp = [{ low = [-4, -6, 0], size = [8, 12, 8] }]", "", "", true, 0},
		{"a clamp above the boss", "clamp = [{ low = [-12, -6, 5], size = [24, 12, 8] }]", "", "", true, 0},
		{"a nut that falls into the bore", "stud = [{ at = [0, 0], nut = 13, top = 9 }]", "", "", true, 0},
		{"a clamp on the waste", "clamp = [{ low = [40, -6, 0], size = [9, 12, 8] }]", "", "{ low = [-22, -14, -12], size = [70, 32, 12] }", true, 0},
		{"a stud through the waste", "stud = [{ at = [42, 0], nut = 10, top = 9 }]", "", "{ low = [-22, -14, -12], size = [70, 32, 12] }", true, 0},
		{"jaws", "jaws = { along = \"y\", top = -11 }", "", "", true, 0},
		{"nothing, and a floor is left", "", "depth = 6", "", false, 0},
		{"nothing, and not quite through", "", "depth = 12", "", false, 0},
	} {
		op := profileOf(t, profileJob{setup: c.setup, cut: c.cut, stock: c.stock, lugs: twoLugs})
		if op.Frees != c.frees || op.HeldBy != c.by {
			t.Errorf("%s: frees %v, held by %d; want %v, %d", c.what, op.Frees, op.HeldBy, c.frees, c.by)
		}
	}
}

// Depths and passes of the demo part's first set-up, by hand: 13.0 in steps of 0.9525 at the most is
// 14 passes, each 13/14 = 0.92857, shallower by less than a step of the grid; then two
// finishing passes at the full depth, each of 0.1 and so under a fiftieth of 6.35.
func TestDemoPartsPasses(t *testing.T) {
	j, err := job.Load("../../testdata/jobs/clamp.toml", Tables())
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"stepper-mill-mm", "stepper-mill-inch"} {
		m, err := machines.Find(name)
		if err != nil {
			t.Fatal(err)
		}
		p, err := Plan(j, m, Options{})
		if err != nil {
			t.Fatal(err)
		}
		op, step := p.Setups[0].Operations[0], m.Units.Size()/10_000
		deepest := (13*mm + step - 1) / step * step // through: deeper
		if len(op.Passes) != 16 {
			t.Fatalf("%s: %d passes", name, len(op.Passes))
		}
		for k := range 14 {
			want := 13 * mm * measure.Length(k+1) / 14
			if d := op.Passes[k].Depth; d > want+step || d < want-step {
				t.Errorf("%s: pass %d is %s deep, want %s", name, k+1, d, want)
			}
		}
		for _, x := range op.Passes[13:] {
			if x.Depth != deepest {
				t.Errorf("%s: %s is %s deep, want %s", name, x.Name, x.Depth, deepest)
			}
		}
		for _, x := range op.Passes {
			rough := strings.HasPrefix(x.Name, "pass")
			high := measure.Length(0)
			for _, m := range x.Moves {
				high = max(high, m.To.X)
			}
			if rough && high < 264*mm/10 {
				t.Errorf("%s: %s comes no further than X %s, and the stock's end wants 26.4", name, x.Name, high)
			}
		}
	}
}

// Finishing passes take a fiftieth of the cutter's diameter each at the most: 0.12
// of 6 mm.
func TestFinishingPasses(t *testing.T) {
	for allowance, want := range map[string]int{"0": 0, "0.0001": 1, "0.12": 1, "0.1201": 2, "0.24": 2, "1": 9, "3": 25} {
		op := profileOf(t, profileJob{lugs: twoLugs, cut: "depth = 12.3\nallowance = " + allowance})
		n := 0
		for _, p := range op.Passes {
			if strings.HasPrefix(p.Name, "finish") {
				n++
			}
		}
		if n != want {
			t.Errorf("an allowance of %s: %d finishing passes, want %d", allowance, n, want)
		}
	}
}

// A disc sawn from bar of 1.560 in that is to be 1.500 in across has 0.030 in over
// on each side; 0.125 in of wall round a bore of 0.750 in is 1.000 in outside
// (common practice, no source).
func TestStockOverABoss(t *testing.T) {
	for _, c := range []struct{ bar, wall, outside, over string }{
		{"1.560 in", "0.375 in", "38.1 mm (1-1/2 in) outside", "0.762 mm (0.0300 in)"},
		{"1.060 in", "0.125 in", "25.4 mm (1 in) outside", "0.762 mm (0.0300 in)"},
	} {
		p := profileJob{stock: fmt.Sprintf(`{ diameter = %q, along = "z", ends = [-12, 0] }`, c.bar)}
		text := strings.NewReplacer("diameter = 18", `diameter = "0.750 in"`, "wall = 3", fmt.Sprintf("wall = %q", c.wall)).Replace(p.String())
		plan, err := planOf(t, "stepper-mill-mm", text)
		if err != nil {
			t.Fatal(err)
		}
		got := map[string]string{}
		for _, f := range plan.Setups[0].Operations[0].Facts {
			got[f.Name] = f.Value
		}
		if got["boss"] != c.outside || got["over"] != c.over {
			t.Errorf("a bar of %s: boss %s, over %s; want %s, %s", c.bar, got["boss"], got["over"], c.outside, c.over)
		}
	}
}

// The stock that a bar has over is counted to the outline's corners: a lug's corner 21
// by 6 from the middle is 21.8403 away (441 + 36 = 477).
func TestStockOverCorners(t *testing.T) {
	for diameter, holds := range map[string]bool{"43.6806": false, "43.681": true} {
		_, err := planOf(t, "stepper-mill-mm", profileJob{lugs: twoLugs,
			stock: `{ diameter = ` + diameter + `, along = "z", ends = [-12, 0] }`}.String())
		if holds != (err == nil) {
			t.Errorf("a bar of %s: %v", diameter, err)
		}
	}
}
