package handwheel

import (
	"fmt"
	"strings"

	"stopshort/toolpath/measure"
)

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
