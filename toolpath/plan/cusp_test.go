package plan

import (
	"math"
	"testing"

	"github.com/BurntSushi/toml"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
)

// The exact cusps of a nibbled circle, by hand from the places' geometry (no printed one
// was found), to four places.
func TestCuspsOfTheTable(t *testing.T) {
	for _, c := range []struct {
		work, r         float64
		n               int
		outside, inside float64
	}{
		{20, 3, 72, 0.1508, 0.1093},
		{20, 3, 120, 0.0532, 0.0390},
		{10, 5, 72, 0.0287, 0.0095},
		{25, 6, 90, 0.0795, 0.0483},
	} {
		mm := func(v float64) measure.Length { return measure.Length(math.Round(v * float64(measure.Millimetre))) }
		at := func(radius float64, k int) outline.Point {
			a := 2*math.Pi*float64(k)/float64(c.n) + 0.3
			return outline.Point{X: mm(radius*math.Cos(a)) + 7, Y: mm(radius*math.Sin(a)) - 11}
		}
		centre := outline.Point{X: 7, Y: -11}
		out, ok := Cusp(centre, at(c.work+c.r, 0), at(c.work+c.r, 1), mm(c.r), mm(c.work))
		if !ok || math.Abs(float64(out)/float64(measure.Millimetre)-c.outside) > 0.00006 {
			t.Errorf("outside, %v: %s, want %v", c, out.MM(), c.outside)
		}
		in, ok := CuspInside(centre, at(c.work-c.r, 0), at(c.work-c.r, 1), mm(c.r), mm(c.work))
		if !ok || math.Abs(float64(in)/float64(measure.Millimetre)-c.inside) > 0.00006 {
			t.Errorf("inside, %v: %s, want %v", c, in.MM(), c.inside)
		}
	}
}

// The printed steps of a straight row, on a circle of a hundred metres, whose bow is
// nothing beside a hundredth of a millimetre of step.
func TestPublishedCusps(t *testing.T) {
	var f struct {
		Cusp []struct {
			Cutter, Micrometres, Step, Tolerance float64
			Source, Why                          string
		}
	}
	if _, err := toml.DecodeFile("../../testdata/published/cusps.toml", &f); err != nil {
		t.Fatal(err)
	}
	if len(f.Cusp) < 9 {
		t.Errorf("%d cusps", len(f.Cusp))
	}
	for _, c := range f.Cusp {
		low, high := inARow(t, c.Cutter/2, c.Step-c.Tolerance), inARow(t, c.Cutter/2, c.Step+c.Tolerance)
		if want := c.Micrometres / 1000; low > want || want > high || c.Tolerance <= 0 || c.Source == "" || c.Why == "" {
			t.Errorf("%s: %v mm cutter, step %v: %.4f to %.4f, printed %v", c.Source, c.Cutter, c.Step, low, high, want)
		}
	}
	// By hand: r 3, step 0.5 gives 3 - sqrt(9 - 0.0625), 0.0104.
	if got := inARow(t, 3, 0.5); math.Abs(got-0.0104) > 0.00006 {
		t.Errorf("r 3, step 0.5: %v", got)
	}
	if _, ok := Cusp(outline.Point{}, outline.Point{X: -400, Y: 1000}, outline.Point{X: 400, Y: 1000}, 300, 700); ok {
		t.Error("two circles that do not meet leave a cusp")
	}
}

// inARow is the cusp between two places of a straight row, in millimetres.
func inARow(t *testing.T, radius, step float64) float64 {
	t.Helper()
	const work = 100_000 * measure.Millimetre
	r := measure.Length(math.Round(radius * float64(measure.Millimetre)))
	half := measure.Length(math.Round(step / 2 * float64(measure.Millimetre)))
	got, ok := Cusp(outline.Point{}, outline.Point{X: -half, Y: work + r}, outline.Point{X: half, Y: work + r}, r, work)
	if !ok {
		t.Fatal("they do not meet")
	}
	return float64(got) / float64(measure.Millimetre)
}
