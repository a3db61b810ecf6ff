package handwheel

import (
	"fmt"
	"strings"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// move is the rows of one planned move.
func (b *bench) move(m toolpath.Move) error {
	if m.Kind == toolpath.Stop {
		b.halt("%s", m.Note)
		b.speed = b.op.Speed
		b.say("spindle on at %s", b.op.Speed)
		return nil
	}
	if b.left && m.Kind != toolpath.Rapid { // which meets its place itself
		b.cross([3]int64{b.xy[0].plan, b.xy[1].plan})
		if b.rot != nil {
			b.rotate(b.rot.plan)
		}
	}
	if m.Polar.On {
		return b.polar(m)
	}
	var to [3]int64
	var turned []int
	for i, l := range [3]measure.Length{m.To.X, m.To.Y, m.To.Z} {
		n, err := b.now(i).steps(l)
		if err != nil {
			return err
		}
		if to[i] = n; n != b.now(i).plan {
			turned = append(turned, i)
		}
	}
	switch {
	case m.Kind == toolpath.Rapid:
		return b.rapidAt(m, 0)
	case m.Kind == toolpath.Line && len(turned) <= 1:
		for _, i := range turned {
			b.feed(b.now(i), to[i], m.Feed)
		}
		return nil
	case m.Kind == toolpath.Line:
		return refusal(b.setup, b.op, "one wheel at a time", "a cut at an angle", "along X, along Y or down",
			"turn the work in the vice so that the cut lies along X or Y, and give it a set-up of its own")
	}
	return refusal(b.setup, b.op, "one wheel at a time", "a round cut", "straight cuts along X, along Y or down",
		"cut it on a machine with a controller")
}

// rapidAt is a rapid move with the rotary table, where there is one, at an angle: it is
// turned with the cutter lifted.
func (b *bench) rapidAt(m toolpath.Move, angle measure.Angle) error {
	var to [3]int64
	for i, l := range [3]measure.Length{m.To.X, m.To.Y, m.To.Z} {
		n, err := b.now(i).steps(l)
		if err != nil {
			return err
		}
		to[i] = n
	}
	return b.rapid(m, to, angle)
}

// rapid lifts, crosses and goes down, in this order.
func (b *bench) rapid(m toolpath.Move, to [3]int64, angle measure.Angle) error {
	z := b.now(2)
	if to[2] > z.plan {
		if err := b.lift(z, m.To.Z); err != nil {
			return err
		}
		if to[0] == b.xy[0].plan && to[1] == b.xy[1].plan && (b.rot == nil || b.rot.plan == angle) {
			return nil
		}
	}
	b.cross(to)
	b.rotate(angle)
	if to[2] < z.plan {
		b.free(b.by, true)
		b.turn(z, to[2], to[2], "", wordsOfZ(b.machine, b.by).near)
	}
	return nil
}

// lift winds Z up, so that the cutter stands no lower than asked when the play is
// counted.
func (b *bench) lift(w *wheel, to measure.Length) error {
	n, err := w.steps(to)
	if err != nil {
		return err
	}
	b.free(b.by, false)
	b.turn(w, n+w.play(measure.Ceil), n, "", wordsOfZ(b.machine, b.by).up)
	return nil
}

// cross goes to a place with the cutter lifted: each wheel comes to it the way
// positions are met, and goes past first where it must. Where hands may have left the
// slide anywhere within the play, a way shorter than that would not take it up.
func (b *bench) cross(to [3]int64) {
	for i := range b.xy {
		w := b.xy[i]
		n := to[i]
		if n == w.plan && w.met {
			continue
		}
		b.unlock(axisNames[i])
		least := int64(0)
		if w.loose {
			least = w.play(measure.Ceil)
		}
		if (n-w.plan)*w.way() <= least {
			past := n - w.way()*(w.play(measure.Ceil)+w.quarter())
			if far := w.at - w.way()*least; (far-past)*w.way() < 0 {
				past = far
			}
			b.turn(w, past, n, "", "past it")
			b.turn(w, n, n, "", "back to it")
			continue
		}
		note := ""
		if !w.met && !w.loose {
			note = "play first"
		}
		b.turn(w, n, n, "", note)
	}
	b.left = false
}

// feed is one cutting movement. Against the way positions are met the wheel goes on
// by the play, in whole lines, so that the cutter ends up to a line short.
func (b *bench) feed(w *wheel, to int64, f measure.Feed) {
	b.free(b.nameOf(w), true)
	at, note := to, ""
	with := (to-w.plan)*w.way() > 0
	if !with {
		at = to - w.way()*w.play(measure.Floor)
	}
	if with != w.met && w.axis < 2 {
		note = "play first"
	}
	b.turn(w, at, to, halves(secondsATurn(w.Axis, f, b.machine.Feeds.Low)), note)
}

// nameOf is what a wheel moves, where it is locked and freed.
func (b *bench) nameOf(w *wheel) string {
	if w.axis == 2 {
		return w.by
	}
	return axisNames[w.axis]
}

// fiveTurns is how many turns are ticked off together (own choice: a hand's fingers).
const fiveTurns = 5

// mostTicks is how many boxes a row has at most (own choice: two lines of them).
const mostTicks = 20

// turn is the row of one movement of one wheel, to a place of its own; plan is where
// the cutter is meant to be.
func (b *bench) turn(w *wheel, to, plan int64, feed, note string) {
	delta := to - w.at
	if delta == 0 {
		w.plan = plan
		return
	}
	moved := w.Reading(max(delta, -delta))
	r := Row{
		Setup: b.setup.Number, Cut: clean(b.op.Name), Pass: b.pass, Wheel: w.label, Turn: w.turn(delta),
		Turns: moved.Turns, Lines: moved.Lines, Reading: w.Shown(to), Total: w.total(to), Feed: feed, Note: note,
	}
	w.met = (delta > 0) == (w.way() > 0)
	r.Target = w.follow(to)
	if w.axis == 2 && b.stop != nil && delta < 0 {
		left := r.Target - *b.stop
		r.ToStop = &left
	}
	every := int64(fiveTurns)
	if feed != "" && w.axis == 2 && b.nut == nil && delta < 0 && moved.Turns <= mostTicks { // nothing but the count halts it
		every = 1
	}
	for n := every; n <= moved.Turns && len(r.Ticks) < mostTicks; n += every {
		r.Ticks = append(r.Ticks, n)
	}
	w.at, w.plan, w.loose = to, plan, false
	w.lowest, w.most = min(w.lowest, to), max(w.most, to)
	w.dry.reach(to)
	b.table.Rows = append(b.table.Rows, r)
}

// rotaryName is what the rotary table is called where it is locked and freed.
const rotaryName = "rotary table"

// movable are the names of all that is locked and freed, in the order that they are told in.
// A head on a round column stays locked.
func (b *bench) movable() []string {
	names := append([]string{axisNames[0], axisNames[1]}, b.depthMovers()...)
	if b.rot != nil {
		names = append(names, rotaryName)
	}
	return names
}

// depthMovers are what sets Z and is moved.
func (b *bench) depthMovers() (out []string) {
	for _, by := range b.machine.Sources() {
		if !b.stays(by) {
			out = append(out, by)
		}
	}
	return out
}

// stays tells whether something that could set Z is not moved within a set-up.
func (b *bench) stays(by string) bool { return by == "head" && b.machine.RoundColumn }

// unlock frees what is locked of some, in one row.
func (b *bench) unlock(of ...string) {
	var names []string
	for _, n := range of {
		if b.locked[n] {
			names = append(names, n)
		}
		delete(b.locked, n)
	}
	if len(names) > 0 {
		b.say("free %s", strings.Join(names, " and "))
	}
}

// unlockCross frees all that moves the cutter over the work.
func (b *bench) unlockCross() { b.unlock(axisNames[0], axisNames[1], rotaryName) }

// free makes one thing free to move and, before a cut or a way down, locks the
// others. A depth that was set is read again once it is locked.
func (b *bench) free(name string, lock bool) {
	var what, names []string
	again := ""
	for _, n := range b.movable() {
		if n == name || !lock || b.locked[n] {
			continue
		}
		b.locked[n] = true
		names = append(names, n)
		if w := b.now(2); n == b.by && w.met {
			again = fmt.Sprintf(" and read it again: %s", w.shownText(w.at))
		}
	}
	if len(names) > 0 {
		what = append(what, "lock "+strings.Join(names, " and ")+again)
	}
	if b.locked[name] {
		delete(b.locked, name)
		what = append(what, "free "+name)
	}
	if len(what) > 0 {
		b.say("%s", strings.Join(what, "; "))
	}
}
