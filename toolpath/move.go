package toolpath

import (
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// Motion is the kind of a step.
type Motion uint8

const (
	Rapid Motion = iota // as fast as the machine goes; not always straight
	Line                // straight, at a feed
	Arc                 // about a centre in a plane (XY but in a stranger's program), at a feed; the third axis even along it
	Dwell               // standing still for a time
	Stop                // the program waits for the operator
)

func (m Motion) String() string {
	return [...]string{"rapid", "line", "arc", "dwell", "stop"}[m]
}

// Sense is the way an arc turns, seen from the + end of the axis that stands on
// its plane: from above in XY.
type Sense uint8

const (
	Clockwise Sense = iota
	Anticlockwise
)

// Move is one motion of the cutter's lowest point on its axis, from where the
// last one ended. Coordinates are on the target's grid.
type Move struct {
	Kind   Motion
	To     solid.Point
	Centre solid.Point // of an arc; its Z is not used
	Sense  Sense
	Feed   measure.Feed // of a line or an arc
	Note   string       // of a stop: what the operator looks at
	Polar  Polar        // how the place is come to, on a rotary table
	Hollow bool         // of an arc: the metal that stays is outside its circle, not inside
	Time   measure.Time // of a dwell
}

// Polar is a place that is come to on a rotary table: the table's axis stands over the
// set-up's zero, turned clockwise by Angle as seen from above, and the cutter Radius to
// the right of it. To is that place to the tenth of a nanometre.
type Polar struct {
	On     bool
	Radius measure.Length
	Angle  measure.Angle
}

// Place is the place in the set-up's frame, at a height.
func (p Polar) Place(z measure.Length) solid.Point {
	sin, cos := p.Angle.SinCos()
	return solid.Point{X: cos.Of(p.Radius), Y: sin.Of(p.Radius), Z: z}
}

// Pass is one trip of the cutter at one depth.
type Pass struct {
	Name  string // "pass 3 of 10", "finish, left wall"
	Depth measure.Length
	Moves []Move
}

// Operation is what one cut asks of one tool: it starts and ends at the
// clearance height.
type Operation struct {
	Cut     int    // the cut's place in its set-up, from 1
	Of      string // the cut's name
	Name    string
	Tool    Cutter
	Speed   measure.Speed
	DepthBy string // what sets Z, on a machine that is turned by hand: "head", "knee", "quill", "saddle"
	Passes  []Pass
	Facts   []Fact                          // the figures the cut was planned from
	Makes   []Hole                          // the holes it makes, in order; it must stay inside them
	Enters  string                          // the bore that the holes may break into, by name
	Wall    *measure.Figure[measure.Length] // least wall that the job asks for; nil is the rule
	Screw   *Screw                          // the screw that the holes are for
	Edge    *EdgeRule                       // what edge distance is asked of its holes
	Notes   []string                        // what is done by hand
	Warns   []string                        // told at the head of every output, a sentence each
	Metal   []solid.Body                    // the metal as it finds it, where a cut of this set-up has taken its outside; else the set-up's
	Frees   bool                            // it cuts the part free of the rest of the stock
	HeldBy  int                             // by how many things the part itself is then held; one lets it turn
	Loose   bool                            // stock comes loose that what holds the part keeps it from clearing
	// Nut is where the machine's stop nut halts it: no lower than it was planned, and no
	// higher than it goes; nil is no nut.
	Nut  *measure.Length
	Part Part  // which part of its cut it is
	Look *Look // the measuring after a rough and before its finish
	// LastBite is what the last pass of an outline takes to the side, where the cut can
	// stop before it to be looked at; else nought.
	LastBite measure.Length
	Round    Round       // how its outline is cut by wheels
	Book     Proportions // what the handbook asks by its cutter's diameter
}

// Round is how an outline is cut round by wheels; NotRound is every other cut.
type Round uint8

const (
	NotRound Round = iota
	Nibbled        // in places along X and Y, with cusps to file between them
	Turned         // its arcs on a rotary table
)

// Deepest is the lowest place that an operation goes to; nought where it goes nowhere.
func (op Operation) Deepest() measure.Length {
	low := measure.MaxLength
	for _, p := range op.Passes {
		low = min(low, p.Deepest())
	}
	if low == measure.MaxLength {
		return 0
	}
	return low
}

// Deepest is the lowest place that a pass goes to.
func (p Pass) Deepest() measure.Length {
	low := measure.MaxLength
	for _, m := range p.Moves {
		low = min(low, m.To.Z)
	}
	return low
}

// EdgeRule is how near an edge a hole's centre may be: told under Warn, refused under
// Stop.
type EdgeRule struct {
	Warn, Stop measure.Figure[measure.Length]
}

// Screw is what is asked of a screw in its holes. A figure of nought is not
// asked for.
type Screw struct {
	Name        string
	Head, High  measure.Length // across and height of the head
	Room        measure.Length // across the head and the key that turns it, where it stands on this part; nought is not asked
	HeadAt      measure.Length // height that the head stands on, where the job says it
	HeadOnTop   bool           // it stands on each hole's own top
	Sunk        bool           // the head stands on the floor of the hole that is made
	Grip        measure.Length // metal under the head
	LeastGrip   measure.Figure[measure.Length]
	Length      measure.Length // under the head
	Engages     measure.Length // thread that it finds
	LeastThread measure.Figure[measure.Length]
	FullThread  measure.Length // thread that the material wants for the screw's whole strength
	TipRoom     measure.Length // from its end to the end of the thread, or of a through hole
}

// Fact is a figure of a cut for a person, with where it came from.
type Fact struct {
	Name, Value string
	From        measure.Origin
	Source      string
}

// Setup is one way of holding the part with what is cut in it, all in the
// set-up's own frame.
type Setup struct {
	Number     int // from 1
	Name       string
	Clearance  measure.Length // the height at which the cutter may cross
	Metal      []solid.Body   // the stock as this set-up finds it: the union of these
	Beside     []solid.Body   // metal that may stand there besides: in the way, and nothing to rely on
	Limits     []Limit
	Features   []Feature // what earlier cuts and set-ups have made
	Operations []Operation
	Touch      [2]measure.Length // where Z is touched off: X, Y
	Top        measure.Length    // Z of the face that is touched
	Covered    []solid.Box       // areas that another part will cover
	Room       Room
	Over       string   // the upright bore whose centre is the zero of X and Y; empty where there is none
	Head       []string // facts for the operator, one a line, plain text: how the part lies and is held
	Zero       []string // likewise: where its zero is and how it is picked up
	Accepted   []string // likewise: what the job takes on, with its reason
	Facts      []Fact   // the figures of the set-up itself
}

// Told is all that the operator must know of the set-up before its first cut, a fact a
// line.
func (s *Setup) Told() []string {
	return append(append(s.Head[:len(s.Head):len(s.Head)], s.Zero...), s.Accepted...)
}

// Room is how far each axis can go from the set-up's zero; a nil end was not
// said.
type Room struct{ Low, High [3]*measure.Length }

// Plan is a job worked out: each set-up with its operations and its limits.
type Plan struct {
	Title  string
	Digest string // 12 decimal digits of the job's file and the machine's, byte for byte
	// Measured is likewise that and the readings that last passes were worked out from;
	// empty is none.
	Measured string
	Setups   []Setup
}

// Program is the part of a plan that goes into one file: operations of one
// set-up, in order, with one tool but where the tool is changed within it.
type Program struct {
	Title, Digest string
	Setup         *Setup
	Operations    []Operation
	SpinUp        measure.Time
	Head          []string // facts for the operator, one a line, plain text
	Change        Change   // how a tool is changed within it
}

// Part is which part of its cuts the program is: a finish stands alone, and a
// program that ends with a rough is one.
func (p Program) Part() Part {
	for _, op := range p.Operations {
		if op.Part != Whole {
			return op.Part
		}
	}
	return Whole
}

// Change is how a program changes the tool.
type Change uint8

const (
	ByFile  Change = iota // not at all: each tool has its own program
	ByPause               // the operator changes it while the program waits, and touches off again
	ByCode                // the controller does, or asks for it
)

// Tool is the program's one tool, or its first.
func (p Program) Tool() Cutter { return p.Operations[0].Tool }
