package outline

import "math/big"

// Contains tells whether the point lies within the loop or on it, whichever way
// the loop runs. It is exact for the loop as it is rounded: ends where they are,
// arcs on their circle. So it may differ from the true boundary by a tenth of a
// nanometre.
func (l Loop) Contains(p Point) bool {
	for _, c := range l {
		if c.holds(p) {
			return true
		}
	}
	return l.winding(p) != 0
}

// holds tells that the point lies on the piece.
func (c Piece) holds(p Point) bool {
	if p == c.From || p == c.To {
		return true
	}
	if c.Kind == Arc {
		return c.offCircle(p) == 0 && c.passes(p.minus(c.Centre))
	}
	return turn(c.To.minus(c.From), p.minus(c.From)) == 0 &&
		min(c.From.X, c.To.X) <= p.X && p.X <= max(c.From.X, c.To.X) &&
		min(c.From.Y, c.To.Y) <= p.Y && p.Y <= max(c.From.Y, c.To.Y)
}

// offCircle is below nought within the circle of an arc and above it outside.
func (c Piece) offCircle(p Point) int {
	v := p.minus(c.Centre)
	x, y, r := big.NewInt(int64(v.X)), big.NewInt(int64(v.Y)), big.NewInt(int64(c.Radius))
	return add(mul(x, x), mul(y, y)).Cmp(mul(r, r))
}

// winding is how often the loop runs round a point that is not on it,
// anticlockwise. Each arc is taken as the two straight lines by way of its
// centre and the sector between them: unlike the chord, these stay what they are
// where an arc is so short that rounding its ends has turned the chord.
//
// A point on one of the straight lines counts as moved by e to the right and by
// e² upward, for an e as small as need be, in all counts alike.
func (l Loop) winding(p Point) int {
	n := 0
	for _, c := range l {
		if c.Kind == Line {
			n += passing(c.From, c.To, p)
			continue
		}
		n += passing(c.From, c.Centre, p) + passing(c.Centre, c.To, p)
		if c.Sense == Anticlockwise {
			n += c.sector(p)
		} else {
			n -= c.Reversed().sector(p)
		}
	}
	return n
}

// passing is 1 where a straight line crosses the ray to the right of the point
// upward, -1 where downward, 0 where not at all.
func passing(from, to, p Point) int {
	switch {
	case from.Y <= p.Y && p.Y < to.Y && lies(from, to, p) > 0:
		return 1
	case to.Y <= p.Y && p.Y < from.Y && lies(from, to, p) < 0:
		return -1
	}
	return 0
}

// lies is above nought where the point is to the left of the line, below it
// where to the right. It is nought only of a line of no length.
func lies(from, to, p Point) int {
	d := to.minus(from)
	if s := turn(d, p.minus(from)); s != 0 {
		return s
	}
	if d.Y != 0 {
		return -compare(d.Y, 0)
	}
	return compare(d.X, 0)
}

// sector is 1 within the sector of an anticlockwise arc, else 0.
func (c Piece) sector(p Point) int {
	left, right := lies(c.Centre, c.From, p) > 0, lies(c.Centre, c.To, p) < 0
	in := left && right
	a, b := c.From.minus(c.Centre), c.To.minus(c.Centre)
	if turn(a, b) < 0 { // a trifle more than half-way round
		in = (left || right) && turn(a, Point{-b.Y, b.X}) < 0
	}
	if in && c.offCircle(p) < 0 {
		return 1
	}
	return 0
}
