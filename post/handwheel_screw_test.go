package post

import "math/big"

// screw is a simulated screw with its nut and its dial, known to the test and not read
// from the machine: a turn clockwise sends the cutter to the side given, and the
// slide follows only once the play is taken up. Lengths are tenths of a nanometre.
type screw struct {
	label             string
	lead, lines, play *big.Rat
	clockwisePlus     bool
	falls             bool
	half              bool
	wheel, slide      *big.Rat
	left              *big.Rat // where it stood when hands left it elsewhere within the play; nil is not
	low, high         *big.Rat // the slide is between wheel + low and wheel + high
	set               bool
	locked            bool
}

// touch sets the dial so that its zero is the slide's, with the nut hard on the side
// that the last turn pressed it to: a row that says the wrong way leaves the play on
// the bad side.
func (s *screw) touch(at *big.Rat, plus bool) {
	s.wheel, s.slide, s.set = new(big.Rat).Set(at), new(big.Rat).Set(at), true
	s.low, s.high = new(big.Rat), s.play
	if !plus {
		s.low, s.high = new(big.Rat).Neg(s.play), new(big.Rat)
	}
}

func (s *screw) turn(turns, lines *big.Rat, plus bool) {
	by := new(big.Rat).Quo(lines, s.lines)
	by.Add(by, turns).Mul(by, s.lead)
	if !plus {
		by.Neg(by)
	}
	s.wheel.Add(s.wheel, by)
	if low := new(big.Rat).Add(s.wheel, s.low); s.slide.Cmp(low) < 0 {
		s.slide = low
	}
	if high := new(big.Rat).Add(s.wheel, s.high); s.slide.Cmp(high) > 0 {
		s.slide = high
	}
}

// dial is what stands at the mark.
func (s *screw) dial() *big.Rat {
	n := new(big.Rat).Quo(s.wheel, s.lead)
	n.Mul(n, s.lines)
	if s.clockwisePlus == s.falls {
		n.Neg(n)
	}
	t := new(big.Rat).Quo(n, s.lines)
	floor := new(big.Int).Div(t.Num(), t.Denom())
	return n.Sub(n, new(big.Rat).Mul(s.lines, new(big.Rat).SetInt(floor)))
}

func (s *screw) step() *big.Rat {
	v := new(big.Rat).Quo(s.lead, s.lines)
	if s.half {
		v.Quo(v, big.NewRat(2, 1))
	}
	return v
}
