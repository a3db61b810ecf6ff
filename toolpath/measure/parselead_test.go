package measure

import (
	"fmt"
	"math/big"
	"testing"
)

func TestParseLead(t *testing.T) {
	for text, want := range map[string]Ratio{
		// manual, 1.1: 20 TPI is 1.27 mm, 16 is 1.5875, 10 is 2.54, 8 is 3.175, 5 is 5.08
		"20 TPI":        {12_700_000, 1},
		"16 TPI":        {15_875_000, 1},
		"10 TPI":        {25_400_000, 1},
		"8 TPI":         {31_750_000, 1},
		"8 tpi":         {31_750_000, 1},
		"5 TPI":         {50_800_000, 1},
		"1/8 in":        {31_750_000, 1},
		"0.100 in":      {25_400_000, 1},
		"100 thou":      {25_400_000, 1},
		"2.5 mm":        {25_000_000, 1},
		"1.25 mm":       {12_500_000, 1},
		"14/11 mm":      {140_000_000, 11}, // manual, 1.1: the odd one
		"11-1/2 TPI":    {508_000_000, 23},
		"1/3 in":        {254_000_000, 3},
		"100 mm":        {1_000_000_000, 1},
		"0.001 mm":      {10_000, 1},
		"1.27272727 mm": {127_272_727, 10},
	} {
		if got, err := ParseLead(text); got != want || err != nil {
			t.Errorf("%q: %v, %v; want %v", text, got, err, want)
		}
	}
	for text, want := range map[string]string{
		"8":                 "8 has no unit: write 8 mm, 8 in or 8 TPI",
		"0 mm":              "0 mm is not above nought: write the travel for one turn, as 2.5 mm",
		"0 TPI":             "0 TPI is not above nought: write the travel for one turn, as 2.5 mm",
		"-2 mm":             "-2 mm is not above nought: write the travel for one turn, as 2.5 mm",
		"100.1 mm":          "100.1 mm is too long for one turn: write at most 100 mm",
		"1/8 TPI":           "1/8 TPI is too long for one turn: write at most 100 mm",
		"100000 TPI":        "100000 TPI is too short for one turn: write at least 0.001 mm",
		"1.234567890123 mm": "1.234567890123 mm is too fine to hold: write fewer decimals, or a fraction as 14/11 mm",
		"8 threads":         `"threads" is not a unit of a lead: write TPI, mm, in, thou or um, for one turn`,
		"2 mm + 1 mm":       `2 mm is followed by "+ 1 mm": write one figure, as 2.5 mm`,
		"2,5 mm":            "2,5 has a comma: write 2.5 or 25",
		"8 TPI a turn":      `8 TPI is followed by "a turn": write one figure, as 2.5 mm`,
	} {
		if got, err := ParseLead(text); err == nil || err.Error() != want || got != (Ratio{}) {
			t.Errorf("%q: %v,\n got %v\nwant %s", text, got, err, want)
		}
	}
}

func TestParseRate(t *testing.T) {
	for text, want := range map[string]Ratio{
		"0.02 mm in 300 mm": {1, 15_000},
		"1 thou in 12 in":   {1, 12_000},
		"0.001 in in 12 in": {1, 12_000},
		"0.001\" in 12\"":   {1, 12_000},
		"1 thou in 25.4 mm": {1, 1_000},
		"0":                 {0, 1},
		"0 mm in 300 mm":    {0, 1},
		"1 mm  in  1 mm":    {1, 1},
	} {
		if got, err := ParseRate(text); got != want || err != nil {
			t.Errorf("%q: %v, %v; want %v", text, got, err, want)
		}
	}
	for text, want := range map[string]string{
		"0.02":                 "0.02 has no unit: write a length in a length, as 0.02 mm in 300 mm, or 0",
		"0.02 mm":              "0.02 mm is not in a length: write 0.02 mm in 300 mm",
		"0.02 in 300 mm":       "0.02 in is not in a length: write 0.02 in in 300 mm",
		"0.02 mm per 300 mm":   "0.02 mm is not in a length: write 0.02 mm in 300 mm",
		"0.02 mm in 300":       "300 has no unit: write a length in a length, as 0.02 mm in 300 mm",
		"0.02 mm in 0 mm":      "0 mm is not above nought: write the length in which the error arises, as 0.02 mm in 300 mm",
		"-1 mm in 3 mm":        "-1 mm is below nought: write 1 mm",
		"300 mm in 0.02 mm":    "300 mm in 0.02 mm is more than 1 in 1: write the error first, as 0.02 mm in 300 mm",
		"1 mm in 3 mm in 4 mm": `1 mm in 3 mm is followed by "in 4 mm": write one figure, as 0.02 mm in 300 mm`,
		"":                     "nothing is written: write 0.02 mm in 300 mm",
		"0.1%":                 `"%" is not a unit of a length: write mm, in, ", thou or um`,
	} {
		if got, err := ParseRate(text); err == nil || err.Error() != want || got != (Ratio{}) {
			t.Errorf("%q: %v,\n got %v\nwant %s", text, got, err, want)
		}
	}
}

