package trade

import (
	"strings"
	"testing"
)

func TestThreadNames(t *testing.T) {
	for name, want := range map[string]string{
		"M3": "M3", "m3": "M3", " M 3": "M3", "M2.5": "M2.5", "m3x0.5": "M3", "M6 x 1": "M6",
		"8BA": "8BA", "8 BA": "8BA", "BA 8": "8BA", "ba8": "8BA", "8-ba": "8BA", "No. 8 BA": "8BA", "0BA": "0BA", "10ba": "10BA",
	} {
		if th, err := ThreadNamed(name); err != nil || th.Name != want {
			t.Errorf("%q: %q %v", name, th.Name, err)
		}
	}
	const knows = " is no thread that the handbook knows: it knows 0BA to 16BA, M1.6 to M12, M3 x 0.35 to M12 x 1.5, 1/8 x 40 ME to 1/2 x 26 ME, 1-64 UNC to 1/2-13 UNC and 0-80 UNF to 1/2-20 UNF"
	for name, says := range map[string]string{
		"8AB": `"8AB"` + knows + "; did you mean 8BA?",
		"N3":  `"N3"` + knows + "; did you mean M3?",
		"3B":  `"3B"` + knows + "; did you mean 3BA?",
		// A thread of another number is not what was meant.
		"M7": `"M7"` + knows, "17BA": `"17BA"` + knows, "": `""` + knows,
		strings.Repeat("x", 99): `"` + strings.Repeat("x", 40) + `..."` + knows,
	} {
		if _, err := ThreadNamed(name); err == nil || err.Error() != says {
			t.Errorf("%q: %v", name, err)
		}
	}
	if _, err := named(t, "M3").HeadShaped("round"); err == nil || err.Error() != `"round" is no head of M3 that the handbook knows: write socket cap or hexagon` {
		t.Error(err)
	}
}

// Each by its hyphens, spaces and units; a name that fits two pitches is asked
// back, with those it fits.
func TestInchThreadNames(t *testing.T) {
	for name, want := range map[string]string{
		"4-40": "4-40 UNC", "#4-40": "4-40 UNC", "No. 4-40 UNC": "4-40 UNC", "4 UNC": "4-40 UNC", "UNC 4": "4-40 UNC", "4-48": "4-48 UNF", "#0": "0-80 UNF",
		"10-32": "10-32 UNF", "1/4-20": "1/4-20 UNC", "1/4 in UNF": "1/4-28 UNF", "1/4\" x 40": "1/4 x 40 ME", "1/4 x 40 TPI": "1/4 x 40 ME", "1/4 in x 40 ME": "1/4 x 40 ME",
		"5/32 ME": "5/32 x 40 ME", "5/32": "5/32 x 40 ME", "3/8 x 32": "3/8 x 32 ME", "M8 x 1": "M8 x 1", "m8x1 mm": "M8 x 1", "M8 fine": "M8 x 1", "M8": "M8", "M8 x 1.25": "M8", "16BA": "16BA", "#2 BA": "2BA",
	} {
		if th, err := ThreadNamed(name); err != nil || th.Name != want {
			t.Errorf("%q: %q %v", name, th.Name, err)
		}
	}
	for name, says := range map[string]string{
		"1/4 in":   `"1/4 in" fits 1/4 x 40 ME, 1/4-20 UNC and 1/4-28 UNF: write one of them`,
		"3/8 ME":   `"3/8 ME" fits 3/8 x 32 ME and 3/8 x 40 ME: write one of them`,
		"No. 4":    `"No. 4" fits 4-40 UNC and 4-48 UNF: write one of them`,
		"M10 fine": `"M10 fine" fits M10 x 1 and M10 x 1.25: write one of them`,
	} {
		if _, err := ThreadNamed(name); err == nil || err.Error() != says {
			t.Errorf("%q: %v", name, err)
		}
	}
}

// Every inch size of the book that has two pitches is asked back by its size alone, with
// each of them.
func TestSizesOfTwoPitches(t *testing.T) {
	for _, c := range [][3]string{
		{"#1", "1-64 UNC", "1-72 UNF"}, {"#2", "2-56 UNC", "2-64 UNF"}, {"#3", "3-48 UNC", "3-56 UNF"}, {"#4", "4-40 UNC", "4-48 UNF"},
		{"#5", "5-40 UNC", "5-44 UNF"}, {"#6", "6-32 UNC", "6-40 UNF"}, {"#8", "8-32 UNC", "8-36 UNF"}, {"#10", "10-24 UNC", "10-32 UNF"},
		{"#12", "12-24 UNC", "12-28 UNF"}, {"1/4", "1/4-20 UNC", "1/4-28 UNF"}, {"5/16", "5/16-18 UNC", "5/16-24 UNF"},
		{"3/8", "3/8-16 UNC", "3/8-24 UNF"}, {"7/16", "7/16-14 UNC", "7/16-20 UNF"}, {"1/2", "1/2-13 UNC", "1/2-20 UNF"},
	} {
		_, err := ThreadNamed(c[0])
		if err == nil || !strings.Contains(err.Error(), "fits ") || !strings.Contains(err.Error(), c[1]) || !strings.Contains(err.Error(), c[2]) || !strings.HasSuffix(err.Error(), ": write one of them") {
			t.Errorf("%q: %v", c[0], err)
		}
	}
}

func FuzzThreadNamed(f *testing.F) {
	for _, s := range []string{"M3", "8BA", "BA 8", "", "№ 8", "M2,5", "\xff", "m_3", "1/4 x 40", "4-40", "1/4 in", "#4", "1/4inch\"tpi", strings.Repeat("8", 200)} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, name string) {
		th, err := ThreadNamed(name)
		if err == nil {
			// Its own name finds it again.
			if again, err := ThreadNamed(th.Name); err != nil || again.Name != th.Name {
				t.Errorf("%q: %v", name, err)
			}
			return
		}
		if s := err.Error(); strings.ContainsAny(s, "\n\x00") || len(s) > 1000 {
			t.Errorf("%q: message %q", name, s)
		}
	})
}
