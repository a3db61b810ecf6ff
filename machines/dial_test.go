package machines

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"stopshort/toolpath/measure"
)

const (
	mm = measure.Millimetre
	in = measure.Inch
	um = measure.Micrometre
)

func dial(leadNum, leadDen, linesNum, linesDen int64) Axis {
	return Axis{Lead: measure.NewRatio(leadNum, leadDen), Lines: measure.NewRatio(linesNum, linesDen)}
}

var (
	tenth    = dial(int64(in), 10, 100, 1)      // 0.100 in a turn, 100 lines
	eightTPI = dial(int64(in), 8, 125, 1)       // common practice, no source: one turn is 0.125 in
	mm25     = dial(int64(5*mm), 2, 125, 1)     // 2.5 mm, 125 lines
	sixteen  = dial(int64(in), 16, 125, 2)      // 16 TPI, 62.5 lines
	twenty   = dial(int64(in), 20, 50, 1)       // 20 TPI, 50 lines
	mm15     = dial(int64(3*mm), 2, 60, 1)      // 1.5 mm, lines of 0.025 mm
	mm2      = dial(int64(2*mm), 1, 100, 1)     // 2 mm, lines of 0.02 mm
	mm3      = dial(int64(3*mm), 1, 60, 1)      // 3 mm, lines of 0.05 mm
	mm4      = dial(int64(4*mm), 1, 80, 1)      // 4 mm, lines of 0.05 mm
	odd      = dial(int64(14*mm), 11, 50, 1)    // a screw of 14/11 mm
	thirds   = dial(int64(1*mm), 1, 187, 3)     // 62 1/3 lines
	marks30  = dial(int64(3*mm), 2, 30, 1)      // 1.5 mm, 30 marks
	marks20  = dial(int64(1*mm), 1, 20, 1)      // 1 mm, 20 marks
	fourths  = dial(int64(254*mm), 100, 401, 4) // 100.25 lines
)

