package trade

import (
	"strings"
	"testing"

	"stopshort/toolpath/measure"
)

// Printed: "Carbide feed-per-tooth table 1-25 mm" has 0.012 to 0.054 mm at 6 mm and 0.008 to
// 0.035 at 4; "End-mill feeds table" has 0.001 in (0.0254 mm) at 1/8 and 3/16 in in copper
// alloys; "Solid carbide end-mill cutting data p.1301" 0.04 mm at 6 mm in steel and 0.02 in
// stainless at 5. Between two diameters the one below counts.
func TestToothPrinted(t *testing.T) {
	for _, c := range []struct {
		material  string
		d         measure.Length // micrometres
		low, high measure.Length // tenths of a micrometre
		tables    int
	}{
		{"gunmetal", 4000, 80, 350, 2}, {"bronze", 5999, 90, 440, 2}, {"mild steel", 6000, 120, 540, 2}, {"mild steel", 12_000, 190, 1000, 3},
		{"stainless", 5500, 90, 440, 2}, {"acetal", 16_000, 240, 2032, 2}, {"tool steel", 3000, 40, 190, 1}, {"brass", 1000, 20, 60, 1},
		{"brass", 999, 0, 0, 0}, {"cheese", 6000, 0, 0, 0},
	} {
		low, high, rows := ToothPrinted(c.material, c.d*um)
		if low != c.low*um/10 || high != c.high*um/10 || len(rows) != c.tables {
			t.Errorf("%s, %s: %s to %s by %d tables, want %+v", c.material, c.d*um, low, high, len(rows), c)
		}
	}
	if got := ToothSpan(12*um, 54*um); got != "0.012 to 0.054 mm" {
		t.Error(got)
	}
	if got := ToothSpan(20*um, 20*um) + ToothSpan(0, 0); got != "0.02 mm" {
		t.Error(got)
	}
}

// What is started with is within what is printed, for every material and every diameter
// of the catalogue.
func TestStartIsWithinPrinted(t *testing.T) {
	for _, m := range book().materials {
		for _, d := range []measure.Length{1, 2, 3, 4, 5, 6, 8, 10, 12, 16} {
			c, err := Milling(m.Name, "HSS", d*mm)
			if err != nil {
				t.Fatal(err)
			}
			low, high, _ := ToothPrinted(m.Name, d*mm)
			if f := c.PerTooth.Value; f < low || f > high {
				t.Errorf("%s, %d mm: %s, printed %s", m.Name, d, f, ToothSpan(low, high))
			}
		}
	}
}

func TestBadToothRows(t *testing.T) {
	cutting := book()
	for old, c := range map[string][2]string{
		"for    = \"stainless\"\nat     = \"3 mm\"":                   {"for    = \"cheese\"\nat     = \"3 mm\"", "has no row in cutting.toml"},
		"low    = \"0.002 mm\"":                                       {"low    = \"0.02 mm\"", "is above high"},
		"source = \"Milling speed tips (12 mm cutter, 663 rpm)\"\n":   {"source = \" \"\n", "nothing is said"},
		"at     = \"12 mm\"\nlow    = \"0.06 mm\"\nhigh   = \"0.065 ": {"at     = \"0 mm\"\nlow    = \"0.06 mm\"\nhigh   = \"0.065 ", "at"},
	} {
		if strings.Count(string(toothFile), old) != 1 {
			t.Fatalf("%q stands %d times", old, strings.Count(string(toothFile), old))
		}
		_, err := readTeeth("rows.toml", []byte(strings.Replace(string(toothFile), old, c[0], 1)), &cutting)
		if err == nil || !strings.Contains(err.Error(), c[1]) || !strings.Contains(err.Error(), "rows.toml:") {
			t.Errorf("want %q, got %v", c[1], err)
		}
	}
}
