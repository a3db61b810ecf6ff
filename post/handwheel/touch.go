package handwheel

import (
	"fmt"
	"strings"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// zeros is how the set-up is held and how X and Y are picked up.
func (b *bench) zeros() {
	s := b.setup
	b.say("set-up %d, %s", s.Number, s.Name)
	for _, h := range s.Told() {
		b.say("%s", h)
	}
	b.rotaryBolt()
	b.unlock(0, 1, 2)
	b.square()
	for i, w := range b.xy {
		if b.rot != nil {
			w.set(0)
			b.dialRow(w, fmt.Sprintf("spindle off: bring the rotary table's bore true to the spindle, by a gauge swung in it, turning %s; dial set to %s", w.turn(w.way()), w.count(0)))
			continue
		}
		if s.Over != "" {
			w.set(0)
			b.dialRow(w, fmt.Sprintf("spindle off: bring bore %s true to the spindle, by a gauge swung in it or by a pin that fits it, turning %s; dial set to %s",
				s.Over, w.turn(w.way()), w.count(0)))
			continue
		}
		edge, at, side := w.sides[0], b.work.Low[i], 0
		if w.way() < 0 {
			edge, at, side = w.sides[1], b.work.High[i], 1
		}
		w.set(0)
		b.dialRow(w, fmt.Sprintf("spindle off: come %s beside the %s edge of the metal%s and touch it, turning %s; %s; then %s; dial set to %s",
			inwards(b.machine), edge, b.roomBeside(b.work.Beside[i][side]), w.turn(w.way()), b.clearOf("finder"), w.fromEdge(at, b.machine.Units), w.count(0)))
	}
	if b.rot != nil {
		b.rotaryZero()
	} else if b.studded() {
		b.say("%s; stand a gauge against the part along X and one along Y; %s, turning neither X nor Y; where a gauge then reads something else slack off and begin again from the row that sets X; else both dials still stand at 0",
			b.clearOf("gauge"), b.through())
	}
}

// studded tells whether a stud through the bore at zero holds the part, which cannot be
// there while the bore is brought true.
func (b *bench) studded() bool { return b.setup.Over != "" && len(b.work.Through) > 0 }

// through is how what goes through the bore takes the place of the clamps.
func (b *bench) through() string {
	return fmt.Sprintf("put the stud through with what fills the bore, and %s on it, tighten, and take the clamps off", clean(strings.Join(b.work.Through, " and ")))
}

// square is how the part is set before its zero is picked up: parallel to the X slide, and
// held while that is done.
func (b *bench) square() {
	switch {
	case b.rot != nil: // it goes on the table later
	case b.studded():
		b.say("lay the part down as told above, over the nut that the stud goes into, its X along the X slide by a gauge run along an edge; until the stud is in, clamps hold it that leave bore %s free", clean(b.setup.Over))
	case b.work.Jaw != "":
		b.say("the fixed jaw true to the %s slide by a gauge run along it; the part pressed to that jaw and down on what it lies on", b.work.Jaw)
	default:
		b.say("the part down on what it lies on, its X along the X slide by a gauge run along an edge; tighten what holds it, and run the gauge along again")
	}
}

// roomBeside is how far down a finder may go beside an edge: what holds the part may stand
// there; nil is nothing.
func (b *bench) roomBeside(top *measure.Length) string {
	switch {
	case top == nil:
		return ""
	case *top >= b.setup.Top:
		return ", where what holds it leaves that bare,"
	}
	deep := b.figure(-*top)
	if *top > 0 {
		return fmt.Sprintf(", its end more than %s above zero,", b.figure(*top))
	}
	if b.machine.Kind == "lathe" {
		return fmt.Sprintf(", its end less than %s deep from zero,", deep)
	}
	return fmt.Sprintf(", its end less than %s below zero,", deep)
}

// fromEdge is the way from an edge that was touched to zero, met the same way.
func (w *wheel) fromEdge(at measure.Length, u measure.Unit) string {
	far := at.Abs()
	s := fmt.Sprintf("%s (%s)", far.Shown(u, measure.Nearest), w.Dial(far, measure.Nearest).Text())
	switch ahead := -at * measure.Length(w.way()); {
	case ahead == 0:
		return "wind on by half the tip to zero"
	case ahead > 0:
		return "wind on by " + s + " and half the tip to zero"
	}
	return "zero is back by " + s + " less half the tip: go past it and come up to it " + w.turn(w.way())
}

// count is turns and lines from zero as they are to be read back: "0 turns + 0".
func (w *wheel) count(n int64) string { return w.Reading(n).Text() }

// dialRow is a row that sets a dial instead of turning it.
func (b *bench) dialRow(w *wheel, note string) {
	r := Row{Setup: b.setup.Number, Wheel: w.label, Reading: w.Shown(w.at), Total: w.total(w.at),
		Target: w.Position(w.at, measure.Nearest), Note: clean(note), Pass: b.pass}
	if b.op != nil {
		r.Cut = clean(b.op.Name)
	}
	b.table.Rows = append(b.table.Rows, r)
}

// fit is the change of the tool, and of what sets Z.
func (b *bench) fit(i int) {
	s, op := b.setup, b.op
	b.stop, b.nut = nil, nil
	b.unlock(2)
	b.by = op.DepthBy
	b.now(2).known = false
	hold, aim := "", ""
	for _, by := range b.machine.Sources() {
		switch {
		case by == b.by:
		case by == "quill":
			hold = fmt.Sprintf("; quill right up and locked; the %s is free and sets Z", b.by)
		case by == "head" && b.machine.RoundColumn:
			aim = "the quill has to stand " + reachMark + ": if it does not, give the tool another length, since the head is not moved"
		default:
			aim = fmt.Sprintf("set the %s so that the quill stands %s, and lock the %s; the quill is free and sets Z", by, reachMark, by)
		}
	}
	if aim == "" && b.by == "quill" {
		aim = "the quill has to stand " + reachMark
	}
	if b.machine.Stop.Kind == "nut" && b.machine.Stop.On == b.by {
		hold += "; wind the stop nut out of the way" // that of the tool before may halt this one early
	}
	as := fmt.Sprintf(", sticking out %s, and tighten it; its end is to be clear of everything too", b.figure(op.Tool.StickOut))
	if i > 0 && s.Operations[i-1].Tool.Number == op.Tool.Number {
		as = " as before"
	}
	was := "cutter"
	if i == 0 {
		was = "spindle"
	}
	b.say("spindle off, %s: fit tool %d%s%s", b.clearOf(was), op.Tool.Number, as, hold)
	b.unlock(0, 1, rotaryAxis) // locked while a tool is tightened
	b.overTouch()
	b.fitted = len(b.table.Rows)
	if aim != "" {
		b.say("%s", aim)
	}
}

// reachMark stands in the row over the touching place for how the quill has to stand when
// it touches, until the tool's rows are laid out.
const reachMark = "\x00"

// reach fills in how far down the quill stands at least when it touches, for the lift,
// and how much it has still to go: what it was turned by since.
func (b *bench) reach() {
	if b.op == nil || b.by != "quill" {
		return
	}
	z := b.now(2)
	face := z.Position(z.touched, measure.Nearest)
	up := z.Position(max(z.most, z.touched), measure.Ceil) - face
	down := face - z.Position(min(z.lowest, z.touched), measure.Floor)
	say := fmt.Sprintf("%s or more down when it touches, with %s still to go", b.figure(up), b.figure(down))
	r := &b.table.Rows[b.fitted]
	r.Note = strings.Replace(r.Note, reachMark, say, 1)
}

// deeper is the way that cuts deeper: a lathe's depth lies along its bed.
func deeper(m *machines.Machine) string {
	if m.Kind == "lathe" {
		return "deeper"
	}
	return "down"
}

// inwards is the way to the side of the metal from above.
func inwards(m *machines.Machine) string {
	if m.Kind == "lathe" {
		return "in"
	}
	return "down"
}

// further is deeper for a place that is compared.
func further(m *machines.Machine) string {
	if m.Kind == "lathe" {
		return "deeper"
	}
	return "lower"
}

// clearOf is how the cutter or the finder is got out of the way, by what may be moved for it.
func (b *bench) clearOf(what string) string {
	sources := b.machine.Sources()
	if b.machine.Kind == "lathe" {
		return "wind the saddle out until the " + what + " is clear of everything"
	}
	for _, by := range sources {
		switch a, _ := b.machine.ZAxis(by); {
		case a.Moves != "cutter":
			return fmt.Sprintf("lower the %s until the %s is clear of everything", by, what)
		case by == "quill" && b.machine.RoundColumn:
			return fmt.Sprintf("raise the %s clear of everything by the quill", what)
		}
	}
	return "raise the " + what + " clear of everything"
}

// overTouch brings the tool over the place where it is touched.
func (b *bench) overTouch() {
	if b.rot != nil {
		b.rotate(0)
	}
	to := [3]int64{}
	for i, w := range b.xy {
		to[i] = w.StepValue().Steps(b.setup.Touch[i], measure.Nearest)
	}
	b.cross(to)
}

// touch sets Z by touching the face.
func (b *bench) touch() {
	s, z := b.setup, b.now(2)
	n := z.StepValue().Steps(s.Top, measure.Floor)
	z.set(n)
	what := "cutter"
	if b.op.Tool.Point > 0 {
		what = "drill's point"
	}
	going := "going " + deeper(b.machine)
	if z.Moves != "cutter" && b.machine.Kind != "lathe" {
		going = "raising the " + b.by
	}
	note := fmt.Sprintf("spindle off: touch the face with the %s, %s; dial set to %s", what, going, z.count(n))
	if off := s.Top - z.Position(n, measure.Floor); off > 1 {
		note += fmt.Sprintf("; the face stands %s higher, which is given away on the shallow side", b.figure(off))
	}
	b.dialRow(z, note)
}

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
		"zero: come up to an edge or a pin that fits a bore, take off half the finder's tip or the pin, and set the dial",
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
	if w.Moves != "cutter" {
		s = fmt.Sprintf("%s is the %s: %s sends the work %s, so that the cutter goes %s over it", w.label, w.Wheel, w.Words[0], back, goes)
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
	out := map[string]string{"down": "up, clear", "deeper": "out, clear"}[deeper(m)]
	return []string{
		"turns+lines is how far the wheel is turned from the row before; dial is what then stands at its mark",
		"total is turns + lines from zero, and on which side; the column after it is where the cutter stands",
		"to stop is what is left to where this cut may go no deeper: at 0 the nut halts it, or the mark on the dial is reached",
		"past it, back to it: the place is met from one side, so that the play between screw and nut does no harm",
		"play first, past it, and a way " + out + ": the wheel turns by the play before the slide moves, and turns and total hold that play",
		"tick off 5[ ] 10[ ]: tick each box as so many whole turns are done",
		"a row without s/turn is wound with the cutter clear or coming near; one with it is the feed, so long for each turn",
	}
}

// cautions are told once, at the head.
func cautions(works []Work, material string, m *machines.Machine) []string {
	out := []string{
		"go by the machine's manual and local rules; where in doubt ask a competent person",
		"spindle off before you fit, feel, measure, set a stop or clear chips; eyes protected, guard on, a brush and not fingers",
		"walk the dry run first; turn only the wheel that the row names, and only the way it says",
		"if a count is lost: spindle off, lift, and begin again from the row that sets the dial",
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
