package toolpath

import "stopshort/toolpath/measure"

// Look is a stop for measuring before the last pass of a cut whose limit is close:
// the operator measures what is there, and the last pass is worked out from it.
type Look struct {
	Limit  string         // the limit that is close
	What   string         // what is measured, for the operator
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

// Part says which part of its cut an operation is.
type Part uint8

const (
	Whole  Part = iota
	Rough       // all but what comes after the look
	Finish      // what comes after it: a program of its own
)
