package handwheel

import (
	"strconv"

	"stopshort/machines"
	"stopshort/toolpath/measure"
)

// countable is the time of a turn under which half seconds are told: a person
// counts those while the turns are quick.
const countable = 10 // half seconds

// secondsATurn is a feed as the time of one turn of the wheel, in half seconds:
// longer rather than shorter, so that the cut is fed no faster than planned, unless
// that comes under the slowest that the machine has.
func secondsATurn(a machines.Axis, feed, least measure.Feed) (half int64) {
	// lead / feed is minutes; times 120 is half seconds.
	per := func(f measure.Feed, way measure.Rounding) int64 {
		return int64(measure.Length(120).MulDiv(a.Lead.Num, a.Lead.Den*int64(f), way))
	}
	step := int64(1)
	half = per(feed, measure.Ceil)
	if half > countable {
		step = 2
		half += half % 2
	}
	if most := per(least, measure.Floor); half > most {
		half = max(most-most%step, 1)
	}
	return max(half, 1)
}

// halves is half seconds for a person: "2.5".
func halves(n int64) string {
	s := strconv.FormatInt(n/2, 10)
	if n%2 != 0 {
		s += ".5"
	}
	return s
}
