package trade

import "testing"

// The rule stops where the standard's list stops. What it gives is held against the
// printed list by testdata/published/ba.toml.
func TestBARuleEndsWithTheList(t *testing.T) {
	for _, n := range []int{-1, 17, 1 << 40} {
		if p, d := baRule(n); p != 0 || d != 0 {
			t.Errorf("%d: %s, %s", n, p, d)
		}
	}
	// "BA thread specification": the ends of the list.
	if p, d := baRule(0); p != mm || d != 6*mm {
		t.Errorf("0BA: %s, %s", p, d)
	}
	if p, d := baRule(16); p != 190*um || d != 790*um {
		t.Errorf("16BA: %s, %s", p, d)
	}
}
