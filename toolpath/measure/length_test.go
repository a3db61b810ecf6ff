package measure

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// rounded is n/d by the big package: the floor by its Euclidean division, the
// ceiling as the floor of the opposite, the nearest as the floor of the size
// and a half.
func rounded(n, d *big.Int, way Rounding) *big.Int {
	if d.Sign() < 0 {
		n, d = new(big.Int).Neg(n), new(big.Int).Neg(d)
	}
	switch way {
	case Floor:
		return new(big.Int).Div(n, d)
	case Ceil:
		q := new(big.Int).Div(new(big.Int).Neg(n), d)
		return q.Neg(q)
	}
	twice := new(big.Int).Lsh(new(big.Int).Abs(n), 1)
	q := twice.Add(twice, d).Div(twice, new(big.Int).Lsh(d, 1))
	if n.Sign() < 0 {
		q.Neg(q)
	}
	return q
}

var ways = []Rounding{Nearest, Floor, Ceil}

func TestDivideAgainstBig(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.OneOf(rapid.Int64(), rapid.Int64Range(-50, 50), rapid.SampledFrom([]int64{math.MinInt64, math.MaxInt64})).Draw(t, "n")
		d := rapid.OneOf(rapid.Int64Range(1, math.MaxInt64), rapid.Int64Range(1, 12)).Draw(t, "d")
		for _, way := range ways {
			want := rounded(big.NewInt(n), big.NewInt(d), way)
			if got := divide(n, d, way); want.Cmp(big.NewInt(got)) != 0 {
				t.Fatalf("%d/%d, way %d: %d, want %s", n, d, way, got, want)
			}
		}
	})
}

func TestMulDivAgainstBig(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		small := rapid.Int64Range(-30, 30)
		wide := rapid.OneOf(rapid.Int64(), small, rapid.SampledFrom([]int64{math.MinInt64, math.MaxInt64}))
		l := rapid.OneOf(wide, rapid.Int64Range(-int64(MaxLength), int64(MaxLength))).Draw(t, "l")
		num := wide.Draw(t, "num")
		den := wide.Filter(func(n int64) bool { return n != 0 }).Draw(t, "den")
		n := new(big.Int).Mul(big.NewInt(l), big.NewInt(num))
		for _, way := range ways {
			want := rounded(n, big.NewInt(den), way)
			got, fits := mulDiv(Length(l), num, den, way)
			if size := new(big.Int).Abs(want); fits != (size.Cmp(big.NewInt(1<<62)) < 0) {
				if size.Cmp(big.NewInt(1<<62)) == 0 {
					continue // the bound itself, reached by rounding or not
				}
				t.Fatalf("%d*%d/%d, way %d: fits is %v, want %s", l, num, den, way, fits, want)
			}
			if fits && want.Cmp(big.NewInt(int64(got))) != 0 {
				t.Fatalf("%d*%d/%d, way %d: %d, want %s", l, num, den, way, got, want)
			}
		}
	})
}

// mulDiv is MulDiv that tells whether it panicked.
func mulDiv(l Length, num, den int64, way Rounding) (got Length, fits bool) {
	defer func() { fits = recover() == nil }()
	return l.MulDiv(num, den, way), true
}

func TestRounding(t *testing.T) {
	for _, c := range []struct {
		l, step              Length
		nearest, floor, ceil Length
	}{
		{7, 2, 8, 6, 8}, // a half, away from nought
		{-7, 2, -8, -8, -6},
		{5, 10, 10, 0, 10},
		{-5, 10, -10, -10, 0},
		{4, 10, 0, 0, 10},
		{-4, 10, 0, -10, 0},
		{20, 10, 20, 20, 20},
		{-20, 10, -20, -20, -20},
		{0, 10, 0, 0, 0},
	} {
		for i, want := range []Length{c.nearest, c.floor, c.ceil} {
			if got := c.l.Round(c.step, ways[i]); got != want {
				t.Errorf("%d on steps of %d, way %d: %d, want %d", c.l, c.step, i, got, want)
			}
			if got := c.l.MulDiv(1, int64(c.step), ways[i]) * c.step; got != want {
				t.Errorf("%d/%d, way %d: %d, want %d", c.l, c.step, i, got, want)
			}
		}
	}
	if got := Length(-7).Half(Floor); got != -4 {
		t.Errorf("half of -7 at or below: %d", got)
	}
	if got := Length(-7).Half(Ceil); got != -3 {
		t.Errorf("half of -7 at or above: %d", got)
	}
}
