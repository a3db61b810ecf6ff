package machines

import (
	"golang.org/x/exp/slices"

	"stopshort/toolpath/measure"
)

// AtMost is the fastest speed that the spindle has and that is not above want.
// Where even the slowest is above it ok is false, and the speed is the slowest.
func (s Spindle) AtMost(want measure.Speed) (speed measure.Speed, ok bool) {
	if len(s.Speeds) == 0 {
		return max(s.Low, min(want, s.High)), want >= s.Low
	}
	i, found := slices.BinarySearch(s.Speeds, want)
	switch {
	case found:
		return want, true
	case i == 0:
		return s.Speeds[0], false
	}
	return s.Speeds[i-1], true
}

// Has tells whether the spindle has just this speed.
func (s Spindle) Has(speed measure.Speed) bool {
	got, ok := s.AtMost(speed)
	return ok && got == speed
}
