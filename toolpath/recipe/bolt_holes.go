package recipe

import (
	"fmt"

	"stopshort/toolpath"
	"stopshort/toolpath/form"
	"stopshort/toolpath/job"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
	"stopshort/toolpath/trade"
)

var boltTable = &form.Table{
	Help: "Screw holes: spotted, drilled with pecks, tapped by hand or clear",
	Keys: append([]form.Key{
		{Name: "screw", Kind: form.Text, Required: true, Help: "the screw's name: M3, 8BA"},
		{Name: "hole", Kind: form.Word, Required: true, Choices: []string{"tapped", "clearance", "split"}, Help: "split: clear down to split_at, tapped below"},
		{Name: "through", Kind: form.Flag, Default: "false", Help: "whether it goes out through the underside"},
		{Name: "depth", Kind: form.Length, Above: "0 mm", Help: "of a blind hole: full thread, or a clear hole's full diameter, from the top"},
		{Name: "shoulder", Kind: form.Length, Above: "0 mm", Says: "the thread and the tap's run-out", Help: "of a blind tapped hole: full diameter of the drill, from the top"},
		{Name: "tap", Kind: form.Word, Choices: []string{"bottoming", "plug"}, Default: "bottoming", Help: "the last tap"},
		{Name: "split_at", Kind: form.Length, Help: "height of the middle of the later split"},
		{Name: "kerf", Kind: form.Length, Min: "0 mm", Default: "0 mm", Says: "0 mm", Help: "width of the later split, where it is not shimmed away"},
		{Name: "spot", Kind: form.Count, Required: true, Min: "1", Max: "99", Help: "the spot drill's number"},
		{Name: "drill", Kind: form.Count, Min: "1", Max: "99", Help: "the tapping drill's number"},
		{Name: "clear", Kind: form.Count, Min: "1", Max: "99", Help: "the clearance drill's number"},
		{Name: "screw_length", Kind: form.Length, Above: "0 mm", Help: "under the head; with it engagement and the room at its tip are judged"},
		headKey,
		{Name: "head_at", Kind: form.Length, Says: "the top", Help: "height that the head stands on, where a spot face is cut for it"},
		{Name: "enters", Kind: form.Text, Help: "a bore that the holes may break into on purpose"},
	}, append(placeKeys[:len(placeKeys):len(placeKeys)], measureKey)...),
}

// bolt is one cut of screw holes, being worked out.
type bolt struct {
	*bench
	cut    job.Cut
	node   *form.Node
	thread trade.Thread
	head   trade.Head
	kind   string
	tops   []measure.Length
	at     []solid.Point
	wall   *figure
}

func (b *bench) boltHoles(c job.Cut) error {
	n := c.Node
	x := &bolt{bench: b, cut: c, node: n, kind: n.Word("hole"), wall: wallOf(n)}
	var err error
	if x.thread, err = trade.ThreadNamed(n.Text("screw")); err != nil {
		n.Fault("screw", "%s", err)
		return nil
	}
	var ok bool
	if x.head, ok = headOf(n, x.thread); !ok {
		return nil
	}
	if x.at, ok = b.places(n); !ok {
		return nil
	}
	for _, p := range x.at {
		top, ok := b.topAt(n, p)
		if !ok {
			return nil
		}
		x.tops = append(x.tops, top)
	}
	if e := n.Text("enters"); e != "" {
		if _, ok := b.named(n, "enters"); !ok {
			return nil
		}
	}
	if !x.sound() {
		return nil
	}
	x.expand()
	return nil
}

