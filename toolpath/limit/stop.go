package limit

import (
	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// Question asks how deep a cut may go that is to stop short of a bore lying
// under it: To from the touched face down to the bore's centre. Machine may be
// nil, Planned too.
type Question struct {
	To, Bore, Leave, NeverLess measure.Length
	Planned                    *measure.Length
	Machine                    *machines.Machine
}

// Answer is where the stop stands, and what is left there or at the planned
// depth.
type Answer struct {
	Stop measure.Length // the exact depth at which the leave is left
	// Set is the depth that the machine can be set to, the shallower side; the
	// stop itself where there is no dial. Reading is what its dial shows.
	Set     measure.Length
	Reading *machines.Reading
	Planned *machines.Reading // the planned depth on the dial, on the shallower side
	Depth   measure.Length    // the depth that is judged: planned, or as set
	Left    measure.Length    // web at that depth
	Spare   measure.Length    // to the stop; below nought the depth is past it
	Shares  []toolpath.Share
	Worst   measure.Length // web when every share falls the wrong way
	PastIt  bool           // the depth is past the stop
	Thin    bool           // at worst less than never-less is left
}

// Yes tells whether the depth is allowed.
func (a Answer) Yes() bool { return !a.PastIt && !a.Thin }

// Answer works it out in whole numbers: a flat cutter over the middle of a bore
// is nearest to it straight down.
func (q Question) Answer() Answer {
	var a Answer
	a.Stop = q.To - q.Bore/2 - q.Leave
	a.Set = a.Stop
	dial := q.Machine != nil && q.Machine.Axes[2].HasDial()
	if dial && a.Stop > 0 {
		z := q.Machine.Axes[2]
		r := z.Dial(a.Stop, measure.Floor)
		a.Reading = &r
		a.Set = z.Position(r.Steps, measure.Ceil) // deeper by less than a tenth of a nanometre: the safe side
	}
	a.Depth = a.Set
	if q.Planned != nil {
		a.Depth = *q.Planned
		if dial {
			r := q.Machine.Axes[2].Dial(a.Depth, measure.Floor)
			a.Planned = &r
		}
	}
	a.Left = q.To - q.Bore/2 - a.Depth
	a.Spare = a.Stop - a.Depth
	a.PastIt = a.Spare < 0
	a.Worst = a.Left
	if q.Machine != nil {
		e := q.Machine.Errors
		a.Shares = kept([]toolpath.Share{
			{Name: "touch-off", Of: e.TouchZ},
			{Name: "setting", Of: e.Setting},
			{Name: "stop", Of: e.Stop},
			{Name: "play", Of: e.Play},
			{Name: "screw", Of: rate(e.Lead, a.Depth.Abs())},
			{Name: "place of the bore", Of: e.Place},
			{Name: "size of the bore", Of: e.Diameter},
		})
		for _, s := range a.Shares {
			a.Worst -= s.Of
		}
	}
	a.Thin = a.Worst < q.NeverLess
	return a
}
