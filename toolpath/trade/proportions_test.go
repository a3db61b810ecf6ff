package trade

import (
	"strings"
	"testing"

	"stopshort/toolpath/measure"
)

// By hand: a slot of 3 mm is told past 6, cleared past 9, refused past 12.
// A mishap of small workshops: 8.5 mm deep is warned of and 19 mm
// refused.
func TestSlotDepths(t *testing.T) {
	s := SlotDepths(3 * mm)
	if s.Warn.Value != 6*mm || s.Clear.Value != 9*mm || s.Stop.Value != 12*mm || s.Stop.From != measure.Handbook || !strings.Contains(s.Stop.Source, "4 D of its cutter (common practice, no source)") {
		t.Errorf("%+v", s)
	}
	if d := 8_500 * um; d <= s.Warn.Value || d > s.Stop.Value {
		t.Error("8.5 mm is not warned of")
	}
}

// By hand. "Minimum thread depth": one diameter or five threads; the diameter is
// more in M3 (3 and 2.5 mm), the threads in 16BA, which
// has 0.79 and 0.95 mm.
func TestProportions(t *testing.T) {
	for i, c := range []struct{ got, want measure.Length }{
		{StickOut(2 * mm).Value, 30 * mm},
		{Oversize(2 * mm).Value, 50 * um}, {Oversize(5 * mm).Value, 100 * um}, {Oversize(2_500 * um).Value, 50 * um},
		{named(t, "M3").LeastThread().Value, 3 * mm}, {named(t, "16BA").LeastThread().Value, 950 * um},
	} {
		if c.got != c.want {
			t.Errorf("%d: %s, want %s", i, c.got, c.want)
		}
	}
	if s := named(t, "M3").LeastThread().Source; s != "thread at least: 1 D or 5 threads, the greater (Minimum thread depth)" {
		t.Error(s)
	}
}

func TestBadProportions(t *testing.T) {
	const rest = "\nbasis = \"memory\"\nsource = \"none\"\n"
	for _, c := range []struct{ name, old, new, says string }{
		{"two rules", "[[wall]]", "[[stick_out]]\nwarn = 9" + rest + "\n[[wall]]", "there is one rule"},
		{"the wrong way round", `clear  = "3"`, `clear  = "5"`, "is less than clear"},
		{"the other wrong way round", `warn   = "2"`, `warn   = "3.5"`, "is less than warn"},
		{"threads the wrong way round", "thin       = 45", "thin       = 39", "is less than stop_thin"},
		{"a rule that is missing", "[[least_thread]]\nof_major = \"1\"\nthreads  = \"5\"\nbasis    = \"published\"\nsource   = \"Minimum thread depth\"\n", "", "least_thread"},
	} {
		if strings.Count(string(proportionsFile), c.old) != 1 {
			t.Fatalf("%s: %q stands %d times", c.name, c.old, strings.Count(string(proportionsFile), c.old))
		}
		_, err := readProportions("rows.toml", []byte(strings.Replace(string(proportionsFile), c.old, c.new, 1)))
		if err == nil || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), "rows.toml:") {
			t.Errorf("%s: want %q, got %v", c.name, c.says, err)
		}
	}
}

// A hole of a 2.4 drill is told past 24; the rule for walls is the one that they go by,
// and every title stands once, the longer before those that it begins with.
func TestRulesAndTitles(t *testing.T) {
	if d := DeepHole(2400 * um); d.Value != 24*mm || !strings.Contains(d.Source, "10 D of its drill (chosen by Deep-hole article)") {
		t.Errorf("deep hole: %v", d)
	}
	most, share, source := WallRule()
	if most != mm || share.Of(mm, measure.Ceil) != mm/2 || !strings.Contains(source, "(from memory)") {
		t.Errorf("wall: %s, %s, %s", most, share, source)
	}
	seen := map[string]bool{}
	last := ""
	for _, title := range Titles() {
		if seen[title] || last != "" && len(title) > len(last) || strings.Contains(title, ";") || strings.Contains(title, "from memory") {
			t.Errorf("%q comes after %q", title, last)
		}
		seen[title], last = true, title
	}
	if !seen["ISO 273 clearance table"] || len(seen) < 40 {
		t.Errorf("%d titles", len(seen))
	}
}