// sound adds a fault for keys that do not go together.
func (x *bolt) sound() bool {
	n, ok := x.node, true
	no := func(key, text string, args ...any) {
		n.Fault(key, text, args...)
		ok = false
	}
	if x.kind != "clearance" && !n.Has("drill") {
		no("drill", "a tapped hole needs its tapping drill: give the tool's number")
	}
	if x.kind != "tapped" && !n.Has("clear") {
		no("clear", "a clear hole needs its clearance drill: give the tool's number")
	}
	if x.kind == "tapped" && n.Has("clear") {
		no("clear", "a tapped hole has no clearance drill: leave it out, or write hole = \"split\"")
	}
	if x.kind == "clearance" && n.Has("drill") {
		no("drill", "a clear hole has no tapping drill: leave it out, or write hole = \"split\"")
	}
	if (x.kind == "split") != n.Has("split_at") {
		no("split_at", "split_at goes with hole = \"split\": give both or neither")
	}
	if n.Has("kerf") && x.kind != "split" {
		no("kerf", "a kerf goes with hole = \"split\": leave it out")
	}
	if n.Has("tap") && (x.kind == "clearance" || n.Flag("through")) {
		no("tap", "the last tap matters in a blind tapped hole alone: leave it out")
	}
	if n.Has("screw_length") && x.kind == "clearance" {
		no("screw_length", "a clear hole finds no thread: leave it out")
	}
	if n.Flag("through") == n.Has("depth") {
		no("depth", "give either depth or through = true")
	}
	if n.Has("shoulder") && (n.Flag("through") || x.kind == "clearance") {
		no("shoulder", "goes with a blind tapped hole: leave it out")
	}
	if n.Has("split_at") && n.Has("depth") && ok {
		for _, top := range x.tops {
			if to, from := top-n.Length("depth"), n.Length("split_at")-n.Length("kerf")/2; to >= from {
				no("depth", "the thread would end at %s and begin only under the split, at %s: thread deeper, or move the split", to, from)
				break
			}
		}
	}
	if n.Has("split_at") && ok {
		for i, p := range x.at {
			if s := n.Length("split_at"); s >= x.tops[i] || s <= x.bottomAt(p) {
				no("split_at", "%s is not inside the metal, which reaches from %s to %s there", s, x.bottomAt(p), x.tops[i])
				break
			}
		}
	}
	return ok
}

// expand adds the operations: spot, tapping drill, clearance drill.
func (x *bolt) expand() {
	n := x.node
	spot, ok := x.drillOf(n, "spot", toolpath.SpotDrill)
	if !ok {
		return
	}
	if e := n.Text("enters"); e != "" {
		x.out.Head = append(x.out.Head, fmt.Sprintf("%s breaks into bore %s on purpose", x.cut.Name, e))
	}
	x.guardBores(x.cut, shortOf{}, x.leastWall(x.thread.Major))
	wide := x.thread.Major
	if x.kind != "tapped" {
		clear, ok := x.job.CutTool(n, "clear")
		if !ok {
			return
		}
		wide = clear.Measured
	}
	x.add(x.drilling(x.cut, "spot", spot, x.spots(spot.tool, wide), x.wall))
	if x.kind != "clearance" {
		d, ok := x.drillOf(n, "drill", toolpath.Drill)
		if !ok {
			return
		}
		left, ok := x.leaves(d.tool)
		if !ok {
			return
		}
		holes, ok := x.tapped(d.tool)
		if !ok {
			return
		}
		op := x.drilling(x.cut, "tapping drill", d, holes, x.wall)
		op.Facts = append(op.Facts, left.fact)
		op.Facts = append(op.Facts, x.runsOut(holes)...)
		if left.warning != "" {
			op.Warns = append(op.Warns, fmt.Sprintf("%s: %s", x.cut.Name, left.warning))
		}
		op.Notes = []string{fmt.Sprintf("after all cuts of this set-up tap %s to %s by hand, %s", x.cut.Name, x.thread.Name, x.threadTo())}
		x.ask(&op, holes)
		x.measured(op, d)
	}
	if x.kind != "tapped" {
		d, ok := x.drillOf(n, "clear", toolpath.Drill)
		if !ok || !x.passes(d.tool) {
			return
		}
		op := x.drilling(x.cut, "clearance drill", d, x.clear(d.tool), x.wall)
		op.Facts = append(op.Facts, toolpath.Fact{Name: "screw", Value: x.thread.Name + " passes", From: measure.Handbook, Source: x.thread.Clear.Source})
		if x.kind == "clearance" {
			x.ask(&op, op.Makes)
			x.measured(op, d)
			return
		}
		x.add(op)
	}
}