// The readings of the demo part (invented data) on three dials, and
// distances worked out by hand from the true lead, as far as they stand on whole or
// half lines or were cut off to whole lines.
func TestDialReadings(t *testing.T) {
	for _, c := range []struct {
		name string
		axis Axis
		pos  measure.Length
		way  measure.Rounding
		want string
	}{
		{"demo slot, 0.100 in", tenth, 5959 * um, measure.Floor, "2 turns + 34"},
		{"demo slot, 8 TPI", eightTPI, 5959 * um, measure.Floor, "1 turn + 109"},
		{"demo slot, 2.5 mm", mm25, 5959 * um, measure.Floor, "2 turns + 47"},
		{"demo spot face, 0.100 in", tenth, 10531 * um, measure.Floor, "4 turns + 14"},
		{"demo spot face, 8 TPI", eightTPI, 10531 * um, measure.Floor, "3 turns + 39"},
		{"demo spot face, 2.5 mm", mm25, 10531 * um, measure.Floor, "4 turns + 26"},

		{"0.375 in on 16 TPI", sixteen, in * 3 / 8, measure.Floor, "6 turns + 0"},
		{"0.500 in on 16 TPI", sixteen, in / 2, measure.Floor, "8 turns + 0"},
		{"0.300 in on 16 TPI", sixteen, in * 3 / 10, measure.Floor, "4 turns + 50"},
		{"0.6875 in on 0.100 in, below", tenth, in * 11 / 16, measure.Floor, "6 turns + 87"},
		{"0.6875 in on 0.100 in, above", tenth, in * 11 / 16, measure.Ceil, "6 turns + 88"},
		{"0.3125 in on 8 TPI, below", eightTPI, in * 5 / 16, measure.Floor, "2 turns + 62"},
		{"0.3125 in on 8 TPI, half away from nought", eightTPI, in * 5 / 16, measure.Nearest, "2 turns + 63"},
		{"1.000 in on 20 TPI", twenty, in, measure.Floor, "20 turns + 0"},
		{"10.00 mm on 1.5 mm", mm15, 10 * mm, measure.Floor, "6 turns + 40"},
		{"12.70 mm on 1.5 mm", mm15, 12700 * um, measure.Floor, "8 turns + 28"},
		{"12.70 mm on 2 mm", mm2, 12700 * um, measure.Floor, "6 turns + 35"},
		{"25.40 mm on 2.5 mm", mm25, 25400 * um, measure.Floor, "10 turns + 20"},
		{"7.94 mm on 3 mm", mm3, 7940 * um, measure.Floor, "2 turns + 38"},
		{"25.40 mm on 4 mm", mm4, 25400 * um, measure.Floor, "6 turns + 28"},
		{"10.00 mm on 16 TPI", sixteen, 10 * mm, measure.Floor, "6 turns + 18"},
		{"10.00 mm on 20 TPI", twenty, 10 * mm, measure.Floor, "7 turns + 43"},
		{"10.00 mm on 0.100 in", tenth, 10 * mm, measure.Floor, "3 turns + 93"},

		// "Metric Goof": an inch on a 1 mm screw of 20 marks.
		{"1 in on 1 mm and 20 marks", marks20, in, measure.Floor, "25 turns + 8"},
		// A mishap of small workshops: 19 turns and a mark and a half.
		{"1.125 in on 1.5 mm and 30 marks", marks30, in * 9 / 8, measure.Floor, "19 turns + 1"},

		// By hand. A turn of 62.5 lines ends between two whole lines.
		{"0.063 in on 16 TPI", sixteen, in * 63 / 1000, measure.Floor, "1 turn + 0.5"},
		{"0.0625 in on 16 TPI, below", sixteen, in / 16, measure.Floor, "0 turns + 62"},
		{"63 lines of 62 1/3 a turn", thirds, mm * 64 / 63, measure.Floor, "1 turn + 2/3"},
		{"20 lines and two thirds", thirds, mm*83*3/187 + 1, measure.Floor, "1 turn + 20 2/3"},
		{"quarter lines", fourths, in * 102 / 1000, measure.Floor, "1 turn + 1.75"},
		{"nought", tenth, 0, measure.Floor, "0 turns + 0"},
		{"below zero, towards it", tenth, -5959 * um, measure.Ceil, "back 2 turns + 34"},
		{"below zero, away from it", tenth, -5959 * um, measure.Floor, "back 2 turns + 35"},
		{"below zero, less than a line", tenth, -1, measure.Ceil, "0 turns + 0"},
		{"the longest length", tenth, measure.MaxLength, measure.Floor, "39370 turns + 7"},
	} {
		if got := c.axis.Dial(c.pos, c.way).Text(); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// Half lines, by hand from the true lead, where it stands on them; 38.8 lines of a depth
// are 38.5.
func TestHalfLines(t *testing.T) {
	for _, c := range []struct {
		axis Axis
		pos  measure.Length
		want string
	}{
		{tenth, in * 11 / 16, "6 turns + 87.5"},
		{eightTPI, in * 5 / 16, "2 turns + 62.5"},
		{mm3, 7940 * um, "2 turns + 38.5"},
		{sixteen, in * 3 / 10, "4 turns + 50"},
		{sixteen, in / 16, "1 turn + 0"}, // 62.5 lines of half a line
		{marks30, in * 9 / 8, "19 turns + 1.5"},
	} {
		c.axis.Half = true
		r := c.axis.Dial(c.pos, measure.Floor)
		if r.Text() != c.want {
			t.Errorf("%s: %s, want %s", c.pos, r.Text(), c.want)
		}
		if off := c.pos - r.At; off < 0 || off >= c.axis.StepValue().Times(1, measure.Ceil) {
			t.Errorf("%s: stands at %s", c.pos, r.At)
		}
	}
}

// What stands at the dial's mark, by hand: 100 lines, 34 lines clockwise and back, where
// clockwise goes to the plus side and where it does not, numbers rising and falling.
func TestShown(t *testing.T) {
	for _, c := range []struct {
		sense string
		falls bool
		steps int64
		want  string
	}{
		{"+", false, 234, "34"}, {"+", false, -234, "66"}, {"+", false, 200, "0"}, {"+", false, 0, "0"},
		{"-", false, 234, "66"}, {"-", false, -234, "34"},
		{"+", true, 234, "66"}, {"-", true, 234, "34"},
	} {
		a := tenth
		a.Sense, a.Falls = c.sense, c.falls
		if got := LinesText(a.Shown(c.steps)); got != c.want {
			t.Errorf("%+d lines, clockwise %s, falling %v: %s, want %s", c.steps, c.sense, c.falls, got, c.want)
		}
	}
	odd := sixteen
	odd.Sense = "+"
	if got := LinesText(odd.Shown(-63)); got != "62" { // a turn back and half a line: 125 - 63
		t.Errorf("63 lines back on 62.5 a turn show %s", got)
	}
}

// What the demo part's readings leave (invented data): 16.5 from the touched
// face to the bore's centre, the bore 9.525 in radius.
func TestDemoWebLeft(t *testing.T) {
	floor := 16500*um - 9525*um
	for _, c := range []struct {
		name string
		axis Axis
		want measure.Length
	}{
		{"0.100 in", tenth, 10314 * um / 10}, // 0.0406 in: 1.0314 mm
		{"8 TPI", eightTPI, 10314 * um / 10},
		{"2.5 mm", mm25, 1035 * um},
	} {
		if got := floor - c.axis.Dial(5959*um, measure.Floor).At; got != c.want {
			t.Errorf("%s: %d left, want %d", c.name, got, c.want)
		}
	}
}

// Common practice, no source: one turn of 8 TPI is 0.125 in. "Metric Goof": the
// true metric screw in a 20 TPI nut is 14/11 mm, so 11 turns are 14 mm.
func TestPositions(t *testing.T) {
	if got := eightTPI.Position(125, measure.Nearest); got != 3175*um {
		t.Errorf("a turn of 8 TPI is %d, want 3.175 mm", got)
	}
	if got := odd.Position(11*50, measure.Floor); got != 14*mm {
		t.Errorf("11 turns of 14/11 mm are %d, want 14 mm", got)
	}
	// 14/11 mm is 12 727 272.7 tenths of a nanometre.
	for _, c := range []struct {
		steps int64
		way   measure.Rounding
		want  measure.Length
	}{
		{50, measure.Floor, 12_727_272}, {50, measure.Ceil, 12_727_273}, {50, measure.Nearest, 12_727_273},
		{-50, measure.Floor, -12_727_273}, {-50, measure.Ceil, -12_727_272},
	} {
		if got := odd.Position(c.steps, c.way); got != c.want {
			t.Errorf("%d lines, rounding %d: %d, want %d", c.steps, c.way, got, c.want)
		}
	}
	if !(Axis{}).LineValue().IsZero() {
		t.Error("an axis without a dial has a line")
	}
}

// A mishap of small workshops: eight rows 0.125 in apart on 1.5 mm and
// 30 marks must not add up their rounding. The last is 1 in: 508 marks of 0.05
// mm, to the tenth of a nanometre.
func TestRowsDoNotAddUp(t *testing.T) {
	for row := measure.Length(1); row <= 8; row++ {
		r := marks30.Dial(row*in/8, measure.Floor)
		if left := row*in/8 - r.At; left < 0 || left >= 50*um {
			t.Errorf("row %d: %d from its place", row, left)
		}
	}
	if r := marks30.Dial(in, measure.Floor); r.Text() != "16 turns + 28" || r.At != in {
		t.Errorf("the last row: %s at %d", r.Text(), r.At)
	}
}

// A second method, in fractions: the lines found are the last at or below the
// place, and turns and remainder make them up.
func TestDialAgainstFractions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := dial(rapid.Int64Range(1e6, 1e9).Draw(t, "lead"), rapid.Int64Range(1, 99).Draw(t, "of"),
			rapid.Int64Range(1, 2000).Draw(t, "lines"), rapid.Int64Range(1, 8).Draw(t, "parts"))
		pos := measure.Length(rapid.Int64Range(-1e12, 1e12).Draw(t, "place"))
		r := a.Dial(pos, measure.Floor)
		line := new(big.Rat).Quo(big.NewRat(a.Lead.Num, a.Lead.Den), big.NewRat(a.Lines.Num, a.Lines.Den))
		at := func(steps int64) *big.Rat { return new(big.Rat).Mul(line, new(big.Rat).SetInt64(steps)) }
		place := new(big.Rat).SetInt64(int64(pos))
		if at(r.Steps).Cmp(place) > 0 || at(r.Steps+1).Cmp(place) <= 0 {
			t.Fatalf("%d lines are not the last at or below %d", r.Steps, pos)
		}
		lines := big.NewRat(a.Lines.Num, a.Lines.Den)
		rest := big.NewRat(r.Lines.Num, r.Lines.Den)
		if rest.Sign() < 0 || rest.Cmp(lines) >= 0 {
			t.Fatalf("a remainder of %s in a turn of %s", rest, lines)
		}
		sum := new(big.Rat).Add(rest, new(big.Rat).Mul(lines, new(big.Rat).SetInt64(r.Turns)))
		size := new(big.Rat).SetInt64(r.Steps)
		if sum.Cmp(size.Abs(size)) != 0 {
			t.Fatalf("%d turns and %s are not %d lines", r.Turns, rest, r.Steps)
		}
		off := new(big.Rat).Sub(new(big.Rat).SetInt64(int64(r.At)), at(r.Steps))
		if off.Abs(off).Cmp(big.NewRat(1, 2)) > 0 {
			t.Fatalf("told at %d, which is %s off", r.At, off)
		}
	})
}
