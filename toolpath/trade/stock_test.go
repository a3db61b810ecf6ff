package trade

import (
	"strings"
	"testing"

	"stopshort/toolpath/measure"
)

func TestDrillNames(t *testing.T) {
	for text, want := range map[string]struct {
		name, sort string
		d          measure.Length
	}{
		"#29": {"#29", NumberDrill, 136 * measure.Thou}, "No. 29": {"#29", NumberDrill, 136 * measure.Thou}, "no 29": {"#29", NumberDrill, 136 * measure.Thou},
		"Number 29": {"#29", NumberDrill, 136 * measure.Thou}, "# 029": {"#29", NumberDrill, 136 * measure.Thou},
		"F": {"F", LetterDrill, 257 * measure.Thou}, "f": {"F", LetterDrill, 257 * measure.Thou}, "letter F": {"F", LetterDrill, 257 * measure.Thou},
		"7/64 in": {"7/64 in", FractionDrill, in * 7 / 64}, `7/64"`: {"7/64 in", FractionDrill, in * 7 / 64},
		"0.25 in": {"1/4 in", FractionDrill, in / 4}, "E": {"E", LetterDrill, in / 4},
		"3.3 mm": {"3.3 mm", MetricDrill, 3_300 * um}, "2.05 mm": {"2.05 mm", MetricDrill, 2_050 * um},
		"3.35 mm": {"3.35 mm", "", 3_350 * um}, "136 thou": {"#29", NumberDrill, 136 * measure.Thou}, "100 mm": {"100 mm", "", 100 * mm},
	} {
		d, err := DrillNamed(text)
		if err != nil || d.Name != want.name || d.Sort != want.sort || d.Diameter != want.d || (d.Source == "") != (want.sort == "") {
			t.Errorf("%q: %+v %v", text, d, err)
		}
	}
	for text, says := range map[string]string{
		"29": "29 may be the number drill #29, or 29 mm: write one of them", "#0": "#0 is no number drill: they go from #80 (0.3429 mm) to #1 (5.7912 mm)",
		"#81": "#81 is no number drill", "#9999": "#9999 is no number drill", "3.3": "has no unit", "7/64": "7/64 has no unit", "2,5 mm": "has a comma", "": "nothing is written",
		"AA": "does not begin with a number", "0 mm": "is no drill: write a diameter above nought, up to 100 mm", "-3 mm": "is no drill", "101 mm": "is no drill",
		"1/128 in": "has no exact half", "É": "is not read",
	} {
		if _, err := DrillNamed(text); err == nil || !strings.Contains(err.Error(), says) || strings.Contains(err.Error(), "the file") {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// "Drill size list": #30 is 0.1285, #28 0.1405 in; 3.4544 mm is #29.
func TestDrillsBeside(t *testing.T) {
	name := func(d *DrillSize) string {
		if d == nil {
			return "none"
		}
		return d.Name
	}
	for _, c := range []struct {
		of           measure.Length
		sort         string
		below, above string
	}{
		{136 * measure.Thou, NumberDrill, "#30", "#28"}, {136 * measure.Thou, LetterDrill, "none", "A"},
		{136 * measure.Thou, FractionDrill, "1/8 in", "9/64 in"}, {136 * measure.Thou, MetricDrill, "3.4 mm", "3.5 mm"},
		{in / 4, FractionDrill, "15/64 in", "17/64 in"}, {in / 4, "", "6.3 mm", "6.4 mm"}, {3 * mm, MetricDrill, "2.95 mm", "3.1 mm"},
		{20 * mm, NumberDrill, "#1", "none"}, {20 * mm, "", "13 mm", "none"}, {1, "", "none", "0.3 mm"}, {1, FractionDrill, "none", "1/64 in"},
	} {
		below, above := DrillsBeside(c.of, c.sort)
		if name(below) != c.below || name(above) != c.above {
			t.Errorf("%s, %q: %s and %s, want %s and %s", c.of, c.sort, name(below), name(above), c.below, c.above)
		}
	}
	for d, want := range map[measure.Length]string{in / 4: "1/4 in", 1: "0.3 mm", measure.Metre: "13 mm", 2_512 * um: "2.5 mm"} {
		if got := DrillNear(d); got.Name != want {
			t.Errorf("nearest to %s: %s, want %s", d, got.Name, want)
		}
	}
	if same := DrillsOf(in / 4); len(same) != 2 || same[0].Name != "1/4 in" || same[1].Name != "E" {
		t.Errorf("%+v", same)
	}
}

func TestStockIsInOrder(t *testing.T) {
	sorts := map[string]int{}
	last := measure.Length(0)
	for _, d := range stock().drills {
		if d.Diameter < last || d.Diameter%2 != 0 || d.Source == "" {
			t.Errorf("%+v", d)
		}
		last = d.Diameter
		sorts[d.Sort]++
		// Its own name finds a drill of its diameter.
		if again, err := DrillNamed(d.Name); err != nil || again.Diameter != d.Diameter {
			t.Errorf("%s: %+v %v", d.Name, again, err)
		}
	}
	// 0.3 to 3 by 0.05 is 55, 3.1 to 13 by 0.1 is 100.
	if sorts[NumberDrill] != 80 || sorts[LetterDrill] != 26 || sorts[FractionDrill] != 32 || sorts[MetricDrill] != 155 {
		t.Errorf("%v", sorts)
	}
}

func TestBadStockRows(t *testing.T) {
	const rest = "\nbasis = \"memory\"\nsource = \"none\"\n"
	for _, c := range []struct{ name, add, says string }{
		{"name twice", "[[drill]]\nsort = \"number\"\nname = \"#29\"\ndiameter = \"0.1 in\"" + rest, `"#29" is given already`},
		{"name of the other sort", "[[drill]]\nsort = \"letter\"\nname = \"#290\"\ndiameter = \"0.1 in\"" + rest, "is no name of a letter drill"},
		{"name that is none", "[[drill]]\nsort = \"number\"\nname = \"big\"\ndiameter = \"0.1 in\"" + rest, "is no name of a number drill"},
		{"steps that do not end", "[[steps]]\nsort = \"metric\"\nfrom = \"20 mm\"\nto = \"21 mm\"\nstep = \"0.3 mm\"" + rest, "is not a whole number of steps"},
		{"steps backwards", "[[steps]]\nsort = \"metric\"\nfrom = \"22 mm\"\nto = \"21 mm\"\nstep = \"0.5 mm\"" + rest, "is not a whole number of steps"},
		{"too many steps", "[[steps]]\nsort = \"metric\"\nfrom = \"20 mm\"\nto = \"100 mm\"\nstep = \"0.01 mm\"" + rest, "at most 1000"},
	} {
		_, err := readStock("rows.toml", append(append([]byte(nil), stockFile...), "\n"+c.add...))
		if err == nil || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), "rows.toml:") {
			t.Errorf("%s: want %q, got %v", c.name, c.says, err)
		}
	}
}

func FuzzDrillNamed(f *testing.F) {
	for _, s := range []string{"#29", "No. 7", "F", "letter z", "7/64 in", "2.5 mm", "29", "", "№ 8", "2,5", "\xff", "1 in + 3 mm", "#99999999999999999999", strings.Repeat("8", 200)} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d, err := DrillNamed(text)
		if err != nil {
			if s := err.Error(); strings.ContainsAny(s, "\n\x00") || len(s) > 1000 {
				t.Errorf("%q: message %q", text, s)
			}
			return
		}
		if d.Diameter <= 0 || d.Diameter > mostDrill || d.Diameter%2 != 0 || d.Name == "" {
			t.Fatalf("%q: %+v", text, d)
		}
		if again, err := DrillNamed(d.Name); err != nil || again.Diameter != d.Diameter {
			t.Errorf("%q: its name %q gives %+v, %v", text, d.Name, again, err)
		}
		below, above := DrillsBeside(d.Diameter, "")
		if below != nil && below.Diameter >= d.Diameter || above != nil && above.Diameter <= d.Diameter {
			t.Errorf("%q: %+v and %+v", text, below, above)
		}
	})
}
