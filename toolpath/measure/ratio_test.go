package measure

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

func TestNewRatio(t *testing.T) {
	for _, c := range []struct {
		num, den int64
		want     Ratio
	}{
		{125, 2, Ratio{125, 2}},
		{28, 22, Ratio{14, 11}},
		{28, -22, Ratio{-14, 11}},
		{-28, -22, Ratio{14, 11}},
		{0, -5, Ratio{0, 1}},
		{math.MinInt64, math.MinInt64, Ratio{1, 1}},
		{math.MinInt64, 2, Ratio{-1 << 62, 1}},
		{1 << 62, math.MinInt64, Ratio{-1, 2}},
	} {
		if got := NewRatio(c.num, c.den); got != c.want {
			t.Errorf("%d/%d: %v, want %v", c.num, c.den, got, c.want)
		}
	}
}

func TestRatioPrints(t *testing.T) {
	for want, r := range map[string]Ratio{
		"62.5": {125, 2}, "14/11": {14, 11}, "0": {0, 1}, "8": {8, 1}, "-0.5": {-1, 2},
		"0.015625":     {1, 64},         // six places
		"1/128":        {1, 128},        // 0.0078125 has seven
		"140000000/11": {140000000, 11}, // 14/11 mm a turn
		"unset":        {},
	} {
		if got := r.String(); got != want {
			t.Errorf("%d/%d prints %s, want %s", r.Num, r.Den, got, want)
		}
	}
}

// TestLeadOverLines is the value of one line of a dial.
func TestLeadOverLines(t *testing.T) {
	for _, c := range []struct {
		lead, lines string
		want        Ratio
	}{
		{"8 TPI", "125", Ratio{254_000, 1}},   // 0.001 in (manual, 1.1)
		{"16 TPI", "62.5", Ratio{254_000, 1}}, // 0.001 in (manual, 1.1)
		{"2.5 mm", "125", Ratio{200_000, 1}},  // 0.02 mm (manual, 1.1)
		{"1.5 mm", "60", Ratio{250_000, 1}},   // 0.025 mm (manual, 1.1)
		{"14/11 mm", "50", Ratio{2_800_000, 11}},
	} {
		lead, err := ParseLead(c.lead)
		if err != nil {
			t.Fatal(err)
		}
		lines, err := ParseNumber(c.lines)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := lead.Over(lines); got != c.want || err != nil {
			t.Errorf("%s over %s: %v, %v; want %v", c.lead, c.lines, got, err, c.want)
		}
	}
	// 28.575 mm on a 1.5 mm screw is 19.05 turns (by hand)
	lead, _ := ParseLead("1.5 mm")
	if got := lead.Steps(285_750_000, Floor); got != 19 {
		t.Errorf("1.125 in is %d whole turns of 1.5 mm", got)
	}
	if got := lead.Steps(285_750_000, Ceil); got != 20 {
		t.Errorf("1.125 in is %d turns of 1.5 mm, rounded up", got)
	}
	if got := lead.Times(-19, Nearest); got != -285_000_000 {
		t.Errorf("19 turns back: %d", got)
	}
}

func TestOverRefuses(t *testing.T) {
	if _, err := NewRatio(1, 2).Over(NewRatio(0, 1)); err == nil {
		t.Error("divided by nought")
	}
	if got, err := (Ratio{math.MaxInt64, 2}).Over(Ratio{1, 3}); err == nil {
		t.Errorf("what does not fit gives %v", got)
	}
}

// TestRatioOf: any error rate of any length, against the big package.
func TestRatioOf(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := rapid.Int64Range(-int64(MaxLength), int64(MaxLength)).Draw(t, "l")
		den := rapid.Int64Range(1, int64(MaxLength)).Draw(t, "den")
		num := rapid.Int64Range(0, den).Draw(t, "num")
		n := new(big.Int).Mul(big.NewInt(l), big.NewInt(num))
		for _, way := range ways {
			want := rounded(n, big.NewInt(den), way)
			if got := NewRatio(num, den).Of(Length(l), way); want.Cmp(big.NewInt(int64(got))) != 0 {
				t.Fatalf("%d of %d/%d: %d, want %s", l, num, den, got, want)
			}
		}
	})
}
