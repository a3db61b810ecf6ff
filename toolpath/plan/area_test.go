package plan

import (
	"math"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
)

// area is what a loop holds in square millimetres, above nought for one that runs
// anticlockwise: the triangles between its lines and its first point, and the bulges
// of its arcs.
func area(l outline.Loop) float64 {
	const mm = float64(measure.Millimetre)
	sum := 0.0
	for _, p := range l {
		o := l[0].From
		ax, ay := float64(p.From.X-o.X)/mm, float64(p.From.Y-o.Y)/mm
		bx, by := float64(p.To.X-o.X)/mm, float64(p.To.Y-o.Y)/mm
		sum += (ax*by - ay*bx) / 2
		if p.Kind != outline.Arc {
			continue
		}
		// From the centre. Both ends lie on the grid, and so not quite on the arc.
		cx, cy := float64(p.Centre.X-o.X)/mm, float64(p.Centre.Y-o.Y)/mm
		ax, ay, bx, by = ax-cx, ay-cy, bx-cx, by-cy
		turn := math.Atan2(by, bx) - math.Atan2(ay, ax)
		r := float64(p.Radius) / mm
		switch {
		case p.Sense == outline.Clockwise && turn >= 0:
			turn -= 2 * math.Pi
		case p.Sense != outline.Clockwise && turn <= 0:
			turn += 2 * math.Pi
		}
		sum += (r*r*turn - (ax*by - ay*bx)) / 2
	}
	return sum
}
