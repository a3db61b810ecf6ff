package write

import (
	"regexp"
	"strings"
	"testing"
)

// What a person wrote and what stands in the comment. B20 to B23 are the mishaps
// of that number: brackets, signs that act at once, words taken for codes.
func TestClean(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"Float-arm clamp", "FLOAT-ARM CLAMP"},
		{"bracket (left)(2) [v3]", "BRACKET LEFT 2 VV 3"},                  // B20
		{"6mm (2 fl)", "6MM 2 FL"},                                         // B20
		{"stop! check 50% depth? ~2mm", "STOP CHECK 50 PERCENT DEPTH 2MM"}, // B21
		{"fits M30 nut, Z depth 4", "FITS METRIC 30 NUT ZZ DEPTH 4"},       // B23
		{"M3", "METRIC 3"},
		{"m 3 x 0.5", "METRIC 3 BY 0.5"},
		{"M3x0.5", "METRIC 3 BY 0.5"},
		{"20 mm x 30 mm", "20 MM BY 30 MM"},
		{"8BA", "8BA"},
		{"2 off 4BA", "2 OFF 4BA"},
		{"X7", "XX 7"},
		{"Z 4", "ZZ 4"},
		{"Z-4", "ZZ 4"},
		{"Z -4", "ZZ -4"},
		{"G54", "GG 54"},
		{"T 1", "TT 1"},
		{"T1", "TT 1"},
		{"SET-UP 1", "SET-UP 1"},
		{"setup1", "SETUP 1"},
		{"UP-1", "UP 1"},
		{"A--00", "AA 00"},
		{"UP-..5", "UP- 0.5"},
		{"3/16 slot", "3 OVER 16 SLOT"},
		{"1-3/8 in", "1-3 OVER 8 IN"},
		{"T-slot", "TSLOT"},
		{"bore A", "BORE AA"},
		{"a clamp", "CLAMP"},
		{"under a web", "UNDER WEB"},
		{"don't", "DONT"},
		{"3D", "3D"},
		{"3D 4", "3DD 4"},
		{"1e-5", "1EE 5"},
		{".5 up, no .5", "0.5 UP NO 0.5"},
		{"no.5", "NO. 5"},
		{"1.2.3", "1.2. 3"},
		{"0.5 deep.", "0.5 DEEP."},
		{"1,250", "1 250"},
		{"µm 30° Ø4 café", "UM 30 DEG DIA 4 CAFE"},
		{"MSG, look", "MESSAGE LOOK"},
		{"(MSG,x)", "MESSAGE XX"},
		{"M-SG", "MESSAGE"},
		{"$H\r\nG28 ; home\x18", "HH GG 28 HOME"},
		{"\xff\xfe", ""},
		{"- . -", ""},
		{"−4", "-4"},
		{"123456789012", "123456789012"},
		{"", ""},
	} {
		if got := Clean(c.text); got != c.want {
			t.Errorf("Clean(%q) = %q, want %q", c.text, got, c.want)
		}
	}
}

// bad are the shapes that read like a word of the language: a letter right
// before a number, a lone letter, a lone letter after a number (3D) before
// another number.
var bad = []*regexp.Regexp{
	regexp.MustCompile(`[A-Z][.-]*[0-9]`),
	regexp.MustCompile(`(^|[^A-Z0-9])[A-Z]([^A-Z0-9]|$)`),
	regexp.MustCompile(`(^|[^A-Z])[A-Z][ .-]*[0-9]`),
	regexp.MustCompile(`[^A-Z0-9 .-]`),
	regexp.MustCompile(`(^|[^A-Z])MSG([^A-Z]|$)`),
	regexp.MustCompile(`  |^ | $`),
}

func FuzzClean(f *testing.F) {
	for _, s := range []string{"M3", "8BA", "a-b-c", "T-slot", "M-SG", "1.2.3", "-.-5", "X 4", "3D-4", "a a a", "G.-1", "x-y z",
		"'a'b'", "1/2/3", "%5%", "µ", strings.Repeat("A-", 40)} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got := Clean(s)
		for _, re := range bad {
			if at := re.FindString(got); at != "" {
				t.Errorf("Clean(%q) = %q has %q", s, got, at)
			}
		}
		if again := Clean(got); again != got {
			t.Errorf("Clean(%q) = %q, and again %q", s, got, again)
		}
		for _, line := range wrap(got, 36) {
			if len(line) > 36 || line == "" {
				t.Errorf("a line of %d characters: %q", len(line), line)
			}
			for _, re := range bad {
				if at := re.FindString(line); at != "" {
					t.Errorf("a line of Clean(%q) is %q and has %q", s, line, at)
				}
			}
		}
	})
}

// A long fact is wrapped at its words (a comment of 180 characters).
func TestLongComment(t *testing.T) {
	w := &writer{dialect: dialect{comments: [2]string{"(", ")"}}, limit: 70, end: "\n"}
	if err := w.comment(strings.Repeat("eightchr ", 20)); err != nil {
		t.Fatal(err)
	}
	six := "(" + strings.TrimSuffix(strings.Repeat("EIGHTCHR ", 6), " ") + ")\n" // 53 characters of text; a seventh would be 62
	want := six + six + six + "(EIGHTCHR EIGHTCHR)\n"
	if got := string(w.text); got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
	if w.lines != 4 {
		t.Errorf("%d lines counted", w.lines)
	}
}

// Numbers have fixed places, no exponent and no sign on nought (B25, B27).
func TestFixed(t *testing.T) {
	for _, c := range []struct {
		n      int64
		places int
		want   string
	}{
		{0, 4, "0.0000"},
		{-1, 4, "-0.0001"},
		{1, 5, "0.00001"},
		{-123456, 3, "-123.456"},
		{1_000_000_000, 4, "100000.0000"},
		{-5, 1, "-0.5"},
	} {
		if got := string(fixed(nil, c.n, c.places)); got != c.want {
			t.Errorf("%d in %d places: %s, want %s", c.n, c.places, got, c.want)
		}
	}
	// -0.00004 mm is nought to a person at 4 places or fewer.
	if got := (grid{unit: 1, places: 3}).figure(-400); got != "0.0" {
		t.Errorf("-0.00004 mm is told as %s", got)
	}
}
