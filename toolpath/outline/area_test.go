package outline

import (
	"math/big"

	"stopshort/toolpath/measure"
)

// Area is what the loop holds in square millimetres, above nought for a loop
// that runs anticlockwise. The part within the straight lines between the ends
// is worked out in whole numbers, the part between them and the arcs in
// floating point, to a few parts in 2^50 of the largest circle. It is for
// tests: nothing else needs it.
func (l Loop) Area() float64 {
	twice := new(big.Int)
	bulge := 0.0
	for _, p := range l {
		twice.Add(twice, mul(big.NewInt(int64(p.From.X)), big.NewInt(int64(p.To.Y))))
		twice.Sub(twice, mul(big.NewInt(int64(p.To.X)), big.NewInt(int64(p.From.Y))))
		if p.Kind == Arc {
			b := p.bulge()
			if p.Sense == Clockwise {
				b = -b
			}
			bulge += b
		}
	}
	flat, _ := new(big.Float).SetInt(twice).Float64()
	mm := float64(measure.Millimetre)
	return (flat/2 + bulge) / mm / mm
}

// bulge is the area between an arc and the straight line between its ends: the
// sector less the triangle, above nought for an arc of either sense.
func (p Piece) bulge() float64 {
	if p.Sense == Clockwise {
		p = p.Reversed()
	}
	triangle, _ := new(big.Float).SetInt(cross(p.From.minus(p.Centre), p.To.minus(p.Centre))).Float64()
	r := float64(p.Radius)
	return float64(r*r)*p.sweep()/2 - triangle/2
}
