package trade

import (
	"strings"
	"testing"

	"stopshort/toolpath/measure"
)

// "Thread depth guide".
func TestEngagement(t *testing.T) {
	for material, want := range map[string]measure.Ratio{
		"mild steel": {Num: 1, Den: 1}, "brass": {Num: 3, Den: 2}, "gunmetal": {Num: 3, Den: 2}, "aluminium": {Num: 2, Den: 1},
	} {
		got, err := Engagement(material)
		if err != nil || got.Value != want || !strings.Contains(got.Source, "Thread depth guide") {
			t.Errorf("%s: %+v %v", material, got, err)
		}
	}
	if _, err := Engagement("cheese"); err == nil || !strings.Contains(err.Error(), "is not in the handbook") {
		t.Error(err)
	}
}

// From memory: two to three pitches for a bottoming tap, five for a plug. In an
// 8BA hole (pitch 0.43 mm) that is 1.29 mm and 2.15 mm.
func TestRunOut(t *testing.T) {
	for tap, want := range map[string][2]measure.Length{"bottoming": {1290, 860}, "Plug": {2150, 2150}} {
		r, err := RunOutOf(tap)
		if err != nil {
			t.Fatal(err)
		}
		usual, least := r.Room(430 * um)
		if usual != want[0]*um || least != want[1]*um || r.Source != "from memory" {
			t.Errorf("%s: %s and %s, %+v", tap, usual, least, r)
		}
	}
	if _, err := RunOutOf("taper"); err == nil || err.Error() != `"taper" is no tap that the handbook knows: write bottoming or plug` {
		t.Error(err)
	}
}

// Chosen by "Aircraft edge distance" and "Tapped-hole edge distance": 1.5 and 1
// diameters.
func TestEdgeDistance(t *testing.T) {
	for d, want := range map[measure.Length][2]measure.Length{3000: {4500, 3000}, 2200: {3300, 2200}, 3400: {5100, 3400}} {
		e := EdgeDistance(d * um)
		if e.Warn.Value != want[0]*um || e.Stop.Value != want[1]*um {
			t.Errorf("%s: %s, %s", d*um, e.Warn.Value, e.Stop.Value)
		}
	}
	// "Design book, thread reliefs": 4-40 gives 0.131 in.
	if got := TappedEdge(112*measure.Thou, in/40); got.Value != 131*measure.Thou || !strings.Contains(got.Source, "(Design book, thread reliefs)") {
		t.Errorf("%+v", got)
	}
	// By hand: 8BA is 1.1 mm and three times 0.43 mm.
	if got := TappedEdge(2200*um, 430*um).Value; got != 2390*um {
		t.Errorf("8BA: %s, want 2.39 mm", got)
	}
}

// From memory: 0.5 mm or a tenth of the diameter.
func TestBreakThrough(t *testing.T) {
	for d, want := range map[measure.Length]measure.Length{1: 500, 2: 500, 5: 500, 6: 600, 12: 1200} {
		if got := BreakThrough(d * mm); got.Value != want*um || got.From != measure.Handbook {
			t.Errorf("%s: %+v, want %s", d*mm, got, want*um)
		}
	}
}

func TestBadDrillingRows(t *testing.T) {
	cutting := book()
	const rest = "\nbasis = \"memory\"\nsource = \"none\"\n"
	for _, c := range []struct{ name, add, says string }{
		{"unknown material", "[[engagement]]\nmaterial = \"tin\"\nof_major = 1" + rest, `"tin" has no row of its own`},
		{"material twice", "[[engagement]]\nmaterial = \"brass\"\nof_major = 1" + rest, `"brass" is given already`},
		{"row that is never reached", "[[feed]]\nmaterial = \"brass\"\nfraction = \"1/90\"" + rest, "write the smaller diameters first"},
		{"band out of order", "[[band]]\nunder = \"1/2 in\"\nlow = \"1 thou\"\nhigh = \"2 thou\"" + rest, "write the smaller diameters first"},
		{"band the wrong way round", "[[band]]\nunder = \"2 in\"\nlow = \"3 thou\"\nhigh = \"2 thou\"" + rest, "is above high"},
		{"speed the wrong way round", "[[surface]]\nmaterial = \"brass\"\nlow = \"30 m/min\"\nhigh = \"20 m/min\"" + rest, "is above high"},
		{"two rules for edges", "[[edge]]\nwarn = 2\nstop = 1" + rest, "there is one rule"},
		{"told below what is refused", "[[edge]]\nwarn = 1\nstop = 2" + rest, "is less than stop"},
		{"two rules for tapped holes", "[[tapped_edge]]\npitches = 2" + rest, "there is one rule"},
		{"two rules for through holes", "[[break_through]]\nleast = \"1 mm\"\nof_drill = 1" + rest, "there is one rule"},
		{"point twice", "[[point]]\nkind = \"Spot-drill\"\nincluded = \"120 deg\"" + rest, `"spot drill" is given already`},
		{"tap twice", "[[run_out]]\ntap = \"plug\"\nleast = 1\nusual = 2" + rest, `"plug" is given already`},
		{"run-out the wrong way round", "[[run_out]]\ntap = \"taper\"\nleast = 9\nusual = 8" + rest, "is less than least"},
		{"first peck too deep", "[[peck]]\nmaterial = \"brass\"\nnone_to = 3\nfirst = 4\nthen = 1\nthen_to = 6\nlast = \"1/2\"" + rest, "a hole that deep would go without"},
		{"first peck beyond the next", "[[peck]]\nmaterial = \"brass\"\nnone_to = 3\nfirst = 2\nthen = 1\nthen_to = 1\nlast = \"1/2\"" + rest, "is less than first"},
	} {
		_, err := readDrills("rows.toml", append(append([]byte(nil), drillingFile...), "\n"+c.add...), &cutting)
		if err == nil || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), "rows.toml:") {
			t.Errorf("%s: want %q, got %v", c.name, c.says, err)
		}
	}
	// A material that is added to cutting.toml must be added here.
	cutting.materials = append(append([]MaterialRow(nil), cutting.materials...), MaterialRow{Name: "tin"})
	_, err := readDrills("rows.toml", drillingFile, &cutting)
	for _, says := range []string{"surface: tin has no row", "peck: tin has no row", "engagement: tin has no row", "feed: tin has no row for every diameter"} {
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("want %q, got %v", says, err)
		}
	}
}
