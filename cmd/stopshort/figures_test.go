package main

import (
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stopshort/toolpath/limit"
	"stopshort/toolpath/measure"
)

// Figures that stand beside each other, by hand: a tie off the grid of what is told, a
// hair over and under, and a refusal for the worst case alone.
func TestFiguresBesideEachOther(t *testing.T) {
	for _, c := range []struct {
		planned, least, worst int64 // worst is the margin
		u                     measure.Unit
		want                  figures
	}{
		{-1, -1, 0, measure.MM, figures{"-0.001 mm", "-0.001 mm", "-0.001 mm"}},
		{5085000, 5085000, 0, measure.MM, figures{"0.508 mm", "0.508 mm", "0.508 mm"}},
		{5089000, 5081000, 3000, measure.MM, figures{"0.508 mm", "0.508 mm", "0.508 mm"}},
		{5080000, 5080000, 0, measure.MM, figures{"0.508 mm", "0.508 mm", "0.508 mm"}},
		{5080000, 5080000, 0, measure.In, figures{"0.0200 in", "0.0200 in", "0.0200 in"}},
		{5084000, 5085000, -1000, measure.MM, figures{"0.508 mm", "0.508 mm", "0.509 mm"}},
		{5089000, 5085000, -1000, measure.MM, figures{"0.509 mm", "0.508 mm", "0.509 mm"}},
		{31750000, 28575000, 1500000, measure.MM, figures{"3.175 mm", "3.007 mm", "2.858 mm"}},
	} {
		v := limit.Verdict{Planned: c.planned, NeverLess: c.least, Margin: c.planned - c.least, MarginWorst: c.worst}
		if got := toldOf(v, c.u); got != c.want {
			t.Errorf("%d, never less %d, %d at worst: %q, want %q", c.planned, c.least, c.worst, got, c.want)
		}
	}
}

// What is told reads as the verdict: read as numbers, the figures stand to each other as
// those that they are of.
func TestFiguresNeverContradict(t *testing.T) {
	number := func(t *rapid.T, s string) float64 {
		text, _, _ := strings.Cut(s, " ")
		f, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom([]measure.Unit{measure.MM, measure.In}).Draw(t, "unit")
		least := rapid.Int64Range(-60000, 60000).Draw(t, "never less")
		over := rapid.Int64Range(-30000, 30000).Draw(t, "over")
		shares := rapid.Int64Range(0, 30000).Draw(t, "shares")
		v := limit.Verdict{Planned: least + over, NeverLess: least, Margin: over, MarginWorst: over - shares}
		told := toldOf(v, u)
		left, worst, never := number(t, told.left), number(t, told.worst), number(t, told.least)
		if (left >= never) != (over >= 0) || (worst >= never) != (over >= shares) {
			t.Fatalf("%+d over, %d of shares, told as %q", over, shares, told)
		}
		low, bound := clearOf(measure.Length(v.Planned), measure.Length(least), u)
		for i := range 2 {
			l, b := strings.Split(low, " (")[i], strings.Split(bound, " (")[i]
			if (number(t, l) >= number(t, b)) != (over >= 0) {
				t.Fatalf("%+d over the bound, told as %s and %s", over, low, bound)
			}
		}
	})
}
