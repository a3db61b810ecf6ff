package handwheel

import (
	"testing"

	"stopshort/machines"
	"stopshort/toolpath/measure"
)

// A feed as the time of a turn, by hand. 2.5 mm a turn at 19 mm/min is 7.89 s, told as
// 8; at 79 mm/min 1.90 s, told as 2; at 150 mm/min just 1. 0.1 in at 0.6 in/min is 10 s.
// At the machine's slowest the second below is told, so that it is not fed slower.
func TestSecondsATurn(t *testing.T) {
	const mm, in = measure.Feed(measure.Millimetre), measure.Feed(measure.Inch)
	metric := machines.Axis{Lead: measure.NewRatio(25_000_000, 1)}
	inch := machines.Axis{Lead: measure.NewRatio(25_400_000, 1)}
	for _, c := range []struct {
		axis        machines.Axis
		feed, least measure.Feed
		want        string
	}{
		{metric, 19 * mm, mm, "8"},
		{metric, 79 * mm, mm, "2"},
		{metric, 100 * mm, mm, "1.5"},
		{metric, 150 * mm, mm, "1"},
		{metric, 600 * mm, mm, "0.5"},
		{inch, in * 6 / 10, in / 10, "10"},
		{inch, in * 58 / 100, in / 10, "11"},
		{inch, in * 95 / 100, in * 95 / 100, "6"}, // 6.3 s
	} {
		if got := halves(secondsATurn(c.axis, c.feed, c.least)); got != c.want {
			t.Errorf("%s on %s a turn: %s s, want %s", c.feed, c.axis.Lead, got, c.want)
		}
	}
}

// The dial of 100 lines shows 70 where numbers fall on the way down, 30 where they rise;
// a quarter turn is 25 lines, of 62.5 lines 16, of half lines 32.
func TestDialAndQuarter(t *testing.T) {
	w := &wheel{Axis: machines.Axis{Lead: measure.NewRatio(25_400_000, 1), Lines: measure.NewRatio(100, 1), Sense: "-"}}
	if got := w.shownText(-30); got != "30" {
		t.Errorf("30 lines down show %s", got)
	}
	w.Falls = true
	if got := w.shownText(-30); got != "70" {
		t.Errorf("30 lines down on falling numbers show %s", got)
	}
	if got := w.quarter(); got != 25 {
		t.Errorf("a quarter turn is %d lines", got)
	}
	w.Lines = measure.NewRatio(125, 2)
	if got := w.quarter(); got != 16 {
		t.Errorf("a quarter of 62.5 lines is %d", got)
	}
	w.Half = true
	if got := w.quarter(); got != 32 {
		t.Errorf("a quarter of 62.5 lines is %d half lines", got)
	}
}
