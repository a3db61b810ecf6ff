package outline

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// long is a surd to some 600 binary places.
func (s surd) long() *big.Float {
	f := func(n *big.Int) *big.Float { return new(big.Float).SetPrec(1200).SetInt(n) }
	r := f(s.d)
	r.Sqrt(r)
	r.Mul(r, f(s.q))
	r.Add(r, f(s.p))
	return r.Quo(r, f(s.w))
}

func TestEqualSurdsOfOtherShapes(t *testing.T) {
	n := big.NewInt
	for _, c := range []struct{ a, b surd }{
		{newSurd(n(1), n(3), n(8), n(2)), newSurd(n(2), n(12), n(2), n(4))},           // (1+3√8)/2 = (2+12√2)/4
		{newSurd(n(1), n(5), n(9), n(4)), wholeSurd(4)},                               // (1+5·3)/4
		{newSurd(n(0), n(-1), n(12), n(1)), newSurd(n(0), n(-2), n(3), n(1))},         // -√12 = -2√3
		{newSurd(n(7), n(0), n(5), n(1)), newSurd(n(14), n(9), n(0), n(2))},           // no root at all
		{newSurd(n(-3), n(1), n(1_000_000), n(1)), newSurd(n(0), n(997), n(1), n(1))}, // √ of a square
	} {
		if got := c.a.compare(c.b); got != 0 {
			t.Errorf("%v against %v: %d", c.a.long(), c.b.long(), got)
		}
	}
	// 99/70 is above √2 by 7e-5, 665857/470832 by 1.6e-12; 1607521/1136689 is
	// below it by 2.7e-13 (the convergents of √2).
	root := newSurd(n(0), n(1), n(2), n(1))
	for _, c := range []struct {
		p, w int64
		want int
	}{{99, 70, -1}, {665857, 470832, -1}, {1607521, 1136689, 1}} {
		if got := root.compare(newSurd(n(c.p), n(0), n(0), n(c.w))); got != c.want {
			t.Errorf("√2 against %d/%d: %d", c.p, c.w, got)
		}
	}
}

// Against square roots to 1200 binary places, by big.Float.
func TestSurdsAgainstLongRoots(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func() surd {
			size := rapid.SampledFrom([]int64{3, 40, 1 << 40}).Draw(t, "size")
			p := rapid.Int64Range(-size, size).Draw(t, "p")
			q := rapid.Int64Range(-size, size).Draw(t, "q")
			d := rapid.Int64Range(0, size).Draw(t, "d")
			w := rapid.Int64Range(1, size).Draw(t, "w")
			// Keep within the bounds that places have.
			if size > 1<<20 {
				d = d % (1 << 20)
				w = w/2 + 1<<39
			}
			return newSurd(big.NewInt(p), big.NewInt(q), big.NewInt(d), big.NewInt(w))
		}
		a, b := draw(), draw()
		diff := new(big.Float).Sub(a.long(), b.long())
		want := diff.Sign()
		if tiny := new(big.Float).SetMantExp(big.NewFloat(1), -600); new(big.Float).Abs(diff).Cmp(tiny) < 0 {
			want = 0
		}
		if got := a.compare(b); got != want {
			t.Errorf("%v against %v: %d, not %d", a.long(), b.long(), got, want)
		}
		if f := new(big.Float).SetInt64(a.floor); f.Cmp(a.long()) > 0 || new(big.Float).SetInt64(a.floor+1).Cmp(a.long()) <= 0 {
			t.Errorf("%v is rounded down to %d", a.long(), a.floor)
		}
		off := new(big.Float).Sub(a.long(), new(big.Float).SetInt64(a.nearest()))
		if off.Abs(off).Cmp(big.NewFloat(0.5)) > 0 {
			t.Errorf("%v is rounded to %d", a.long(), a.nearest())
		}
		for _, n := range []int64{0, a.floor, a.floor + 1} {
			if got, want := a.compareWhole(n), a.compare(wholeSurd(n)); got != want {
				t.Errorf("%v against %d: %d, not %d", a.long(), n, got, want)
			}
		}
	})
}
