package recipe

import (
	"math"
	"testing"

	"stopshort/toolpath"
)

// The arc ends where the cutter touches the corner at X -7.04, Y 3.26, at 7.33 from the
// table's axis; the way out at that angle passes the corner at 7.39, nearer by 0.0007. By
// hand: the corner lies 7.758 out, and 2.33 of it spans asin(2.33/7.758) = 17.48 degrees.
func TestRotaryWayOutByACorner(t *testing.T) {
	p := handJob{bore: 8, wall: 1, cutter: 4.66, off: 0.08, turned: true, low: [2]float64{-8.87, -6.83}, high: [2]float64{7.03, 6.83}, lugs: `
[[setup.cut.lug]]
towards = "+x"
reach = 5.2
across = 1
[[setup.cut.lug]]
towards = "-x"
reach = 7.04
across = 1
aside = 3.76
`}.onHandMill(t)
	rays, nearest := 0, math.Inf(1)
	for _, pass := range p.Setups[0].Operations[0].Passes {
		from := pass.Moves[0].To
		for _, mv := range pass.Moves {
			if mv.Kind == toolpath.Line && mv.Polar.On && from.Z == mv.To.Z {
				rays++
				for k := 0; k <= 10_000; k++ {
					f := float64(k) / 10_000
					x := (float64(from.X) + f*float64(mv.To.X-from.X)) / 1e7
					y := (float64(from.Y) + f*float64(mv.To.Y-from.Y)) / 1e7
					nearest = math.Min(nearest, math.Hypot(x+7.04, y-3.26))
				}
			}
			from = mv.To
		}
	}
	if rays < 4 || nearest < 2.33 || nearest > 2.3301 {
		t.Errorf("%d ways in and out, the nearest %.6f from the corner", rays, nearest)
	}
}
