package outline

import (
	"fmt"
	"math/big"

	"stopshort/toolpath/measure"
)

// Tolerance is how far a certified outline may be from the true one, in tenths
// of a nanometre. Rounding the ends takes 0.71 of one; the rest is for what the
// proof adds: one for an end off its circle, and less than one for an arc taken
// as a chord and for floating point.
const Tolerance measure.Length = 3

// Certify proves an outline of shapes that are each grown by the length: that
// every loop is closed; that every arc has its ends within a tenth of a
// nanometre of its circle and goes at most half-way round; that no point of any
// piece is nearer to any shape than the growth less [Tolerance], or further
// from the nearest shape than the growth and the tolerance; and that the loops
// run once round the middle of every shape, the outer one round the first's. It
// uses nothing of what Union worked out but the loops.
//
// It does not prove that nothing is missing: a hole may be left out.
func (o Outlines) Certify(shapes []Shape, by measure.Length) error {
	grown, err := grow(shapes, by)
	if err != nil {
		return err
	}
	for i, l := range o.Loops() {
		if err := l.certify(grown); err != nil {
			return fmt.Errorf("loop %d: %w", i+1, err)
		}
	}
	for i, s := range grown {
		m := Point{s.Low.X + (s.High.X-s.Low.X)/2, s.Low.Y + (s.High.Y-s.Low.Y)/2}
		if across := min(s.High.X-s.Low.X, s.High.Y-s.Low.Y); across/2+s.Radius <= 2*Tolerance {
			continue // too small to tell its middle from its edge
		}
		n := 0
		for _, l := range o.Loops() {
			n += l.winding(m)
		}
		if n != 1 {
			return fmt.Errorf("%d times round the middle of shape %d: it must be once", n, i+1)
		}
		if i == 0 && o.Outer.winding(m) != 1 {
			return fmt.Errorf("the outer loop does not run round the first shape")
		}
	}
	return nil
}

func (l Loop) certify(grown []Shape) error {
	if len(l) < 2 {
		return fmt.Errorf("%d pieces do not close: a loop has at least two", len(l))
	}
	for i, p := range l {
		if next := l[(i+1)%len(l)]; p.To != next.From {
			return fmt.Errorf("piece %d, %s, does not end where the next one begins", i+1, p)
		}
		if err := p.certify(grown); err != nil {
			return fmt.Errorf("piece %d, %s: %w", i+1, p, err)
		}
	}
	return nil
}

func (p Piece) certify(grown []Shape) error {
	if err := p.sound(); err != nil {
		return err
	}
	for i, s := range grown {
		if !p.clears(s) {
			return fmt.Errorf("nearer to shape %d than the growth less %d tenths of a nanometre", i+1, Tolerance)
		}
	}
	if !p.keepsTo(grown) {
		return fmt.Errorf("further from every shape than the growth and %d tenths of a nanometre", Tolerance)
	}
	return nil
}

// sound tells that a piece is what it says. It is exact.
func (p Piece) sound() error {
	const far = 4 * measure.MaxLength
	for _, q := range []Point{p.From, p.To, p.Centre} {
		if max(q.X, q.Y, -q.X, -q.Y) > far {
			return fmt.Errorf("out of reach")
		}
	}
	if p.From == p.To {
		return fmt.Errorf("of no length")
	}
	if p.Kind == Line {
		return nil
	}
	if p.Kind != Arc || p.Sense > Anticlockwise || p.Radius <= 0 || p.Radius > far {
		return fmt.Errorf("neither a line nor an arc")
	}
	within, without := p, p
	within.Radius, without.Radius = p.Radius-1, p.Radius+1
	for _, q := range []Point{p.From, p.To} {
		if within.offCircle(q) < 0 || without.offCircle(q) > 0 {
			return fmt.Errorf("an end is more than a tenth of a nanometre off the circle")
		}
	}
	if p.Sense == Clockwise {
		p = p.Reversed()
	}
	a, b := p.From.minus(p.Centre), p.To.minus(p.Centre)
	// Ends that are opposite may be rounded past each other: then the centre is
	// within two tenths of the straight line between them.
	past := cross(b, a)
	if past.Sign() > 0 && (cross(a, Point{-b.Y, b.X}).Sign() >= 0 || past.Cmp(big.NewInt(4*int64(p.Radius))) > 0) {
		return fmt.Errorf("more than half-way round")
	}
	return nil
}
