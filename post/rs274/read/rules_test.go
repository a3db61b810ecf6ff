package read

import (
	"errors"
	"io"
	"strings"
	"testing"

	"stopshort/toolpath"
)

// before is the state in which a line of the tables stands (rs274 facts, section
// 14): modes, a place, a feed.
const before = "G17 G21 G40 G49 G54 G80 G90 G94\nG0 X0. Y0. Z5.\nF60.\n"

// ruleOf reads a text and gives the rule that refuses it and its line.
func ruleOf(t *testing.T, text string) (Rule, int, string) {
	t.Helper()
	_, err := Read(strings.NewReader(text), Options{})
	if err == nil {
		return -1, 0, ""
	}
	var e *Error
	if !errors.As(err, &e) {
		t.Fatalf("%q: an error without a line: %v", text, err)
	}
	return e.Rule, e.Line, e.Error()
}

const passes Rule = -1

// The rules are those of the reference interpreter's list of errors (NISTIR 6556
// and its source), by its numbers. The first part is the ready-made lines of
// section 14; the second one what section 13 has beside them.
func TestRules(t *testing.T) {
	for _, c := range []struct {
		line string
		want Rule
	}{
		{"G1 X1. ; cut", 12},
		{"(A (B) C)", 132},
		{"(OPEN", 171},
		{"G1 X1. X2.", 117},
		{"G0 G1 X1.", 168},
		{"M3 M5", 169},
		{"G1", 6},
		{"G80 X1.", 56},
		{"G2 X2. Y0.", 147},
		{"G2 I1. J0.", 6},
		{"G2 Z4. I1. J0.", 189},
		{"G2 X2. Y0. I1. R1.", 101},
		{"G2 X2. Y0. I1.003 J0.", 152},
		{"G2 X2. Y0. I1.001 J0.", passes},
		{"G2 X1.9999999 Y0. I1.001 J0.", 152}, // a tenth of a nanometre over the limit
		{"G2 X2. Y0. I1.0009 J0.", passes},
		{"G2 X2.001 Y0. R1.", NotFollowed}, // 7, once radii are followed
		{"G2 X0. Y0. R1.", NotFollowed},    // 69 likewise
		{"G2 X0. Y0. I1.", passes},
		{"G2 X2. Y0. K1. I1.", 92},
		{"G1 X1. R2.", 151},
		{"G4", 72},
		{"G4 P-1", 129},
		{"G91.1", 173},
		{"N100000 G1 X1.", 98},
		{"G1 N10 X1.", 12},
		{"G1 X1e-5", 12},
		{"G81 X1. Z-2.", NotFollowed},     // 146, once cycles are followed
		{"G81 X1. Z2. R1.", NotFollowed},  // 150 likewise
		{"G83 X1. Z-2. R1.", NotFollowed}, // 143 likewise
		{"G43", NotFollowed},              // 137, once offsets are followed
		{"G1 X1. H1", 85},

		{"G1 X1. %", 12},
		{"G1 E1", 12},
		{"O100", 12},
		{"G1 X1. (caf\xc3\xa9)", 12},
		{"G1 X1.\xb0", 12},
		{"G1 X1. \x7f", 12},
		{"G1 X1. )", 12},
		{"G1 X1.2.3", 12},
		{"G1 X1,5", 12},
		{"N", 13},
		{"NX1", 13},
		{"G1 X", 134},
		{"G1 X Y1.", 134},
		{"G1 X-", 134},
		{"G1 X.", 134},
		{"G1 X--1", 134},
		{"G1 F1. X1. F1.", 106},
		{"G4 P1 P1", 112},
		{"S1 S2", 115},
		{"G2 X2. I1. I1. J0.", 108},
		{"G1 Z1. Z1.", 119},
		{"M3 M3", 169},
		{"M0 M2", 169},
		{"M1 M3 M6 M7 M48", 163},
		{"G17 G18", 168},
		{"G54 G55", 168},
		{"G4 G10 P1", 168},
		{"G100", 84},
		{"M100", 100},
		{"G-1", 124},
		{"M-1", 127},
		{"G1.5 X1.", 173},
		{"G64.5", 173},
		{"M10", 174},
		{"M3.5", 135},
		{"T1.5", 135},
		{"T-1", 131},
		{"F-1.", 123},
		{"S-1", 130},
		{"D1", 71},
		{"I1.", 88},
		{"G1 X1. I1.", 88},
		{"G0 X1. J1.", 91},
		{"G1 X1. K1.", 94},
		{"G1 X1. L2", 95},
		{"G1 X1. P1", 140},
		{"G1 X1. Q1.", 144},
		{"G2 X2. I1. J0. P2", 140},
		{"G2 X2. Y0. I0. J0.", 197},
		{"G2 X1. Y0. I1. J0.", 197},
		{"G3 X2. Y0. I1.003 J0.", 152},
		{"G1 X1. F0.", 41},
		{"G2 X2. I1. F0.", 43},

		{"G91", NotFollowed},
		{"G93", NotFollowed},
		{"G18", NotFollowed},
		{"G41 D1", NotFollowed},
		{"G55", NotFollowed},
		{"G28", NotFollowed},
		{"G53 G0 X1.", NotFollowed},
		{"G92 X0.", NotFollowed},
		{"G61", NotFollowed},
		{"G20", NotFollowed}, // a change of units
		{"M1", NotFollowed},
		{"M4", NotFollowed},
		{"M6", NotFollowed},
		{"M8", NotFollowed},
		{"T1", NotFollowed},
		{"A90.", NotFollowed},
		{"/G1 X1.", NotFollowed},
		{"#1=2", NotFollowed},
		{"G1 X#1", NotFollowed},
		{"G1 X[1+2]", NotFollowed},
		{"G1 X0.00000001", NotFollowed}, // a hundredth of a nanometre
		{"G1 X100000.0001", NotFollowed},
		{"G1 X99999999999999999999", NotFollowed},
		{"G1 X0.12345678901234", NotFollowed}, // fourteen decimals
		{"G4 P100000", NotFollowed},           // over a day
		{"S10000000", NotFollowed},

		{"", passes},
		{" \t", passes},
		{"(A COMMENT)", passes},
		{"g1 x1. (lower case)", passes},
		{"G 1 X - 1 . 5 F 6 0", passes},
		{"N10 G01 X+1. F060.0", passes},
		{"N99999 G1 X.5", passes},
		{"G1 X100000. F100000.", passes},
		{"G1 X1.00000000000000000000", passes},
		{"G4 P0.5", passes},
		{"G4 P1 G1 X1.", passes},
		{"X1.", passes}, // the rapid of the line before
		{"M3 S1000 G1 X1. F10.", passes},
		{"G21", passes},
		{"M0", passes},
	} {
		rule, line, text := ruleOf(t, before+c.line+"\nM2\n")
		if rule != c.want {
			t.Errorf("%q: rule %d (%s), want %d", c.line, rule, text, c.want)
		}
		if c.want != passes && line != 4 {
			t.Errorf("%q: refused on line %d", c.line, line)
		}
	}
}

