package trade

import (
	"strings"
	"testing"

	"stopshort/toolpath/measure"
)

// The speeds are an own choice, under "Circular saw speeds" and "Circular saw machine
// parameters"; 75 mm at 12 m/min is by hand 51 rpm to the nearest, 50 rounded down.
func TestSawing(t *testing.T) {
	for material, want := range map[string]measure.SurfaceSpeed{
		"mild steel": 12, "stainless": 8, "tool steel": 8, "cast iron": 12, "brass": 25, "gunmetal": 18, "aluminium": 60, "acetal": 60,
	} {
		s, err := Sawing(material)
		if err != nil || s.Surface.Value != want*mMin || s.Tooth.Value != 5*um || s.TeethInWork != 3 || s.KerfLow != 20*um || s.KerfHigh != 50*um {
			t.Errorf("%s: %+v %v", material, s, err)
		}
	}
	s, _ := Sawing("mild steel")
	if n := WholeTurns(SpindleSpeed(s.Surface.Value, 75*mm)); n != 50*measure.RPM {
		t.Errorf("75 mm: %s", n)
	}
	if _, err := Sawing("cheese"); err == nil || !strings.Contains(err.Error(), "is not in the handbook") {
		t.Error(err)
	}
}

func TestBadSawRows(t *testing.T) {
	cutting := book()
	const rest = "\nbasis = \"memory\"\nsource = \"none\"\n"
	for _, c := range []struct{ name, add, says string }{
		{"unknown material", "[[saw]]\nmaterial = \"tin\"\nspeed = \"1 m/min\"\nlow = \"1 m/min\"\nhigh = \"1 m/min\"" + rest, `"tin" has no row of its own`},
		{"material twice", "[[saw]]\nmaterial = \"brass\"\nspeed = \"1 m/min\"\nlow = \"1 m/min\"\nhigh = \"1 m/min\"" + rest, `"brass" is given already`},
		{"range the wrong way round", "[[saw]]\nmaterial = \"brass\"\nspeed = \"1 m/min\"\nlow = \"2 m/min\"\nhigh = \"1 m/min\"" + rest, "is above high"},
		{"two rules", "[[in_work]]\nteeth = 4" + rest, "there is one rule"},
	} {
		_, err := readSaws("rows.toml", append(append([]byte(nil), sawFile...), "\n"+c.add...), &cutting)
		if err == nil || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), "rows.toml:") {
			t.Errorf("%s: want %q, got %v", c.name, c.says, err)
		}
	}
	cutting.materials = append(append([]MaterialRow(nil), cutting.materials...), MaterialRow{Name: "tin"})
	if _, err := readSaws("rows.toml", sawFile, &cutting); err == nil || !strings.Contains(err.Error(), "tin has no row") {
		t.Error(err)
	}
}
