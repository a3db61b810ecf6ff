package measure

import (
	"testing"

	"pgregory.net/rapid"
)

func TestParseAngle(t *testing.T) {
	for text, want := range map[string]Angle{
		// in seconds of arc, by hand: 3600 to the degree
		"30 deg":           108_000 * ArcSecond,
		"30deg":            108_000 * ArcSecond,
		"22.5 deg":         81_000 * ArcSecond,
		"22-1/2 deg":       81_000 * ArcSecond,
		"-45 deg":          -162_000 * ArcSecond,
		"36 deg 52' 12\"":  132_732 * ArcSecond,
		"36deg52'12\"":     132_732 * ArcSecond,
		"-36 deg 52' 12\"": -132_732 * ArcSecond,
		"36 deg 12\"":      129_612 * ArcSecond,
		"36 deg 52.2'":     132_732 * ArcSecond,
		"36.87 deg":        132_732 * ArcSecond,
		"52' 12\"":         3_132 * ArcSecond,
		"-52'":             -3_120 * ArcSecond,
		"90'":              5_400 * ArcSecond,
		"0.000001\"":       1,
		"0 deg":            0,
		"-0 deg 30'":       -1_800 * ArcSecond,
		"3600 deg":         12_960_000 * ArcSecond,
	} {
		got, err := ParseAngle(text)
		if got != want || err != nil {
			t.Errorf("%q: %d, %v; want %d", text, got, err, want)
		}
	}
}

func TestParseAngleRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"30":               "30 has no unit: write 30 deg",
		"30 deg 15":        `15 has no unit: write an angle as 36 deg 52' 12"`,
		"36d":              `"d" is not a unit of an angle: write deg, ' or "`,
		"30°":              "the character '°' is not read: write deg",
		"0.5 rad":          `"rad" is not a unit of an angle: write deg, ' or "`,
		"30 deg -15'":      `-15' has a sign inside an angle: write one sign in front`,
		"30 deg 60'":       "60' is not below 60: write the rest as the part before it",
		"22.5 deg 30'":     `22.5 deg is not whole and 30' follows: write whole parts, as 36 deg 52' 12"`,
		"12\" 30 deg":      `12" is followed by "30 deg": write one figure, as 30 deg or 36 deg 52' 12"`,
		"30 deg 30 deg":    `30 deg is followed by "30 deg": write one figure, as 30 deg or 36 deg 52' 12"`,
		"3601 deg":         "3601 deg is beyond what is read: write an angle of at most 3600 deg",
		"3600 deg 1\"":     `3600 deg 1" is beyond what is read: write an angle of at most 3600 deg`,
		"1/7 deg":          "1/7 deg is not a whole number of millionths of a second of arc: write 0.14285714 deg or 0.14285715 deg",
		"0.0000001\"":      `0.0000001" is not a whole number of millionths of a second of arc: write 0" or 0.000001"`,
		"1,5 deg":          "1,5 has a comma: write 1.5 or 15",
		"":                 "nothing is written: write 30 deg",
		"deg":              `"deg" does not begin with a number: write 30 deg`,
		"36 deg 52' 1e1\"": `1e1" has an exponent: write the number out`,
	} {
		if got, err := ParseAngle(text); err == nil || err.Error() != want || got != 0 {
			t.Errorf("%q: %d,\n got %v\nwant %s", text, got, err, want)
		}
	}
}

func TestAnglePrints(t *testing.T) {
	for want, a := range map[string]Angle{
		"36 deg 52' 12\"": 132_732 * ArcSecond, "30 deg": 108_000 * ArcSecond, "22 deg 30'": 81_000 * ArcSecond, "0 deg": 0,
		"-30'": -1_800 * ArcSecond, "1 deg 0' 5\"": 3_605 * ArcSecond, "0.5\"": ArcSecond / 2, "-45 deg": -162_000 * ArcSecond,
	} {
		if got := a.String(); got != want {
			t.Errorf("%d prints %s, want %s", a, got, want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		a := Angle(rapid.Int64Range(-int64(3600*Degree), int64(3600*Degree)).Draw(t, "a"))
		if got, err := ParseAngle(a.String()); got != a || err != nil {
			t.Fatalf("%d prints %s, reads %d, %v", a, a, got, err)
		}
	})
}

func FuzzParseAngle(f *testing.F) {
	for _, s := range []string{
		"30 deg", "22.5 deg", "-45 deg", "36 deg 52' 12\"", "52' 12\"", "-0 deg 30'", "36d", "30°", "1/7 deg", "3600 deg 1\"", "30 deg 60'", "12\" 3'", "22.5 deg 3'",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := ParseAngle(text)
		if err != nil {
			checkRefusal(t, text, err)
			return
		}
		if got > 3600*Degree || got < -3600*Degree {
			t.Errorf("%q reads %d", text, got)
		}
		if again, err := ParseAngle(got.String()); again != got || err != nil {
			t.Errorf("%q reads %d, prints %s, reads %d, %v", text, got, got, again, err)
		}
	})
}
