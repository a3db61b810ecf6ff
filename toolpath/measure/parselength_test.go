package measure

import (
	"math/big"
	"regexp"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"pgregory.net/rapid"
)

func TestParseLength(t *testing.T) {
	// in tenths of a nanometre, worked by hand from 1 in = 25.4 mm
	// (International yard and pound agreement, 1959)
	for _, c := range []struct {
		text string
		bare Unit
		want Length
	}{
		{"1 in", NoUnit, 254_000_000},
		{"1 inch", NoUnit, 254_000_000},
		{"2 inches", NoUnit, 508_000_000},
		{"3/16 in", NoUnit, 47_625_000},
		{"1-1/2 in", NoUnit, 381_000_000},
		{"1 3/32 in", NoUnit, 277_812_500},
		{"1  3/32  in", NoUnit, 277_812_500},
		{"20 thou", NoUnit, 5_080_000},
		{"0.260 in", NoUnit, 66_040_000},
		{"1.8 mm", NoUnit, 18_000_000},
		{`5/8"`, NoUnit, 158_750_000},
		{`1-5/8 "`, NoUnit, 412_750_000},
		{"-12 mm", NoUnit, -120_000_000},
		{"-1-1/2 in", NoUnit, -381_000_000},
		{"+3 mm", NoUnit, 30_000_000},
		{".5 mm", NoUnit, 5_000_000},
		{"1/2 mm", NoUnit, 5_000_000},
		{"12mm", NoUnit, 120_000_000},
		{"\t12\tmm ", NoUnit, 120_000_000},
		{"15 um", NoUnit, 150_000},
		{"15 µm", NoUnit, 150_000}, // U+00B5
		{"15 μm", NoUnit, 150_000}, // U+03BC
		{"0.0000001 mm", NoUnit, 1},
		{"11/8 in", NoUnit, 349_250_000},
		{"1/64 in", NoUnit, 3_968_750},
		{"1/128 in", NoUnit, 1_984_375},
		{"100000 mm", NoUnit, 1_000_000_000_000},
		{"-100000 mm", NoUnit, -1_000_000_000_000},
		{"0", MM, 0},
		{"-0", MM, 0},
		{"12", MM, 120_000_000},
		{"12", In, 3_048_000_000},
		{"1-1/2", In, 381_000_000},
		{"-12.5", MM, -125_000_000},
		{"5", InThou, 1_270_000},
		{"5", Um, 50_000},
		{"12 in", MM, 3_048_000_000},
		// 33.940375 mm = 1.336235 in (by hand): twice, from either figure
		{"1 3/32 in + 7/64 in + 15 thou + 3 mm", NoUnit, 339_403_750},
		{"33.940375 mm", MM, 339_403_750},
		{"1 in - 1/2 in - 3 mm", NoUnit, 97_000_000},
		{"-1 in + 30 mm", NoUnit, 46_000_000},
		{`5/8" + 1 mm`, NoUnit, 168_750_000},
	} {
		got, err := ParseLength(c.text, c.bare)
		if err != nil || got != c.want {
			t.Errorf("%q with %v: %d, %v; want %d", c.text, c.bare, got, err, c.want)
		}
	}
}

