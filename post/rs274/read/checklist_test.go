package read

import (
	"strings"
	"testing"
)

// The numbers in these tests are those of the reference interpreter's list of
// errors (NISTIR 6556, "The NIST RS274NGC Interpreter - Version 3", and its public
// source). The source beside each line is a section of the project's sheet of
// RS-274 rules: 13 is that list as a checklist, 14 the ready-made lines that were
// worked out by hand from it.

// reading is a whole text's notes, or the test fails.
func reading(t *testing.T, text string, o Options) *Reading {
	t.Helper()
	r, err := Read(strings.NewReader(text), o)
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	return r
}

// refusal looks for the one rule by which R refuses a text on a line; other
// tells of one more.
func refusal(r *Reading, line int) (id string, other bool) {
	for _, n := range r.Notes {
		if n.Classes()&R == 0 || n.Line != line {
			continue
		}
		if id != "" && id != n.ID() {
			other = true
			continue
		}
		id = n.ID()
	}
	return id, other
}

// proved tells whether every move of the text is known.
func (r *Reading) proved() bool {
	for _, n := range r.Notes {
		if !n.Proved() {
			return false
		}
	}
	return true
}

const (
	moves  = true  // the moves are known all the same
	opened = false // they are not proved
)

// Each line stands after the head, G0 X0. Y0. Z5. and F60. The refusal is the
// reference interpreter's; "" is none.
func TestChecklist(t *testing.T) {
	for _, c := range []struct {
		line, want string
		proved     bool
		source     string
	}{
		// Section 14, line by line.
		{"G1 X1. ; cut", "12", moves, "14: bad character"},
		{"(A (B) C)", "132", opened, "14: nested comment"},
		{"(OPEN", "171", moves, "14: unclosed comment"},
		{"G1 X1. X2.", "117", opened, "14: two X"},
		{"G0 G1 X1.", "168", opened, "14: one modal group"},
		{"M3 M5", "169", opened, "14: one modal group of M"},
		{"G1", "6", moves, "14: no axis words"},
		{"G80 X1.", "56", opened, "14: axis words with G80"},
		{"G2 X2. Y0.", "147", opened, "14: no R or I J"},
		{"G2 I1. J0.", "6", moves, "14: no axis words at all"},
		{"G2 Z4. I1. J0.", "189", moves, "14: no X or Y"},
		{"G2 X2. Y0. I1. R1.", "101", opened, "14: mixed"},
		{"G2 X2. Y0. I1.003 J0.", "152", opened, "14: radii 1.003 and 0.997, which A refuses too"},
		{"G2 X2. Y0. I1.001 J0.", "", moves, "14: 0.002 apart, at the limit"},
		{"G2 X1.9999999 Y0. I1.001 J0.", "152", moves, "14: a tenth of a nanometre over that limit"},
		{"G2 X2. Y0. I1.0009 J0.", "", moves, "14: 0.0018 apart"},
		{"G2 X2.001 Y0. R1.", "7", opened, "14: R too small"},
		{"G2 X0. Y0. R1.", "69", opened, "14: end is start"},
		{"G2 X0. Y0. I1.", "", moves, "14: a full circle"},
		{"G2 X2. Y0. K1. I1.", "92", opened, "14: K in G17"},
		{"G1 X1. R2.", "151", opened, "14: unused R"},
		{"G4", "72", moves, "14: dwell without P"},
		{"G4 P-1", "129", moves, "14: P below nought"},
		{"G91.1", "173", moves, "14: unknown G"},
		{"N100000 G1 X1.", "98", moves, "14: line number"},
		{"G1 N10 X1.", "12", moves, "14: N not first"},
		{"G1 X1e-5", "12", opened, "14: an exponent"},
		{"G81 X1. Z-2.", "146", opened, "14: no R"},
		{"G81 X1. Z2. R1.", "150", opened, "14: R below Z"},
		{"G83 X1. Z-2. R1.", "143", opened, "14: no Q"},
		{"G43", "137", opened, "14: no H; the offset comes after Z5."},
		{"G1 X1. H1", "85", opened, "14: unused H"},

		// Section 13: file and line.
		{"G1 X1. %", "12", opened, "13: % in the file"},
		{"O100 sub", "", opened, "13: O; a reader that takes it loops"},
		{"G1 E1", "12", opened, "13: E"},
		{"G1 X1. U1.", "12", opened, "2: letters of R"},
		{"(caf\xc3\xa9)", "12", moves, "13: a byte over 126"},
		{"G1 X1.\xb0", "12", opened, "13: a byte over 126"},
		{"G1 X1. \x7f", "12", opened, "13: a byte over 126"},
		{"G1 X1. )", "12", opened, "13: bad character"},
		{"G1 X1.2.3", "12", opened, "13: two points"},
		{"G1 X1,5", "12", opened, "7: decimal comma"},
		{"N", "13", opened, "13: N without digits"},
		{"NX1", "13", opened, "13: N without digits"},
		{"G1 X", "134", opened, "13: missing number"},
		{"G1 X Y1.", "134", opened, "13: missing number"},
		{"G1 X-", "134", opened, "13: missing number"},
		{"G1 X.", "134", opened, "13: missing number"},
		{"G4 P1 P1", "112", opened, "13: two P"},
		{"G43 H1 H1", "107", opened, "13: two H"},
		{"A1. A1.", "102", opened, "13: two A"},
		{"G41 D1 D1", "105", opened, "13: two D"},
		{"G1 F1. X1. F1.", "106", opened, "13: two F"},
		{"G2 X2. I1. I1. J0.", "108", opened, "13: two I"},
		{"G2 X2. I1. J0. J0.", "109", opened, "13: two J"},
		{"G2 X2. I1. K0. K0.", "110", opened, "13: two K"},
		{"G81 X1. Z-1. R1. L1 L1", "111", opened, "13: two L"},
		{"G83 X1. Z-1. R1. Q1. Q1.", "113", opened, "13: two Q"},
		{"G2 X2. R1. R1.", "114", opened, "13: two R"},
		{"S1 S2", "115", opened, "13: two S"},
		{"T1 T2", "116", opened, "13: two T"},
		{"G1 Y1. Y1.", "118", opened, "13: two Y"},
		{"G1 Z1. Z1.", "119", opened, "13: two Z"},
		{"M0 M3 M6 M7 M48", "163", moves, "13: five M words"},
		{"M0 M2", "169", opened, "13: one group of M"},
		{"G17 G18", "168", opened, "13: one group of G"},
		{"G4 G10 P1", "168", opened, "13: one group of G"},
		{"G100", "84", opened, "13: G over 99.9"},
		{"M100", "100", opened, "13: M over 99"},
		{"G-1", "124", opened, "13: G below nought"},
		{"M-1", "127", opened, "13: M below nought"},
		{"G1.5 X1.", "173", opened, "13: unknown G"},
		{"G73 X1. Z-1. R1. Q1.", "173", moves, "9: G73 is not R's"},
		{"M10", "174", opened, "13: unknown M"},
		{"M3.5", "135", opened, "13: M not whole"},
		{"T1.5", "135", opened, "13: T not whole"},
		{"G43 H1.5", "135", opened, "13: H not whole"},
		{"G41 D1.5", "135", opened, "13: D not whole"},
		{"G81 X1. Z-1. R1. L1.5", "135", opened, "13: L not whole"},

		// Axis words and modes.
		{"G0", "6", moves, "13: motion without axis words"},
		{"G81 R1.", "6", opened, "13: motion without axis words"},
		{"G1 G28 X1.", "63", opened, "13: two codes that use axis words"},
		{"G0 G92 X1.", "63", opened, "13: two codes that use axis words"},
		{"G1 G10 L2 P1 X1.", "63", opened, "13: two codes that use axis words"},
		{"G92", "5", opened, "13: G92 without axis words"},
		{"G91 G53 G0 X1.", "61", opened, "13: G53 in G91"},
		{"G53 G2 X1. I1.", "120", opened, "13: G53 without G0 or G1"},
		{"G40 D1", "71", opened, "13: unused D"},
		{"G1 X1. I1.", "88", opened, "13: unused I"},
		{"G0 X1. J1.", "91", opened, "13: unused J"},
		{"G1 X1. K1.", "94", opened, "13: unused K"},
		{"G1 X1. L2", "95", opened, "13: unused L"},
		{"G1 X1. P1", "140", opened, "13: unused P"},
		{"G1 X1. Q1.", "144", opened, "13: unused Q"},
		{"G2 X2. I1. J0. P2", "140", opened, "6: no turns in R"},
		{"G64 P0.01", "140", moves, "3: P beside G64"},

		// Feed, speed, tool.
		{"G1 X1. F0.", "41", moves, "13: G1 at no feed"},
		{"G2 X2. I1. F0.", "43", moves, "13: an arc at no feed"},
		{"G93 G1 X1.", "78", moves, "13: no F in G93"},
		{"G93 G2 X2. I1.", "79", moves, "13: no F in G93"},
		{"F-1.", "123", moves, "13: F below nought"},
		{"S-1", "130", moves, "13: S below nought"},
		{"T-1", "131", moves, "13: T below nought"},
		{"T21", "155", moves, "13: T over 20 slots"},
		{"T20", "", moves, "13: T of 20 slots"},
		{"G43 H-1", "125", opened, "13: H below nought"},
		{"G43 H21", "164", opened, "13: H over 20 slots"},
		{"G41 D-1", "122", opened, "13: D below nought"},
		{"G41 D21", "166", opened, "13: D over 20 slots"},

		// Arcs.
		{"G18 G2 X2. Z5. J1.", "89", opened, "13: J in G18"},
		{"G19 G2 Y2. Z5. I1.", "86", opened, "13: I in G19"},
		{"G18 G2 Y2. I1.", "190", moves, "13: X and Z missing"},
		{"G19 G2 X2. J1.", "193", moves, "13: Y and Z missing"},
		{"G2 X2. Y0. I0. J0.", "197", opened, "13: no radius"},
		{"G2 X1. Y0. I1. J0.", "197", opened, "13: no radius at the end"},
		{"G3 X2. Y0. R0.", "197", opened, "13: no radius"},

		// Cycles.
		{"G81 X1. R1.", "195", opened, "13: no Z"},
		{"G82 X1. Z-1. R1.", "73", opened, "13: no P"},
		{"G83 X1. Z-1. R1. Q0.", "128", opened, "13: Q nought"},
		{"G83 X1. Z-1. R1. Q-1.", "128", opened, "13: Q below nought"},
		{"G81 X1. Z-1. R1. L0", "42", opened, "13: L nought"},
		{"G81 X1. Z-1. R1. L-1", "126", opened, "13: L below nought"},

		// Right by R.
		{"", "", moves, "2: blank"},
		{" \t", "", moves, "2: blank"},
		{"(A COMMENT)", "", moves, "2: comment"},
		{"g1 x1. (lower case)", "", moves, "2: case"},
		{"G 1 X - 1 . 5 F 6 0", "", moves, "2: blanks in a number"},
		{"N99999 G01 X+.5 F060.", "", moves, "7: noughts and signs"},
		{"G4 P0.5", "", moves, "5: dwell"},
		{"M3 S1000 G1 X1. F10.", "", moves, "4: order"},
		{"G98 G81 X1. Z-1. R1.", "", moves, "9: a cycle"},
		{"G3 X2. Y0. R1.", "", moves, "6: half a turn by its radius"},
		{"G28", "", opened, "11: home"},
		{"/G1 X1.", "", moves, "2: block delete"},
	} {
		r := reading(t, before+c.line+"\nM2\n", Options{Slots: 20})
		id, other := refusal(r, 4)
		if id != c.want || other {
			t.Errorf("%q: refused by %q (others: %v), want %q (%s): %v", c.line, id, other, c.want, c.source, r.Notes)
		}
		if r.proved() != c.proved {
			t.Errorf("%q: moves known %v, want %v (%s): %v", c.line, r.proved(), c.proved, c.source, r.Notes)
		}
		for _, n := range r.Notes {
			if n.Line != 4 && n.Kind() != Assumed && n.Kind() != Finding {
				t.Errorf("%q: a note on line %d: %v", c.line, n.Line, n)
			}
		}
		if !r.Trace.Ended && !strings.Contains(c.line, "M2") {
			t.Errorf("%q: the program does not end", c.line)
		}
	}
}

