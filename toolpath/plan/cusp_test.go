package plan

import (
	"math"
	"testing"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
)

// The exact cusps of "Handbook facts", 9, worked there by hand and to four places.
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

// The ready check of a straight row ("Handbook facts", 9: r 3, step 0.5 gives 0.0104),
// on a circle of a kilometre, and the printed step table ("Slot/shoulder correction
// factors and step table": 6 mm cutter, 63 um wants 1.22; 16 mm, 125 um wants 2.82).
func TestCuspOfAStraightRow(t *testing.T) {
	for _, c := range []struct{ r, step, high, within float64 }{
		{3, 0.5, 0.0104, 0.00006}, {3, 1.22, 0.063, 0.0006}, {8, 2.82, 0.125, 0.0006}, {10, 4.44, 0.25, 0.0006},
	} {
		const work = 100_000 * measure.Millimetre
		r := measure.Length(c.r * float64(measure.Millimetre))
		half := measure.Length(c.step / 2 * float64(measure.Millimetre))
		p, q := outline.Point{X: -half, Y: work + r}, outline.Point{X: half, Y: work + r}
		got, ok := Cusp(outline.Point{}, p, q, r, work)
		if !ok || math.Abs(float64(got)/float64(measure.Millimetre)-c.high) > c.within {
			t.Errorf("%v: %s", c, got.MM())
		}
	}
	if _, ok := Cusp(outline.Point{}, outline.Point{X: -400, Y: 1000}, outline.Point{X: 400, Y: 1000}, 300, 700); ok {
		t.Error("two circles that do not meet leave a cusp")
	}
}
