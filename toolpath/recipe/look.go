package recipe

import (
	"fmt"

	"golang.org/x/exp/slices"

	"stopshort/toolpath"
	"stopshort/toolpath/form"
	"stopshort/toolpath/job"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// Options are what a job is planned with besides its own figures. A cut is named
// by its set-up's number and its own, from 1.
type Options struct {
	Look   map[[2]int]string         // cuts that are measured before their last pass: the limit that is close
	Taken  map[[2]int]measure.Length // what was measured then
	Beside map[[2]int]bool           // cuts that stop before their last pass, for the wall beside it
}

// digest is that of a plan and of what was measured for it; empty is nothing.
func (o Options) digest(of string) string {
	if len(o.Taken) == 0 {
		return ""
	}
	var keys [][2]int
	for k := range o.Taken {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b [2]int) int { return slices.Compare(a[:], b[:]) })
	texts := [][]byte{[]byte(of)}
	for _, k := range keys {
		texts = append(texts, fmt.Appendf(nil, "%d:%d=%d", k[0], k[1], o.Taken[k]))
	}
	return form.Digest(texts...)
}

// measureKey lets a job do without the measuring.
var measureKey = form.Key{Name: "measure", Kind: form.Flag, Says: "true where a limit is close",
	Help: "false leaves out the measuring before the last pass"}

// leastSplit is the least depth that is worth two passes, so that there is one to
// measure after (own choice: half of it is a finishing skim of 0.1 mm, the least that
// cuts and does not rub; that figure is an own choice too, no page gives one).
const leastSplit = measure.Millimetre / 5

// looksFor is the limit that a cut is measured for before its last pass; empty is
// none.
func (b *bench) looksFor(cut int, n *form.Node) string {
	if n.Set("measure") && !n.Flag("measure") {
		return ""
	}
	return b.options.Look[[2]int{b.setup.Number, cut}]
}

// halved puts a measuring between two passes where one would do.
func (b *bench) halved(top measure.Length, levels []measure.Length) []measure.Length {
	if len(levels) != 1 || top-levels[0] < leastSplit {
		return levels
	}
	mid := b.grid.Round(solid.Z, levels[0]+(top-levels[0])/2, measure.Ceil)
	if mid <= levels[0] || mid >= top {
		return levels
	}
	return []measure.Length{mid, levels[0]}
}

// look is the measuring before the last of two levels or more. With over, a pin in that
// bore lies straight under the floor and is measured over, where what holds the part lets
// one in; else the depth is measured from the touched face.
func (b *bench) look(cut int, limit string, levels []measure.Length, over *bore) *toolpath.Look {
	if limit == "" || len(levels) < 2 {
		return nil
	}
	before := levels[len(levels)-2]
	l := &toolpath.Look{Limit: limit, Step: before - levels[len(levels)-1]}
	if t, ok := b.options.Taken[[2]int{b.setup.Number, cut}]; ok {
		l.Taken = &t
	}
	if over != nil && !b.shut(over) {
		l.Direct, l.Rises = true, true
		l.What = b.overPin(limit) + " at both ends, and give the least"
		l.Reads = before - over.solid.From.Z + over.solid.Radius
		return l
	}
	l.What = "from the touched face down to the floor at both ends, and give the most"
	l.Reads = b.out.Top - before
	return l
}

// shut tells whether something that holds the part stands where a pin in a bore and a gauge
// over it would be.
func (b *bench) shut(x *bore) bool {
	space, ok := toolpath.PinSpace(x.solid, b.metal.Low, b.metal.High)
	return !ok || slices.ContainsFunc(b.setup.Holding, func(h job.Held) bool { return solid.Bounds(h.Body).Overlaps(space) })
}

// faceOff is how far the touched face stands over the line that the dial is set to there, by
// hand: everything is cut that much higher than it is told.
func (b *bench) faceOff() measure.Length {
	if b.machine.Controller != nil {
		return 0
	}
	return b.out.Top - b.grid.Round(solid.Z, b.out.Top, measure.Floor)
}

// overPin is where a web is measured over a pin in its bore. The pin is pressed to the
// web, so that it need not fill the bore; what it is larger than this is taken off.
func (b *bench) overPin(limit string) string {
	for _, x := range b.bores {
		if limit == webTo(x.Name) {
			return fmt.Sprintf("from the floor to the far side of a pin of %s pressed to the web in bore %s,", b.withUnit(x.solid.Radius*2), x.Name)
		}
	}
	return ""
}

// withUnit is a length in the machine's unit, with it.
func (b *bench) withUnit(l measure.Length) string {
	return l.Shown(b.machine.Units, measure.Nearest)
}

