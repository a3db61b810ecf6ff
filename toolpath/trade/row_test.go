package trade

import (
	"strings"
	"testing"
)

// Every row says on what it rests. The counts are printed for the notes:
// go test -v -run TestEveryRowHasASource.
func TestEveryRowHasASource(t *testing.T) {
	count := map[Basis]int{}
	tables := map[string]int{}
	for _, r := range Rows() {
		count[r.Basis]++
		tables[r.Table]++
		if strings.TrimSpace(r.Source) == "" || r.Of == "" {
			t.Errorf("%s, %s: without a source", r.Table, r.Of)
		}
		// What says that it has a source names one; what has none says so.
		bare := strings.Contains(r.Source, "from memory") || strings.Contains(r.Source, "no source")
		if (r.Basis == Published || r.Basis == Chosen) == bare {
			t.Errorf("%s, %s: its basis is %q and its source %q", r.Table, r.Of, r.Basis, r.Source)
		}
	}
	t.Logf("%d rows: %d with source (%d printed there, %d chosen here by it), %d from memory, %d common practice",
		len(Rows()), count[Published]+count[Chosen], count[Published], count[Chosen], count[Memory], count[CommonPractice])
	if sum := count[Published] + count[Chosen] + count[Memory] + count[CommonPractice]; sum != len(Rows()) {
		t.Errorf("%d rows of %d say what they rest on", sum, len(Rows()))
	}
	for table, least := range map[string]int{
		"material": 11, "speed": 22, "tooth": 16, "step": 14, "side": 11, "stiffness": 3, "tooth_printed": 45, "bite": 1, "arc": 1, "plunge": 1,
		"series": 6, "thread": 17 + 11 + 9 + 14 + 15 + 11, "tap": 17 + 11 + 9 + 14 + 15 + 11, "tough": 7 + 14 + 15,
		"clear": 17 + 3*(11+9) + 2*(14+15) + 11, "printed": 40, "head": 50, "height": 10, "key": 15, "spot": 10, "counterbore": 30,
		"point": 2, "feed": 22, "band": 4, "surface": 11, "peck": 11, "re_entry": 1, "engagement": 11, "run_out": 2, "edge": 1, "tapped_edge": 1, "break_through": 1,
		"saw": 11, "in_work": 1, "kerf": 1, "steps": 3, "drill": 80 + 26,
		"slot_depth": 1, "stick_out": 1, "oversize": 1, "wall": 1, "least_thread": 1, "full_thread": 1, "deep_hole": 1,
	} {
		if tables[table] < least {
			t.Errorf("%d rows of %s, want %d at least", tables[table], table, least)
		}
	}
}

// A slip in a row is found when the rows are read, with its line.
func TestBadRows(t *testing.T) {
	for _, c := range []struct{ name, old, new, says string }{
		{"row without a source", `source = "University lab, Speeds and Feeds"`, `source = " "`, "nothing is said"},
		{"row that does not say what it rests on", "share  = \"1/4\"\nbasis  = \"published\"", `share  = "1/4"`, "basis"},
		{"unknown material", "[[plunge]]", "[[step]]\nmaterial = \"tin\"\nfraction = \"1/2\"\nbasis = \"memory\"\nsource = \"none\"\n[[plunge]]", `"tin" has no row of its own`},
		{"synonym where the name belongs", "[[plunge]]", "[[step]]\nmaterial = \"gunmetal\"\nfraction = \"1/2\"\nbasis = \"memory\"\nsource = \"none\"\n[[plunge]]", `"gunmetal" has no row of its own`},
		{"row that is never reached", "[[plunge]]", "[[step]]\nmaterial = \"brass\"\nup_to = \"3 mm\"\nfraction = \"1/2\"\nbasis = \"memory\"\nsource = \"none\"\n[[plunge]]", "write the smaller diameters first"},
		{"material without rows", "[[plunge]]", "[[material]]\nname = \"tin\"\nbasis = \"memory\"\nsource = \"none\"\n[[plunge]]", "tin has no row for HSS"},
		{"name that means two", "[[plunge]]", "[[material]]\nname = \"tin\"\nalso = \"Gun-metal, gunmetal\"\nbasis = \"memory\"\nsource = \"none\"\n[[plunge]]", `"gunmetal" is given already`},
		{"two rules", "[[plunge]]", "[[plunge]]\nshare = \"1/2\"\nbasis = \"memory\"\nsource = \"none\"\n[[plunge]]", "there is one rule"},
		{"printed, but outside what is printed", "speed    = \"20 m/min\"\nlow      = \"23 m/min\"\nhigh     = \"37 m/min\"\nbasis    = \"chosen\"", "speed = \"20 m/min\"\nlow = \"23 m/min\"\nhigh = \"37 m/min\"\nbasis = \"published\"", "nobody printed it"},
		{"range the wrong way round", "low      = \"60 m/min\"", "low      = \"600 m/min\"", "is above high"},
		{"both bounds", "[[plunge]]", "[[step]]\nmaterial = \"brass\"\nup_to = \"3 mm\"\nunder = \"4 mm\"\nfraction = \"1/2\"\nbasis = \"memory\"\nsource = \"none\"\n[[plunge]]", "give one of them"},
	} {
		if strings.Count(string(cuttingFile), c.old) != 1 {
			t.Fatalf("%s: %q stands %d times", c.name, c.old, strings.Count(string(cuttingFile), c.old))
		}
		_, err := readBook("rows.toml", []byte(strings.Replace(string(cuttingFile), c.old, c.new, 1)))
		if err == nil || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), "rows.toml:") {
			t.Errorf("%s: want %q, got %v", c.name, c.says, err)
		}
	}
}
