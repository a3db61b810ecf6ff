package measure

import (
	"testing"

	"pgregory.net/rapid"
)

// 1 m under the sine of 30 degrees is 2 m, under that of 60 degrees 2/sqrt(3) =
// 1.15470053837925 m, under that of 90 degrees itself; below nought likewise.
func TestPartUnder(t *testing.T) {
	for _, c := range []struct {
		deg  Angle
		l    Length
		want Length
	}{
		{30, Metre, 2 * Metre},
		{-30, Metre, -2 * Metre},
		{30, -Metre, -2 * Metre},
		{60, Metre, 11_547_005_384},
		{90, Metre, Metre},
		{90, 0, 0},
	} {
		sin, _ := (c.deg * Degree).SinCos()
		if got := sin.Under(c.l); (got - c.want).Abs() > 1 {
			t.Errorf("%d under the sine of %d deg: %d, want %d", c.l, c.deg, got, c.want)
		}
	}
	// A part near nought gives more than a length can be: it is held.
	sin, _ := Angle(1).SinCos()
	if got := sin.Under(MaxLength); got != 10*MaxLength {
		t.Errorf("under nearly nought: %d", got)
	}
	if got := sin.Under(-MaxLength); got != -10*MaxLength {
		t.Errorf("under nearly nought, below nought: %d", got)
	}
}

// The part of what Under gives is the length again, to what a tenth comes to.
func TestPartUnderAndOf(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Angle(rapid.Int64Range(int64(6*Degree), int64(174*Degree)).Draw(t, "angle"))
		l := Length(rapid.Int64Range(-int64(MaxLength/100), int64(MaxLength/100)).Draw(t, "length"))
		sin, _ := a.SinCos()
		u := sin.Under(l)
		if off := (sin.Of(u) - l).Abs(); off > 2 {
			t.Fatalf("%d under the sine of %v is %d, whose part is %d", l, a, u, sin.Of(u))
		}
		if u.Abs() < l.Abs() {
			t.Fatalf("%d under a part of one is %d, which is less", l, u)
		}
	})
}
