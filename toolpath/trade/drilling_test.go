package trade

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stopshort/toolpath/measure"
)

func drilling(t *testing.T, material string, d measure.Length) Drill {
	t.Helper()
	got, err := Drilling(material, "HSS", d)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// The feed a turn, chosen under "Navy engine-mechanics course, drilling" and "Drill-press
// manual": D/80 and D/75 worked by hand, in tenths of a micrometre.
func TestDrillFeedPerTurn(t *testing.T) {
	for d, want := range map[measure.Length]measure.Length{ // in micrometres
		1000: 125, 1800: 225, 2000: 250, 2500: 312, 3000: 375, 3400: 425, 6000: 750, 7900: 987, 8000: 1066, 12000: 1600,
	} {
		for _, material := range []string{"mild steel", "brass", "bronze", "aluminium"} {
			if got := drilling(t, material, d*um).PerRev.Value.Round(um/10, measure.Floor); got != want*um/10 {
				t.Errorf("%s, %s: %s, want %s", material, d*um, got, want*um/10)
			}
		}
	}
}

// "Navy engine-mechanics course, drilling" and "Drill-press manual": thousandths
// of an inch a turn. Ours is never above what is printed, and within it for the
// larger drills of each band.
func TestDrillFeedWithinPublished(t *testing.T) {
	for _, c := range []struct {
		under     measure.Length // of the band
		low, high measure.Length // thou
		within    []measure.Length
	}{
		{in / 8, 1, 2, []measure.Length{2100 * um, 3 * mm}},
		{in / 4, 2, 4, []measure.Length{4100 * um, 5 * mm, 6 * mm}},
		{in / 2, 4, 7, []measure.Length{8 * mm, 10 * mm, 12 * mm}},
	} {
		for d := c.under / 2; d < c.under; d += c.under / 50 {
			if got := drilling(t, "brass", d).PerRev.Value; got > c.high*measure.Thou {
				t.Errorf("%s: %s, printed at most %d thou", d, got, c.high)
			}
		}
		for _, d := range c.within {
			if got := drilling(t, "brass", d).PerRev.Value; got < c.low*measure.Thou || got > c.high*measure.Thou {
				t.Errorf("%s: %s, printed %d to %d thou", d, got, c.low, c.high)
			}
		}
	}
	// "Design tables, nominal tutorial speeds and feeds" at 6 mm is for heavy
	// machines: 0.20 mm in steel, 0.30 mm in aluminium. Ours is under half.
	if got := drilling(t, "mild steel", 6*mm).PerRev.Value; got >= 100*um {
		t.Errorf("6 mm in steel: %s", got)
	}
}

// The figures chosen for milling with HSS, used for drilling; none is above what "Navy
// engine-mechanics course, drilling" prints.
func TestDrillSurfaceSpeed(t *testing.T) {
	for material, want := range map[string][2]measure.SurfaceSpeed{ // m/min; printed at most, ft/min
		"bronze": {25, 300}, "brass": {40, 300}, "mild steel": {20, 110}, "aluminium": {60, 300},
	} {
		for _, madeOf := range []string{"HSS", "carbide"} {
			got, err := Drilling(material, madeOf, 3*mm)
			if err != nil {
				t.Fatal(err)
			}
			if s := got.Surface; s.Value != want[0]*mMin || s.Value > want[1]*ftMn || !strings.HasSuffix(s.Source, "milling's figure for HSS") {
				t.Errorf("%s, %s: %+v, want %d m/min", material, madeOf, s, want[0])
			}
		}
	}
}

func TestDrillSaysWhereFrom(t *testing.T) {
	d := drilling(t, "Gunmetal", 2500*um)
	for got, want := range map[string]string{
		d.Surface.Source: "bronze: 25 m/min, milling's figure for HSS",
		d.PerRev.Source:  "bronze: D / 80",
		d.Published:      "published for drilling with HSS 60.96 m/min to 91.44 m/min: Navy engine-mechanics course, drilling; Drill-press manual (ordinary bronze; high-tensile 70 to 150 ft/min); 0.0254 mm to 0.0508 mm a turn under 3.175 mm: Navy engine-mechanics course, drilling; Drill-press manual",
		drilling(t, "brass", 900*um).PerRev.Source: "brass: D / 80, beyond the 1 mm to 12 mm that it was fitted to",
		drilling(t, "brass", 30*mm).PerRev.Source:  "brass: D / 75, beyond the 1 mm to 12 mm that it was fitted to",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	for _, c := range []struct {
		material, madeOf string
		d                measure.Length
		says             string
	}{
		{"cheese", "HSS", mm, "is not in the handbook"}, {"brass", "stone", mm, "write HSS or carbide"}, {"brass", "HSS", 0, "it must be more than nought"},
	} {
		if _, err := Drilling(c.material, c.madeOf, c.d); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v: %v", c, err)
		}
	}
}

// By hand: 2.5 mm at 0.03125 mm a turn and 1200 rpm is 37.5 mm/min; three units
// a turn at half a turn a minute is one and a half.
func TestDrillFeed(t *testing.T) {
	if got := DrillFeed(drilling(t, "bronze", 2500*um).PerRev.Value, 1200*measure.RPM); got != 37_500*measure.Feed(um) {
		t.Errorf("%s, want 37.5 mm/min", got)
	}
	if got := DrillFeed(3, measure.RPM/2); got != 1 {
		t.Errorf("%d, want 1", got)
	}
	if got := DrillFeed(0, measure.RPM); got != 0 {
		t.Errorf("%d, want nought", got)
	}
}

// By hand from the rule that was chosen: none to 3 D; else 2 D, then 1 D to 6 D,
// then 0.5 D. Deep-hole rules begin at 3 D in "Metal drilling reference guide"
// and "Peck drilling technical tip"; bad materials at 2 D in "Deep-hole article".
func TestPecks(t *testing.T) {
	for _, c := range []struct {
		name     string
		depth, d measure.Length
		material string
		want     []measure.Length // thousandths of a millimetre
	}{
		{"float-arm clamp, 12.7 mm through", 12_700, 2_500, "bronze", []measure.Length{5000, 7500, 10000, 12500, 12700}},
		{"3 D", 6_000, 2_000, "brass", []measure.Length{6000}},
		{"3 D and a little", 6_001, 2_000, "brass", []measure.Length{4000, 6000, 6001}},
		{"4 D", 8_000, 2_000, "mild steel", []measure.Length{4000, 6000, 8000}},
		{"6 D", 12_000, 2_000, "mild steel", []measure.Length{4000, 6000, 8000, 10000, 12000}},
		{"8 D", 16_000, 2_000, "brass", []measure.Length{4000, 6000, 8000, 10000, 12000, 13000, 14000, 15000, 16000}},
		{"aluminium, 2 D", 4_000, 2_000, "aluminium", []measure.Length{4000}},
		{"aluminium, 2.5 D", 5_000, 2_000, "aluminum", []measure.Length{4000, 5000}},
		{"brass, 2.5 D", 5_000, 2_000, "brass", []measure.Length{5000}},
		{"unknown, as the one that starts soonest", 5_000, 2_000, "cheese", []measure.Length{4000, 5000}},
		{"1 D", 2_000, 2_000, "brass", []measure.Length{2000}},
		{"shallow", 100, 2_000, "brass", []measure.Length{100}},
		{"no hole", 0, 2_000, "brass", nil},
		{"above the metal", -1, 2_000, "brass", nil},
		{"no drill", 5_000, 0, "brass", []measure.Length{5000}},
	} {
		var got []measure.Length
		for _, p := range Pecks(c.depth*um, c.d*um, c.material) {
			if p%um != 0 {
				t.Errorf("%s: %d", c.name, p)
			}
			got = append(got, p/um)
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
}

func TestPecksGoDown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		depth := measure.Length(rapid.Int64Range(1, int64(measure.MaxLength)).Draw(t, "depth"))
		d := measure.Length(rapid.Int64Range(1, int64(measure.MaxLength)).Draw(t, "diameter"))
		if rapid.Bool().Draw(t, "near") {
			depth = min(depth, 40*d)
		}
		material := rapid.SampledFrom([]string{"brass", "aluminium", ""}).Draw(t, "material")
		pecks := Pecks(depth, d, material)
		last := measure.Length(0)
		for i, p := range pecks {
			if p <= last {
				t.Fatalf("peck %d goes to %d after %d", i+1, p, last)
			}
			// A peck takes at most 2 D, where it is no hole that gets none.
			if len(pecks) > 1 && depth <= 400*d && p-last > 2*d {
				t.Fatalf("peck %d takes %d of %d", i+1, p-last, d)
			}
			last = p
		}
		if last != depth || len(pecks) > 1010 {
			t.Fatalf("%d pecks, the last to %d of %d", len(pecks), last, depth)
		}
	})
}

func TestPeckRule(t *testing.T) {
	got, err := PeckRule("Gunmetal")
	if want := "bronze: no pecks to 3 D; else first to 2 D, then 1 D each to 6 D, then 0.5 D (chosen by Peck drilling technical tip; Metal drilling reference guide; Deep-hole drilling)"; err != nil || got != want {
		t.Errorf("%q %v", got, err)
	}
	if _, err := PeckRule("cheese"); err == nil {
		t.Error("cheese has a rule")
	}
}

// "NISTIR 6556" has 0.010 in (0.254 mm).
func TestPeckGap(t *testing.T) {
	if g := PeckGap(); g.Value != 250*um || g.Value > 10*measure.Thou || !strings.Contains(g.Source, "NISTIR 6556") {
		t.Errorf("%+v", g)
	}
}
