package machines

import "stopshort/toolpath/measure"

// Machine is what one machine can do. Lengths are exact; leads are ratios.
type Machine struct {
	Name      string // the file's stem
	Digest    string // of the file, 12 decimal digits of its bytes
	Title     string
	Kind      string       // "mill" or "lathe"
	Units     measure.Unit // MM or In: what its dials or its programs speak
	Stiffness string       // light, medium or rigid
	DepthBy   string       // what sets Z: "head", "knee", "quill", "saddle"
	Axes      [3]Axis      // X, Y, Z
	Second    *Second      // a second wheel that sets Z; nil is none
	// MillBy and DrillBy are what sets Z for milling and for drilling; empty where
	// there are two and the machine file does not say.
	MillBy, DrillBy string
	RoundColumn     bool // moving the head loses X and Y
	Readout         *Readout
	Rotary          *Rotary // a rotary table; nil is none
	ProfileBy       string  // how an outline is cut by hand: "nibbling" or "rotary table"
	Stop            Stop
	Spindle         Spindle
	Feeds           Feeds
	Errors          Errors
	// Controller is nil for a machine that is turned by hand.
	Controller *Controller
}

// Axis is one slide with its screw. Lead and Lines are zero where the operator
// turns no wheel.
type Axis struct {
	Wheel    string // what the operator turns
	Travel   measure.Length
	Lead     measure.Ratio // tenths of a nanometre for one turn
	Lines    measure.Ratio // lines of the dial for one turn
	Sense    string        // which way the cutter goes, seen in the part's frame, for a clockwise turn: "+" or "-"
	Backlash measure.Length
	Half     bool           // half lines can be set
	Falls    bool           // the dial's numbers fall when the wheel is turned clockwise
	Diameter bool           // the dial shows diameters: it counts twice what the slide moves
	Line     measure.Length // what one line is called; nought where that was not said
	Moves    string         // what the wheel moves: "work" or "cutter"
	Approach string         // which way the cutter goes when a position is met: "+" or "-"
	Words    [2]string      // what turning clockwise, and the other way, is called
}

// Second is a second wheel that sets Z.
type Second struct {
	By string // "head", "knee" or "quill"
	Axis
}

// Readout is a readout of the slides.
type Readout struct {
	Axes       [3]bool // X, Y, Z
	Resolution measure.Length
}

// ZAxis is the wheel that sets Z by "head", "knee", "quill" or "saddle"; the empty
// word is the main one. ok is false where the machine has no such wheel.
func (m *Machine) ZAxis(by string) (a Axis, ok bool) {
	switch {
	case by == "" || by == m.DepthBy:
		return m.Axes[2], true
	case m.Second != nil && by == m.Second.By:
		return m.Second.Axis, true
	}
	return Axis{}, false
}

// HasDial tells whether the axis is set by a wheel with a dial.
func (a Axis) HasDial() bool { return !a.Lead.IsZero() && !a.Lines.IsZero() }

// Stop is the machine's depth stop.
type Stop struct {
	Kind string         // "nut" (on a rod), "dial" (the dial is read, nothing halts the cut), "none"
	Step measure.Length // the finest setting; nought for a dial
	On   string         // what a nut halts: "head", "knee", "quill", "saddle"
}

// Spindle is the speeds the spindle has: every one from Low to High, or, where
// Speeds is not empty, just those (in rising order).
type Spindle struct {
	Low, High measure.Speed
	Speeds    []measure.Speed
}

// Feeds bounds the rates of travel. On a machine turned by hand they are what
// an arm keeps up.
type Feeds struct {
	Low, High measure.Feed // of a cut
	Down      measure.Feed // fastest downward feed
}

// Errors is what a position on this machine may be out by, each way, share by
// share. A share of nought is not counted.
type Errors struct {
	TouchZ   measure.Length // touching the face
	TouchXY  measure.Length // picking up an edge or a bore
	Setting  measure.Length // reading a dial or a readout, or a step of the motor
	Stop     measure.Length // the stop's repeat
	Play     measure.Length // what is not locked may drift
	Lead     measure.Ratio  // screw error for each length travelled
	Tilt     measure.Ratio  // the work out of level, for each length from the touching place
	RunOut   measure.Length // the cutter's, on its radius
	Bend     measure.Length // the cutter's deflection, sideways
	Place    measure.Length // of what an earlier set-up made
	Diameter measure.Length // of a bore that an earlier set-up made, on the radius
	Gauge    measure.Length // measuring at the machine
}
