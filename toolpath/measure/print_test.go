package measure

import (
	"math"
	"math/big"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		l      Length
		u      Unit
		places int
		way    Rounding
		want   string
	}{
		// the demo slot: 5.959 mm is 0.234606... in
		{59_590_000, MM, 3, Nearest, "5.959"},
		{59_590_000, MM, 7, Nearest, "5.9590000"},
		{59_590_000, In, 4, Nearest, "0.2346"},
		{59_590_000, In, 4, Ceil, "0.2347"},
		{-59_590_000, In, 4, Floor, "-0.2347"},
		{-59_590_000, In, 4, Ceil, "-0.2346"},
		{59_590_000, InThou, 1, Nearest, "234.6"},
		{59_590_000, MM, 2, Floor, "5.95"},
		{59_590_000, MM, 0, Nearest, "6"},
		{59_590_000, Um, 0, Nearest, "5959"},
		{-1, MM, 3, Nearest, "0.000"},
		{-1, MM, 3, Ceil, "0.000"},
		{-1, MM, 3, Floor, "-0.001"},
		{-1, MM, 0, Nearest, "0"},
		{1, MM, 7, Nearest, "0.0000001"},
		{-5_000, MM, 3, Nearest, "-0.001"}, // a half, away from nought
		{0, In, 6, Nearest, "0.000000"},
		{MaxLength, In, 6, Nearest, "3937.007874"},
		{-MaxLength, MM, 7, Nearest, "-100000.0000000"},
		{math.MinInt64, MM, 7, Nearest, "-922337203685.4775808"},
	} {
		if got := c.l.Format(c.u, c.places, c.way); got != c.want {
			t.Errorf("%d in %v, %d places, way %d: %s, want %s", c.l, c.u, c.places, c.way, got, c.want)
		}
	}
	for _, c := range []struct {
		u      Unit
		places int
	}{{MM, 8}, {In, 7}, {InThou, 4}, {Um, 5}, {NoUnit, 0}, {MM, -1}} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%d places of %q are printed", c.places, c.u)
				}
			}()
			Length(1).Format(c.u, c.places, Nearest)
		}()
	}
}

// TestFormatAgainstBig prints any length every way and holds what is printed
// to the big package.
func TestFormatAgainstBig(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Length(rapid.OneOf(rapid.Int64Range(-int64(MaxLength), int64(MaxLength)), rapid.Int64Range(-300_000, 300_000)).Draw(t, "l"))
		u := rapid.SampledFrom([]Unit{MM, In, InThou, Um}).Draw(t, "unit")
		places := rapid.IntRange(0, u.places()).Draw(t, "places")
		for _, way := range ways {
			text := l.Format(u, places, way)
			if strings.HasPrefix(text, "-") && strings.Trim(text, "-0.") == "" {
				t.Fatalf("%d prints %s", l, text)
			}
			if _, decimals, _ := strings.Cut(text, "."); len(decimals) != places {
				t.Fatalf("%d prints %s, want %d decimals", l, text, places)
			}
			got, ok := new(big.Rat).SetString(text)
			if !ok {
				t.Fatalf("%d prints %s", l, text)
			}
			scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil)
			want := new(big.Rat).SetFrac(rounded(new(big.Int).Mul(big.NewInt(int64(l)), scale), big.NewInt(int64(u.Size())), way), scale)
			if got.Cmp(want) != 0 {
				t.Fatalf("%d in %v, way %d: %s, want %s", l, u, way, text, want.FloatString(places))
			}
		}
	})
}

func TestLengthPrints(t *testing.T) {
	for _, c := range []struct {
		l                Length
		mm, text, inches string
		both             string
	}{
		{59_590_000, "5.959", "5.959 mm", "0.2346", "5.959 mm (0.2346 in)"},
		{47_625_000, "4.7625", "4.7625 mm", "0.1875", "3/16 in (4.7625 mm)"},
		{339_403_750, "33.940375", "33.9404 mm", "1.3362", "33.9404 mm (1.3362 in)"}, // by hand: 1.336235 in
		{59_588_400, "5.95884", "5.9588 mm", "0.2346", "0.2346 in (5.9588 mm)"},      // 234.6 thou
		{10_160_000, "1.016", "1.016 mm", "0.0400", "1.016 mm (0.0400 in)"},          // 40 thou
		{-381_000_000, "-38.1", "-38.1 mm", "-1.5000", "-1-1/2 in (-38.1 mm)"},
		{0, "0", "0 mm", "0.0000", "0 in (0 mm)"},
		{-1, "-0.0000001", "0 mm", "0.0000", "0 mm (0.0000 in)"},
		{120_000_000, "12", "12 mm", "0.4724", "12 mm (0.4724 in)"},
		{1_000_000_000, "100", "100 mm", "3.9370", "100 mm (3.9370 in)"},
		{508_000_000, "50.8", "50.8 mm", "2.0000", "2 in (50.8 mm)"},
	} {
		if got := c.l.MM(); got != c.mm {
			t.Errorf("%d in mm: %s, want %s", c.l, got, c.mm)
		}
		if got := c.l.String(); got != c.text {
			t.Errorf("%d as text: %s, want %s", c.l, got, c.text)
		}
		if got := c.l.Inches(4); got != c.inches {
			t.Errorf("%d in inches: %s, want %s", c.l, got, c.inches)
		}
		if got := c.l.Both(); got != c.both {
			t.Errorf("%d in both: %s, want %s", c.l, got, c.both)
		}
	}
	if got := Length(10_160_000).Thou(0); got != "40" {
		t.Errorf("1.016 mm in thou: %s", got)
	}
	if got := Length(59_590_000).Thou(1); got != "234.6" {
		t.Errorf("5.959 mm in thou: %s", got)
	}
}

