package solid

import (
	"math/rand/v2"

	"stopshort/toolpath/measure"
)

const mm = measure.Millimetre

func randomPoint(r *rand.Rand, size measure.Length) Point {
	f := func() measure.Length { return measure.Length(r.Int64N(int64(2*size+1))) - size }
	return Point{f(), f(), f()}
}

func upTo(r *rand.Rand, size measure.Length) measure.Length {
	return measure.Length(r.Int64N(int64(size)))
}

// randomSweep is a cylinder, a cone with or without a flat end, or a disc, on
// a move of any kind.
func randomSweep(r *rand.Rand) Sweep {
	p := Part{LowRadius: upTo(r, 6*mm)}
	p.Low = upTo(r, 20*mm)
	p.High = p.Low + upTo(r, 30*mm)
	switch r.IntN(5) {
	case 0:
		p.HighRadius = upTo(r, 6*mm)
	case 1:
		p.LowRadius, p.HighRadius = 0, upTo(r, 6*mm)
	default:
		p.HighRadius = p.LowRadius
	}
	return Sweep{p, randomPoint(r, 30*mm), Point{}}.moved(r)
}

func (s Sweep) moved(r *rand.Rand) Sweep {
	s.To = randomPoint(r, 30*mm)
	switch r.IntN(6) {
	case 0:
		s.To = s.From
	case 1:
		s.To = s.From.With(X, s.To.X)
	case 2:
		s.To = s.From.With(Y, s.To.Y)
	case 3:
		s.To = s.From.With(Z, s.To.Z)
	case 4:
		s.To.Z = s.From.Z
	}
	return s
}

func randomBody(r *rand.Rand) Body {
	switch r.IntN(4) {
	case 0:
		l, h := corners(randomPoint(r, 40*mm), randomPoint(r, 40*mm))
		return Box{l, h}
	case 1:
		return randomSweep(r)
	case 2:
		return Cylinder{randomPoint(r, 50*mm), randomPoint(r, 50*mm), upTo(r, 12*mm)}
	}
	return randomRod(r)
}

// randomRod is a cylinder along an axis.
func randomRod(r *rand.Rand) Cylinder {
	c := Cylinder{randomPoint(r, 50*mm), Point{}, upTo(r, 12*mm)}
	a := Axis(r.IntN(3))
	c.To = c.From.With(a, c.From.Along(a)+upTo(r, 60*mm)+1)
	return c
}
