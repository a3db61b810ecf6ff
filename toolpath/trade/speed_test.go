package trade

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"stopshort/toolpath/measure"
)

const (
	mm   = measure.Millimetre
	in   = measure.Inch
	um   = measure.Micrometre
	mMin = measure.SurfaceSpeed(measure.Metre)
	ftMn = measure.SurfaceSpeed(measure.Foot)
)

// Printed speeds are to the nearest turn; ours is rounded down to a thousandth,
// so it lies within a turn below what is printed, or above it by less than the
// half that was rounded off there.
func TestSpindleSpeedAsPrinted(t *testing.T) {
	for _, c := range []struct {
		source  string
		v       measure.SurfaceSpeed
		d       measure.Length
		printed measure.Speed
	}{
		{"Milling speed tips (12 mm cutter, 663 rpm)", 25 * mMin, 12 * mm, 663},
		{"Milling formula page with example, catalogue p.453", 450 * ftMn, in * 3 / 8, 4584},
		{"Milling machine problems", 50 * ftMn, in * 3 / 2, 127},
		{"Observatory shop, cutting speeds", 300 * ftMn, in / 16, 18335},
		{"Observatory shop, cutting speeds", 300 * ftMn, in / 8, 9167},
		{"Observatory shop, cutting speeds", 300 * ftMn, in / 4, 4584},
		{"Observatory shop, cutting speeds", 300 * ftMn, in * 3 / 8, 3056},
		{"Observatory shop, cutting speeds", 300 * ftMn, in / 2, 2292},
	} {
		got := SpindleSpeed(c.v, c.d)
		if below := c.printed*measure.RPM - got; below >= measure.RPM || below <= -measure.RPM/2 {
			t.Errorf("%s: %d thousandths, printed %d rpm", c.source, got, c.printed)
		}
	}
}

func TestEdgeSpeedAsPrinted(t *testing.T) {
	// "Formulas for milling, metric": 125 mm at 350 rpm is 137.4 m/min, to one
	// decimal and with 3.14 for pi.
	got := EdgeSpeed(350*measure.RPM, 125*mm)
	if got < 137400*mMin/1000 || got > 137450*mMin/1000 {
		t.Errorf("125 mm at 350 rpm: %d", got)
	}
}

func TestFeedRateAsPrinted(t *testing.T) {
	for _, c := range []struct {
		source  string
		tooth   measure.Length
		flutes  int
		n       measure.Speed
		printed measure.Feed // mm/min
	}{
		{"Milling speed tips (12 mm cutter, 663 rpm)", 65 * um, 2, 663, 86},
		{"Milling speed tips (12 mm cutter, 663 rpm)", 65 * um, 3, 663, 129},
		{"Milling speed tips (12 mm cutter, 663 rpm)", 60 * um, 4, 663, 159},
	} {
		got := FeedRate(c.tooth, c.flutes, c.n*measure.RPM)
		if off := got - c.printed*measure.Feed(mm); off < -measure.Feed(mm)/2 || off > measure.Feed(mm)/2 {
			t.Errorf("%s: %d, printed %d mm/min", c.source, got, c.printed)
		}
	}
	for _, c := range []struct {
		source string
		tooth  measure.Length
		flutes int
		n      measure.Speed
		exact  measure.Feed // mm/min
	}{
		{"Formulas for milling, metric", 100 * um, 10, 500, 500},
		{"Formulas for milling, metric", 250 * um, 16, 200, 800},
	} {
		if got := FeedRate(c.tooth, c.flutes, c.n*measure.RPM); got != c.exact*measure.Feed(mm) {
			t.Errorf("%s: %d, want %d mm/min to the last figure", c.source, got, c.exact)
		}
	}
	// "Formulas for milling, metric": 500 mm/min on 10 teeth at 500 rpm is 0.1 mm.
	if got := ToothFeed(500*measure.Feed(mm), 10, 500*measure.RPM); got != 100*um {
		t.Errorf("a tooth takes %d, want 0.1 mm", got)
	}
}

// By hand: 200 ft/min is 60.96 m/min. A range is told as its page prints it.
func TestSpeedSpan(t *testing.T) {
	for _, c := range []struct{ low, high, want string }{
		{"200 ft/min", "300 ft/min", "61 to 91 m/min (200 to 300 ft/min)"},
		{"30 m/min", "46 m/min", "30 to 46 m/min"}, {"18 m/min", "18 m/min", "18 m/min"},
		{"2.5 m/min", "34 m/min", "2.5 to 34 m/min"}, {"50 ft/min", "50 ft/min", "15 m/min (50 ft/min)"},
	} {
		low, err := measure.ParseSurface(c.low)
		high, err2 := measure.ParseSurface(c.high)
		if got := SpeedSpan(low, high); err != nil || err2 != nil || got != c.want {
			t.Errorf("%s to %s: %q, want %q", c.low, c.high, got, c.want)
		}
	}
}