// inParts is an operation, or its two where the operator measures in between: the
// finish begins with a pass of its own.
func (b *bench) inParts(op toolpath.Operation, look *toolpath.Look, finish int) []toolpath.Operation {
	if look == nil {
		return []toolpath.Operation{op}
	}
	rough, last := op, op
	rough.Part, last.Part = toolpath.Rough, toolpath.Finish
	rough.Name, last.Name = op.Name+", rough", op.Name+", finish"
	rough.Passes, last.Passes = op.Passes[:finish:finish], op.Passes[finish:]
	rough.Look, last.Look = look, look
	rough.Notes, last.Warns = nil, nil // what is done by hand comes after all
	last.Facts = nil                   // but for what a program of its own says anew
	for _, f := range op.Facts {
		if f.Name == "speed" {
			last.Facts = append(last.Facts, f)
		}
	}
	if len(op.Makes) == 0 { // holes are laid out anew for each part
		b.onStop(rough)
	}
	return []toolpath.Operation{rough, last}
}

// onStop makes a measuring expect the floor that a rough comes to by hand: over its planned
// depth where the face stands over its line, and where a stop nut halts it higher: of holes
// that of the first.
func (b *bench) onStop(rough toolpath.Operation) {
	l := rough.Look
	if off := b.faceOff(); l.Rises {
		l.Reads += off
	} else {
		l.Reads -= off
	}
	_, line, ok := b.machine.StopAt(rough.DepthBy, rough.Deepest(), rough.Tool.Kind == toolpath.Drill)
	floor := rough.Deepest()
	if len(rough.Makes) > 0 {
		floor = rough.Passes[0].Deepest()
	}
	if !ok || line <= floor {
		return
	}
	up := line - floor
	l.Step += up
	if l.Rises {
		l.Reads += up
	} else {
		l.Reads -= up
	}
}

// firstLook stops after the first pass of a cut that is measured later, where a wrong zero
// or a slipping cutter has done no harm yet: the spindle off, and the cutter beside the
// metal. here is on the floor of that pass; by how much that may be out, which a table tells,
// is what the machine's errors in depth add up to, and the gauge's.
func (b *bench) firstLook(what string, here solid.Point, tool toolpath.Cutter) []toolpath.Move {
	e, within, deep := b.machine.Errors, "", b.out.Top-here.Z-b.faceOff()
	far := (here.X - b.setup.Touch[0]).Abs() + (here.Y - b.setup.Touch[1]).Abs()
	off := e.TouchZ + e.Setting + e.Stop + e.Play + e.Lead.Of(deep, measure.Ceil) + e.Tilt.Of(far, measure.Ceil) + e.Gauge
	if off > 0 && b.machine.Controller == nil {
		within = ", by a depth gauge, within " + off.Shown(b.machine.Units, measure.Floor)
	}
	return b.lookedAt(fmt.Sprintf("look: the %s is to be %s deep from the touched face%s; if it is not, stop here", what, b.withUnit(deep), within), here, tool)
}

// lookedAt stops with the spindle off and the cutter lifted and parked.
func (b *bench) lookedAt(note string, here solid.Point, tool toolpath.Cutter) (out []toolpath.Move) {
	at := here.With(solid.Z, b.plane())
	out = append(out, toolpath.Move{Kind: toolpath.Rapid, To: at})
	if park, aside := b.parked(at, tool); aside {
		at = park
		out = append(out, toolpath.Move{Kind: toolpath.Rapid, To: at})
	}
	return append(out, toolpath.Move{Kind: toolpath.Stop, To: at, Note: note})
}

// parkRoom is how far beside the metal a cutter's holder is parked, so that a hand
// and a gauge come in (own choice: a micrometer's frame is less than that thick).
const parkRoom = 10 * measure.Millimetre

// parked is a place at the clearance plane beside the metal where the cutter is out of
// the operator's way, the nearest that the slides reach; ok is false where there is
// none, and by hand, where the cutter is wound out of the way.
func (b *bench) parked(from solid.Point, tool toolpath.Cutter) (solid.Point, bool) {
	if b.machine.Controller == nil {
		return from, false
	}
	off := tool.Holder.Half(measure.Ceil) + parkRoom
	for _, side := range []struct {
		axis solid.Axis
		high bool
	}{{solid.Y, false}, {solid.X, true}, {solid.X, false}, {solid.Y, true}} {
		a := side.axis
		at, way := b.metal.Low.Along(a)-off, measure.Floor
		if side.high {
			at, way = b.metal.High.Along(a)+off, measure.Ceil
		}
		to := from.With(a, b.grid.Round(a, at, way)).With(solid.Z, b.plane())
		// The other end is where a cutter that leaves the metal may go.
		span := b.metal.High.Along(a) - b.metal.Low.Along(a) + 2*off
		low, high := b.setup.Low[a], b.setup.High[a]
		if span > b.machine.Axes[a].Travel || low != nil && to.Along(a) < *low || high != nil && to.Along(a) > *high {
			continue
		}
		return to, true
	}
	return from, false
}