// Faults that are not of one line, or need another state before them.
func TestRulesOfTexts(t *testing.T) {
	const head = "G17 G21 G40 G49 G54 G80 G90 G94\n"
	for _, c := range []struct {
		name, text string
		want       Rule
		line       int
	}{
		{"no motion in force", head + "X1.\nM2\n", 57, 2},
		{"no motion after G80", before + "G80\nX1.\nM2\n", 57, 5},
		{"no feed", head + "G0 X0. Y0.\nG1 X1.\nM2\n", 41, 3},
		{"no feed on an arc", head + "G0 X0. Y0.\nG2 X2. I1.\nM2\n", 43, 3},
		{"no end", before + "G1 X1.\n", 81, 4},
		{"nothing", "", 81, 1},
		{"first line percent", "%\n" + before + "M2\n", NotFollowed, 1},
		{"percent at the end", before + "M2\n%\n", NotFollowed, 5},
		{"behind the end", before + "M2\nG1 X1.\n", NotFollowed, 5},
		{"last line without an end", before + "M2", NotFollowed, 4},
		{"254 characters", before + "(" + strings.Repeat("A", 251) + ")\nM2\n", passes, 0},
		{"255 characters", before + "(" + strings.Repeat("A", 252) + ")\nM2\n", 66, 4},
		{"254 with CR LF", before + "(" + strings.Repeat("A", 250) + ")\r\nM2\n", passes, 0},
		{"255 with CR LF", before + "(" + strings.Repeat("A", 251) + ")\r\nM2\n", 66, 4},
		{"255 at the very end", before + "M2\n" + strings.Repeat(" ", 255), 66, 5},
		{"a long text without a line", strings.Repeat("G1 X1. ", 1<<15), 66, 1},
		{"arc from an unknown place", head + "F60.\nG2 X2. I1.\nM2\n", NotFollowed, 3},
		{"arc from an unknown Y", head + "F60. G0 X1.\nG2 X2. I1.\nM2\n", NotFollowed, 3},
		{"no units", "G17 G40 G49 G54 G80 G90 G94\nG0 X1.\nM2\n", NotFollowed, 2},
		{"no distance mode", "G17 G21 G40 G49 G54 G80 G94\nG0 X1.\nM2\n", NotFollowed, 2},
		{"no work system", "G17 G21 G40 G49 G80 G90 G94\nG0 X1.\nM2\n", NotFollowed, 2},
		{"no feed mode", "G17 G21 G40 G49 G54 G80 G90\nG1 X1. F60.\nM2\n", NotFollowed, 2},
		{"no plane", "G21 G40 G49 G54 G80 G90 G94\nG0 X0. Y0.\nG2 X2. I1. F60.\nM2\n", NotFollowed, 3},
		{"blank behind the end", before + "M2\n\n \n", passes, 0},
		{"M30", before + "M30\n", passes, 0},
		{"CR alone", strings.ReplaceAll(before+"M2\n", "\n", "\r"), passes, 0},
	} {
		rule, line, text := ruleOf(t, c.text)
		if rule != c.want || line != c.line {
			t.Errorf("%s: rule %d on line %d (%s), want %d on %d", c.name, rule, line, text, c.want, c.line)
		}
	}
}