// By hand: a share of a feed, and nothing of nothing.
func TestPlungeShare(t *testing.T) {
	for feed, want := range map[measure.Feed]measure.Feed{7: 1, 400: 100, 0: 0, -4: 0} {
		if got := PlungeShare(feed); got != want {
			t.Errorf("%d: %d, want %d", feed, got, want)
		}
	}
	if got := PlungeShareText(); got != "a quarter of the feed" {
		t.Error(got)
	}
}

// By hand. "University lab, Speeds and Feeds": a quarter of the side feed;
// "Carbide feed-per-tooth table 1-25 mm": the feed per tooth as a feed per turn,
// which is the lesser from five flutes on.
func TestPlungeFeed(t *testing.T) {
	for _, c := range []struct {
		flutes int
		want   measure.Feed // of 0.02 mm a tooth at 1000 rpm, in mm/min
	}{{1, 5}, {2, 10}, {3, 15}, {4, 20}, {5, 20}, {6, 20}} {
		if got := PlungeFeed(20*um, c.flutes, 1000*measure.RPM); got != c.want*measure.Feed(mm) {
			t.Errorf("%d flutes: %d, want %d mm/min", c.flutes, got, c.want)
		}
	}
}

// The edge must not run faster than was asked: a second method with fractions
// on both sides, 223/71 below pi and 355/113 above it, gives two speeds between
// which ours must lie.
func TestSpindleSpeedStaysBelow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Int64Range(1, 1e13).Draw(t, "surface speed")
		d := rapid.Int64Range(1, 1e10).Draw(t, "diameter")
		got := new(big.Rat).SetInt64(int64(SpindleSpeed(measure.SurfaceSpeed(v), measure.Length(d))))
		bound := func(num, den int64) *big.Rat {
			q := new(big.Rat).Mul(big.NewRat(v, d), big.NewRat(den, num))
			return q.Mul(q, big.NewRat(1000, 1))
		}
		least := new(big.Rat).Sub(bound(355, 113), big.NewRat(1, 1))
		if got.Cmp(bound(223, 71)) > 0 || got.Cmp(least) <= 0 {
			t.Fatalf("%s is not between %s and %s", got.FloatString(3), least.FloatString(3), bound(223, 71).FloatString(3))
		}
		if back := EdgeSpeed(SpindleSpeed(measure.SurfaceSpeed(v), measure.Length(d)), measure.Length(d)); int64(back) > v {
			t.Fatalf("the edge runs at %d, asked %d", back, v)
		}
	})
}

// pi cut off at 35 places is a bound below it.
func TestOverPi(t *testing.T) {
	pi, _ := new(big.Int).SetString("314159265358979323846264338327950288", 10)
	over := new(big.Int).Mul(overPi, new(big.Int).Exp(big.NewInt(10), big.NewInt(15), nil))
	if over.Cmp(pi) <= 0 {
		t.Error("the bound is not above pi")
	}
	if over.Sub(over, pi); over.Cmp(new(big.Int).Exp(big.NewInt(10), big.NewInt(15), nil)) >= 0 {
		t.Error("the bound is more than a unit above pi")
	}
}

func TestSumsWithNothing(t *testing.T) {
	for name, got := range map[string]int64{
		"no diameter":      int64(SpindleSpeed(mMin, 0)),
		"no surface speed": int64(SpindleSpeed(0, mm)),
		"below nought":     int64(SpindleSpeed(mMin, -1)),
		"stopped":          int64(EdgeSpeed(0, mm)),
		"no teeth":         int64(FeedRate(um, 0, measure.RPM)),
		"no bite":          int64(PlungeFeed(0, 2, measure.RPM)),
		"no feed":          int64(ToothFeed(0, 2, measure.RPM)),
	} {
		if got != 0 {
			t.Errorf("%s: %d, want nought", name, got)
		}
	}
	if got := SpindleSpeed(math.MaxInt64, 1); got != math.MaxInt64 {
		t.Errorf("a speed that does not fit: %d", got)
	}
	if got := FeedRate(math.MaxInt64, 99, math.MaxInt64); got != math.MaxInt64 {
		t.Errorf("a feed that does not fit: %d", got)
	}
}
