package machines

import (
	"math/big"
	"testing"

	"github.com/BurntSushi/toml"

	"stopshort/toolpath/measure"
)

// Printed divisions, each on the circle of holes that the source takes, chosen from among
// its neighbours, which do not come out.
func TestPublishedDivisionsByPlate(t *testing.T) {
	var f struct {
		Division []struct {
			Ratio, Divisions, Turns, Spaces, Circle int64
			Tolerance                               *int64
			Source, Why                             string
		}
	}
	if _, err := toml.DecodeFile("../testdata/published/dividing.toml", &f); err != nil {
		t.Fatal(err)
	}
	if len(f.Division) < 10 {
		t.Errorf("%d divisions", len(f.Division))
	}
	for _, d := range f.Division {
		r := Rotary{Ratio: d.Ratio, Plates: []int64{d.Circle + 1, d.Circle, max(d.Circle-1, 1)}}
		circle, all, err := r.ByPlate(d.Divisions, 0)
		if err != nil || circle != d.Circle || d.Source == "" || d.Why == "" || d.Tolerance == nil {
			t.Fatalf("%+v: %d, %v", d, circle, err)
		}
		if got := all[1]; got.Turns != d.Turns || got.Spaces != d.Spaces || new(big.Rat).Abs(got.Off).Cmp(big.NewRat(*d.Tolerance, 1)) > 0 {
			t.Errorf("%s: %d to 1, %d divisions: %d turns + %d of %d, out by %s", d.Source, d.Ratio, d.Divisions, got.Turns, got.Spaces, circle, got.Off)
		}
	}
}

// An army course ("Angular indexing"): at 40 to 1, 54 minutes are 2 holes on 20, and 24
// minutes come nearest on a circle of 23, short by half a minute: one hole is 23.48
// minutes, so 31.3 seconds of arc short, which are 0.152 thou at an inch (by hand).
func TestNearestHole(t *testing.T) {
	_, all, err := Rotary{Ratio: 40, Plates: []int64{20}}.ByPlate(400, 0)
	if d := all[1]; err != nil || d.Turns != 0 || d.Spaces != 2 || d.Off.Sign() != 0 {
		t.Errorf("54 minutes: %+v, %v", d, err)
	}
	_, all, err = Rotary{Ratio: 40, Plates: []int64{23}}.ByPlate(900, 0)
	d := all[1]
	if err != nil || d.Turns != 0 || d.Spaces != 1 || d.Off.Cmp(big.NewRat(-313, 10)) > 0 || d.Off.Cmp(big.NewRat(-3131, 100)) < 0 {
		t.Errorf("24 minutes: %+v, %v", d, err)
	}
	if got := d.OffAt(measure.Inch).Format(measure.InThou, 3, measure.Nearest); got != "0.152" {
		t.Errorf("at an inch it is out by %s thou", got)
	}
}

// A circle that comes out is taken before one that does not, and of two the smaller;
// places are counted from zero, so that the last is out by no more than half a space.
func TestPlateThatIsTaken(t *testing.T) {
	r := Rotary{Ratio: 40, Least: 10 * measure.ArcSecond, Plates: []int64{20, 54, 27, 36}}
	if circle, all, err := r.ByPlate(27, 0); err != nil || circle != 27 || all[26].Turns != 38 || all[26].Spaces != 14 {
		t.Errorf("27 divisions on %d: %+v, %v", circle, all[26], err) // 26 x 40/27 = 38 14/27
	}
	circle, all, err := r.ByPlate(101, 5*measure.Degree)
	if err != nil {
		t.Fatal(err)
	}
	half := big.NewRat(9*3600, 2*circle)
	for k, d := range all {
		if new(big.Rat).Abs(d.Off).Cmp(half) > 0 {
			t.Errorf("place %d is out by %s seconds", k+1, d.Off.FloatString(1))
		}
	}
	dial, err := r.ByDial(7, 0)
	// 360/7 = 51 deg 25' 42.86": 5 turns of 9 deg and 6 deg 25' 40", 2.86" short.
	if d := dial[1]; err != nil || d.Turns != 5 || AngleText(d.Rest) != "6:25:40" || d.Off.FloatString(2) != "-2.86" {
		t.Errorf("a seventh: %+v, %v", d, err)
	}
	for _, n := range []int64{-1, 0, 1, 1001} {
		if _, err := r.ByDial(n, 0); err == nil {
			t.Errorf("%d divisions pass", n)
		}
	}
	if _, err := r.ByDial(6, measure.FullTurn); err == nil {
		t.Error("a start of a whole turn passes")
	}
	if _, _, err := (Rotary{Ratio: 40}).ByPlate(6, 0); err == nil {
		t.Error("plates that are not there pass")
	}
}
