package outline

import "math/big"

// meet calls found with every place at which two edges meet or touch. Where
// they share a stretch these are its ends.
func (e edge) meet(o edge, found func(place)) {
	if e.apart(o) {
		return
	}
	take := func(p place) {
		if e.spans(p) && o.spans(p) {
			found(p)
		}
	}
	switch {
	case e.kind == Line && o.kind == Line:
		e.meetLine(o, take)
	case e.kind == Line:
		e.meetCircle(o, take)
	case o.kind == Line:
		o.meetCircle(e, take)
	default:
		e.circlesMeet(o, take)
	}
}

// meetLine: the places are ends of lines or have a coordinate of each.
func (e edge) meetLine(o edge, take func(place)) {
	if e.upright() == o.upright() {
		for _, p := range []Point{e.from, e.to, o.from, o.to} {
			take(wholePlace(p))
		}
		return
	}
	if e.upright() {
		e, o = o, e
	}
	take(wholePlace(Point{o.from.X, e.from.Y}))
}

// meetCircle, for a line at y = k: x = cx ± √(r² - (k-cy)²).
func (e edge) meetCircle(o edge, take func(place)) {
	off, c := e.from.Y-o.centre.Y, o.centre.X
	if e.upright() {
		off, c = e.from.X-o.centre.X, o.centre.Y
	}
	r, k := big.NewInt(int64(o.radius)), big.NewInt(int64(off))
	d := sub(mul(r, r), mul(k, k))
	if d.Sign() < 0 {
		return
	}
	root(d, func(q *big.Int) {
		if e.upright() {
			take(newPlace(big.NewInt(int64(e.from.X)), nought, big.NewInt(int64(c)), q, d, one))
		} else {
			take(newPlace(big.NewInt(int64(c)), q, big.NewInt(int64(e.from.Y)), nought, d, one))
		}
	})
}

// circlesMeet: with (dx, dy) from the first centre to the second, m its square
// and a = m + r² - s², the places lie at
//
//	x = cx + (a dx ∓ dy √(4 m r² - a²)) / 2m
//	y = cy + (a dy ± dx √(4 m r² - a²)) / 2m
//
// Circles about one centre are one circle or have no place in common; of one
// circle the quarters meet at their ends.
func (e edge) circlesMeet(o edge, take func(place)) {
	if e.centre == o.centre {
		if e.radius == o.radius {
			take(wholePlace(e.from))
			take(wholePlace(e.to))
		}
		return
	}
	v := o.centre.minus(e.centre)
	dx, dy := big.NewInt(int64(v.X)), big.NewInt(int64(v.Y))
	r, s := big.NewInt(int64(e.radius)), big.NewInt(int64(o.radius))
	m := add(mul(dx, dx), mul(dy, dy))
	a := sub(add(m, mul(r, r)), mul(s, s))
	d := sub(mul(big.NewInt(4), mul(m, mul(r, r))), mul(a, a))
	if d.Sign() < 0 {
		return
	}
	w := mul(two, m)
	px := add(mul(big.NewInt(int64(e.centre.X)), w), mul(a, dx))
	py := add(mul(big.NewInt(int64(e.centre.Y)), w), mul(a, dy))
	root(d, func(q *big.Int) {
		take(newPlace(px, mul(q, new(big.Int).Neg(dy)), py, mul(q, dx), d, w))
	})
}

// root calls f for each root of d: once where they are the same.
func root(d *big.Int, f func(q *big.Int)) {
	f(one)
	if d.Sign() != 0 {
		f(big.NewInt(-1))
	}
}
