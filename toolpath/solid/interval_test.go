package solid

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// holds tells that x lies in the interval, where x is exact.
func holds(i interval, x *big.Rat) bool {
	if !math.IsInf(i.lo, 0) && new(big.Rat).SetFloat64(i.lo).Cmp(x) > 0 {
		return false
	}
	return math.IsInf(i.hi, 0) || new(big.Rat).SetFloat64(i.hi).Cmp(x) >= 0
}

func drawFloat(t *rapid.T, name string) float64 {
	x := rapid.OneOf(
		rapid.Float64Range(-1e13, 1e13),
		rapid.Float64Range(-1, 1),
		rapid.Float64Range(-1e-300, 1e-300),
		rapid.Map(rapid.Int64Range(-1e13, 1e13), func(n int64) float64 { return float64(n) }),
	).Draw(t, name)
	return x
}

func drawInterval(t *rapid.T, name string) (interval, *big.Rat) {
	a, b, c := drawFloat(t, name+"0"), drawFloat(t, name+"1"), drawFloat(t, name+"2")
	if rapid.Bool().Draw(t, name+"point") {
		return point(a), new(big.Rat).SetFloat64(a)
	}
	return interval{min(a, b, c), max(a, b, c)}, new(big.Rat).SetFloat64(a + b + c - min(a, b, c) - max(a, b, c))
}

// Whatever number is picked from the operands, the exact result is held.
func TestIntervalHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, p := drawInterval(t, "x")
		y, q := drawInterval(t, "y")
		if !holds(x, p) || !holds(y, q) {
			return // the middle one was rounded
		}
		check := func(op string, i interval, want *big.Rat) {
			if !holds(i, want) {
				t.Errorf("%v %s %v = %v does not hold %s", x, op, y, i, want.FloatString(40))
			}
		}
		check("+", x.plus(y), new(big.Rat).Add(p, q))
		check("-", x.minus(y), new(big.Rat).Sub(p, q))
		check("*", x.times(y), new(big.Rat).Mul(p, q))
		check("squared", x.square(), new(big.Rat).Mul(p, p))
		if q.Sign() > 0 {
			check("/", x.over(y), new(big.Rat).Quo(p, q))
		}
		if p.Sign() >= 0 {
			// lo^2 <= p <= hi^2 in place of a root that is no ratio
			r := x.root()
			l, h := new(big.Rat).SetFloat64(r.lo), new(big.Rat).SetFloat64(r.hi)
			if r.lo > 0 && l.Mul(l, l).Cmp(p) > 0 || h.Mul(h, h).Cmp(p) < 0 {
				t.Errorf("root of %v = %v does not hold that of %s", x, r, p.FloatString(40))
			}
		}
	})
}

// Whole numbers stay whole where the result is whole, and where it is not the
// bounds are neighbours.
func TestIntervalKeepsWholeNumbers(t *testing.T) {
	for _, c := range []struct {
		what string
		got  interval
		want float64
	}{
		{"sum", point(254_000_000).plus(point(-3_968_750)), 250_031_250},
		{"product", point(90_000_000).times(point(16_500_000)), 1_485_000_000_000_000},
		{"quotient", point(1_485_000_000_000_000).over(point(16_500_000)), 90_000_000},
		{"root", hypot(point(30_000_000), point(40_000_000)), 50_000_000},
		{"length", vector{2, 3, 6}.norm(), 7},
	} {
		if c.got != point(c.want) {
			t.Errorf("%s: %v, want exactly %v", c.what, c.got, c.want)
		}
	}
	third := point(1).over(point(3))
	if third.hi != math.Nextafter(third.lo, 1) {
		t.Errorf("1/3 = %v, want two neighbours", third)
	}
	if s := point(1e16).plus(point(1)); s.lo != 1e16 || s.hi != 1e16+2 {
		t.Errorf("1e16+1 = %v", s)
	}
}

// Products and roots so small that their errors vanish are widened.
func TestIntervalUnderflow(t *testing.T) {
	a := point(0x1.8p-540)
	if p := a.times(point(0x1.0000000000001p-540)); !(p.lo < p.hi) {
		t.Errorf("product below the least float: %v", p)
	}
	if p := point(math.MaxFloat64).plus(point(math.MaxFloat64)); p.lo != math.MaxFloat64 || !math.IsInf(p.hi, 1) {
		t.Errorf("sum above the greatest float: %v", p)
	}
}

func TestWideAgainstBig(t *testing.T) {
	const most = 1 << 46
	bigOf := func(w wide) *big.Int {
		x := big.NewInt(w.hi)
		x.Lsh(x, 64)
		return x.Add(x, new(big.Int).SetUint64(w.lo))
	}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.OneOf(rapid.Int64Range(-most, most), rapid.Int64Range(-50, 50))
		a, b, c, d := n.Draw(t, "a"), n.Draw(t, "b"), n.Draw(t, "c"), n.Draw(t, "d")
		w := wideProduct(a, b).minus(wideProduct(c, d))
		x := new(big.Int).Mul(big.NewInt(a), big.NewInt(b))
		x.Sub(x, new(big.Int).Mul(big.NewInt(c), big.NewInt(d)))
		if bigOf(w).Cmp(x) != 0 || w.sign() != x.Sign() {
			t.Fatalf("%d*%d-%d*%d = %v, want %v", a, b, c, d, bigOf(w), x)
		}
		m := wideProduct(c, c).plus(wideProduct(d, d))
		y := bigOf(m)
		// the root by big's own
		if r := wideRoot(m); big.NewInt(r.floor).Cmp(new(big.Int).Sqrt(y)) != 0 ||
			r.whole != (new(big.Int).Mul(big.NewInt(r.floor), big.NewInt(r.floor)).Cmp(y) == 0) {
			t.Fatalf("root of %v = %v", y, r)
		}
		if m.sign() == 0 {
			return
		}
		// floor(n/sqrt(m)) is the root of floor(n n/m), n = (c, d) x (a, b)
		w = wideProduct(c, b).minus(wideProduct(d, a))
		x = bigOf(w)
		nn := new(big.Int).Mul(x, x)
		q, rest := new(big.Int).QuoRem(nn, y, new(big.Int))
		k := new(big.Int).Sqrt(q)
		whole := rest.Sign() == 0 && new(big.Int).Mul(k, k).Cmp(q) == 0
		if r := wideRatio(w.abs(), m); big.NewInt(r.floor).Cmp(k) != 0 || r.whole != whole {
			t.Fatalf("%v/sqrt(%v) = %v, want %v, whole %v", x, y, r, k, whole)
		}
	})
}

// Roots next to a square, where the float guess is at its worst.
func TestWideRootNextToSquares(t *testing.T) {
	for bit := range 47 {
		for _, e := range []int64{-1, 0, 1} {
			k := int64(1)<<bit + e + 2
			x := wideProduct(k, k)
			one := wide{0, 1}
			for _, c := range []struct {
				x    wide
				want surd
			}{{x, surd{k, true}}, {x.minus(one), surd{k - 1, false}}, {x.plus(one), surd{k, false}}} {
				if got := wideRoot(c.x); got != c.want {
					t.Errorf("root of %v = %v, want %v", c.x, got, c.want)
				}
			}
		}
	}
}
