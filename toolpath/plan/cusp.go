package plan

import (
	"math"
	"math/big"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
	"stopshort/toolpath/solid"
)

// Cusp is how high the metal stands between two places of a cutter of radius r, over
// the outside of a circle of radius work about a centre: where the cutter's two
// circles meet, less the circle. It is worked out in whole numbers and rounded up by
// at most two tenths of a nanometre, whatever the two places: neither need lie at
// just work + r. ok is false where the two circles do not meet.
//
// Places on the dials' lines are no even row: where the circles meet aside of what lies
// between the two, the one place covers all of it, and what is left stands no higher than
// what the further place leaves straight under it.
//
// With p and q from the centre, L their distance and x their cross product, the
// meeting place is at sqrt(p.q + r^2 - sqrt((4 r^2 - L^2) x^2 / L^2)): for p and q on a
// circle of radius c at an angle of t this is c cos(t/2) - sqrt(r^2 - c^2 sin^2(t/2)),
// which geometry gives by hand too.
func Cusp(centre, p, q outline.Point, r, work measure.Length) (high measure.Length, ok bool) {
	s, root, ok := meets2(centre, p, q, r)
	if !ok {
		return 0, false
	}
	if aside(centre, p, q, r) {
		return max(solid.HypotUp(p.X-centre.X, p.Y-centre.Y), solid.HypotUp(q.X-centre.X, q.Y-centre.Y)) - r - work, true
	}
	s.Sub(s, root) // root is rounded down, so that s is no less than it is
	return solid.RootUp(s) - work, true
}

// aside tells whether the circles surely meet outside the angle between the two
// places. It is worked out in floating point, and holds only where the meeting place is
// out of it by r/10 000. The error is below r/10 000 000: k is the root of a difference of
// squares, wrong by 2^-50 r^2 at most, so that k is wrong by 2^-25 r where it is near nought;
// the rest is exact to 2^-50 of a metre. A place that is taken for one within gives the
// higher cusp.
func aside(centre, p, q outline.Point, r measure.Length) bool {
	px, py := float64(p.X-centre.X), float64(p.Y-centre.Y)
	qx, qy := float64(q.X-centre.X), float64(q.Y-centre.Y)
	dx, dy := qx-px, qy-py
	l := math.Hypot(dx, dy)
	if l == 0 {
		return false
	}
	nx, ny := -dy/l, dx/l
	mx, my := (px+qx)/2, (py+qy)/2
	if float64(nx*mx)+float64(ny*my) < 0 {
		nx, ny = -nx, -ny
	}
	k := math.Sqrt(math.Max(float64(float64(r)*float64(r))-float64(l*l)/4, 0))
	x, y := mx-float64(nx*k), my-float64(ny*k)
	way := 1.0
	if float64(px*qy)-float64(py*qx) < 0 {
		way = -1
	}
	past := func(ax, ay, bx, by float64) bool { // b lies before a, seen from the centre
		return way*(float64(ax*by)-float64(ay*bx))/math.Hypot(ax, ay) < -1e-4*float64(r)
	}
	return past(px, py, x, y) || past(x, y, qx, qy)
}

// CuspInside is [Cusp] for the inside of a circle of radius work.
func CuspInside(centre, p, q outline.Point, r, work measure.Length) (high measure.Length, ok bool) {
	s, root, ok := meets2(centre, p, q, r)
	if !ok {
		return 0, false
	}
	s.Add(s, root)
	return work - measure.Length(new(big.Int).Sqrt(s).Int64()), true
}

// meets2 is p.q + r^2, and what is to be taken from it or added, rounded down.
func meets2(centre, p, q outline.Point, r measure.Length) (sum, root *big.Int, ok bool) {
	px, py := big.NewInt(int64(p.X-centre.X)), big.NewInt(int64(p.Y-centre.Y))
	qx, qy := big.NewInt(int64(q.X-centre.X)), big.NewInt(int64(q.Y-centre.Y))
	mul := func(a, b *big.Int) *big.Int { return new(big.Int).Mul(a, b) }
	r2 := mul(big.NewInt(int64(r)), big.NewInt(int64(r)))
	dx, dy := new(big.Int).Sub(qx, px), new(big.Int).Sub(qy, py)
	l2 := new(big.Int).Add(mul(dx, dx), mul(dy, dy))
	sum = new(big.Int).Add(mul(px, qx), mul(py, qy))
	sum.Add(sum, r2)
	if l2.Sign() == 0 { // one place: it touches nearest at its own distance less r
		far := new(big.Int).Add(mul(px, px), mul(py, py))
		return sum, new(big.Int).Sqrt(mul(big.NewInt(4), mul(far, r2))), true
	}
	k := new(big.Int).Sub(mul(big.NewInt(4), r2), l2)
	if k.Sign() < 0 {
		return nil, nil, false
	}
	x := new(big.Int).Sub(mul(px, qy), mul(py, qx))
	k.Mul(k, mul(x, x)).Quo(k, l2)
	return sum, k.Sqrt(k), true
}

func mulSelf(r *big.Int) *big.Int { return new(big.Int).Mul(r, r) }
