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
	Centre   solid.Point // of an arc, in its plane; the third axis is nought
	Plane    ArcPlane    // of an arc
	Sense    Sense       // of an arc
	Feed     measure.Feed
	Speed    measure.Speed // the spindle's while the step lasts; nought is stopped
	Time     measure.Time  // of a dwell
	Line     int           // where it stands in the text, from 1
	Op       int           // which operation of the program, from 0; -1 is none
	Tool     int           // number of the tool that the text has put in; nought is none
	Offset   int           // number of the length offset in force; nought is none
	Coolant  Coolant       // what runs while the step lasts
	// Slack is how far, on each axis, the true places may lie from From, To and
	// every point of an arc about Centre: numbers finer than a tenth of a
	// nanometre, and centres that were worked out from a radius. Nought is exact.
	Slack measure.Length
	// CentreSlack is how much of Slack is the centre's alone: it counts in the
	// arc's plane and not across it.
	CentreSlack measure.Length
}

// Coolant is which coolants run.
type Coolant uint8

// The coolants; both may run.
const (
	Mist Coolant = 1 << iota
	Flood
)

func (c Coolant) String() string {
	return [...]string{"no coolant", "mist", "flood", "mist and flood"}[c&(Mist|Flood)]
}

// ArcPlane is the plane in which an arc turns. The third axis goes evenly along it.
type ArcPlane uint8

// The planes of G17, G18 and G19.
const (
	PlaneXY ArcPlane = iota
	PlaneZX
	PlaneYZ
)

// Trace is the steps a cutter really takes, in order, as they were read back
// from a program's text or a table's rows. Limits are held against a Trace and
// against nothing else.
type Trace struct {
	Steps []Step
	Ended bool // the program came to its end word
	Left  Left // of a text
}

// Left is the state in which a text's end finds a machine, before the end word does
// what it does.
type Left struct {
	Speed   measure.Speed // of the spindle, if it turns
	Coolant Coolant
	Offset  int // number of the length offset in force
	Plane   ArcPlane
	Unit    measure.Length // of its numbers; nought was not said
	Stated  bool           // plane, units, distance, feed mode, compensation, offset and zero were all said
}
