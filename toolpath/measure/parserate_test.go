package measure

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestParseFeed(t *testing.T) {
	for _, c := range []struct {
		text string
		bare Unit
		want Feed
	}{
		{"150 mm/min", NoUnit, 1_500_000_000},
		{"6 in/min", NoUnit, 1_524_000_000}, // 152.4 mm
		{"6in/min", MM, 1_524_000_000},
		{"150", MM, 1_500_000_000},
		{"6", In, 1_524_000_000},
		{"1/2", In, 127_000_000},
		{"0", MM, 0},
		{"-0", MM, 0},
		{"1000000 mm/min", NoUnit, 10_000_000_000_000},
	} {
		if got, err := ParseFeed(c.text, c.bare); got != c.want || err != nil {
			t.Errorf("%q with %v: %d, %v; want %d", c.text, c.bare, got, err, c.want)
		}
	}
}

func TestParseSpeed(t *testing.T) {
	for text, want := range map[string]Speed{
		"1200 rpm": 1_200_000, "1200": 1_200_000, "62.5 rpm": 62_500, "0.001 rpm": 1, "0": 0, "1000000 RPM": 1_000_000_000,
		"333-1/2 rpm": 333_500,
	} {
		if got, err := ParseSpeed(text); got != want || err != nil {
			t.Errorf("%q: %d, %v; want %d", text, got, err, want)
		}
	}
}

func TestParseSurface(t *testing.T) {
	for text, want := range map[string]SurfaceSpeed{
		"25 m/min": 250_000_000_000, "100 ft/min": 304_800_000_000, // 1 ft = 0.3048 m (agreement of 1959)
		"0 m/min": 0,
	} {
		if got, err := ParseSurface(text); got != want || err != nil {
			t.Errorf("%q: %d, %v; want %d", text, got, err, want)
		}
	}
}

func TestParseTime(t *testing.T) {
	for text, want := range map[string]Time{
		"3 s": 3 * time.Second, "500 ms": 500 * time.Millisecond, "0.5 s": 500 * time.Millisecond, "1/8 s": 125 * time.Millisecond,
		"0 s": 0, "3600 s": time.Hour, "3600000ms": time.Hour,
	} {
		if got, err := ParseTime(text); got != want || err != nil {
			t.Errorf("%q: %d, %v; want %d", text, got, err, want)
		}
	}
}

func TestRatesRefuse(t *testing.T) {
	feed := func(s string) error { _, err := ParseFeed(s, NoUnit); return err }
	thou := func(s string) error { _, err := ParseFeed(s, InThou); return err }
	speed := func(s string) error { _, err := ParseSpeed(s); return err }
	surface := func(s string) error { _, err := ParseSurface(s); return err }
	span := func(s string) error { _, err := ParseTime(s); return err }
	for _, c := range []struct {
		read       func(string) error
		text, want string
	}{
		{feed, "150", "150 has no unit: write mm/min or in/min behind it"},
		{thou, "150", "150 has no unit: write mm/min or in/min behind it"},
		{feed, "-5 mm/min", "-5 mm/min is below nought: write 5 mm/min"},
		{feed, "150 mm", `"mm" is not a unit of a feed: write mm/min or in/min`},
		{feed, "5 m/min", `"m/min" is not a unit of a feed: write mm/min or in/min`},
		{feed, "1000001 mm/min", "1000001 mm/min is beyond what is read: write a feed of at most 1000 m a minute (1000000 mm/min)"},
		{feed, "1/3 in/min", "1/3 in/min is not a whole number of tenths of a nanometre a minute: write 0.333333 in/min or 0.333334 in/min"},
		{feed, "6 in/min + 1 mm/min", `6 in/min is followed by "+ 1 mm/min": write one figure, as 150 mm/min`},
		{feed, "", "nothing is written: write 150 mm/min"},
		{speed, "1,200", "1,200 has a comma: write 1.2 or 1200"},
		{speed, "1.0005 rpm", "1.0005 rpm is not a whole number of thousandths of a turn a minute: write 1 rpm or 1.001 rpm"},
		{speed, "1000001", "1000001 rpm is beyond what is read: write a speed of at most 1000000 rpm"},
		{speed, "-1", "-1 rpm is below nought: write 1 rpm"},
		{speed, "20 Hz", `"Hz" is not a unit of a speed: write rpm`},
		{surface, "25", "25 has no unit: write m/min or ft/min behind it"},
		{surface, "80 fpm", `"fpm" is not a unit of a surface speed: write m/min or ft/min`},
		{surface, "32809 ft/min", "32809 ft/min is beyond what is read: write a surface speed of at most 10000 m/min (32808 ft/min)"},
		{span, "3", "3 has no unit: write s or ms behind it"},
		{span, "0.5 ms", "0.5 ms is not a whole number of milliseconds: write 0 ms or 1 ms"},
		{span, "3601 s", "3601 s is beyond what is read: write a time of at most 3600 s"},
		{span, "-1 s", "-1 s is below nought: write 1 s"},
		{span, "1 min", `"min" is not a unit of a time: write s or ms`},
		{span, "inf s", `"inf s" does not begin with a number: write 3 s`},
	} {
		if err := c.read(c.text); err == nil || err.Error() != c.want {
			t.Errorf("%q:\n got %v\nwant %s", c.text, err, c.want)
		}
	}
}

func TestPrintedRateReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		feed := Feed(rapid.Int64Range(0, 1e13).Draw(t, "feed"))
		if got, err := ParseFeed(feed.Format(MM, 7, Nearest)+" mm/min", NoUnit); got != feed || err != nil {
			t.Fatalf("feed %d reads back %d, %v", feed, got, err)
		}
		speed := Speed(rapid.Int64Range(0, 1e9).Draw(t, "speed"))
		for _, text := range []string{speed.String(), speed.Format(3, Floor)} {
			if got, err := ParseSpeed(text); got != speed || err != nil {
				t.Fatalf("speed %d prints %s, reads %d, %v", speed, text, got, err)
			}
		}
		span := Time(rapid.Int64Range(0, 3_600_000).Draw(t, "ms")) * time.Millisecond
		if got, err := ParseTime(FormatTime(span)); got != span || err != nil {
			t.Fatalf("time %d prints %s, reads %d, %v", span, FormatTime(span), got, err)
		}
		surface := SurfaceSpeed(rapid.Int64Range(0, 1e8).Draw(t, "surface")) * SurfaceSpeed(Millimetre) / 10
		if got, err := ParseSurface(surface.String()); got != surface || err != nil {
			t.Fatalf("surface speed %d prints %s, reads %d, %v", surface, surface, got, err)
		}
	})
}

func FuzzParseFeed(f *testing.F) {
	for _, s := range []string{"150 mm/min", "6 in/min", "150", "-5", "1/3 in/min", "1e3 mm/min", "150 mm / min", "1000000 mm/min", "0.0000001 mm/min", "1,5"} {
		f.Add(s, byte(MM))
		f.Add(s, byte(In))
	}
	f.Fuzz(func(t *testing.T, text string, unit byte) {
		got, err := ParseFeed(text, Unit(unit%5))
		if err != nil {
			checkRefusal(t, text, err)
			return
		}
		if got < 0 || got > 1e13 {
			t.Errorf("%q reads %d", text, got)
		}
		if again, err := ParseFeed(got.Format(MM, 7, Nearest), MM); again != got || err != nil {
			t.Errorf("%q reads %d, then %d, %v", text, got, again, err)
		}
		// the same figure as a length is the same, where it is within its bound
		if l, err := ParseLength(text, Unit(unit%5)); err == nil && l != Length(got) {
			t.Errorf("%q is a feed of %d and a length of %d", text, got, l)
		}
	})
}

func FuzzParseTime(f *testing.F) {
	for _, s := range []string{"3 s", "500 ms", "0.5 s", "1/8 s", "3600 s", "3600001 ms", "-1 s", "0.0005 s", "1 min", "5"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := ParseTime(text)
		if err != nil {
			checkRefusal(t, text, err)
			return
		}
		if got < 0 || got > time.Hour || got%time.Millisecond != 0 {
			t.Errorf("%q reads %s", text, got)
		}
		if again, err := ParseTime(FormatTime(got)); again != got || err != nil {
			t.Errorf("%q reads %d, prints %s, reads %d, %v", text, got, FormatTime(got), again, err)
		}
	})
}
