package solid

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"stopshort/toolpath/measure"
)

// By hand (half the diameter over the tangent of half the angle): the length over the
// diameter, to four places; the lengths at 118 degrees, to two places of a millimetre.
func TestPointLengths(t *testing.T) {
	for _, c := range []struct {
		included measure.Angle
		want     measure.Length // of 10 m, in millimetres
	}{{90, 5000}, {118, 3004}, {120, 2887}, {135, 2071}, {140, 1820}} {
		if got := PointLength(10*measure.Metre, c.included*measure.Degree, measure.Nearest).Round(mm, measure.Nearest); got != c.want*mm {
			t.Errorf("%d deg: %s of 10 m, want %d mm", c.included, got, c.want)
		}
	}
	// The table's last is 3.60, from 0.3004; 12 times 0.30043 is 3.605.
	for d, want := range map[measure.Length]measure.Length{2: 600, 3: 900, 4: 1200, 5: 1500, 6: 1800, 8: 2400, 10: 3000, 12: 3605} {
		if off := PointLength(d*mm, 118*measure.Degree, measure.Nearest) - want*measure.Micrometre; off < 0 || off >= 5*measure.Micrometre {
			t.Errorf("%s: off the table by %s", d*mm, off)
		}
	}
	// 120 deg is d over twice the root of 3: 2.88675134594... for 10 mm.
	for way, want := range map[measure.Rounding]measure.Length{measure.Floor: 28_867_513, measure.Nearest: 28_867_513, measure.Ceil: 28_867_514} {
		if got := PointLength(10*mm, 120*measure.Degree, way); got != want {
			t.Errorf("10 mm, 120 deg, way %d: %d, want %d", way, got, want)
		}
	}
}

// Common practice, no source: a point of 118 degrees is 0.3 of the diameter, one
// of 135 degrees 0.2 (from memory).
func TestPointRules(t *testing.T) {
	for _, c := range []struct {
		d, rule  measure.Length
		included measure.Angle
		tenths   measure.Length // of a per cent of the diameter that the rule is off
	}{
		{2500 * measure.Micrometre, 750 * measure.Micrometre, 118, 1}, {3400 * measure.Micrometre, 1020 * measure.Micrometre, 118, 1}, {1800 * measure.Micrometre, 540 * measure.Micrometre, 118, 1},
		{6 * mm, 1200 * measure.Micrometre, 135, 8},
	} {
		got := PointLength(c.d, c.included*measure.Degree, measure.Ceil)
		if off := got - c.rule; off < 0 || off > c.d*c.tenths/1000 {
			t.Errorf("%s, %d deg: %s, the rule gives %s", c.d, c.included, got, c.rule)
		}
	}
}

// A second method: the line of the cone's edge turned through the half angle.
// tan(x/2) = (1 - cos x) / sin x, so the bounds, with the slack of [measure.Part]
// at a scale of 100 m, must have the truth between them.
func TestPointLengthBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := measure.Length(2 * rapid.Int64Range(1, 5e8).Draw(t, "half")) // to 100 mm
		a := measure.Angle(rapid.Int64Range(int64(10*measure.Degree), int64(179*measure.Degree)).Draw(t, "included"))
		low, near, high := PointLength(d, a, measure.Floor), PointLength(d, a, measure.Nearest), PointLength(d, a, measure.Ceil)
		if low > near || near > high || high-low > 2 {
			t.Fatalf("%d, %d, %d", low, near, high)
		}
		const scale = 100 * measure.Metre
		sin, cos := a.SinCos()
		// The tangent of half the angle, times the scale over the scale, within 3
		// of 10^12 above and below the line.
		s, c := int64(sin.Of(scale)), int64(scale-cos.Of(scale))
		half := big.NewRat(int64(d/2), 1)
		least := new(big.Rat).Mul(half, big.NewRat(s-3, c+3))
		most := new(big.Rat).Mul(half, big.NewRat(s+3, c-3))
		if new(big.Rat).SetInt64(int64(low)).Cmp(most) > 0 || new(big.Rat).SetInt64(int64(high)).Cmp(least) < 0 {
			t.Fatalf("%d to %d, want about %s", low, high, least.FloatString(3))
		}
	})
}

func TestPointLengthAtTheEnds(t *testing.T) {
	for _, c := range []struct {
		d        measure.Length
		included measure.Angle
		want     measure.Length
	}{
		{6 * mm, 90 * measure.Degree, 3 * mm}, {3 * mm, 90 * measure.Degree, 1500 * measure.Micrometre},
		{6 * mm, 180 * measure.Degree, 0}, {6 * mm, 400 * measure.Degree, 0},
		{0, 118 * measure.Degree, 0}, {-mm, 118 * measure.Degree, 0},
		{6 * mm, 0, 10 * measure.MaxLength}, {6 * mm, -1, 10 * measure.MaxLength}, {measure.Metre, 1, 10 * measure.MaxLength},
	} {
		for _, way := range []measure.Rounding{measure.Floor, measure.Nearest, measure.Ceil} {
			if got := PointLength(c.d, c.included, way); got != c.want {
				t.Errorf("%s, %s, way %d: %s, want %s", c.d, c.included, way, got, c.want)
			}
		}
	}
}

// An odd angle has no whole half; its bounds lie on either side of the middle
// between its neighbours, which of 100 m at 20 degrees are some 80 apart.
func TestPointLengthOddAngle(t *testing.T) {
	const d, a = measure.MaxLength, 20*measure.Degree + 1
	wide, narrow := PointLength(d, a+1, measure.Nearest), PointLength(d, a-1, measure.Nearest)
	middle := wide + (narrow-wide)/2
	low, high := PointLength(d, a, measure.Floor), PointLength(d, a, measure.Ceil)
	if narrow-wide < 10 || low > middle || high < middle {
		t.Errorf("%d to %d, the middle of %d and %d is %d", low, high, wide, narrow, middle)
	}
}
