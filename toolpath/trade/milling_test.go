package trade

import (
	"fmt"
	"strings"
	"testing"

	"stopshort/toolpath/measure"
)

// The starting figures, an own choice for a light mill by the sources in their rows:
// nobody published them. In m/min.
func TestSurfaceSpeeds(t *testing.T) {
	for material, want := range map[string][2]int{
		"bronze": {25, 50}, "brass": {40, 80}, "mild steel": {20, 50}, "aluminium": {60, 120},
	} {
		for i, stuff := range []string{"HSS", "carbide"} {
			c, err := Milling(material, stuff, 6*mm)
			if err != nil {
				t.Fatal(err)
			}
			if got := c.Surface; got.Value != measure.SurfaceSpeed(want[i])*mMin || got.From != measure.Handbook {
				t.Errorf("%s, %s: %+v, want %d m/min", material, stuff, got, want[i])
			}
			if says := fmt.Sprintf("%s, %s: %d m/min", material, stuff, want[i]); c.Surface.Source != says {
				t.Errorf("%q, want %q", c.Surface.Source, says)
			}
		}
	}
}

// The figures in thousandths of a millimetre, to the nearest, by hand from fractions of
// the diameter that were chosen so and held against "Carbide feed-per-tooth table
// 1-25 mm", "Solid carbide end-mill cutting data p.1301" and "End-mill feeds
// table".
func TestFeedPerTooth(t *testing.T) {
	diameters := []measure.Length{1, 2, 3, 4, 5, 6, 8, 10, 12, 16}
	for material, want := range map[string][]measure.Length{
		"mild steel": {3, 7, 10, 16, 20, 24, 32, 40, 48, 64},
		"brass":      {5, 10, 15, 20, 25, 30, 40, 50, 60, 80},
		"bronze":     {5, 10, 15, 20, 25, 30, 40, 50, 60, 80},
		"aluminium":  {5, 10, 15, 20, 33, 40, 53, 67, 80, 107},
	} {
		for i, d := range diameters {
			c, err := Milling(material, "HSS", d*mm)
			if err != nil {
				t.Fatal(err)
			}
			if got := c.PerTooth.Value.Round(um, measure.Nearest); got != want[i]*um {
				t.Errorf("%s, %d mm: %s, want %d thousandths", material, d, c.PerTooth.Value, want[i])
			}
		}
	}
}

// The published bounds themselves, so that no row is raised past them by a slip
// of the pen.
func TestFeedPerToothWithinPublished(t *testing.T) {
	for _, c := range []struct {
		source, material string
		d, least, most   measure.Length
	}{
		{"Milling speed tips (12 mm cutter, 663 rpm)", "mild steel", 12 * mm, 0, 60 * um},
		{"Solid carbide end-mill cutting data p.1301", "mild steel", 3 * mm, 0, 10 * um},
		{"Solid carbide end-mill cutting data p.1301", "mild steel", 6 * mm, 0, 40 * um},
		{"Solid carbide end-mill cutting data p.1301", "mild steel", 16 * mm, 0, 100 * um},
		{"Carbide feed-per-tooth table 1-25 mm", "mild steel", mm, 2 * um, 6 * um},
		{"Carbide feed-per-tooth table 1-25 mm", "bronze", mm, 2 * um, 6 * um},
		{"Carbide feed-per-tooth table 1-25 mm", "bronze", 4 * mm, 8 * um, 35 * um},
		{"Carbide feed-per-tooth table 1-25 mm", "brass", 8 * mm, 14 * um, 64 * um},
		{"Carbide feed-per-tooth table 1-25 mm", "aluminium", 2 * mm, 3 * um, 12 * um},
		{"End-mill feeds table", "aluminium", in / 4, 0, 51 * um},
		{"End-mill feeds table", "aluminium", in / 2, 0, 102 * um},
	} {
		got, err := Milling(c.material, "carbide", c.d)
		if err != nil {
			t.Fatal(err)
		}
		if f := got.PerTooth.Value; f < c.least || f > c.most {
			t.Errorf("%s: %s, %s: %s", c.source, c.material, c.d, f)
		}
	}
}

// By hand, from the fractions that were chosen. "Personal shop guide"
// and "Design tables, nominal tutorial speeds and feeds" bound a full slot by
// half the diameter; "Tabletop mill manual, depth/speed page" says 0.08 mm deep
// with 0.8 mm in steel breaks the cutter.
func TestStepDown(t *testing.T) {
	for _, c := range []struct {
		material string
		d, want  measure.Length
	}{
		{"mild steel", 4 * mm, 400 * um},
		{"mild steel", 2 * mm, 200 * um},
		{"mild steel", 1999 * um, 99_950 * um / 1000},
		{"mild steel", 800 * um, 40 * um},
		{"bronze", 4 * mm, 600 * um},
		{"brass", 4 * mm, 1 * mm},
		{"aluminium", 4 * mm, 1200 * um},
		{"aluminium", 1 * mm, 300 * um},
	} {
		got, err := Milling(c.material, "HSS", c.d)
		if err != nil {
			t.Fatal(err)
		}
		if got.StepDown.Value != c.want {
			t.Errorf("%s, %s: %s, want %s", c.material, c.d, got.StepDown.Value, c.want)
		}
	}
}