// threadTo is how far a thread goes, for who cuts it.
func (x *bolt) threadTo() string {
	n := x.node
	end := "right through"
	if !n.Flag("through") {
		end = fmt.Sprintf("full thread to %s from its top, a %s tap last", x.withUnit(n.Length("depth")), n.Word("tap"))
	}
	if n.Has("split_at") {
		end += ": the clearance drill has left metal for it only under the split"
	}
	return end
}

// leastWall is the least metal between the holes and a bore.
func (x *bolt) leastWall(d measure.Length) figure {
	if x.wall != nil {
		return *x.wall
	}
	return wallRule().For(d)
}

func (x *bolt) add(op toolpath.Operation) {
	op.Enters = x.node.Text("enters")
	if op.Tool.Kind == toolpath.Drill {
		op.Edge = x.edge(op)
	}
	x.out.Operations = append(x.out.Operations, op)
	if op.Part == toolpath.Rough {
		return // the holes are noted as they are finished
	}
	for _, h := range op.Makes {
		x.feature(x.cut, h, op.Tool.Kind == toolpath.Drill)
	}
}

// measured adds an operation of blind holes, in two parts where their depth is measured
// before the last peck. What goes through has no depth that matters.
func (x *bolt) measured(op toolpath.Operation, d drill) {
	var look *toolpath.Look
	if limit := x.looksFor(x.cut.Number, x.node); limit != "" && !op.Makes[0].Through {
		look = x.look(x.cut.Number, limit, x.stages(d.tool, op.Makes[0]), nil)
	}
	for _, part := range x.holesInParts(op, look, func(i int, h toolpath.Hole, part toolpath.Part) (toolpath.Hole, toolpath.Pass) {
		name := op.Passes[i].Name
		if part == toolpath.Finish {
			return h, x.stroke(name, d, h)
		}
		stages := x.stages(d.tool, h)
		h.Tip = stages[max(len(stages)-2, 0)]
		h.Shoulder, h.Thread, h.ThreadTo = h.Tip+d.tool.Point, 0, 0
		return h, x.peck(name, d, h)
	}) {
		x.add(part)
	}
}

// spots is the marks of the spot drill: as wide as the finished hole, or as the
// spot drill where that is less.
func (x *bolt) spots(tool toolpath.Cutter, wide measure.Length) []toolpath.Hole {
	d := min(tool.Measured, wide)
	deep := tool.Point.MulDiv(int64(d), int64(tool.Measured), measure.Floor)
	var out []toolpath.Hole
	for i, p := range x.at {
		at := p.With(solid.Z, x.tops[i])
		tip := x.grid.Round(solid.Z, x.tops[i]-deep, measure.Ceil)
		out = append(out, toolpath.Hole{At: at, Diameter: d, Shoulder: x.tops[i], Tip: tip, Screw: x.thread.Major})
	}
	return out
}

// tapped is the holes of the tapping drill: through with the shoulder beyond the
// underside, or blind with room for the tap's run-out; deeper within that.
func (x *bolt) tapped(tool toolpath.Cutter) ([]toolpath.Hole, bool) {
	n := x.node
	runOut, err := trade.RunOutOf(n.Word("tap"))
	if err != nil {
		n.Fault("tap", "%s", err)
		return nil, false
	}
	usual, least := runOut.Room(x.thread.Pitch)
	var out []toolpath.Hole
	for i, p := range x.at {
		h := toolpath.Hole{At: p.With(solid.Z, x.tops[i]), Diameter: tool.Measured, Screw: x.thread.Major, Thread: x.thread.Major}
		if n.Flag("through") {
			h = x.goThrough(h, tool)
			h.ThreadTo = x.bottomAt(p)
		} else {
			h.ThreadTo = h.At.Z - n.Length("depth")
			h.Shoulder = h.ThreadTo - usual
			if n.Has("shoulder") {
				h.Shoulder = h.At.Z - n.Length("shoulder")
			}
			if room := h.ThreadTo - h.Shoulder; room < least {
				n.Fault("shoulder", "%s of full diameter for %s of thread: a %s tap wants %s more than the thread at least",
					h.At.Z-h.Shoulder, n.Length("depth"), n.Word("tap"), least)
				return nil, false
			}
			h.Tip = x.grid.Round(solid.Z, h.Shoulder-tool.Point, measure.Floor)
			h.Shoulder = h.Tip + tool.Point
		}
		if n.Has("split_at") {
			h.At.Z = x.tops[i]
		}
		out = append(out, h)
	}
	return out, true
}

