package outline_test

import (
	"math"
	"testing"

	"stopshort/toolpath/measure"
	. "stopshort/toolpath/outline"
)

// Common practice, no source: a bore of 0.750 in with 0.125 in of wall is
// 1.000 in outside; a disc that was sawn at 1.560 in and cleans up at 1.500 in
// gives 0.030 in a side.
func TestWallsRoundADisc(t *testing.T) {
	const thou = measure.Thou
	for _, c := range []struct {
		name                   string
		across, wall, overWall measure.Length
	}{
		{"a wall round a bore", 750 * thou, 125 * thou, 1000 * thou},
		{"what cleans up", 1500 * thou, 30 * thou, 1560 * thou},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := union(t, c.wall, Disc(Point{}, c.across/2)).Outer
			low, high := l.Bounds()
			if x, y := high.X-low.X, high.Y-low.Y; x != c.overWall || y != c.overWall {
				t.Errorf("%s in by %s in outside, not %s in", x.Inches(4), y.Inches(4), c.overWall.Inches(4))
			}
			d := float64(c.overWall) / float64(mm)
			if got, want := l.Area(), math.Pi/4*d*d; !near(got, want, 1e-9) {
				t.Errorf("%v mm², not %v", got, want)
			}
		})
	}
}
