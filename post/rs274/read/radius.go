package read

import (
	"math"
	"math/bits"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// radiusSlack is how far a point of an arc may lie from where it is put when its
// centre comes from a radius: see [state.byRadius].
const radiusSlack = 3

// byRadius puts the centre of an arc by its radius: a positive one turns half a
// turn or less, a negative one more (NISTIR 6556, 3.5.3.1).
//
// With the chord d and the radius r the centre lies h = sqrt(4rr - dd)/2 to one
// side of the chord's middle. 4rr - dd is formed exactly; h, d and the quotients
// are of float64, each out by a few roundings of 2^-53. h is at most 1e12, so a
// component of the centre is out by less than 0.002, by 0.5 more for the rounding to
// a whole number and 0.5 for the middle: at most 1.01. The radius that is taken
// from start to centre is then out by at most 1.5, and a point of the arc by less
// than [radiusSlack].
func (s *state) byRadius(f *flat) {
	r, slack, ok := s.w.of('R').length(s.unit)
	if !ok || slack != 0 || s.out.Slack != 0 {
		s.about(OutOfReach, Word{'R', -1})
		s.lost = true
		return
	}
	fromA, fromB := part(&s.out.From, f.a), part(&s.out.From, f.b)
	toA, toB := part(&s.out.To, f.a), part(&s.out.To, f.b)
	da, db := toA-fromA, toB-fromB
	switch {
	case da == 0 && db == 0:
		s.note(RadiusFull)
		return
	case r == 0:
		s.note(RadiusNought)
		return
	}
	hi, lo, enough := squareLess(2*r, da, db)
	if !enough {
		s.note(RadiusTooSmall)
		return
	}
	h := math.Sqrt(float64(hi)*0x1p64+float64(lo)) / 2
	d := math.Sqrt(float64(float64(da)*float64(da)) + float64(float64(db)*float64(db)))
	// To the right of the way for a clockwise arc of half a turn or less.
	if (s.out.Sense == toolpath.Clockwise) != (r > 0) {
		h = -h
	}
	a := float64(float64(fromA)+float64(toA))/2 + float64(h*(float64(db)/d))
	b := float64(float64(fromB)+float64(toB))/2 - float64(h*(float64(da)/d))
	s.setCentre(f.a, measure.Length(math.Round(a)))
	s.setCentre(f.b, measure.Length(math.Round(b)))
	s.out.Slack, s.out.CentreSlack = radiusSlack, radiusSlack
	if hi == 0 && lo == 0 && (fromA+toA)%2 == 0 && (fromB+toB)%2 == 0 {
		s.out.Slack, s.out.CentreSlack = 0, 0 // half a turn about the middle is exact
	}
}

// squareLess is rr - aa - bb as a number of two words; enough is false where it
// is below nought. Each is at most 4e12 in size, so each square under 2^84.
func squareLess(r, a, b measure.Length) (hi, lo uint64, enough bool) {
	hi, lo = square(r)
	for _, v := range [2]measure.Length{a, b} {
		h, l := square(v)
		var borrow uint64
		lo, borrow = bits.Sub64(lo, l, 0)
		if hi, borrow = bits.Sub64(hi, h, borrow); borrow != 0 {
			return 0, 0, false
		}
	}
	return hi, lo, true
}

func square(v measure.Length) (hi, lo uint64) {
	u := uint64(v.Abs())
	return bits.Mul64(u, u)
}
