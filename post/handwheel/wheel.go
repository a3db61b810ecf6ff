package handwheel

import (
	"fmt"
	"strings"

	"stopshort/machines"
	"stopshort/toolpath/measure"
)

// wheel is one wheel with where it stands.
type wheel struct {
	machines.Axis
	axis    int    // 0 X, 1 Y, 2 Z
	by      string // of Z: what it moves
	label   string
	sides   [2]string      // words for the two sides of zero
	at      int64          // where the wheel stands: steps from zero, the cutter's way counted
	plan    int64          // where the cutter is planned to be
	met     bool           // the last movement went the way positions are met
	slide   measure.Length // where the slide stands, which follows the wheel through the play
	loose   bool           // hands may have left the slide anywhere within the play
	known   bool
	lowest  int64 // how far the wheel went since it was set to zero
	most    int64
	touched int64 // where it was set
	dry     dry[int64]
}

// axisNames are the axes' letters.
var axisNames = [3]string{"X", "Y", "Z"}

// longestLabel is the most characters of a wheel's label in the table.
const longestLabel = 16

// wheelsOf are the machine's wheels: X, Y, and each that sets Z.
func wheelsOf(m *machines.Machine) (xy [2]*wheel, z map[string]*wheel) {
	for i := range xy {
		xy[i] = &wheel{Axis: m.Axes[i], axis: i, label: Label(m.Axes[i], i, ""), sides: m.Sides()[i]}
	}
	z = map[string]*wheel{}
	for _, by := range m.Sources() {
		a, _ := m.ZAxis(by)
		z[by] = &wheel{Axis: a, axis: 2, by: by, label: Label(a, 2, by), sides: m.Sides()[2]}
	}
	return xy, z
}

// Label is what a wheel is called in the table: its axis, and the first words of
// its name; of Z what it moves.
func Label(a machines.Axis, axis int, by string) string {
	name := by
	if axis < 2 {
		name, _, _ = strings.Cut(a.Wheel, ",")
		name = strings.TrimSuffix(strings.TrimSpace(name), " wheel")
	}
	r := []rune(axisNames[axis] + " " + name)
	if len(r) > longestLabel {
		r = r[:longestLabel]
	}
	return strings.TrimSpace(string(r))
}

// way is the sign of the cutter's way when a position is met.
func (w *wheel) way() int64 {
	if w.Approach == "-" {
		return -1
	}
	return 1
}

// raises tells whether a wheel of Z moves the work up to the cutter.
func (w *wheel) raises(m *machines.Machine) bool { return raises(w.Axis, m) }

func raises(a machines.Axis, m *machines.Machine) bool {
	return a.Moves != "cutter" && m.Kind != "lathe"
}

// play is the backlash in steps of the dial.
func (w *wheel) play(round measure.Rounding) int64 { return w.StepValue().Steps(w.Backlash, round) }

// quarter is a quarter turn in steps of the dial, rounded up.
func (w *wheel) quarter() int64 {
	l := w.Lines
	if w.Half {
		l = measure.NewRatio(2*l.Num, l.Den)
	}
	return int64(measure.Length(1).MulDiv(l.Num, 4*l.Den, measure.Ceil))
}

// steps is a planned place in steps of the dial. The plan stands on the dial's
// lines, to the tenth of a nanometre that a line may be off a whole one.
func (w *wheel) steps(l measure.Length) (int64, error) {
	n := w.StepValue().Steps(l, measure.Nearest)
	if off := w.Position(n, measure.Nearest) - l; off > 1 || off < -1 {
		return 0, fmt.Errorf("%s %s is not on a line of its dial", axisNames[w.axis], l)
	}
	return n, nil
}

// turn is the words for turning the wheel so that the cutter goes up or down the
// axis.
func (w *wheel) turn(delta int64) string { return w.Turn(delta > 0) }

// set is where the wheel's dial is set: the touch or the zero stands at a whole step.
func (w *wheel) set(n int64) {
	w.at, w.plan, w.known, w.met = n, n, true, true
	w.lowest, w.most, w.touched = n, n, n
	w.slide = w.Position(n, measure.Nearest)
}

// follow is where the slide then stands: at the wheel's own place where positions are met,
// and up to the play beyond it.
func (w *wheel) follow(to int64) measure.Length {
	low := w.Position(to, measure.Nearest)
	high := low + w.Backlash
	if w.way() < 0 {
		low, high = low-w.Backlash, low
	}
	w.slide = max(low, min(w.slide, high))
	return w.slide
}

// total is the running total from zero: "2 + 34 down".
func (w *wheel) total(n int64) string {
	r := w.Reading(n)
	s := fmt.Sprintf("%d + %s", r.Turns, machines.LinesText(r.Lines))
	switch {
	case n < 0:
		s += " " + w.sides[0]
	case n > 0:
		s += " " + w.sides[1]
	}
	return s
}