func TestParseNumber(t *testing.T) {
	for text, want := range map[string]Ratio{
		"62.5": {125, 2}, "125/2": {125, 2}, "62-1/2": {125, 2}, "62 1/2": {125, 2}, "90": {90, 1}, "0": {0, 1}, "-0": {0, 1},
		"1/3": {1, 3}, "1000000": {1_000_000, 1}, "0.00001": {1, 100_000},
	} {
		if got, err := ParseNumber(text); got != want || err != nil {
			t.Errorf("%q: %v, %v; want %v", text, got, err, want)
		}
	}
	for text, want := range map[string]string{
		"62.5 mm":  `62.5 is followed by " mm": write a number alone, as 62.5`,
		"-1":       "-1 is below nought: write 1",
		"1000001":  "1000001 is too large: write a number up to 1000000",
		"0.000001": "0.000001 is too fine: write at most 100000 below the line, or up to 5 decimals",
		"1,5":      "1,5 has a comma: write 1.5 or 15",
		"1e2":      "1e2 has an exponent: write the number out",
		"":         "nothing is written: write 62.5",
	} {
		if got, err := ParseNumber(text); err == nil || err.Error() != want || got != (Ratio{}) {
			t.Errorf("%q: %v,\n got %v\nwant %s", text, got, err, want)
		}
	}
}

// FuzzParseLead reads a lead, a rate and a number from one text, and wants
// every ratio in lowest terms and fit for what is done with it.
func FuzzParseLead(f *testing.F) {
	for _, s := range []string{
		"8 TPI", "2.5 mm", "14/11 mm", "0.100 in", "1/8 in", "11-1/2 TPI", "0 TPI", "62.5", "125/2", "62-1/2", "0.02 mm in 300 mm", "1 thou in 12 in",
		"0.001 in in 12 in", "0", "-1", "1/3 TPI", "0.001 mm", "100 mm", "0.02 in 300 mm",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		lead, err := ParseLead(text)
		if err != nil {
			checkRefusal(t, text, err)
		} else {
			lowest(t, text, lead)
			// 10 000 steps to the micrometre
			if again, err := ParseLead(fmt.Sprintf("%d/%d um", lead.Num, lead.Den*10_000)); again != lead || err != nil {
				t.Errorf("%q is %v, then %v, %v", text, lead, again, err)
			}
			if steps := lead.Steps(MaxLength, Floor); steps < 1000 || steps > 100_000_000 {
				t.Errorf("%q: %d turns in 100 m", text, steps)
			}
			for _, n := range []Ratio{{maxNumber*maxNumberDen - 1, maxNumberDen}, {1, maxNumberDen}} {
				if _, err := lead.Over(n); err != nil {
					t.Errorf("%q over %v: %v", text, n, err)
				}
			}
		}
		rate, err := ParseRate(text)
		if err != nil {
			checkRefusal(t, text, err)
		} else {
			lowest(t, text, rate)
			if rate.Num < 0 || rate.Num > rate.Den || rate.Of(MaxLength, Ceil) > MaxLength {
				t.Errorf("%q is %v", text, rate)
			}
		}
		number, err := ParseNumber(text)
		if err != nil {
			checkRefusal(t, text, err)
			return
		}
		lowest(t, text, number)
		if again, err := ParseNumber(number.String()); again != number || err != nil {
			t.Errorf("%q is %v, then %v, %v", text, number, again, err)
		}
	})
}

func lowest(t *testing.T, text string, r Ratio) {
	t.Helper()
	if r.Den <= 0 {
		t.Fatalf("%q is %d/%d", text, r.Num, r.Den)
	}
	if q := big.NewRat(r.Num, r.Den); q.Num().Int64() != r.Num || q.Denom().Int64() != r.Den {
		t.Errorf("%q is %d/%d, not in lowest terms", text, r.Num, r.Den)
	}
}
