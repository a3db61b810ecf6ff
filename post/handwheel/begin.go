package handwheel

import (
	"fmt"
	"strings"

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