// Refusals that are not of one line, or need another state before them.
func TestChecklistOfTexts(t *testing.T) {
	const head = "G17 G21 G40 G49 G54 G80 G90 G94\n"
	for _, c := range []struct {
		text   string
		line   int
		want   string
		proved bool
		source string
	}{
		{head + "X1.\nM2\n", 2, "57", opened, "14: no motion in force"},
		{before + "G80\nX1.\nM2\n", 5, "57", opened, "13: after G80"},
		{head + "G0 X0. Y0. Z5.\nG1 X1.\nM2\n", 3, "41", moves, "14: before any F"},
		{head + "G0 X0. Y0. Z5.\nG2 X2. I1.\nM2\n", 3, "43", moves, "13: arc before any F"},
		{before + "G1 X1.\n", 4, "81", moves, "14: no M2, M30 or percents"},
		{"", 1, "81", moves, "13: nothing at all"},
		{"%\n" + before, 4, "80", moves, "13: no second percent"},
		{"%\n" + before + "M2\n", 5, "80", moves, "13: no second percent, the stricter of report and source"},
		{"\n %\n" + before + "%\n", 0, "", moves, "2: percents in place of M2"},
		{"%\n" + before + "M30\n%\nanything\n", 0, "", moves, "2: percents and what is behind them"},
		{before + "%\nM2\n", 4, "12", opened, "13: % in the file"},
		{before + "(" + strings.Repeat("A", 251) + ")\nM2\n", 0, "", moves, "2: 254 with its end"},
		{before + "(" + strings.Repeat("A", 252) + ")\nM2\n", 4, "66", moves, "2: 255 with its end"},
		{before + "(" + strings.Repeat("A", 250) + ")\r\nM2\n", 0, "", moves, "2: 254 with CR LF"},
		{before + "(" + strings.Repeat("A", 251) + ")\r\nM2\n", 4, "66", moves, "2: 255 with CR LF"},
		{before + "(" + strings.Repeat("A", 1<<18) + ")\nM2\n", 4, "66", opened, "2: longer than what is read ahead"},
		{before + "G18\nG41 D1\nM2\n", 5, "53", opened, "13: compensation out of XY"},
		{before + "G41 D1\nG42 D1\nM2\n", 5, "54", opened, "13: compensation on when on"},
		{before + "G41 D1\nG28\nM2\n", 5, "60", opened, "13: home with compensation"},
		{before + "G41 D1\nG53 G0 X1.\nM2\n", 5, "62", opened, "13: G53 with compensation"},
		{before + "G41 D1\nG18\nM2\n", 5, "64", opened, "13: G18 with compensation"},
		{before + "G41 D1\nG19\nM2\n", 5, "65", opened, "13: G19 with compensation"},
		{before + "G41 D1\nG20\nM2\n", 5, "39", opened, "13: units with compensation"},
		{before + "G41 D1\nG55\nM2\n", 5, "38", opened, "13: work system with compensation"},
		{strings.Replace(before, "G21", "G20", 1) + "G2 X2. Y0. I1.0001\nM2\n", 0, "", moves, "6: 0.0002 in apart"},
		{strings.Replace(before, "G21", "G20", 1) + "G2 X2. Y0. I1.00011\nM2\n", 4, "152", moves, "6: over 0.0002 in"},
		{before + "G98 G81 X1. Z-1. R1.\nX2.\nG82 X3.\nM2\n", 6, "146", opened, "13: R on the first line of another cycle"},
	} {
		r := reading(t, c.text, Options{})
		id, other := refusal(r, c.line)
		all := ""
		for _, n := range r.Notes {
			if n.Classes()&R != 0 {
				all = n.ID()
			}
		}
		if id != c.want || other || (id == "") != (all == "") {
			t.Errorf("%q: refused by %q, want %q (%s): %v", c.text[max(0, len(c.text)-60):], id, c.want, c.source, r.Notes)
		}
		if r.proved() != c.proved {
			t.Errorf("%q: moves known %v, want %v (%s): %v", c.text[max(0, len(c.text)-60):], r.proved(), c.proved, c.source, r.Notes)
		}
	}
}
