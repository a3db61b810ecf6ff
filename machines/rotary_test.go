package machines

import (
	"testing"

	"stopshort/toolpath/measure"
)

// Turns of a rotary table's wheel from zero. Printed: "a rotary table manual, p.12-13" and
// "another rotary table manual, p.12" (90 to 1), "homemachinist t=108121" (four holes, 22.5
// turns), "rotary table manual" (72 deg, 18 turns). The last ones are the demo's lug
// (invented data) for each ratio, worked out by hand.
func TestTurnsOfARotaryTable(t *testing.T) {
	for _, c := range []struct {
		ratio int64
		angle string
		turns int64
		rest  string
	}{
		{90, `16 deg 42' 20"`, 4, "0:42:20"},
		{90, `16 deg 32' 20"`, 4, "0:32:20"},
		{90, `90 deg`, 22, "2:00:00"},
		{90, `72 deg`, 18, "0:00:00"},
		{40, `9 deg`, 1, "0:00:00"},
		{36, `36 deg 52' 12"`, 3, "6:52:12"},
		{40, `36 deg 52' 12"`, 4, "0:52:12"},
		{60, `36 deg 52' 12"`, 6, "0:52:12"},
		{72, `36 deg 52' 12"`, 7, "1:52:12"},
		{80, `36 deg 52' 12"`, 8, "0:52:12"},
		{90, `36 deg 52' 12"`, 9, "0:52:12"},
		{120, `36 deg 52' 12"`, 12, "0:52:12"},
		{120, `-36 deg 52' 12.5"`, 12, "0:52:12.5"},
	} {
		a, err := measure.ParseAngle(c.angle)
		if err != nil {
			t.Fatal(err)
		}
		n, rest := Rotary{Ratio: c.ratio}.Turns(a)
		if n != c.turns || AngleText(rest) != c.rest {
			t.Errorf("%d to 1, %s: %d turns and %s, want %d and %s", c.ratio, c.angle, n, AngleText(rest), c.turns, c.rest)
		}
	}
	if got := (Rotary{Ratio: 90}).Shown(-1 * measure.Degree); got != 3*measure.Degree {
		t.Errorf("a degree back the dial shows %s", got)
	}
}
