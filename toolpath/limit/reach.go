package limit

import (
	"fmt"
	"math/big"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// travelled notes how far each axis goes. An arc goes further than its ends.
func (j *Judge) travelled(s toolpath.Step) {
	note := func(a int, v measure.Length) {
		j.reach[a] = [2]measure.Length{min(j.reach[a][0], v), max(j.reach[a][1], v)}
	}
	for a := range j.reach {
		for _, p := range []toolpath.Place{s.From, s.To} {
			if p.Known[a] {
				note(a, p.Along(solid.Axis(a)))
			}
		}
	}
	if s.Kind != toolpath.Arc || !s.From.AllKnown() || !s.To.AllKnown() {
		return
	}
	if a, ok := arcOf(s); ok {
		box := a.Bounds()
		for _, axis := range []solid.Axis{solid.X, solid.Y} {
			note(int(axis), box.Low.Along(axis))
			note(int(axis), box.High.Along(axis))
		}
	}
}

// ends are the words for the two ends of each axis.
var ends = [3][2]string{{"left", "right"}, {"front", "back"}, {"down", "up"}}

// travels holds the axes' ways against the machine's travel, and against the
// room that the job says there is.
func (j *Judge) travels() {
	whole := toolpath.Operation{}
	for a, r := range j.reach {
		if r[0] > r[1] { // it never moved
			continue
		}
		axis := solid.Axis(a)
		left := int64(j.machine.Axes[a].Travel - (r[1] - r[0]))
		do := "turn the part, shorten the cut, or cut it in two set-ups"
		if axis == solid.Z {
			do = "lower the clearance plane, take a shorter cutter, or cut less deep"
		}
		j.at(whole, fmt.Sprintf("travel of %s", axis), Length, nought, do).meet(left, left, nil, place{})
		if lo := j.setup.Room.Low[a]; lo != nil {
			left := int64(r[0] - *lo)
			j.at(whole, "room "+ends[a][0], Length, nought, "set the part further from that end of the travel").meet(left, left, nil, place{})
		}
		if hi := j.setup.Room.High[a]; hi != nil {
			left := int64(*hi - r[1])
			do := "set the part further from that end of the travel"
			if axis == solid.Z {
				do = "lower the clearance plane, or set the part lower"
			}
			j.at(whole, "room "+ends[a][1], Length, nought, do).meet(left, left, nil, place{})
		}
	}
}

// rates holds spindle and feeds against what the machine has.
func (j *Judge) rates(op toolpath.Operation, s toolpath.Step) {
	j.spindle(op, s)
	j.feeds(op, s)
}

func (j *Judge) spindle(op toolpath.Operation, s toolpath.Step) {
	sp := j.machine.Spindle
	room := min(s.Speed-sp.Low, sp.High-s.Speed)
	do := fmt.Sprintf("the spindle has %s to %s", sp.Low, sp.High)
	if len(sp.Speeds) > 0 {
		room = 0
		do = "the spindle has"
		near := measure.Speed(-1)
		for _, v := range sp.Speeds {
			do += fmt.Sprintf(" %s,", v)
			if d := max(v-s.Speed, s.Speed-v); near < 0 || d < near {
				near = d
			}
		}
		do = do[:len(do)-1]
		room = -near
	}
	if s.Speed == 0 {
		do = "the spindle must turn while the cutter is fed"
	}
	j.at(op, "spindle speed", Speed, nought, do).meetFigure(int64(room), s.Speed.String(), j.here(s.Line))
}

func (j *Judge) feeds(op toolpath.Operation, s toolpath.Step) {
	f := j.machine.Feeds
	left := int64(min(f.High-s.Feed, s.Feed-f.Low))
	j.at(op, "feed", Feed, nought, fmt.Sprintf("the machine has %s to %s", f.Low, f.High)).meetFigure(left, s.Feed.String(), j.here(s.Line))
	if s.To.Z < s.From.Z {
		left := int64(f.Down - downward(s))
		j.at(op, "feed down", Feed, nought, fmt.Sprintf("the machine goes down at %s at most", f.Down)).meetFigure(left, s.Feed.String(), j.here(s.Line))
	}
}

// downward is the downward part of a step's feed, rounded up. On an arc the way
// is longer than the straight line, so that this is no less than the truth.
func downward(s toolpath.Step) measure.Feed {
	d := s.To.Minus(s.From.Point)
	length := sum(sum(square(d.X), square(d.Y)), square(d.Z))
	v := new(big.Int).Mul(square(measure.Length(s.Feed)), square(d.Z))
	v.Quo(v, length)
	r, _ := root(v)
	return min(measure.Feed(r)+1, s.Feed)
}