func TestParseLengthRefuses(t *testing.T) {
	for _, c := range []struct {
		text string
		bare Unit
		want string // the whole error
		do   []string
	}{
		{"12", NoUnit, `12 has no unit: write 12 mm or 12 in`, []string{"12 mm", "12 in"}},
		{"", MM, "nothing is written: write 12 mm", []string{"12 mm"}},
		{" ", In, "nothing is written: write 12 in", []string{"12 in"}},
		{"1,250 mm", MM, "1,250 has a comma: write 1.25 or 1250", []string{"1.25 mm", "1250 mm"}},
		{"1,000", MM, "1,000 has a comma: write 1 or 1000", nil},
		{"1,250.5 mm", MM, "1,250.5 has a comma: write a point before decimals and no mark between thousands", nil},
		{"1_000 mm", MM, "1_000 has an underscore: write the digits without a mark between them", nil},
		{"1.3/32 in", MM, "1.3/32 has a point in its fraction: did you mean 1-3/32?", []string{"1-3/32 in"}},
		{"1/3.2 in", MM, "1/3.2 has a point in its fraction: write whole numbers above and below the line", nil},
		{"12 cm", MM, `"cm" is not a unit of a length: write mm, in, ", thou or um`, nil},
		{"12 MM", MM, `"MM" is not a unit of a length: write mm, in, ", thou or um`, nil},
		{"1 ft", MM, `"ft" is not a unit of a length: write mm, in, ", thou or um`, nil},
		{"1'250 mm", MM, `"'" is not a unit of a length: write mm, in, ", thou or um`, nil},
		{"100001 mm", MM, "100001 mm is beyond what is read: write a length of at most 100 m (100000 mm, 3937.007874 in)", []string{"100000 mm", "3937.007874 in"}},
		{"60000 mm + 60000 mm", MM, "60000 mm + 60000 mm is beyond what is read: write a length of at most 100 m (100000 mm, 3937.007874 in)", nil},
		{"nan", MM, `"nan" does not begin with a number: write 12 mm`, nil},
		{"inf", MM, `"inf" does not begin with a number: write 12 mm`, nil},
		{"-inf", MM, `"-inf" does not begin with a number: write 12 mm`, nil},
		{"in", MM, `"in" does not begin with a number: write 12 mm`, nil},
		{"1e3 mm", MM, "1e3 mm has an exponent: write the number out", nil},
		{"1E-3", MM, "1E-3 has an exponent: write the number out", nil},
		{"0x10 mm", MM, `"x" is not a unit of a length: write mm, in, ", thou or um`, nil},
		{"1.2.3 mm", MM, "1.2.3 has two points: write one", nil},
		{"5. mm", MM, "5. has nothing behind its point: write 5 or 5.0", []string{"5 mm", "5.0 mm"}},
		{". mm", MM, "a point alone is no number: write 0", nil},
		{"--5", MM, "--5 has two signs: write one", nil},
		{"+-5", MM, "+-5 has two signs: write one", nil},
		{"- 5 mm", MM, "the - stands away from its number: write it close, as -12 mm", []string{"-12 mm"}},
		{"1/0 in", MM, "1/0 divides by nought: write another number below the line", nil},
		{"0/0 in", MM, "0/0 divides by nought: write another number below the line", nil},
		{"1-1/0 in", MM, "1/0 divides by nought: write another number below the line", nil},
		{"1/2/3 in", MM, "1/2/3 has two lines: write one fraction, as 3/16", nil},
		{"/2 in", MM, "/2 has nothing above the line: write a fraction as 3/16", nil},
		{"1/ in", MM, "1/ has nothing below the line: write a fraction as 3/16", nil},
		{"1-5/4 in", MM, "1-5/4 is not proper, as 5/4 is not below 1: write 2-1/4", []string{"2-1/4 in"}},
		{"1-4/4 in", MM, "1-4/4 is not proper, as 4/4 is not below 1: write 2", nil},
		{"1--1/2 in", MM, "1--1/2 in has a sign inside: write a mixed number as 1-1/2", nil},
		{"1+1/2 in", MM, "1+1/2 in has a sign inside: write a mixed number as 1-1/2", nil},
		{"1 -1/2 in", MM, "1 -1/2 in can be read two ways: write a mixed number as 1-1/2, without spaces", nil},
		{"1.5-1/2 in", MM, "1.5-1/2 is two numbers: write one; only a whole number stands before a fraction, as in 1-1/2", nil},
		{"1-3 mm", MM, "1-3 is not a number: write a mixed number as 1-1/2", nil},
		{"1 250 mm", MM, "1 250 has a gap: write 1250, or a mixed number as 1-1/2", nil},
		{"1/3 in", MM, "1/3 in is not a whole number of tenths of a nanometre: write 0.333333 in or 0.333334 in", []string{"0.333333 in", "0.333334 in"}},
		{"-1/3 mm", MM, "-1/3 mm is not a whole number of tenths of a nanometre: write -0.3333334 mm or -0.3333333 mm", []string{"-0.3333334 mm", "-0.3333333 mm"}},
		{"0.00000001 mm", MM, "0.00000001 mm is not a whole number of tenths of a nanometre: write 0 mm or 0.0000001 mm", nil},
		{`1/7"`, MM, `1/7" is not a whole number of tenths of a nanometre: write 0.142857" or 0.142858"`, []string{`0.142857"`, `0.142858"`}},
		{"1 in + 3", MM, "3 has no unit: in a sum each length has its own, as 1 in + 3 mm", []string{"1 in + 3 mm"}},
		{"1 + 3 mm", MM, "1 has no unit: in a sum each length has its own, as 1 in + 3 mm", nil},
		{"1 in+3 mm", MM, "the + of a sum stands too close: write it with a space on each side, as 1 in + 3 mm", nil},
		{"1 in -3 mm", MM, "the - of a sum stands too close: write it with a space on each side, as 1 in - 3 mm", nil},
		{"1 in + -3 mm", MM, "-3 has a sign of its own behind a + or -: write one sign", nil},
		{"1 in +", MM, "nothing follows the +: write a length behind it, as 1 in + 3 mm", nil},
		{"1 in 3 mm", MM, `1 in is followed by "3 mm": write one figure, as 12 mm or a sum as 1 in + 3 mm`, nil},
		{"½ in", MM, "the character '½' is not read: write 1/2", []string{"1/2 in"}},
		{"5/8″", MM, `the character '″' is not read: write in or "`, nil},
		{"−5 mm", MM, "the character '−' is not read: write -", nil},
		{"5 mm\n", MM, `the character '\n' is not read: write it on one line`, nil},
		{"5\x00mm", MM, `the character '\x00' is not read: write 12 mm`, nil},
		{"\xff", MM, "the character '\ufffd' is not read: write 12 mm", nil},
		{"５ mm", MM, "the character '５' is not read: write 12 mm", nil},
		{strings.Repeat("1", 101), MM, `"111111111111111111111111..." is too long: write at most 100 characters, as 12 mm`, nil},
		{strings.Repeat("1", 100), MM, "111111111111111111111111... mm is beyond what is read: write a length of at most 100 m (100000 mm, 3937.007874 in)", nil},
	} {
		got, err := ParseLength(c.text, c.bare)
		if err == nil || got != 0 {
			t.Errorf("%q with %v: %d, %v; want it refused", c.text, c.bare, got, err)
			continue
		}
		if err.Error() != c.want {
			t.Errorf("%q with %v:\n got %s\nwant %s", c.text, c.bare, err, c.want)
		}
		for _, do := range c.do {
			if _, err := ParseLength(do, NoUnit); err != nil {
				t.Errorf("%q: its advice %q is refused: %v", c.text, do, err)
			}
		}
	}
}

