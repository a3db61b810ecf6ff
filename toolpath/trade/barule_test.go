package trade

import (
	"fmt"
	"testing"
)

// "BA thread system letter": the rule gives every row of the list, and nothing
// for a number that is not in it.
func TestBARuleIsTheList(t *testing.T) {
	for n := 0; n <= 16; n++ {
		ba := named(t, fmt.Sprintf("%dBA", n))
		if p, d := BARule(n); p != ba.Pitch || d != ba.Major {
			t.Errorf("%dBA: the rule gives %s and %s, the row has %s and %s", n, p, d, ba.Pitch, ba.Major)
		}
	}
	for _, n := range []int{-1, 17, 1 << 40} {
		if p, d := BARule(n); p != 0 || d != 0 {
			t.Errorf("%d: %s, %s", n, p, d)
		}
	}
}
