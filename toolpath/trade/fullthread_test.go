package trade

import (
	"strings"
	"testing"

	"stopshort/toolpath/measure"
)

// Worked out by hand: the diameter less the drill, over the base.
func TestFullThread(t *testing.T) {
	for _, c := range []struct {
		thread string
		drill  string
		tough  bool
		want   int64
		says   string // of the refusal or the warning
	}{
		{"M3", "2.5 mm", false, 77, ""}, // 0.5 / 0.6495
		{"M3", "2.5 mm", true, 77, "over 75 per cent in tough metal"},
		{"M3", "2.6 mm", true, 62, ""},   // 0.4 / 0.6495
		{"4-40", "#43", false, 71, ""},   // 0.023 / 0.032475
		{"8BA", "1.8 mm", false, 78, ""}, // 0.4 / 0.516
		{"8BA", "1.75 mm", false, 87, "over 85 per cent"},
		{"5/32 x 40", "#30", false, 87, "over 85 per cent"}, // (3.96875 - 3.2639) / 0.81324
		{"12-24", "#12", true, 50, ""},                      // 0.027 / 0.054125
		{"3-56", "#43", true, 43, "under 45 per cent"},      // 0.010 / 0.0231964
		{"4BA", "#34", false, 99, "never over 95"},
		{"6BA", "#44", false, 97, "never over 95"},
		{"3/8 x 32", "Q", false, 107, "never over 95"},
		{"M6", "5.6 mm", false, 31, "never under 40"}, // 0.4 / 1.299
		{"M6", "6 mm", false, 0, "no thread is left"},
		{"M6", "8 mm", false, -154, "no thread is left"},
	} {
		d, err := DrillNamed(c.drill)
		if err != nil {
			t.Fatal(err)
		}
		f := named(t, c.thread).FullThread(d.Diameter, c.tough)
		says := f.Refused + f.Warning
		if f.Percent != c.want || (says == "") != (c.says == "") || !strings.Contains(says, c.says) {
			t.Errorf("%s with %s: %+v, want %d, %q", c.thread, c.drill, f, c.want, c.says)
		}
		if refused := strings.Contains(c.says, "never") || strings.Contains(c.says, "no thread"); refused != (f.Refused != "") {
			t.Errorf("%s with %s: refused %q", c.thread, c.drill, f.Refused)
		}
	}
}

// At the bounds themselves. A pitch of 1 mm has 1.299 mm for a hundred per cent,
// so 40 per cent is 0.5196 mm, exactly, and one step of the drill more is less.
func TestFullThreadBounds(t *testing.T) {
	m6 := named(t, "M6")
	for _, c := range []struct {
		deep          measure.Length // micrometres in tenths of a nanometre
		refused, warn bool
		text          string
	}{
		{5_196_000, false, true, "40 per cent"}, {5_195_998, true, false, "39.99998 per cent"},
		{5_845_500, false, false, "45 per cent"}, {5_845_498, false, true, "44.99998 per cent"},
		{9_742_500, false, false, "75 per cent"},
		{11_041_500, false, false, "85 per cent"}, {11_041_502, false, true, "85.00002 per cent"},
		{12_340_500, false, true, "95 per cent"}, {12_340_502, true, false, "95.00002 per cent"},
	} {
		f := m6.FullThread(m6.Major-c.deep, false)
		if (f.Refused != "") != c.refused || (f.Warning != "") != c.warn || f.Text != c.text {
			t.Errorf("%d: %+v, want %+v", c.deep, f, c)
		}
	}
	if f := m6.FullThread(m6.Major-9_742_500, true); f.Warning != "" {
		t.Errorf("75 per cent in tough metal: %+v", f)
	}
	if f := m6.FullThread(m6.Major-9_742_502, true); f.Warning == "" {
		t.Errorf("just over 75 per cent in tough metal: %+v", f)
	}
}

// None of the book's own usual drills warns; of those for tough metal one does,
// and is told.
func TestBooksOwnDrills(t *testing.T) {
	var warned []string
	for _, name := range threadNames() {
		th := named(t, name)
		if f := th.FullThread(th.Tap.Value, false); f.Warning+f.Refused != "" {
			t.Errorf("%s: %+v", name, f)
		}
		if th.TapTough != nil {
			f := th.FullThread(th.TapTough.Value, true)
			if f.Refused != "" || f.Warning != "" && !strings.Contains(f.Warning, "under 45") {
				t.Errorf("%s in tough metal: %+v", name, f)
			}
			if f.Warning != "" {
				warned = append(warned, name)
			}
		} else if f := th.FullThread(DrillNear(th.HoleFor(ToughAim())).Diameter, true); f.Warning+f.Refused != "" {
			t.Errorf("%s in tough metal, derived: %+v", name, f)
		}
		for _, clear := range []*measure.Figure[measure.Length]{th.ClearClose, th.ClearMedium, th.ClearFree} {
			if clear != nil && clear.Value <= th.Major {
				t.Errorf("%s: clearance %s", name, clear.Value)
			}
		}
		if th.Angle == 60*measure.Degree && th.Base.String() != "1.299" || th.Series == "BA" && th.Base.String() != "1.2" || th.Series == "ME" && th.Base.String() != "1.2807" {
			t.Errorf("%s: %s pitches", name, th.Base)
		}
	}
	if strings.Join(warned, ", ") != "3-56 UNF" {
		t.Errorf("warned: %q", warned)
	}
}

// The bounds for every thread of the book, a tenth of a per cent on either side of each,
// worked out in floating point from the share of the pitch that its form has: 1.299 for 60
// degrees, 1.2 for BA, 1.2807 for Whitworth form.
func TestFullThreadBoundsOfEveryThread(t *testing.T) {
	base := map[string]float64{"BA": 1.2, "ME": 1.2807}
	for _, name := range threadNames() {
		th := named(t, name)
		deep, ok := base[th.Series]
		if !ok {
			deep = 1.299
		}
		for _, c := range []struct {
			percent       float64
			refused       bool
			warned, tough bool // warned of in any metal, in tough metal
		}{
			{39.9, true, false, false}, {40.1, false, true, true}, {44.9, false, true, true}, {45.1, false, false, false},
			{74.9, false, false, false}, {75.1, false, false, true}, {84.9, false, false, true}, {85.1, false, true, true},
			{94.9, false, true, true}, {95.1, true, false, false},
		} {
			hole := th.Major - measure.Length(c.percent/100*deep*float64(th.Pitch))
			f, hard := th.FullThread(hole, false), th.FullThread(hole, true)
			if (f.Refused != "") != c.refused || (hard.Refused != "") != c.refused || (f.Warning != "") != c.warned || (hard.Warning != "") != c.tough {
				t.Errorf("%s at %v per cent: %+v, in tough metal %+v", name, c.percent, f, hard)
			}
		}
	}
}

// threadNames is the name of every thread that the handbook knows, by series.
func threadNames() (names []string) {
	for _, r := range threads().rows {
		names = append(names, r.name)
	}
	return names
}