// TestHugeText wants a hostile text of megabytes refused without being read
// through or echoed.
func TestHugeText(t *testing.T) {
	for _, fill := range []string{"1", "-", " ", "½", "\xff", "1/", "9.", "\n"} {
		text := strings.Repeat(fill, 4<<20)
		for name, err := range parseAll(text) {
			if err == nil {
				t.Errorf("%s takes %q times 4 Mi", name, fill)
				continue
			}
			checkRefusal(t, name, err)
		}
	}
}

// parseAll gives what each reader says of a text.
func parseAll(text string) map[string]error {
	all := map[string]error{}
	_, all["length"] = ParseLength(text, MM)
	_, all["size"] = ParseSize(text, In)
	_, all["angle"] = ParseAngle(text)
	_, all["feed"] = ParseFeed(text, MM)
	_, all["speed"] = ParseSpeed(text)
	_, all["surface"] = ParseSurface(text)
	_, all["time"] = ParseTime(text)
	_, all["lead"] = ParseLead(text)
	_, all["rate"] = ParseRate(text)
	_, all["number"] = ParseNumber(text)
	_, all["units"] = ParseUnits(text)
	return all
}

// checkRefusal wants an error that is safe to print on one line and that ends
// as the house wants it.
func checkRefusal(t *testing.T, text string, err error) {
	t.Helper()
	s := err.Error()
	if !utf8.ValidString(s) || len(s) > 400 || strings.HasSuffix(s, ".") && !strings.HasSuffix(s, "...") {
		t.Errorf("%q: bad error %q", text, s)
	}
	for _, r := range s {
		if !unicode.IsPrint(r) {
			t.Errorf("%q: the error holds %q", text, r)
		}
	}
}

func TestParseSize(t *testing.T) {
	for text, want := range map[string]Length{"1/64 in": 3_968_750, "0": 0, "4 mm": 40_000_000, "-2 mm": -20_000_000} {
		if got, err := ParseSize(text, MM); got != want || err != nil {
			t.Errorf("%q: %d, %v; want %d", text, got, err, want)
		}
	}
	// 1/128 in is 0.1984375 mm: an odd number of tenths
	_, err := ParseSize("1/128 in", MM)
	if want := "1/128 in has no exact half: write 0.1984374 mm or 0.1984376 mm"; err == nil || err.Error() != want {
		t.Errorf("1/128 in: %v; want %s", err, want)
	}
	if _, err := ParseSize("12", NoUnit); err == nil {
		t.Error("a bare size without a unit is taken")
	}
}

