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
	Stop  measure.Length // the exact depth at which the leave is left
	Depth measure.Length // the depth that is judged: as planned, or the stop as the dial can be set
	// Set is where an allowed depth comes to on the dial, on the shallower side, and
	// Reading what the dial shows. Without a dial, or refused, Reading is nil.
	Set     measure.Length
	Reading *machines.Reading
	SetLeft measure.Length // web there
	Left    measure.Length // web at the depth that is judged
	Spare   measure.Length // to the stop; below nought the depth is past it
	Shares  []toolpath.Share
	Worst   measure.Length // web when every share falls the wrong way
	PastIt  bool           // the depth is past the stop
	Thin    bool           // at worst less than never-less is left
	// Do is the deepest that is allowed, where the depth is not, and DoReading what the
	// dial shows there; nil is no depth at all.
	Do        *measure.Length
	DoReading *machines.Reading
}

// Yes tells whether the depth is allowed.
func (a Answer) Yes() bool { return !a.PastIt && !a.Thin }

// Answer works it out in whole numbers: a flat cutter over the middle of a bore
// is nearest to it straight down.
func (q Question) Answer() Answer {
	var a Answer
	a.Stop = q.To - q.Bore/2 - q.Leave
	a.Depth, _ = q.set(a.Stop)
	if q.Planned != nil {
		a.Depth = *q.Planned
	}
	a.Left = q.To - q.Bore/2 - a.Depth
	a.Spare = a.Stop - a.Depth
	a.PastIt = a.Spare < 0
	a.Worst, a.Shares = q.worst(a.Depth)
	a.Thin = a.Worst < q.NeverLess
	if a.Yes() {
		a.Set, a.Reading = q.set(a.Depth)
		a.SetLeft = q.To - q.Bore/2 - a.Set
		return a
	}
	if deepest, ok := q.deepest(a.Stop); ok {
		set, reading := q.set(deepest)
		if set > 0 {
			a.Do, a.DoReading = &set, reading
		}
	}
	return a
}

// set is a depth as the machine's dial can be set, on the shallower side; the depth
// itself where there is no dial.
func (q Question) set(depth measure.Length) (measure.Length, *machines.Reading) {
	if q.Machine == nil || !q.Machine.Axes[2].HasDial() || depth < 0 {
		return depth, nil
	}
	r := q.Machine.Axes[2].Dial(depth, measure.Floor)
	return q.Machine.Axes[2].Position(r.Steps, measure.Ceil), &r // deeper by less than a tenth of a nanometre: the safe side
}

// worst is the web at a depth when every share falls the wrong way, and the shares. The
// tilt is no share of it: it goes by how far the cut is from where the face was touched.
func (q Question) worst(depth measure.Length) (measure.Length, []toolpath.Share) {
	left := q.To - q.Bore/2 - depth
	if q.Machine == nil {
		return left, nil
	}
	e := q.Machine.Errors
	shares := kept([]toolpath.Share{
		{Name: "touch-off", Of: e.TouchZ},
		{Name: "setting", Of: e.Setting},
		{Name: "stop", Of: e.Stop},
		{Name: "play", Of: e.Play},
		{Name: "screw", Of: rate(e.Lead, depth.Abs())},
		{Name: "place of the bore", Of: e.Place},
		{Name: "size of the bore", Of: e.Diameter},
	})
	for _, s := range shares {
		left -= s.Of
	}
	return left, shares
}

// deepest is the deepest that is not past the stop and at worst leaves what is never
// less. What is left at worst only falls with the depth, so that halving finds it.
func (q Question) deepest(stop measure.Length) (measure.Length, bool) {
	does := func(depth measure.Length) bool {
		left, _ := q.worst(depth)
		return left >= q.NeverLess
	}
	if stop < 0 || !does(0) {
		return 0, false
	}
	if does(stop) {
		return stop, true
	}
	low, high := measure.Length(0), stop // low does, high does not
	for high-low > 1 {
		if middle := low + (high-low)/2; does(middle) {
			low = middle
		} else {
			high = middle
		}
	}
	return low, true
}
