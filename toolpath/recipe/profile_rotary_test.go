package recipe

import (
	"math"
	"testing"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/job"
)

// The arc ends where the cutter touches the corner at X -7.04, Y 3.26, at 7.33 from the
// table's axis; the way out at that angle passes the corner at 7.39, nearer by 0.0007. By
// hand: the corner lies 7.758 out, and 2.33 of it spans asin(2.33/7.758) = 17.48 degrees.
func TestRotaryWayOutByACorner(t *testing.T) {
	const text = `units = "mm"
material = "brass"
stock = { low = [-8.87, -6.83, -4], size = [15.9, 13.66, 4] }
[[bore]]
name = "b"
diameter = 8
along = "z"
at = [0, 0]
[[tool]]
number = 1
kind = "end mill"
diameter = 4.66
flutes = 4
flute_length = 20
stick_out = 40
[[setup]]
zero = [0, 0, 0]
touch_at = [4.5, 0]
[[setup.cut]]
recipe = "profile"
name = "o"
tool = 1
bore = "b"
wall = 1
depth = 2
file_off = 0.08
profile_by = "rotary table"
[[setup.cut.lug]]
towards = "+x"
reach = 5.2
across = 1
aside = 0
[[setup.cut.lug]]
towards = "-x"
reach = 7.04
across = 1
aside = 3.76
`
	m, err := machines.Read("hand.toml", []byte(handMill))
	if err != nil {
		t.Fatal(err)
	}
	j, err := job.Read("corner.toml", []byte(text), Tables())
	if err != nil {
		t.Fatal(err)
	}
	p, err := Plan(j, m, Options{})
	if err != nil {
		t.Fatal(err)
	}
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