func TestParseUnits(t *testing.T) {
	for text, want := range map[string]Unit{"mm": MM, "in": In} {
		if got, err := ParseUnits(text); got != want || err != nil {
			t.Errorf("%q: %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "thou", "um", "MM", " mm", "inch", `"`} {
		if _, err := ParseUnits(text); err == nil {
			t.Errorf("%q is taken", text)
		}
	}
}

// TestPrintedLengthReadsBack prints any length in every exact way and reads it.
func TestPrintedLengthReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Length(rapid.Int64Range(-int64(MaxLength), int64(MaxLength)).Draw(t, "l"))
		for _, text := range []string{l.MM() + " mm", l.Format(MM, 7, Nearest) + " mm", l.Format(Um, 4, Floor) + " um"} {
			if got, err := ParseLength(text, NoUnit); got != l || err != nil {
				t.Fatalf("%d prints %q, which reads %d, %v", l, text, got, err)
			}
		}
		inch := Length(rapid.Int64Range(-3937*64, 3937*64).Draw(t, "sixty-fourths")) * 3_968_750
		text, ok := inch.Fraction()
		if got, err := ParseLength(text, NoUnit); !ok || got != inch || err != nil {
			t.Fatalf("%d prints %q, which reads %d, %v", inch, text, got, err)
		}
		thou := Length(rapid.Int64Range(-3_937_000, 3_937_000).Draw(t, "thou")) * 254_000
		for _, text := range []string{thou.Inches(3) + " in", thou.Thou(0) + " thou"} {
			if got, err := ParseLength(text, NoUnit); got != thou || err != nil {
				t.Fatalf("%d prints %q, which reads %d, %v", thou, text, got, err)
			}
		}
	})
}

var plain = regexp.MustCompile(`^([+-]?)(?:([0-9]+)-)?([0-9]+/[0-9]+|[0-9]*\.?[0-9]+) ?(mm|in|thou)$`)

// plainValue is a second way to read one length, by a pattern and the big
// package's own reader. It tells whether it can read the text at all.
func plainValue(text string) (*big.Rat, bool) {
	m := plain.FindStringSubmatch(text)
	if m == nil || (m[2] != "" && !strings.Contains(m[3], "/")) {
		return nil, false
	}
	v, ok := decimal(m[3])
	if !ok {
		return nil, false // nought below the line
	}
	if m[2] != "" {
		if v.Cmp(big.NewRat(1, 1)) >= 0 {
			return nil, false
		}
		whole, _ := decimal(m[2])
		v.Add(v, whole)
	}
	v.Mul(v, map[string]*big.Rat{"mm": big.NewRat(10_000_000, 1), "in": big.NewRat(254_000_000, 1), "thou": big.NewRat(254_000, 1)}[m[4]])
	if m[1] == "-" {
		v.Neg(v)
	}
	return v, true
}

// decimal reads a decimal number or a fraction of two. The big package takes
// the halves of "010/1" for octal, so noughts in front are taken off first.
func decimal(text string) (*big.Rat, bool) {
	parts := strings.Split(text, "/")
	for i, p := range parts {
		parts[i] = "0"
		if p = strings.TrimLeft(p, "0"); p != "" {
			parts[i] = p
		}
	}
	return new(big.Rat).SetString(strings.Join(parts, "/"))
}

func FuzzParseLength(f *testing.F) {
	for _, s := range []string{
		"3/16 in", "1-1/2 in", "1 3/32 in + 7/64 in + 15 thou + 3 mm", `5/8"`, "-12 mm", ".5 mm", "+3 mm", "12", "1,250",
		"1.3/32", "1e3", "1--1/2", "1-5/4 in", "1/3 in", "1/0 in", "1_000", "100000 mm", "100000.0000001 mm", "½ in", "5 µm",
		"1 in - 3 mm", "1 in+3 mm", "- 5", "1'250", "\xff\x00", "1 250 mm", "5. mm", "0.0000001 mm", "1/128 in",
		"010/1in", "08-01/02 in", "00.50 in",
	} {
		f.Add(s, byte(0))
		f.Add(s, byte(1))
	}
	f.Fuzz(func(t *testing.T, text string, unit byte) {
		bare := Unit(unit % 5)
		got, err := ParseLength(text, bare)
		v, known := plainValue(text)
		if err != nil {
			checkRefusal(t, text, err)
			if got != 0 {
				t.Errorf("%q is refused and reads %d", text, got)
			}
			if known && len(text) <= maxText && v.IsInt() && new(big.Rat).Abs(v).Cmp(big.NewRat(1e12, 1)) <= 0 {
				t.Errorf("%q is %s and is refused: %v", text, v, err)
			}
			return
		}
		if got.Abs() > MaxLength {
			t.Errorf("%q reads %d", text, got)
		}
		if known && v.Cmp(big.NewRat(int64(got), 1)) != 0 {
			t.Errorf("%q reads %d, but is %s", text, got, v)
		}
		if again, err := ParseLength(got.MM()+" mm", NoUnit); again != got || err != nil {
			t.Errorf("%q reads %d, prints %s, reads %d, %v", text, got, got.MM(), again, err)
		}
		if size, err := ParseSize(text, bare); err == nil && (size != got || size.Half(Floor) != size.Half(Ceil)) {
			t.Errorf("%q as a size: %d, as a length: %d", text, size, got)
		}
		for _, s := range []string{got.Both(), got.String()} {
			if strings.HasPrefix(s, "-0 ") || strings.Contains(s, "(-0 ") {
				t.Errorf("%q prints %s", text, s)
			}
		}
	})
}
