package limit

import (
	"math"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// tally keeps the least that one limit was left, as planned and at worst. Where
// steps are asked for different never-lesses, the least is what has the least
// margin.
type tally struct {
	verdict Verdict
	met     bool
	asked   measure.Figure[measure.Length] // never-less of the step in hand
	worst   int64                          // planned less never-less and shares, the least of all steps
	high    int64                          // upper bound of planned less never-less, the least
	allowed bool                           // it is broken into on purpose
}

// place is where a figure was met: a line of a file.
type place struct {
	file string
	line int
}

// meetFigure is meet for a speed or a feed, which is told as it is.
func (t *tally) meetFigure(left int64, figure string, at place) {
	if !t.met || left < t.verdict.Planned {
		t.verdict.Figure = figure
	}
	t.meet(left, left, nil, at)
}

// meet holds one step's figure against the tally: what it leaves, between low
// and high, and the shares of its worst case.
func (t *tally) meet(low, high int64, shares []toolpath.Share, at place) {
	v := &t.verdict
	asked := int64(t.asked.Value)
	worst := low - asked - int64(total(shares))
	if !t.met || low-asked < v.Planned-v.NeverLess {
		v.Planned, v.Where, v.File = low, at.line, at.file
		v.NeverLess, v.From, v.Source = asked, t.asked.From, t.asked.Source
	}
	if !t.met || high-asked < t.high {
		t.high = high - asked
	}
	if !t.met || worst < t.worst {
		t.worst, v.Shares = worst, shares
	}
	t.met = true
}

// need is how far a distance must be pinned down: to the truth while it could
// be the least, planned or at worst, where the shares add up to no more than
// most.
func (t *tally) need(most measure.Length) measure.Length {
	if !t.met {
		return solid.Far
	}
	least := measure.Length(max(t.verdict.Planned-t.verdict.NeverLess, t.worst+int64(most)))
	return least + t.asked.Value
}

// close works out the margins and the judge's word.
func (t *tally) close() Verdict {
	v := t.verdict
	v.Margin = v.Planned - v.NeverLess
	v.MarginWorst = t.worst
	v.High = v.NeverLess + t.high
	if t.allowed && v.Planned > 0 { // it was to break in, and leaves a skin
		v.Reason, v.Do = "", "drill deeper, so that it breaks into the bore as the job says, or leave a wall"
	}
	switch {
	case t.allowed && v.Planned <= 0:
		v.State = OK
	case v.High < v.NeverLess:
		v.State = Refused
	case v.Planned < v.NeverLess:
		v.State = Undecided
	case v.MarginWorst < 0:
		v.State = AtWorst
	case v.Better != nil && v.Planned < *v.Better:
		v.State = Warned
	default:
		v.State = OK
	}
	return v
}

// weighed is the part of an error that counts along one direction, rounded up.
// part is made of the components of a direction whose length is 1 within 1e-9;
// the product's own rounding is far below that.
func weighed(of measure.Length, part float64) measure.Length {
	switch {
	case of == 0 || part == 0:
		return 0
	case part == 1:
		return of
	}
	return measure.Length(math.Ceil(float64(float64(of)*part)*(1+1e-8))) + 1
}

// extent is how far a stretch of the cutter's way reaches, for the errors that
// grow with that: how deep, how far from the touching place and how far from the
// zero along X or Y.
type extent struct{ deep, far, wide measure.Length }

// extent is that of the way within some places: none of it reaches farther than
// the farthest of them.
func (j *Judge) extent(within ...solid.Point) (e extent) {
	for _, p := range within {
		e.deep = max(e.deep, p.Z.Abs())
		e.far = max(e.far, j.fromTouch(p))
		e.wide = max(e.wide, p.X.Abs(), p.Y.Abs())
	}
	return e
}

// errorsAlong is [Judge.errorsOver] for a part of the cutter on a straight move.
func (j *Judge) errorsAlong(dir [3]float64, at solid.Sweep) []toolpath.Share {
	return j.errorsOver(dir, j.extent(at.From, at.To))
}

// errorsOver is the shares of the machine's errors that count along a
// direction, for a cutter within a stretch. Errors of Z count by the direction's
// Z; those of X and Y fall the wrong way on both at once; run-out and bend go one
// way, whichever it is.
func (j *Judge) errorsOver(dir [3]float64, at extent) []toolpath.Share {
	e := j.machine.Errors
	z := math.Abs(dir[2])
	down := []toolpath.Share{
		{Name: "touch-off", Of: weighed(e.TouchZ, z)},
		{Name: "setting", Of: weighed(e.Setting, z)},
		{Name: "stop", Of: weighed(e.Stop, z)},
		{Name: "play", Of: weighed(e.Play, z)},
		{Name: "screw", Of: weighed(rate(e.Lead, at.deep), z)},
		{Name: "tilt", Of: weighed(rate(e.Tilt, at.far), z)},
	}
	switch {
	case j.look == nil:
	case j.look.Direct: // what was measured is another limit, whose own place may be what was off
		down = append(down, toolpath.Share{Name: "shift as measured", Of: weighed(j.look.Off().Abs(), z)})
	default:
		down = j.measured(dir)
	}
	return kept(append(down, j.errorsAside(dir, at)...))
}

// measured is the shares that are left in the depth of a last pass that was worked out
// from a measuring: the gauge's own, and what making one step more may be out by.
func (j *Judge) measured(dir [3]float64) []toolpath.Share {
	e, z := j.machine.Errors, math.Abs(dir[2])
	return []toolpath.Share{
		{Name: "gauge", Of: weighed(e.Gauge, z)},
		{Name: "setting", Of: weighed(e.Setting, z)},
		{Name: "stop", Of: weighed(e.Stop, z)},
		{Name: "play", Of: weighed(e.Play, z)},
		{Name: "screw, last step", Of: weighed(rate(e.Lead, j.look.Step+j.look.Off().Abs()), z)},
	}
}

// errorsAside is the shares of the errors of X and Y along a direction.
func (j *Judge) errorsAside(dir [3]float64, at extent) []toolpath.Share {
	e := j.machine.Errors
	both := math.Abs(dir[0]) + math.Abs(dir[1])
	aside := math.Hypot(dir[0], dir[1])
	return []toolpath.Share{
		{Name: "edge finding", Of: weighed(e.TouchXY, both)},
		{Name: "setting sideways", Of: weighed(e.Setting, both)},
		{Name: "screw sideways", Of: weighed(rate(e.Lead, at.wide), both)},
		{Name: "run-out", Of: weighed(e.RunOut, aside)},
		{Name: "bend", Of: weighed(e.Bend, aside)},
	}
}

// total is the sum of shares.
func total(shares []toolpath.Share) (sum measure.Length) {
	for _, s := range shares {
		sum += s.Of
	}
	return sum
}

// widthErrors is the shares that make a cut wider than its path, on one side.
func (j *Judge) widthErrors() []toolpath.Share {
	e := j.machine.Errors
	return kept([]toolpath.Share{
		{Name: "run-out", Of: e.RunOut}, {Name: "bend", Of: e.Bend}, {Name: "setting", Of: e.Setting},
	})
}

func kept(shares []toolpath.Share) []toolpath.Share {
	out := shares[:0]
	for _, s := range shares {
		if s.Of > 0 {
			out = append(out, s)
		}
	}
	return out
}

func rate(r measure.Ratio, l measure.Length) measure.Length { return r.Of(l, measure.Ceil) }
