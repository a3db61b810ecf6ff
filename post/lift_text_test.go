package post_test

import (
	"math"
	"testing"

	"stopshort/machines"
	"stopshort/post"
	"stopshort/toolpath/job"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/recipe"
)

// The second method: the height map's own reader finds in each lifted text the
// moves of the cut, each raised by the lift and none aside, and nowhere lower
// than 1 mm over the stock.
func TestALiftedTextIsTheCutRaised(t *testing.T) {
	for _, c := range []struct {
		job, machine string
		lift         measure.Length
		by, top      float64 // mm; what the lift comes to on the machine's grid
	}{
		{"slot.toml", "stepper-mill-mm", 15 * measure.Millimetre, 15, 0},
		{"slot.toml", "stepper-mill-inch", 10 * measure.Millimetre, 0.3938 * 25.4, 0}, // 0.39370 in, upwards
		{"foot.toml", "stepper-mill-mm", 1*measure.Inch + measure.Inch/64, 25.7969, 0},
		{"link.toml", "stepper-mill-inch", measure.Inch, 25.4, 0},
		{"link.toml", "stepper-mill-mm", 20 * measure.Millimetre, 20, 0},
	} {
		j, err := job.Load("../testdata/jobs/"+c.job, recipe.Tables())
		if err != nil {
			t.Fatal(err)
		}
		m, err := machines.Find(c.machine)
		if err != nil {
			t.Fatal(err)
		}
		p, err := recipe.Plan(j, m, recipe.Options{})
		if err != nil {
			t.Fatal(err)
		}
		cut, err := post.Through(p, j.Stem, m)
		if err != nil {
			t.Fatal(err)
		}
		dry, err := post.ThroughLifted(p, j.Stem, m, c.lift)
		if err != nil {
			t.Fatal(err)
		}
		if bad := dry.Refused(); len(bad) > 0 {
			t.Errorf("%s on %s: refused: %s", c.job, c.machine, bad[0].Limit)
		}
		for i := range cut.Programs {
			want, got := strokesOf(t, cut.Programs[i]), strokesOf(t, dry.Programs[i])
			if len(want) == 0 || len(want) != len(got) {
				t.Fatalf("%s: %d moves, want %d", dry.Programs[i].Name, len(got), len(want))
			}
			for k, w := range want {
				g := got[k]
				near := g.motion == w.motion
				for a, by := range [3]float64{0, 0, c.by} {
					near = near && math.Abs(g.from[a]-w.from[a]-by) < 1e-9 && math.Abs(g.to[a]-w.to[a]-by) < 1e-9
				}
				if w.motion >= 2 {
					near = near && math.Hypot(g.centre[0]-w.centre[0], g.centre[1]-w.centre[1]) < 1e-9
				}
				if !near {
					t.Fatalf("%s, move %d: %v, want %v raised by %g", dry.Programs[i].Name, k, g, w, c.by)
				}
				if g.to[2] < c.top+1-1e-9 {
					t.Fatalf("%s, move %d: it comes down to %g", dry.Programs[i].Name, k, g.to[2])
				}
			}
		}
	}
}

func strokesOf(t *testing.T, p *post.Proven) (out []stroke) {
	t.Helper()
	if err := strokes(string(p.Text), -1000, func(s stroke) error { out = append(out, s); return nil }); err != nil {
		t.Fatalf("%s: %v", p.Name, err)
	}
	return out
}
