package trade

import (
	"strings"
	"testing"

	"stopshort/toolpath/measure"
)

func milling(t *testing.T, material string, d measure.Length) Cutting {
	t.Helper()
	c, err := Milling(material, "HSS", d)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// By hand: 120 mm/min on 4 flutes at 6000 rpm is 0.005 mm; the handbook's for 3 mm
// in stainless steel is 3/350, 0.00857 mm, three quarters of it 0.00643 mm. In
// brass it is 0.015 mm, and 0.0301 mm is just over twice that.
func TestBite(t *testing.T) {
	const mmMin = measure.Feed(mm)
	for _, c := range []struct {
		material string
		feed     measure.Feed
		flutes   int
		n        measure.Speed
		bite     measure.Length
		says     string
	}{
		{"stainless", 120 * mmMin, 4, 6000 * measure.RPM, 5 * um, "rubs"},
		{"stainless", 160 * mmMin, 4, 6000 * measure.RPM, 66_667, ""},
		{"brass", 60 * mmMin, 2, 1000 * measure.RPM, 30 * um, ""},
		{"brass", 60_200 * mmMin / 1000, 2, 1000 * measure.RPM, 30_100 * um / 1000, "overloads"},
		{"brass", 22_500 * mmMin / 1000, 2, 1000 * measure.RPM, 11_250 * um / 1000, ""},
		{"brass", 22_498 * mmMin / 1000, 2, 1000 * measure.RPM, 112_490, "rubs"},
	} {
		bite, says := milling(t, c.material, 3*mm).Bite(c.feed, c.flutes, c.n)
		if bite != c.bite || (says == "") != (c.says == "") || !strings.Contains(says, c.says) {
			t.Errorf("%+v: %d, %q", c, bite, says)
		}
	}
}

// By hand: 6 mm in brass takes 0.03 mm a tooth; at 1000 rpm with two flutes that
// is 60 mm/min, straight down a quarter of it.
func TestRun(t *testing.T) {
	const mmMin = measure.Feed(mm)
	c := milling(t, "brass", 6*mm)
	for _, w := range []struct {
		low, high, down measure.Feed
		feed, plunge    measure.Feed
		bite            measure.Length
		says            string
	}{
		{0, 0, 0, 60 * mmMin, 15 * mmMin, 30 * um, ""},
		{mmMin, 600 * mmMin, 10 * mmMin, 60 * mmMin, 10 * mmMin, 30 * um, ""},
		{mmMin, 40 * mmMin, 150 * mmMin, 40 * mmMin, 10 * mmMin, 20 * um, "rubs"},
		{200 * mmMin, 600 * mmMin, 150 * mmMin, 200 * mmMin, 15 * mmMin, 100 * um, "overloads"},
	} {
		r := c.Run(6*mm, 2, 1000*measure.RPM, w.low, w.high, w.down)
		if r.Feed != w.feed || r.Plunge != w.plunge || r.Bite != w.bite || !strings.Contains(r.Warning, w.says) || (w.says == "") != (r.Warning == "") {
			t.Errorf("%+v: %+v", w, r)
		}
	}
}

// A mishap of small workshops: 5000 rpm and 400 mm/min on a machine
// that has 2500 rpm is 200 mm/min.
func TestFeedKept(t *testing.T) {
	const mmMin = measure.Feed(mm)
	for _, c := range []struct {
		feed     measure.Feed
		from, to measure.Speed
		want     measure.Feed
	}{
		{400 * mmMin, 5000 * measure.RPM, 2500 * measure.RPM, 200 * mmMin},
		{100 * mmMin, 300 * measure.RPM, 100 * measure.RPM, 333_333_333},
		{0, 1, 1, 0}, {1, 0, 1, 0}, {1, 1, 0, 0}, {-1, 1, 1, 0},
	} {
		if got := FeedKept(c.feed, c.from, c.to); got != c.want {
			t.Errorf("%+v: %d", c, got)
		}
	}
}

// By hand. Inside a round of 20 mm a 6 mm cutter's centre runs round 14 mm: 7/10
// of the feed; outside round 26 mm: 13/10.
func TestArcFeed(t *testing.T) {
	const f = 100 * measure.Feed(mm)
	for _, c := range []struct {
		round  measure.Length
		inside bool
		want   measure.Feed
	}{
		{20 * mm, true, f * 7 / 10}, {20 * mm, false, f * 13 / 10},
		{7 * mm, true, f / 4}, {8 * mm, true, f / 4}, {10 * mm, true, f * 4 / 10}, // 1/7 and 1/4 of it
		{8 * mm, false, f * 3 / 2}, {12 * mm, false, f * 3 / 2}, // 14/8 and 18/12 of it
		{6 * mm, true, f / 4}, {0, true, f / 4}, {0, false, f * 3 / 2}, {-mm, false, f * 3 / 2},
	} {
		if got := ArcFeed(f, c.round, 6*mm, c.inside); got != c.want {
			t.Errorf("%s, inside %t: %s, want %s", c.round, c.inside, got, c.want)
		}
	}
	if ArcFeed(0, 20*mm, 6*mm, true) != 0 || ArcFeed(f, 20*mm, 0, true) != 0 {
		t.Error("no feed or no cutter has a feed")
	}
}
