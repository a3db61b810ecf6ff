package machines

import (
	"fmt"
	"math/big"
	"strconv"

	"stopshort/toolpath/measure"
)

// Reading is a position on one axis as its wheel gives it, counted from zero
// in whole lines of the dial, or in half lines where [Axis.Half] says so. Turns and Lines are counted away from zero, so
// that together they are the size of Steps; where Steps is below zero the wheel
// is turned the other way from zero.
type Reading struct {
	Steps int64         // lines from zero; half lines where the dial is set to those
	Turns int64         // whole turns from zero, never below nought
	Lines measure.Ratio // lines beyond those turns: from 0 to below the lines of a turn; halves on a dial of 62.5
	// At is the position itself, to the nearest tenth of a nanometre, which is
	// exact for every usual screw; [Axis.Position] gives a side where one is
	// wanted.
	At measure.Length
}

// Text is the reading for a person: "2 turns + 34", "1 turn + 109", "0 turns +
// 0.5"; below zero "back 2 turns + 34".
func (r Reading) Text() string {
	s := fmt.Sprintf("%d turns + %s", r.Turns, ratioText(r.Lines))
	if r.Turns == 1 {
		s = "1 turn + " + ratioText(r.Lines)
	}
	if r.Steps < 0 {
		s = "back " + s
	}
	return s
}

// LineValue is what one line of the dial is: tenths of a nanometre, as a
// ratio. It is the zero Ratio where the axis has no dial. [Read] refuses a
// machine whose line cannot be held; on an axis made by other means LineValue
// panics there.
func (a Axis) LineValue() measure.Ratio {
	if !a.HasDial() {
		return measure.Ratio{}
	}
	v, err := a.Lead.Over(a.Lines)
	if err != nil {
		panic("machines: " + err.Error())
	}
	return v
}

// StepValue is the least that the dial can be set by: a line, or half of one
// where the eye can set that.
func (a Axis) StepValue() measure.Ratio {
	v := a.LineValue()
	if !a.Half || v.IsZero() {
		return v
	}
	h, err := v.Over(measure.NewRatio(2, 1))
	if err != nil {
		panic("machines: " + err.Error())
	}
	return h
}

// perTurn is how many steps make one turn.
func (a Axis) perTurn() measure.Ratio {
	if a.Half {
		return measure.NewRatio(2*a.Lines.Num, a.Lines.Den)
	}
	return a.Lines
}

// Dial puts a position, as a distance from zero, on the dial's lines: to the
// line nearest, at or below, or at or above it. Below zero "below" is away from
// zero, as in [measure.Length.Round]; who wants a depth shallower hands in the
// depth, positive downwards, and [measure.Floor].
//
// Each position is rounded once, from zero: rows are never added up. The
// division is exact, whatever the screw. The axis must have a dial.
func (a Axis) Dial(pos measure.Length, way measure.Rounding) Reading {
	if !a.HasDial() {
		panic("machines: a reading was asked of an axis without a dial")
	}
	steps := a.StepValue().Steps(pos, way)
	return a.Reading(steps)
}

// Reading is the reading a whole number of lines from zero.
func (a Axis) Reading(steps int64) Reading {
	away := steps
	if away < 0 {
		away = -away
	}
	per := a.perTurn()
	turns := int64(measure.Length(away).MulDiv(per.Den, per.Num, measure.Floor))
	// The remainder is below per.Num, so that it is right even where the two
	// products wrap around.
	rest := away*per.Den - turns*per.Num
	lines := measure.NewRatio(rest, per.Den)
	if a.Half {
		lines = measure.NewRatio(rest, 2*per.Den)
	}
	return Reading{
		Steps: steps, Turns: turns, Lines: lines,
		At: a.Position(steps, measure.Nearest),
	}
}

// Position is where the slide stands a whole number of lines from zero,
// rounded the way asked to a tenth of a nanometre. The axis must have a dial.
func (a Axis) Position(steps int64, way measure.Rounding) measure.Length {
	return a.StepValue().Times(steps, way)
}

// risesUp tells whether the dial's numbers rise as the cutter goes to the axis's
// plus side over the part.
func (a Axis) risesUp() bool { return a.Falls != (a.Sense == "+") }

// Turn is the words for turning the wheel so that the cutter goes to the axis's plus side
// over the part, or to its minus side.
func (a Axis) Turn(plus bool) string {
	if plus == (a.Sense == "+") {
		return a.Words[0]
	}
	return a.Words[1]
}

// Shown is the number that stands at the dial's mark a whole number of steps from
// zero, in lines: from nought to below the lines of a turn.
func (a Axis) Shown(steps int64) measure.Ratio {
	r := a.Reading(steps)
	if r.Lines.IsZero() || (steps > 0) == a.risesUp() {
		return r.Lines
	}
	// what is left of the turn: lines less r, both over the common denominator
	n := new(big.Rat).Sub(big.NewRat(a.Lines.Num, a.Lines.Den), big.NewRat(r.Lines.Num, r.Lines.Den))
	return measure.NewRatio(n.Num().Int64(), n.Denom().Int64())
}

// LinesText is a number of lines for a person: "34", "62.5", "20 1/3".
func LinesText(r measure.Ratio) string { return ratioText(r) }

// ratioText is a ratio for a person: 62.5 where four decimals hold it, else 20
// 1/3.
func ratioText(r measure.Ratio) string {
	if r.Den == 1 {
		return strconv.FormatInt(r.Num, 10)
	}
	q := big.NewRat(r.Num, r.Den)
	if places, exact := q.FloatPrec(); exact && places <= 4 {
		return q.FloatString(places)
	}
	if w := r.Num / r.Den; w != 0 {
		rest := r.Num % r.Den
		if rest < 0 {
			rest = -rest
		}
		return fmt.Sprintf("%d %d/%d", w, rest, r.Den)
	}
	return q.RatString()
}
