package toolpath

import (
	"fmt"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// Look is the measuring before the last pass of a cut whose limit is close: the
// operator measures what is there, and the last pass is worked out from it.
type Look struct {
	Limit  string         // the limit that is close
	What   string         // what is measured, in the operator's words
	Reads  measure.Length // what it reads if all is as planned
	Rises  bool           // it reads more where the floor is too high (over a pin), else less (a depth)
	Direct bool           // what is measured is the limit itself, so that nothing of its place is unknown
	Step   measure.Length // how much deeper the last pass goes
	// Taken is what was read; nil before it was measured. The last pass is then
	// cut from there: of the errors in its depth only the gauge's and those of the last
	// step are left.
	Taken *measure.Length
}

// Off is how much higher the floor stands than the machine's own height says; nought
// before it was measured.
func (l Look) Off() measure.Length {
	switch {
	case l.Taken == nil:
		return 0
	case l.Rises:
		return *l.Taken - l.Reads
	}
	return l.Reads - *l.Taken
}

// Asks is what the operator is asked to measure, and what it reads if all is well, for
// somebody who reads lengths in that unit.
func (l Look) Asks(u measure.Unit) string {
	return fmt.Sprintf("measure %s: %s", l.What, l.Expects(u))
}

// Expects is what the measuring should read.
func (l Look) Expects(u measure.Unit) string {
	return "it should read " + l.Reads.Shown(u, measure.Nearest)
}

// Told is how a finish was worked out that was measured for.
func (l Look) Told(u measure.Unit) string {
	s := fmt.Sprintf("worked out for a reading of %s where %s was planned", (*l.Taken).Shown(u, measure.Nearest), l.Reads.Shown(u, measure.Nearest))
	switch off := l.Off(); {
	case off > 0:
		s += fmt.Sprintf(": it goes up to %s lower", off.Shown(u, measure.Nearest))
	case off < 0:
		s += fmt.Sprintf(": it stays %s higher", (-off).Shown(u, measure.Nearest))
	}
	return s
}

// Facts is what [Look.Told] says, a fact a line, for the head of a program.
func (l Look) Facts(u measure.Unit) []string {
	facts := []string{"it was to read " + l.Reads.Shown(u, measure.Nearest), "it reads " + (*l.Taken).Shown(u, measure.Nearest)}
	switch off := l.Off(); {
	case off > 0:
		facts = append(facts, fmt.Sprintf("this finish goes up to %s lower for it", off.Shown(u, measure.Nearest)))
	case off < 0:
		facts = append(facts, fmt.Sprintf("this finish stays %s higher for it", (-off).Shown(u, measure.Nearest)))
	}
	return facts
}

// pinRoom is how far a pin stands out of a bore, and how much a gauge wants beyond it (own
// choice: a micrometer's anvil is less than that across, from memory).
const pinRoom = 10 * measure.Millimetre

// PinSpace is the space that a pin in a bore along X or Y wants for a gauge to reach over it
// from above, in metal that reaches from low to high. ok is false where the bore lies another
// way.
func PinSpace(bore solid.Cylinder, low, high solid.Point) (space solid.Box, ok bool) {
	a, straight := bore.Axis()
	if !straight || a == solid.Z {
		return space, false
	}
	space = solid.Bounds(bore)
	space.Low = space.Low.With(a, low.Along(a)-pinRoom)
	space.High = space.High.With(a, high.Along(a)+pinRoom)
	space.Low.Z -= pinRoom
	return space, true
}

// Part says which part of its cut an operation is.
type Part uint8

const (
	Whole  Part = iota
	Rough       // all but what comes after the look
	Finish      // what comes after it: a program of its own
)

// Waits tells whether an operation is a finish that was not measured for yet.
func (op Operation) Waits() bool { return op.Part == Finish && op.Look.Taken == nil }

// Off is how much higher the operation's cuts come out than its own heights say, as
// it was measured before a finish; nought for all else.
func (op Operation) Off() measure.Length {
	if op.Part == Finish {
		return op.Look.Off()
	}
	return 0
}
