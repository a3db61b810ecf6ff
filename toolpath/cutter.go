package toolpath

import (
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// CutterKind is a kind of cutter by its name in the trade.
type CutterKind string

const (
	SlotDrill CutterKind = "slot drill" // cuts to its centre
	EndMill   CutterKind = "end mill"   // cuts to its centre only where the job says so
	SpotDrill CutterKind = "spot drill" // short and stiff, 90 degrees
	Drill     CutterKind = "drill"
)

// Cutter is one tool of a job, as it is held. Sizes are diameters. Every diameter is an
// even number of tenths of a nanometre, so that its half is whole.
type Cutter struct {
	Number       int
	Kind         CutterKind
	MadeOf       string // HSS or carbide
	Diameter     measure.Length
	Measured     measure.Length // as measured; the diameter where it was not
	Tip          measure.Angle  // included angle of the point; nought is flat
	Point        measure.Length // length of the point, rounded down, so that it is no slimmer than it is
	Flutes       int
	FluteLength  measure.Length
	StickOut     measure.Length // from the holder's nose to the tip
	Shank        measure.Length // diameter
	Holder       measure.Length // diameter of the holder's nose
	HolderLength measure.Length
	CentreCut    bool   // may be fed straight down into metal
	Source       string // where the job gives it
}

// Teeth is the part that cuts at its full diameter; it is the measured cutter,
// since that is what the metal meets.
func (c Cutter) Teeth() solid.Part {
	r := c.Measured.Half(measure.Ceil)
	return solid.Part{Low: c.Point, High: c.FluteLength, LowRadius: r, HighRadius: r}
}

// Cutting is all that cuts: the teeth, and under them the point.
func (c Cutter) Cutting() []solid.Part {
	parts := []solid.Part{c.Teeth()}
	if c.Point > 0 {
		parts = append(parts, solid.Part{High: c.Point, HighRadius: parts[0].LowRadius})
	}
	return parts
}

// ShankPart is what is between teeth and holder; ok is false where nothing
// shows.
func (c Cutter) ShankPart() (p solid.Part, ok bool) {
	r := c.Shank.Half(measure.Ceil)
	return solid.Part{Low: c.FluteLength, High: c.StickOut, LowRadius: r, HighRadius: r}, c.StickOut > c.FluteLength
}

// HolderPart is the holder from its nose upwards.
func (c Cutter) HolderPart() solid.Part {
	r := c.Holder.Half(measure.Ceil)
	return solid.Part{Low: c.StickOut, High: c.StickOut + c.HolderLength, LowRadius: r, HighRadius: r}
}
