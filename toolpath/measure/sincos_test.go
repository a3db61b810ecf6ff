package measure

import (
	"math"
	"math/big"
	"testing"
)

// TestPi works pi out again by Machin's formula: 16 atan(1/5) - 4 atan(1/239).
func TestPi(t *testing.T) {
	const bits = 160
	atan := func(x int64) *big.Int { // of 1/x, by its series
		sum := new(big.Int)
		power := new(big.Int).Quo(new(big.Int).Lsh(big.NewInt(1), bits), big.NewInt(x))
		for k := int64(0); power.Sign() != 0; k++ {
			term := new(big.Int).Quo(power, big.NewInt(2*k+1))
			if k%2 == 1 {
				term.Neg(term)
			}
			sum.Add(sum, term)
			power.Quo(power, big.NewInt(x*x))
		}
		return sum
	}
	pi := new(big.Int).Mul(atan(5), big.NewInt(16))
	pi.Sub(pi, new(big.Int).Mul(atan(239), big.NewInt(4)))
	if pi.Rsh(pi, bits-128); pi.Cmp(piBits) != 0 {
		t.Errorf("pi is %X, want %X", piBits, pi)
	}
}

// TestSinCos holds the sine and cosine of whole degrees to the library's within
// what that can hold, and to each other: the squares add up to one.
func TestSinCos(t *testing.T) {
	one := new(big.Int).Lsh(big.NewInt(1), partBits)
	square := new(big.Int).Mul(one, one)
	for d := -720; d <= 720; d++ {
		a := Angle(d)*Degree + Angle(d%7)*ArcSecond
		sin, cos := a.SinCos()
		rad := float64(a) / float64(Degree) * math.Pi / 180
		for _, c := range []struct {
			part Part
			want float64
		}{{sin, math.Sin(rad)}, {cos, math.Cos(rad)}} {
			got, _ := new(big.Rat).SetFrac(c.part.n, one).Float64()
			if math.Abs(got-c.want) > 1e-14 {
				t.Errorf("at %s: %v, want %v", a, got, c.want)
			}
		}
		sum := new(big.Int).Mul(sin.n, sin.n)
		sum.Add(sum, new(big.Int).Mul(cos.n, cos.n))
		sum.Sub(sum, square)
		// each part within 2^-80, so that the sum is within 4 * 2^-80 and a bit
		if sum.CmpAbs(new(big.Int).Rsh(square, 77)) > 0 {
			t.Errorf("at %s: the squares miss one by %s", a, sum)
		}
	}
}

func TestSinCosExact(t *testing.T) {
	for _, c := range []struct {
		deg      Angle
		sin, cos Length // of 1 m
	}{
		{0, 0, Metre}, {90, Metre, 0}, {180, 0, -Metre}, {270, -Metre, 0}, {360, 0, Metre}, {-90, -Metre, 0},
		{30, Metre / 2, 8_660_254_038}, // half the root of 3: 0.866025403784
		{-150, -Metre / 2, -8_660_254_038},
	} {
		sin, cos := (c.deg * Degree).SinCos()
		if got := sin.Of(Metre); got != c.sin {
			t.Errorf("sine of %d deg: %d, want %d", c.deg, got, c.sin)
		}
		if got := cos.Of(Metre); got != c.cos {
			t.Errorf("cosine of %d deg: %d, want %d", c.deg, got, c.cos)
		}
		if sin.Sign() != sign(c.sin) || cos.Sign() != sign(c.cos) {
			t.Errorf("signs at %d deg: %d, %d", c.deg, sin.Sign(), cos.Sign())
		}
	}
}

func sign(l Length) int {
	switch {
	case l < 0:
		return -1
	case l > 0:
		return 1
	}
	return 0
}

// By hand: the tangent of 30 degrees is 0.57735026918962..., that of 60 degrees
// 1.73205080756887...; of right angles it is exact.
func TestPartOver(t *testing.T) {
	for _, c := range []struct {
		deg  Angle
		l    Length
		want [3]Length // nearest, floor, ceil
	}{
		{30, Metre, [3]Length{5_773_502_692, 5_773_502_691, 5_773_502_692}},
		{30, -Metre, [3]Length{-5_773_502_692, -5_773_502_692, -5_773_502_691}},
		{60, Metre, [3]Length{17_320_508_076, 17_320_508_075, 17_320_508_076}},
		{-60, Metre, [3]Length{-17_320_508_076, -17_320_508_076, -17_320_508_075}},
		{150, Metre, [3]Length{-5_773_502_692, -5_773_502_692, -5_773_502_691}},
		{240, -Metre, [3]Length{-17_320_508_076, -17_320_508_076, -17_320_508_075}},
		{0, Metre, [3]Length{0, 0, 0}},
		{180, Metre, [3]Length{0, 0, 0}},
		{60, 0, [3]Length{0, 0, 0}},
	} {
		sin, cos := (c.deg * Degree).SinCos()
		for way, want := range c.want {
			if got := sin.Over(cos, c.l, Rounding(way)); got != want {
				t.Errorf("tangent of %d deg, %d, way %d: %d, want %d", c.deg, c.l, way, got, want)
			}
		}
	}
	// An inexact half, and the end of what is held.
	one, _ := (90 * Degree).SinCos()
	half, _ := (30 * Degree).SinCos()
	if got := half.Over(one, 2_000_000_000_000, Floor); got != 1_000_000_000_000 && got != 999_999_999_999 {
		t.Errorf("half: %d", got)
	}
	sin, cos := (90*Degree - 1).SinCos()
	if got := sin.Over(cos, MaxLength, Ceil); got != 10*MaxLength {
		t.Errorf("nearly upright: %d", got)
	}
	if got := sin.Over(cos, -MaxLength, Floor); got != -10*MaxLength {
		t.Errorf("nearly upright, below nought: %d", got)
	}
	// Where the part below the line is small, its error shows: the bounds stand
	// apart, in order.
	low, near, high := sin.Over(cos, 40, Floor), sin.Over(cos, 40, Nearest), sin.Over(cos, 40, Ceil)
	if low >= near || near >= high || high-low > 5 {
		t.Errorf("nearly upright: %d, %d, %d", low, near, high)
	}
}
