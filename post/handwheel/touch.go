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
	b.lies()
	b.rotaryBolt()
	for _, n := range b.movable() { // as the last work may have left them
		b.locked[n] = true
	}
	b.unlock(b.movable()...)
	if b.machine.RoundColumn {
		b.say("lock head; it stands so high that the quill does all of this set-up, and stays so")
	}
	if b.machine.Kind == "lathe" {
		b.say("the lathe's own feed out of gear, the half-nuts closed until the last row; turn the spindle by hand: nothing else may move")
	}
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
		b.dialRow(w, fmt.Sprintf("spindle off: come %s beside the metal's outermost %s edge%s and touch it, turning %s; %s; then %s; dial set to %s",
			inwards(b.machine), edge, b.roomBeside(b.work.Beside[i][side], b.work.Edge[i][side]), w.turn(w.way()), b.clearOf("finder"), w.fromEdge(at, b.machine.Units), w.count(0)))
	}
	if b.rot != nil {
		b.rotaryZero()
	} else if b.work.Studded() {
		b.say("%s", b.clearOf("gauge"))
		for i := range b.xy {
			b.locked[axisNames[i]] = true
		}
		b.say("lock X and Y")
		b.say("%s; both dials still stand at 0", b.through("free X and Y, and begin again from the row that sets X"))
		b.unlockCross()
		b.noted()
		b.leaveSlides()
	}
}

// lies is how the metal lies about the zero, and how each bore is known to lie as the job
// says before the part is held.
func (b *bench) lies() {
	var reach []string
	for a, w := range []*wheel{b.xy[0], b.xy[1], b.now(2)} {
		for side, l := range [2]measure.Length{b.work.Low[a], b.work.High[a]} {
			word := w.sides[side]
			switch {
			case l < 0:
				word = w.sides[0]
			case l > 0:
				word = w.sides[1]
			}
			reach = append(reach, l.Abs().Number(b.machine.Units, measure.Nearest)+" "+word)
		}
	}
	b.say("from zero the metal reaches %s: measure it, and turn it so", strings.Join(reach, ", "))
	for _, x := range b.work.Bores {
		within := ""
		if x.Within > 0 {
			within = ", within " + b.down(x.Within)
		}
		b.say("before it is held measure from the face that is touched to the far side of a pin of %s pressed to that side of bore %s, which lies along %s: it should read %s%s; if it does not, go no further: it lies the wrong way, or its bore elsewhere",
			b.figure(x.Pin), clean(x.Name), x.Along, b.figure(x.Reads), within)
	}
}

// through is how what goes through the bore takes the place of the clamps (common practice,
// no source, as the other sentences about setting a part are).
func (b *bench) through(again string) string {
	return fmt.Sprintf("stand two gauges against the part, along X and along Y; put the stud through with a bush that fits the bore and is shorter than it, and %s on it; tighten, take the clamps off, and read the two: where one has moved put the clamps on again, take stud and bush out, %s; take the two away",
		clean(strings.Join(b.work.Through, " and ")), again)
}

// noted is a place that X and Y can be found by again where the zero is covered.
func (b *bench) noted() {
	b.say("for a count that is lost: touch a block that is held beside the work, along X and along Y, and note both dials; then every wheel that was turned for it back to where it stood: %s", b.stand())
}

// square is how the part is set before its zero is picked up: parallel to the X slide, and
// held while that is done.
func (b *bench) square() {
	switch {
	case b.rot != nil: // it goes on the table later
	case b.work.Studded():
		b.say("lay the part %s%s, over the nut that the stud goes into, its X along the X slide by a gauge run along an edge, if it has one; until the stud is in, clamps hold it that leave bore %s free", b.onto(), b.rest(), clean(b.setup.Over))
	case b.work.Jaw != "":
		b.say("the fixed jaw true to the %s slide by a gauge run along it; the part to that jaw and %s%s, its top level by the gauge: where it rocks a block keeps it so until the jaws are tight, and then comes out; tighten, and try it again", b.work.Jaw, b.onto(), b.rest())
	default:
		b.say("the part %s%s, its X along the X slide by a gauge run along an edge, if it has one; tighten what holds it, and run the gauge along again", b.onto(), b.rest())
	}
}

