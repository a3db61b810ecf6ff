package toolpath

import (
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// Place is where the cutter stands, as far as it is known: a program does not
// know where the operator left it.
type Place struct {
	solid.Point
	Known [3]bool // X, Y, Z
}

// AllKnown tells whether the place is known on every axis.
func (p Place) AllKnown() bool { return p.Known == [3]bool{true, true, true} }

// Step is one thing that a program or a table makes the machine do.
type Step struct {
	Kind     Motion
	From, To Place
	Centre   solid.Point // of an arc, in XY
	Sense    Sense       // of an arc
	Feed     measure.Feed
	Speed    measure.Speed // the spindle's while the step lasts; nought is stopped
	Time     measure.Time  // of a dwell
	Line     int           // where it stands in the text, from 1
	Op       int           // which operation of the program, from 0; -1 is none
}

// Trace is the steps a cutter really takes, in order, as they were read back
// from a program's text or a table's rows. Limits are held against a Trace and
// against nothing else.
type Trace struct {
	Steps []Step
	Ended bool // the program came to its end word
}
