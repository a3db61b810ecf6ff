package toolpath

import (
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// LimitKind says what a limit guards, and so which parts of the cutter are
// held against it and which of the machine's errors count.
type LimitKind uint8

const (
	Web     LimitKind = iota // metal between a cut and a bore under it
	Wall                     // metal between a cut and a bore beside it
	Edge                     // metal between a cut and the outside
	Floor                    // metal under a cut
	Packing                  // what the part stands on
	Holding                  // jaws, clamps, washers, nuts
	Size                     // the shape that a cut makes and must stay inside
	Outline                  // the finished part that an outline is cut round
)

// SizeKind is one size of a slot.
type SizeKind uint8

const (
	SlotWidth SizeKind = iota // each side of the centre line
	SlotEnd                   // a closed end
	SlotDepth
)

// Side tells whether a solid must not be entered or must not be left.
type Side uint8

const (
	KeepOut Side = iota
	KeepIn
)

// Share is one part of a worst case: what it is and how much. Where Source is empty it
// is one of the machine's errors, as its file gives them.
type Share struct {
	Name   string
	Of     measure.Length
	From   measure.Origin
	Source string
}

// Limit is a solid that must not be cut, or not be left, with the least
// distance to it that may be left when the errors are counted.
type Limit struct {
	Name      string // "web to bore pivot"
	Kind      LimitKind
	Side      Side
	Solid     solid.Body      // with KeepOut
	Channel   *solid.Channel  // with KeepIn: the shape a slot makes
	Bar       *solid.Cylinder // with KeepIn: the round bar a cut stays under the skin of
	Size      SizeKind        // with a Channel: which of its sizes
	OverGiven bool            // with a Channel: the job gives the tolerance, so the errors count
	Within    *solid.Box      // of an edge: the piece of metal whose edge it is
	Leave     measure.Figure[measure.Length]
	NeverLess measure.Figure[measure.Length]
	Cut       int            // the cut it holds for; 0 is every cut of the set-up
	Pin       measure.Length // diameter of a pin that fits the solid, to measure over; nought is none
	Uncertain []Share        // what is not known of the solid's own place and size
}
