package handwheel

import (
	"fmt"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// lineText is what one step of a dial is, to a figure that a person uses.
func lineText(u measure.Unit, r measure.Ratio) string {
	l := r.Times(1, measure.Nearest)
	if u == measure.In {
		return l.Format(measure.InThou, 2, measure.Nearest) + " thou"
	}
	return l.Format(measure.MM, 4, measure.Nearest) + " mm"
}

// legend is how the wheels count, and the check with a gauge.
func legend(m *machines.Machine) []string {
	var out []string
	xy, z := wheelsOf(m)
	wheels := []*wheel{xy[0], xy[1]}
	for _, by := range m.Sources() {
		wheels = append(wheels, z[by])
	}
	for _, w := range wheels {
		out = append(out, w.legend(m))
	}
	out = append(out,
		"zero: come up to an edge, wind on over it by what the row says and half the finder's tip, and set the dial; a finder that must turn may, with no cutter in",
		"backlash: try each wheel's own against a gauge; where it is not as told here, put it right in the machine's file and have the table worked out again",
		"touching: up to paper or a feeler until it is gripped, take that out, go on by its thickness, set the dial; a drill on the plain face, not in a mark",
		"X and Y keep their zeros while a tool is changed, if neither wheel is turned and nothing is knocked",
	)
	if r := m.Readout; r != nil {
		s := ""
		for i, on := range r.Axes {
			if on {
				s += axisNames[i] + " "
			}
		}
		out = append(out, fmt.Sprintf("%shave a readout to %s: it shows the target column; turns and dial stand beside it", s, r.Resolution.Shown(m.Units, measure.Nearest)))
	}
	return out
}

func (w *wheel) legend(m *machines.Machine) string {
	goes := w.sides[0] // the cutter, over the work
	back := w.sides[1]
	if w.Sense == "+" {
		goes, back = back, goes
	}
	s := fmt.Sprintf("%s is the %s: %s sends the cutter %s", w.label, w.Wheel, w.Words[0], goes)
	switch {
	case w.axis == 2 && m.Kind == "lathe":
		way := map[string]string{w.sides[0]: "to", w.sides[1]: "away from"}[goes]
		s = fmt.Sprintf("%s is the %s: %s takes the work %s the cutter, which is %s in the rows", w.label, w.Wheel, w.Words[0], way, goes)
	case w.Moves != "cutter":
		s = fmt.Sprintf("%s is the %s: %s sends the work %s, so that the cutter goes %s over it", w.label, w.Wheel, w.Words[0], back, goes)
	}
	if w.axis == 2 && w.raises(m) {
		s += "; up and down in the rows are the cutter's"
	}
	s += fmt.Sprintf("; %s lines a turn, a line is %s", machines.LinesText(w.Lines), lineText(m.Units, w.LineValue()))
	if w.Diameter {
		s += ", and the dial shows diameters, twice that"
	}
	if w.Line > 0 && !w.Diameter && w.LineValue() != measure.NewRatio(int64(w.Line), 1) {
		s += fmt.Sprintf(" though it is called %s: count lines, not what they are called", lineText(m.Units, measure.NewRatio(int64(w.Line), 1)))
	}
	if w.Falls {
		s += "; its numbers fall as it goes " + w.Words[0]
	}
	five := measure.NewRatio(5*w.Lead.Num, w.Lead.Den)
	s += fmt.Sprintf("; backlash %s; check: five turns are %s on a gauge", w.Backlash.Shown(m.Units, measure.Nearest), five.Times(1, measure.Nearest).Shown(m.Units, measure.Nearest))
	return s
}

// reading tells how the rows are read.
func reading(m *machines.Machine) []string {
	halts := "the mark on the dial is reached"
	if m.Stop.Kind == "nut" {
		halts = "the nut halts it, or the mark on the dial is reached"
	}
	out := wordsOfZ(m, m.DepthBy).up
	return []string{
		"turns+lines is how far the wheel is turned from the row before; dial is what then stands at its mark",
		"total is turns + lines from zero, and on which side; the column after it is where the cutter stands",
		"to stop is what is left to where this cut may go no deeper: at 0 " + halts,
		"past it, back to it: the place is met from one side, so that the play between screw and nut does no harm",
		"play first, past it, and a way " + out + ": the wheel turns by the play before the slide moves, and turns and total hold that play",
		"tick off 5[ ] 10[ ]: tick each box as so many whole turns are done",
		"dry run: spindle off, wind each wheel to the ends that are told, and look that cutter and holder clear everything",
		"lock and read it again: where the dial shows something else free it, get the cutter clear and come to it again; where a last pass went deeper, stop and measure",
		"a row without s/turn is wound with the cutter clear or coming near; one with it is the feed, so long for each turn",
	}
}

// cautions are told once, at the head.
func cautions(works []Work, material string, m *machines.Machine) []string {
	out := []string{
		"go by the machine's manual and local rules; where in doubt ask a competent person",
		"spindle off before you fit, feel, measure, set a stop or clear chips; eyes protected, guard on, a brush and not fingers",
		"walk the dry run first; turn only the wheel that the row names, and only the way it says",
		"if a count is lost: spindle off, get the cutter clear, and begin again from the row that sets the dial, or from a place whose dials were noted",
	}
	drills := false
	for _, w := range works {
		for _, op := range w.Setup.Operations {
			drills = drills || op.Tool.Kind == toolpath.Drill
		}
	}
	if drills && (material == "brass" || material == "bronze") {
		out = append(out, "drills in "+material+" grab: dub their lips, clamp the work, drill to the stop or the marked reading")
	}
	if m.RoundColumn {
		out = append(out, "set the head's height before zero is picked up and leave it: on a round column moving it loses X and Y")
	}
	return out
}