// In inches the radii may be 0.0002 in apart.
func TestRadiiInInches(t *testing.T) {
	head := "G17 G20 G40 G49 G54 G80 G90 G94\nG0 X0. Y0.\nF2.\n"
	if rule, _, text := ruleOf(t, head+"G2 X2. Y0. I1.0001\nM2\n"); rule != passes { // 1.0001 and 0.9999
		t.Error(text)
	}
	if rule, _, _ := ruleOf(t, head+"G2 X2. Y0. I1.00011\nM2\n"); rule != 152 {
		t.Errorf("rule %d", rule)
	}
}

// What a person is told.
func TestFaultsSay(t *testing.T) {
	for line, want := range map[string]string{
		"G91":        "line 4: G91 cannot be followed",
		"M6":         "line 4: M6 cannot be followed",
		"G59.1":      "line 4: G59.1 cannot be followed",
		"G91.1":      "line 4: G91.1 is not known",
		"G1 X1. X2.": "line 4: two X words on a line",
		"G0 G1 X1.":  "line 4: G0 and G1 on one line: they shut each other out",
		"G1 X1.;":    `line 4: the character ";" begins no word`,
		"G1 Y":       "line 4: the letter Y without a number",
		"G0.05 X1.":  "line 4: G0.05 is not known",
	} {
		if _, _, got := ruleOf(t, before+line+"\nM2\n"); got != want {
			t.Errorf("%q: %s, want %s", line, got, want)
		}
	}
}

// What the stream or the receiver says comes out again.
func TestErrorsFromOutside(t *testing.T) {
	broken := errors.New("the disk is gone")
	_, err := Read(io.MultiReader(strings.NewReader(before), failing{broken}), Options{})
	if !errors.Is(err, broken) {
		t.Errorf("the stream's error: %v", err)
	}
	enough := errors.New("enough")
	steps := 0
	err = Each(strings.NewReader(before+"G1 X1.\nG1 X2.\nM2\n"), Options{}, func(toolpath.Step) error {
		if steps++; steps == 2 {
			return enough
		}
		return nil
	})
	if !errors.Is(err, enough) || steps != 2 {
		t.Errorf("the receiver's error after %d steps: %v", steps, err)
	}
	if _, err := Read(failing{nil}, Options{}); !errors.Is(err, io.ErrNoProgress) {
		t.Errorf("a stream that gives nothing for ever: %v", err)
	}
}

type failing struct{ err error }

func (f failing) Read([]byte) (int, error) { return 0, f.err }
