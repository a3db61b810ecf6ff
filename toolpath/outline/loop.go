package outline

import (
	"math/big"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/measure"
)

// Loop is a closed run of pieces, each beginning where the one before ends, the
// first where the last ends.
type Loop []Piece

// Reversed is the loop run the other way, from the same point.
func (l Loop) Reversed() Loop {
	r := make(Loop, 0, len(l))
	for i := len(l) - 1; i >= 0; i-- {
		p := l[i].Reversed()
		switch l[(i+1)%len(l)].Joint {
		case Left:
			p.Joint = Right
		case Right:
			p.Joint = Left
		}
		r = append(r, p)
	}
	return r
}

// From is the loop begun with another of its pieces.
func (l Loop) From(piece int) Loop {
	return append(slices.Clone(l[piece:]), l[:piece]...)
}

// Length is the length round the loop, for people: worked out in floating
// point, to a few parts in 2^50, and rounded to the nearest.
func (l Loop) Length() measure.Length {
	sum := 0.0
	for _, p := range l {
		sum += p.length()
	}
	return measure.Length(sum + 0.5)
}

// Bounds is the least rectangle that holds the loop: exact, since arcs are
// furthest out at their ends or straight along an axis from their centre. An
// empty loop has the point (0, 0).
func (l Loop) Bounds() (low, high Point) {
	if len(l) == 0 {
		return Point{}, Point{}
	}
	low, high = l[0].From, l[0].From
	take := func(p Point) {
		low = Point{min(low.X, p.X), min(low.Y, p.Y)}
		high = Point{max(high.X, p.X), max(high.Y, p.Y)}
	}
	for _, p := range l {
		take(p.From)
		if p.Kind == Line {
			continue
		}
		r := p.Radius
		for _, d := range []Point{{r, 0}, {0, r}, {-r, 0}, {0, -r}} {
			if p.passes(d) {
				take(Point{p.Centre.X + d.X, p.Centre.Y + d.Y})
			}
		}
	}
	return low, high
}

// passes tells whether an arc passes the direction d from its centre between
// its ends.
func (p Piece) passes(d Point) bool {
	if p.Sense == Clockwise {
		p = p.Reversed()
	}
	return turn(p.From.minus(p.Centre), d) > 0 && turn(d, p.To.minus(p.Centre)) > 0
}

// turn is the sign of a x b: above nought where b points to the left of a. It
// is exact.
func turn(a, b Point) int { return cross(a, b).Sign() }

func cross(a, b Point) *big.Int {
	return sub(mul(big.NewInt(int64(a.X)), big.NewInt(int64(b.Y))), mul(big.NewInt(int64(a.Y)), big.NewInt(int64(b.X))))
}