func TestFraction(t *testing.T) {
	for l, want := range map[Length]string{
		349_250_000: "1-3/8 in", 47_625_000: "3/16 in", -127_000_000: "-1/2 in", 508_000_000: "2 in", 0: "0 in",
		3_968_750: "1/64 in", -349_250_000: "-1-3/8 in", 1_984_375: "", 1: "", 10_000_000: "",
	} {
		if got, ok := l.Fraction(); got != want || ok != (want != "") {
			t.Errorf("%d: %q, %v; want %q", l, got, ok, want)
		}
	}
}

func TestRatesPrint(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Feed(1_500_000_000).String(), "150 mm/min"},
		{Feed(1_524_000_000).String(), "152.4 mm/min"},
		{Feed(1_524_000_000).Format(In, 1, Floor), "6.0"},
		{Feed(1_500_000_000).Format(In, 2, Floor), "5.90"}, // 5.9055
		{Feed(0).String(), "0 mm/min"},
		{(1200 * RPM).String(), "1200 rpm"},
		{Speed(62_500).String(), "62.5 rpm"},
		{Speed(62_500).Format(0, Floor), "62"},
		{Speed(62_500).Format(0, Nearest), "63"},
		{Speed(62_500).Format(3, Floor), "62.500"},
		{SurfaceSpeed(250_000_000_000).String(), "25 m/min"},
		{SurfaceSpeed(304_800_000_000).String(), "30.48 m/min"}, // 100 ft
		{FormatTime(3 * time.Second), "3 s"},
		{FormatTime(500 * time.Millisecond), "500 ms"},
		{FormatTime(1500 * time.Millisecond), "1.5 s"},
		{FormatTime(90 * time.Second), "90 s"},
		{FormatTime(1500 * time.Nanosecond), "0.0015 ms"},
		{FormatTime(0), "0 s"},
	} {
		if c.got != c.want {
			t.Errorf("%s, want %s", c.got, c.want)
		}
	}
}

// A length in both units, the one that a person reads first: by hand.
func TestBothFrom(t *testing.T) {
	for _, c := range []struct {
		l      Length
		mm, in string
	}{
		{47_625_000, "4.7625 mm (3/16 in)", "3/16 in (4.7625 mm)"},
		{25_000_000, "2.5 mm (0.0984 in)", "0.0984 in (2.5 mm)"},
		{-110_269_000, "-11.0269 mm (-0.4341 in)", "-0.4341 in (-11.0269 mm)"},
		{0, "0 mm", "0 in"},
	} {
		if mm, in := c.l.BothFrom(MM), c.l.BothFrom(In); mm != c.mm || in != c.in {
			t.Errorf("%d: %q and %q, want %q and %q", c.l, mm, in, c.mm, c.in)
		}
	}
	if got := Length(317_500_000).In(In); got != "1-1/4 in" {
		t.Errorf("31.75 mm is %q", got)
	}
}

// By hand: a tenth of a nanometre over 5.959 mm is told as no more than that, and as the
// next thousandth where it is rounded up; 0.2346 in likewise.
func TestShown(t *testing.T) {
	for _, c := range []struct {
		l    Length
		u    Unit
		way  Rounding
		want string
	}{
		{5_959*Micrometre + 1, MM, Floor, "5.959 mm"}, {5_959*Micrometre + 1, MM, Ceil, "5.960 mm"},
		{2_346 * (Thou / 10), In, Nearest, "0.2346 in"}, {2_346*(Thou/10) + 1, In, Ceil, "0.2347 in"}, {-Millimetre, MM, Nearest, "-1.000 mm"},
	} {
		if got := c.l.Shown(c.u, c.way); got != c.want {
			t.Errorf("%d: %q, want %q", c.l, got, c.want)
		}
	}
	if got := Inch.ShownBoth(In, Nearest) + " " + Inch.ShownBoth(MM, Nearest); got != "1.0000 in (25.400 mm) 25.400 mm (1.0000 in)" {
		t.Errorf("an inch in both units: %q", got)
	}
}
