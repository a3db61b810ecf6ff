package limit

import (
	"math/big"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// centre asks that there is no metal under the centre of a cutter that does not
// cut there, where it goes down.
func (j *Judge) centre(op toolpath.Operation, p piece, line int) {
	t := j.at(op, "no metal under the cutter's centre", Length, nought,
		"take a slot drill, start outside the metal, or drill a hole there first")
	left := measure.Length(0)
	for _, end := range []solid.Point{p.from, p.to} {
		end.Z = p.to.Z
		if j.metalUnder(end) {
			left = min(left, p.to.Z-j.floorAt(end))
		}
	}
	t.meet(int64(left), int64(left), nil, j.here(line))
}

// metalUnder tells whether the stock has metal under a place seen from above.
func (j *Judge) metalUnder(p solid.Point) bool {
	for _, m := range j.setup.Metal {
		b := solid.Bounds(m)
		if b.Low.X < p.X && p.X < b.High.X && b.Low.Y < p.Y && p.Y < b.High.Y && p.Z < b.High.Z {
			return true
		}
	}
	return false
}

// floorAt is the height down to which the metal at a place is gone already; no
// less than the place's own height.
func (j *Judge) floorAt(p solid.Point) measure.Length {
	z := j.box.High.Z
	for _, c := range j.cut {
		if within(c.from, c.to, p, c.radius) {
			z = min(z, max(c.from.Z, c.to.Z))
		}
	}
	return max(z, p.Z)
}

// within tells whether p is within a distance of the straight line from a to b,
// all seen from above, in whole numbers.
func within(a, b, p solid.Point, r measure.Length) bool {
	n, d := apart(a, b, p)
	return n.Cmp(new(big.Int).Mul(square(r), d)) <= 0
}

// apart is the square of the distance from p to the stretch from a to b, seen
// from above, as a fraction n/d.
func apart(a, b, p solid.Point) (n, d *big.Int) {
	mul := func(x, y measure.Length) *big.Int {
		return new(big.Int).Mul(big.NewInt(int64(x)), big.NewInt(int64(y)))
	}
	ux, uy := b.X-a.X, b.Y-a.Y
	vx, vy := p.X-a.X, p.Y-a.Y
	uu := sum(square(ux), square(uy))
	uv := sum(mul(ux, vx), mul(uy, vy))
	one := big.NewInt(1)
	switch {
	case uv.Sign() <= 0:
		return sum(square(vx), square(vy)), one
	case uv.Cmp(uu) >= 0:
		return sum(square(p.X-b.X), square(p.Y-b.Y)), one
	}
	cross := new(big.Int).Sub(mul(ux, vy), mul(uy, vx))
	return cross.Mul(cross, cross), uu
}

// touchingPlace asks that the place where Z is touched off is on the metal and
// stays there.
func (j *Judge) touchingPlace(op toolpath.Operation, p piece, radius measure.Length, line int) {
	t := j.at(op, "touching place", Length, nought, "touch off on metal that this set-up leaves standing: move touch_at")
	at := solid.Point{X: j.setup.Touch[0], Y: j.setup.Touch[1]}
	left := min(at.X-j.box.Low.X, j.box.High.X-at.X, at.Y-j.box.Low.Y, j.box.High.Y-at.Y)
	n, d := apart(p.from, p.to, at)
	away, _ := root(n.Quo(n, d))
	left = min(left, away-radius-p.grow)
	t.meet(int64(left), int64(left), nil, j.here(line))
}

// fromTouch is the distance from the touching place, seen from above, rounded
// up.
func (j *Judge) fromTouch(p solid.Point) measure.Length {
	return hypotUp(p.X-j.setup.Touch[0], p.Y-j.setup.Touch[1])
}
