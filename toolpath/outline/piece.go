package outline

import (
	"fmt"
	"math"
	"math/big"

	"stopshort/toolpath/measure"
)

// Kind is what a piece is.
type Kind uint8

const (
	Line Kind = iota // straight
	Arc              // about a centre, at most half-way round
)

func (k Kind) String() string { return [...]string{"line", "arc"}[k] }

// Sense is the way an arc turns, seen from above.
type Sense uint8

const (
	Clockwise Sense = iota
	Anticlockwise
)

func (s Sense) String() string { return [...]string{"clockwise", "anticlockwise"}[s] }

// Joint is how a piece goes on from the one before it, decided before anything
// was rounded.
type Joint uint8

const (
	Smooth Joint = iota // on a tangent
	Left                // turning left: of material on the left, a corner that stands out
	Right               // turning right: of material on the left, a corner between two shapes
)

func (j Joint) String() string { return [...]string{"smooth", "left", "right"}[j] }

// Piece is a line or an arc of a loop. The ends are rounded to the nearest
// tenth of a nanometre; the centre and the radius of an arc are exact, so that
// an end may lie 0.71 of a tenth off the circle.
type Piece struct {
	Kind     Kind
	From, To Point
	Centre   Point          // of an arc
	Radius   measure.Length // of an arc
	Sense    Sense          // of an arc
	Joint    Joint          // with the piece before
}

// Reversed is the piece run the other way. Its joint is left out: that is the
// loop's to say.
func (p Piece) Reversed() Piece {
	p.From, p.To, p.Joint = p.To, p.From, Smooth
	if p.Kind == Arc {
		p.Sense = Anticlockwise - p.Sense
	}
	return p
}

// Angles are the directions from the centre to the ends of an arc, each from
// above -180 to 180 degrees, for people: they are worked out in floating point
// and rounded to a millionth of a second of arc. A line has none.
func (p Piece) Angles() (start, end measure.Angle) {
	if p.Kind != Arc {
		return 0, 0
	}
	return p.From.minus(p.Centre).angle(), p.To.minus(p.Centre).angle()
}

func (p Point) angle() measure.Angle {
	return measure.Angle(math.Round(math.Atan2(float64(p.Y), float64(p.X)) * (float64(180*measure.Degree) / math.Pi)))
}

// sweep is how far an arc turns, in radians, from nought to pi and a trifle.
// The cross product is exact before it is rounded, so that a thin arc loses
// nothing.
func (p Piece) sweep() float64 {
	if p.Sense == Clockwise {
		p = p.Reversed()
	}
	a, b := p.From.minus(p.Centre), p.To.minus(p.Centre)
	across, _ := new(big.Float).SetInt(cross(a, b)).Float64()
	along, _ := new(big.Float).SetInt(cross(a, Point{-b.Y, b.X})).Float64()
	switch {
	case across < 0 && along < 0:
		return 2*math.Pi + math.Atan2(across, along)
	case across < 0:
		return 0
	}
	return math.Atan2(across, along)
}

// Length is the length of the piece, for people: it is worked out in floating
// point, to a few parts in 2^50, and rounded to the nearest.
func (p Piece) Length() measure.Length { return measure.Length(math.Round(p.length())) }

func (p Piece) length() float64 {
	if p.Kind == Arc {
		return float64(p.Radius) * p.sweep()
	}
	c := p.To.minus(p.From)
	return math.Hypot(float64(c.X), float64(c.Y))
}

func (p Piece) String() string {
	t := fmt.Sprintf("%s from (%s, %s) to (%s, %s)", p.Kind, p.From.X.MM(), p.From.Y.MM(), p.To.X.MM(), p.To.Y.MM())
	if p.Kind == Arc {
		t += fmt.Sprintf(" %s about (%s, %s)", p.Sense, p.Centre.X.MM(), p.Centre.Y.MM())
	}
	return t
}
