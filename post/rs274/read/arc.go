package read

import (
	"math"
	"math/big"

	"stopshort/post/rs274"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// arc is G2 and G3 in the XY plane, the centre told from the start.
func (s *state) arc(w *words) error {
	switch {
	case s.stated&group(rs274.Plane) == 0:
		return fault(NotFollowed, "an arc before G17 was stated")
	case !w.has('X') && !w.has('Y'):
		return fault(NoArcEnd, "an arc without X and Y")
	case !w.has('I') && !w.has('J'):
		return fault(NoCentre, "an arc without I and J")
	case s.feed.digits == 0:
		return fault(ArcFeedMissing, "an arc without a feed")
	case !s.at.Known[0] || !s.at.Known[1]:
		return fault(NotFollowed, "an arc whose start is not known")
	}
	to, err := s.target(w)
	if err != nil {
		return err
	}
	i, err := s.offset(w, 'I')
	if err != nil {
		return err
	}
	j, err := s.offset(w, 'J')
	if err != nil {
		return err
	}
	step := toolpath.Step{Kind: toolpath.Arc, To: to, Sense: toolpath.Clockwise}
	if s.motion == 30 {
		step.Sense = toolpath.Anticlockwise
	}
	step.Centre.X, step.Centre.Y = s.at.X+i, s.at.Y+j
	k, l := step.Centre.X-to.X, step.Centre.Y-to.Y
	if i == 0 && j == 0 || k == 0 && l == 0 {
		return fault(EmptyArcRadius, "an arc whose radius is nought")
	}
	if !near(i, j, k, l, s.mostApart()) {
		return fault(RadiiDiffer, "an arc whose end is not as far from its centre as its start")
	}
	return s.cut(step)
}

// offset is I or J; where it is missing it is nought.
func (s *state) offset(w *words, letter byte) (measure.Length, error) {
	if !w.has(letter) {
		return 0, nil
	}
	v, err := w.of(letter).length(letter, s.unit)
	if err != nil {
		return 0, err
	}
	return v, nil
}

// mostApart is by how much the radii of an arc may differ: 0.002 mm or 0.0002 in
// (NISTIR 6556, 3.5.3.2).
func (s *state) mostApart() measure.Length {
	if s.unit == measure.Inch {
		return 50_800
	}
	return 20_000
}

// near tells whether the lengths of (i, j) and (k, l) differ by at most most.
//
// Each component is at most 4e12 tenths of a nanometre, so exact in a float64.
// A length worked out in float64 is out by less than 3 roundings of 2^-53 of it,
// so by less than 0.002, and the difference of two by less than 0.01. Where it is
// farther than 1 from most, it decides; the rest is decided on whole numbers.
func near(i, j, k, l, most measure.Length) bool {
	a := math.Sqrt(float64(float64(i)*float64(i)) + float64(float64(j)*float64(j)))
	b := math.Sqrt(float64(float64(k)*float64(k)) + float64(float64(l)*float64(l)))
	switch d := math.Abs(a - b); {
	case d < float64(most)-1:
		return true
	case d > float64(most)+1:
		return false
	}
	return nearExactly(i, j, k, l, most)
}

// nearExactly decides the same by squares: with p the longer length and q the
// other, p <= q+m is p*p - q*q - m*m <= 2*q*m, and where the left side is
// positive both sides may be squared.
func nearExactly(i, j, k, l, most measure.Length) bool {
	p, q := sumOfSquares(i, j), sumOfSquares(k, l)
	if p.Cmp(q) < 0 {
		p, q = q, p
	}
	m2 := sumOfSquares(most, 0)
	left := p.Sub(p, q)
	left.Sub(left, m2)
	if left.Sign() <= 0 {
		return true
	}
	right := m2.Mul(m2, q)
	right.Lsh(right, 2)
	return left.Mul(left, left).Cmp(right) <= 0
}

func sumOfSquares(x, y measure.Length) *big.Int {
	a := big.NewInt(int64(x))
	b := big.NewInt(int64(y))
	return a.Add(a.Mul(a, a), b.Mul(b, b))
}
