package addup

import (
	"fmt"
	"math/big"
	"strings"

	"stopshort/toolpath/measure"
)

// slide is one screw with its nut: the wheel's place, and the slide's, which lags
// behind it by up to the backlash. Both in tenths of a nanometre, exact.
type slide struct {
	axis         int
	label        string
	lead, lines  *big.Rat
	back         *big.Rat
	plus, minus  string // the words that send the cutter to either side
	upper        bool   // the nut bears so that the cutter is at the wheel's place after going to the plus side
	risesWithPos bool
	half         bool
	wheel, at    *big.Rat
	known        bool
}

// travel is whole turns and lines as a way of the wheel.
func (s *slide) travel(turns int64, lines string) (*big.Rat, error) {
	l, err := lineCount(lines)
	if err != nil {
		return nil, err
	}
	if l.Sign() < 0 || l.Cmp(s.lines) >= 0 {
		return nil, fmt.Errorf("%s lines are not less than a turn", lines)
	}
	l.Quo(l, s.lines)
	l.Add(l, new(big.Rat).SetInt64(turns))
	return l.Mul(l, s.lead), nil
}

// lineCount reads lines: "34", "62.5", "2/3", "20 1/3".
func lineCount(text string) (*big.Rat, error) {
	sum := new(big.Rat)
	f := strings.Fields(text)
	if len(f) == 0 || len(f) > 2 {
		return nil, fmt.Errorf("%q is no number of lines", text)
	}
	for _, part := range f {
		if len(part) > 40 || strings.ContainsAny(part, "eExXpP_") {
			return nil, fmt.Errorf("%q is no number of lines", text)
		}
		v, ok := new(big.Rat).SetString(part)
		if !ok {
			return nil, fmt.Errorf("%q is no number of lines", text)
		}
		sum.Add(sum, v)
	}
	return sum, nil
}

// shows holds the reading against what stands at the dial's mark.
func (s *slide) shows(reading string) error {
	want, err := lineCount(reading)
	if err != nil {
		return err
	}
	lines := new(big.Rat).Quo(s.wheel, s.lead)
	lines.Mul(lines, s.lines)
	if !s.risesWithPos {
		lines.Neg(lines)
	}
	turns := new(big.Rat).Quo(lines, s.lines)
	whole := new(big.Int).Div(turns.Num(), turns.Denom()) // floor, as the denominator is positive
	lines.Sub(lines, new(big.Rat).Mul(s.lines, new(big.Rat).SetInt(whole)))
	if lines.Cmp(want) != 0 {
		return fmt.Errorf("the dial of %s shows %s and the row says %s", s.label, lines.FloatString(2), reading)
	}
	return nil
}

// follow lets the slide follow its wheel.
func (s *slide) follow() {
	low, high := s.wheel, new(big.Rat).Add(s.wheel, s.back)
	if !s.upper {
		low, high = new(big.Rat).Sub(s.wheel, s.back), s.wheel
	}
	if s.at.Cmp(low) < 0 {
		s.at.Set(low)
	}
	if s.at.Cmp(high) > 0 {
		s.at.Set(high)
	}
}

// written is how far a place in a table may be off for its own rounding, to a millionth
// of an inch.
const written = 300

// stands holds the row's target against where the slide stands.
func (s *slide) stands(target string, u measure.Unit) error {
	v, err := measure.ParseLength(target, u)
	if err != nil {
		return err
	}
	off := new(big.Rat).Sub(big.NewRat(int64(v), 1), s.at)
	if off.Abs(off).Cmp(big.NewRat(written, 1)) > 0 {
		return fmt.Errorf("the slide of %s stands at %s and the row says %s", s.label, measure.Length(nearest(s.at)), target)
	}
	return nil
}

// nearest is a ratio to the nearest whole number, a half away from nought. Figures of
// a table that was made here are far within 63 bits; others give nought.
func nearest(r *big.Rat) int64 {
	twice := new(big.Int).Mul(r.Num(), big.NewInt(2))
	d := new(big.Int).Mul(r.Denom(), big.NewInt(2))
	if r.Sign() < 0 {
		twice.Sub(twice, r.Denom())
	} else {
		twice.Add(twice, r.Denom())
	}
	q := twice.Quo(twice, d)
	if !q.IsInt64() {
		return 0
	}
	return q.Int64()
}