// onto is the way to what the part lies on.
func (b *bench) onto() string {
	if b.machine.Kind == "lathe" {
		return "back on "
	}
	return "down on "
}

// rest is what the part lies on.
func (b *bench) rest() string {
	switch {
	case b.work.Packed:
		return "its packing"
	case b.rot != nil:
		return "it"
	case b.work.Jaw != "":
		return "the bed of the vice"
	case b.machine.Kind == "lathe":
		return "the slide's plate"
	}
	return "the table"
}

// roomBeside is how far down a finder goes beside an edge, from the face that is touched:
// below the edge's own top, and above what holds the part there; nil is nothing.
func (b *bench) roomBeside(holds *measure.Length, edge measure.Length) string {
	u, under := b.machine.Units, "under"
	if b.machine.Kind == "lathe" {
		under = "deep from"
	}
	from := b.setup.Top - edge
	switch {
	case holds != nil && *holds >= edge:
		return ", where what holds it leaves that bare,"
	case holds != nil && from > 0:
		return fmt.Sprintf(", the finder's end between %s and %s %s the face that is touched,", from.Number(u, measure.Ceil), (b.setup.Top-*holds).Shown(u, measure.Floor), under)
	case holds != nil:
		return fmt.Sprintf(", the finder's end less than %s %s the face that is touched,", (b.setup.Top-*holds).Shown(u, measure.Floor), under)
	case from > 0:
		return fmt.Sprintf(", the finder's end more than %s %s the face that is touched,", from.Shown(u, measure.Ceil), under)
	}
	return ""
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
	b.unlock(b.depthMovers()...)
	b.by = op.DepthBy
	b.now(2).known = false
	hold, aim := "", ""
	for _, by := range b.machine.Sources() {
		b.locked[by] = by != b.by // as it is told to be from the touching on
		switch {
		case by == b.by:
		case by == "quill":
			hold = fmt.Sprintf("; quill right up and locked; the %s is free and sets Z", b.by)
		case b.stays(by):
			aim = "the quill has to stand " + reachMark + ": if it does not, give the tool another length, since the head is not moved"
		default:
			aim = fmt.Sprintf("set the %s so that the quill stands %s, the last of the way to it by the quill, and lock the %s; the quill is free and sets Z", by, reachMark, by)
		}
	}
	if aim == "" && b.by == "quill" {
		aim = "the quill has to stand " + reachMark
	}
	if b.machine.Stop.Kind == "nut" && b.machine.Stop.On == b.by {
		hold += "; wind the stop nut out of the way" // that of the tool before may halt this one early
	}
	as := fmt.Sprintf(", sticking out %s, its flutes %s long or more, and tighten it; its end is to be clear of everything too", b.figure(op.Tool.StickOut), b.figure(op.Tool.FluteLength))
	if i > 0 && s.Operations[i-1].Tool.Number == op.Tool.Number {
		as = " as before"
	}
	was := "cutter"
	if i == 0 {
		was = "spindle"
	}
	b.say("spindle off, %s: fit tool %d%s%s", b.clearOf(was), op.Tool.Number, as, hold)
	b.unlockCross() // locked while a tool is tightened
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

// zWords are the words for the ways of Z: on a machine whose depth lies along its bed, and
// where the work is moved to the cutter, it goes not down and up.
type zWords struct{ goes, down, near, up string }

func wordsOfZ(m *machines.Machine, by string) zWords {
	a, _ := m.ZAxis(by)
	switch {
	case m.Kind == "lathe":
		return zWords{"goes", "deeper", "in, near", "out, clear"}
	case raises(a, m):
		return zWords{"is", "raised", "raised, near", "lowered, clear"}
	}
	return zWords{"goes", "down", "down, near", "up, clear"}
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
	going := "going " + wordsOfZ(b.machine, b.by).down
	if z.raises(b.machine) {
		going = "raising the " + b.by
	}
	note := fmt.Sprintf("spindle off: touch the face with the %s, %s, turning %s; dial set to %s", what, going, z.turn(-1), z.count(n))
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
