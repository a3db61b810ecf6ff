package plan

import (
	"errors"
	"testing"

	"pgregory.net/rapid"

	"stopshort/machines"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

func machine(t *testing.T, name string) Grid {
	t.Helper()
	m, err := machines.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return ForMachine(m)
}

// The number of passes, and that they are equal, by hand; figures that a division in
// floating point gets wrong by one.
func TestLevels(t *testing.T) {
	const mm, in = measure.Millimetre, measure.Inch
	for _, c := range []struct {
		depth, step measure.Length
		passes      int
		each        measure.Length // to the controller's 0.0001 mm
	}{
		{31 * mm / 10, mm, 4, 775 * mm / 1000},
		{in / 4, 60 * in / 1000, 5, 127 * mm / 100},
		{10 * mm, 25 * mm / 10, 4, 25 * mm / 10},
		{3 * mm / 10, mm / 10, 3, mm / 10},
		{255 * in / 1000, in / 100, 26, 249115 * mm / 1_000_000},
		{5959 * mm / 1000, 6 * mm / 10, 10, 5959 * mm / 10_000},
	} {
		l, err := machine(t, "stepper-mill-mm").Levels(0, -c.depth.Round(mm/10_000, measure.Floor), c.step)
		if err != nil {
			t.Fatal(err)
		}
		if len(l) != c.passes {
			t.Errorf("%s by %s: %d passes, want %d", c.depth, c.step, len(l), c.passes)
			continue
		}
		at := measure.Length(0)
		for i, z := range l {
			if off := (at - z - c.each).Abs(); off > mm/10_000 {
				t.Errorf("%s by %s: pass %d is %s, want %s", c.depth, c.step, i+1, at-z, c.each)
			}
			at = z
		}
	}
}

// On dials: 0.255 in by 0.010 in on lines of 0.001 in is 25 passes of 10 lines
// and one of 5 (common practice, no source); 0.252 in leaves 2 lines, which is
// under a quarter of a step, so that 252 lines are shared out over 26 passes.
func TestLevelsOnDials(t *testing.T) {
	g := machine(t, "dial-mill-inch")
	line := measure.Thou
	l, err := g.Levels(0, -255*line, 10*line)
	if err != nil || len(l) != 26 || l[24] != -250*line || l[25] != -255*line {
		t.Errorf("255 lines by 10: %v, %v", l, err)
	}
	l, err = g.Levels(0, -252*line, 10*line)
	if err != nil || len(l) != 26 || l[25] != -252*line {
		t.Fatalf("252 lines by 10: %v, %v", l, err)
	}
	at := measure.Length(0)
	for i, z := range l {
		if d := at - z; d != 9*line && d != 10*line {
			t.Errorf("252 lines by 10: pass %d takes %s, want 9 or 10 lines", i+1, d)
		}
		at = z
	}
	if _, err := g.Levels(0, -255*line, line/2); err == nil {
		t.Error("a step of half a line was taken")
	}
}

func TestTooManyPasses(t *testing.T) {
	_, err := machine(t, "stepper-mill-mm").Levels(0, -5959*measure.Micrometre, 10)
	var many TooManyPasses
	if !errors.As(err, &many) || many.Passes != 5_959_000 || many.Least != 6*measure.Micrometre {
		t.Errorf("a step of 1 nm for 5.959 mm: %v", err)
	}
}

// Whatever depth, step and machine: every level is on the grid, none is more
// than a step below the one before, the last is the floor, and one pass fewer
// would not do by more than the grid's rounding.
func TestLevelsHold(t *testing.T) {
	for _, name := range []string{"stepper-mill-mm", "dial-mill-inch", "dial-mill-mm", "knee-mill-inch", "lathe-slide-inch"} {
		g := machine(t, name)
		rapid.Check(t, func(t *rapid.T) {
			top := g.Round(solid.Z, measure.Length(rapid.Int64Range(0, 20_000_000).Draw(t, "top")), measure.Floor)
			depth := measure.Length(rapid.Int64Range(300_000, 400_000_000).Draw(t, "depth"))
			floor := g.Round(solid.Z, top-depth, measure.Floor)
			step := measure.Length(rapid.Int64Range(600_000, 60_000_000).Draw(t, "step"))
			l, err := g.Levels(top, floor, step)
			if err != nil {
				t.Skip(err)
			}
			if l[len(l)-1] != floor {
				t.Fatalf("the last level is %s, the floor %s", l[len(l)-1], floor)
			}
			at := top
			for i, z := range l {
				if at-z > step || at <= z {
					t.Fatalf("pass %d of %d takes %s, the step is %s", i+1, len(l), at-z, step)
				}
				if on := g.Round(solid.Z, z, measure.Nearest); (on - z).Abs() > 1 {
					t.Fatalf("%s is not on the grid", z)
				}
				at = z
			}
			if n := measure.Length(len(l)); (n-1)*(step-2*g.Step(solid.Z)) >= top-floor {
				t.Fatalf("%d passes of %s for %s: fewer would do", n, step, top-floor)
			}
		})
	}
}