// Where the row changes: 3 mm is still the finer one in steel, 4 mm in
// aluminium.
func TestFeedChangesAfterItsBound(t *testing.T) {
	for _, c := range []struct {
		material string
		d        measure.Length
		says     string
	}{
		{"mild steel", 3 * mm, "D / 300"}, {"mild steel", 3*mm + 2, "D / 250"},
		{"aluminium", 4 * mm, "D / 200"}, {"aluminium", 4*mm + 2, "D / 150"},
		{"bronze", 500 * um, "D / 200, beyond the 1 mm to 16 mm of the published tables"},
		{"bronze", 20 * mm, "D / 200, beyond the 1 mm to 16 mm of the published tables"},
	} {
		got, err := Milling(c.material, "HSS", c.d)
		if err != nil {
			t.Fatal(err)
		}
		if want := c.material + ": " + c.says; got.PerTooth.Source != want {
			t.Errorf("%s: %q, want %q", c.d, got.PerTooth.Source, want)
		}
	}
}

func TestPublishedStandsBeside(t *testing.T) {
	got, err := Milling("Mild_Steel", "Carbide", 6*mm)
	if err != nil {
		t.Fatal(err)
	}
	want := "published 91 m/min to 230 m/min: Machine tool fundamentals student sheet; Solid carbide end-mill cutting data p.1301; Bench mill manual, HSS speeds; twice the speed of HSS is 42 to 74 m/min"
	if got.Published != want {
		t.Errorf("%q", got.Published)
	}
}

func TestMaterialNames(t *testing.T) {
	for name, want := range map[string]string{
		"bronze": "bronze", "Gunmetal": "bronze", " leaded  bronze": "bronze",
		"free-cutting brass": "brass", "FREE CUTTING BRASS": "brass",
		"mild-steel": "mild steel", "free-cutting mild steel": "free cutting steel", "free-cutting steel": "free cutting steel",
		"stainless steel": "stainless", "tool steel": "tool steel", "silver-steel": "tool steel", "grey cast iron": "cast iron",
		"manganese bronze": "phosphor bronze", "Phosphor Bronze": "phosphor bronze", "copper": "copper", "POM": "acetal",
		"aluminum": "aluminium", "aluminium alloy": "aluminium",
	} {
		if m, err := Material(name); err != nil || m.Name != want {
			t.Errorf("%q: %q %v", name, m.Name, err)
		}
	}
	const knows = "is not in the handbook: it knows bronze, brass, mild steel, aluminium, free cutting steel, stainless, tool steel, cast iron, phosphor bronze, copper and acetal"
	for name, says := range map[string]string{
		"alluminium": `"alluminium" ` + knows + "; did you mean aluminium?",
		"mild stel":  `"mild stel" ` + knows + "; did you mean mild steel?",
		"titanium":   `"titanium" ` + knows,
		"":           `"" ` + knows,
		"b":          `"b" ` + knows,
	} {
		if _, err := Material(name); err == nil || err.Error() != says {
			t.Errorf("%q: %v, want %s", name, err, says)
		}
	}
	// Harder sorts want less speed, so they must not be taken for the softer; a
	// name that fits several is asked back.
	if _, err := Material("Steel"); err == nil || err.Error() != `"Steel" fits mild steel, free cutting steel, stainless and tool steel: write one of them` {
		t.Error(err)
	}
	for _, name := range []string{"phosphor bronze", "aluminium bronze"} {
		if m, err := Material(name); err != nil || m.Name == "bronze" {
			t.Errorf("%q was taken for %s, %v", name, m.Name, err)
		}
	}
	for name, tough := range map[string]bool{"stainless": true, "tool steel": true, "brass": false, "mild steel": false} {
		if m, err := Material(name); err != nil || m.Tough != tough {
			t.Errorf("%s: tough %t, %v", name, m.Tough, err)
		}
	}
}

func TestMillingRefuses(t *testing.T) {
	for _, c := range []struct {
		material, madeOf string
		d                measure.Length
		says             string
	}{
		{"cheese", "HSS", mm, `"cheese" is not in the handbook`},
		{"brass", "stone", mm, `"stone" is no cutter that the handbook knows: write HSS or carbide`},
		{"brass", "", mm, "write HSS or carbide"},
		{"brass", "HSS", 0, "0 mm is no diameter of a cutter"},
		{"brass", "HSS", -mm, "-1 mm is no diameter of a cutter"},
	} {
		if _, err := Milling(c.material, c.madeOf, c.d); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q %q %s: %v", c.material, c.madeOf, c.d, err)
		}
	}
}