// clear is the holes of the clearance drill: down to the middle of a later
// split, through, or blind.
func (x *bolt) clear(tool toolpath.Cutter) []toolpath.Hole {
	n := x.node
	var out []toolpath.Hole
	for i, p := range x.at {
		h := toolpath.Hole{At: p.With(solid.Z, x.tops[i]), Diameter: tool.Measured, Screw: x.thread.Major}
		switch {
		case n.Has("split_at"):
			h.Shoulder = n.Length("split_at")
		case n.Flag("through"):
			out = append(out, x.goThrough(h, tool))
			continue
		default:
			h.Shoulder = h.At.Z - n.Length("depth")
		}
		h.Tip = x.grid.Round(solid.Z, h.Shoulder-tool.Point, measure.Ceil)
		out = append(out, h)
	}
	return out
}

// goThrough sets a hole's depth so that its full diameter breaks out of the
// underside.
func (x *bolt) goThrough(h toolpath.Hole, tool toolpath.Cutter) toolpath.Hole {
	h.Through = true
	h.Shoulder = x.bottomAt(h.At) - trade.BreakThrough(tool.Diameter).Value
	h.Tip = x.grid.Round(solid.Z, h.Shoulder-tool.Point, measure.Floor)
	h.Shoulder = h.Tip + tool.Point
	return h
}

// ask sets what is asked of the screw, where its length is known. Of holes that
// start at different heights the least of each figure counts.
func (x *bolt) ask(op *toolpath.Operation, holes []toolpath.Hole) {
	for i, h := range holes {
		s := x.screwIn(h)
		if i == 0 {
			op.Screw = s
			continue
		}
		op.Screw.Grip = min(op.Screw.Grip, s.Grip)
		op.Screw.Engages = min(op.Screw.Engages, s.Engages)
		op.Screw.TipRoom = min(op.Screw.TipRoom, s.TipRoom)
	}
}

// screwIn is what is asked of the screw in one hole.
func (x *bolt) screwIn(h toolpath.Hole) *toolpath.Screw {
	n := x.node
	head := x.head
	s := &toolpath.Screw{Name: x.thread.Name, Head: max(head.Across, head.Corners), High: head.High}
	if x.kind != "tapped" { // a tapped hole's head stands on another part
		s.Room = max(s.Head, head.KeyRoom)
	}
	under := h.At.Z
	if n.Has("head_at") {
		under = n.Length("head_at")
	}
	s.HeadAt, s.HeadOnTop = under, !n.Has("head_at")
	switch {
	case n.Has("split_at"):
		s.Grip = under - n.Length("split_at") - n.Length("kerf")/2
	case x.kind == "clearance":
		s.Grip = under - max(h.Shoulder, x.bottomAt(h.At))
	}
	if x.kind != "tapped" {
		s.LeastGrip = figure{Value: x.thread.Major / 2, From: measure.Default, Source: "half the screw's diameter of metal under the head"}
	}
	if n.Has("screw_length") && x.kind != "clearance" {
		s.Length = n.Length("screw_length")
		threadTop := h.At.Z
		if n.Has("split_at") {
			threadTop = n.Length("split_at") - n.Length("kerf")/2
		}
		tip := under - s.Length // the screw's end; the halves are clamped on a shim as thick as the kerf
		s.Engages = min(threadTop, under) - max(tip, h.ThreadTo)
		s.TipRoom = tip - h.ThreadTo
		if h.Through {
			s.TipRoom = tip - x.bottomAt(h.At)
		}
		e, err := trade.Engagement(x.material.Name)
		if err == nil {
			s.LeastThread = x.thread.LeastThread()
			s.LeastThread.Source += "; for its whole strength: " + e.Source
			s.FullThread = e.Value.Of(x.thread.Major, measure.Ceil)
		}
	}
	return s
}
