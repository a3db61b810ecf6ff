package handwheel

import (
	"fmt"
	"strings"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// Work is one set-up as its table needs it: its plan, the box about its metal, how far
// each operation's heights were moved up for what was measured before it, what holds
// the part by a bore at zero, the slide that a vice's jaws lie along (empty is no vice), and how high what holds it stands right
// beside each edge, the lower and the upper one of X and of Y: nil is nothing.
type Work struct {
	Setup     *toolpath.Setup
	Low, High [3]measure.Length
	Moved     []measure.Length
	Through   []string
	Jaw       string
	Beside    [2][2]*measure.Length
	GoOn      map[int]measure.Length // see [bench.readings]
}

// Make works out the table of some set-ups. material is what the stock is made of,
// for the cautions. A refusal is a [toolpath.Refusal]: a cut that two wheels at once
// would have to make, or that a wheel has no travel for.
func Make(p *toolpath.Plan, works []Work, material string, m *machines.Machine) (*Table, error) {
	t := &Table{Title: p.Title, Digest: p.Digest, Machine: m}
	set, op := goesOn(works)
	if set >= 0 && p.Measured != "" { // not the table that the rough was cut by
		t.Digest = p.Measured + " from " + p.Digest
	}
	for i, w := range works {
		b := &bench{table: t, machine: m, setup: w.Setup, work: w, goOn: -1, marked: map[string]bool{}}
		if i == set {
			b.goOn = op
		}
		b.xy, b.z = wheelsOf(m)
		b.locked = [4]bool{true, true, true} // as the last work may have left them
		b.by = w.Setup.Operations[0].DepthBy
		if err := b.lay(); err != nil {
			return nil, err
		}
	}
	for i := range t.Rows {
		t.Rows[i].Number = i + 1
	}
	t.Head, t.Reading = legend(m), reading(m)
	for _, w := range works {
		if m.Rotary != nil && usesRotary(w.Setup) {
			t.Head = append(t.Head, rotaryLegend(m.Rotary))
			break
		}
	}
	if outlined(works) {
		t.Reading = append(t.Reading, "an outline: the cutter goes in, straight out again and along outside the metal, spindle running; it cuts the part only on the way in")
	}
	t.Cautions = cautions(works, material, m)
	return t, nil
}

// outlined tells whether any cut is an outline by wheels: it is in its figures.
func outlined(works []Work) bool {
	for _, w := range works {
		for _, op := range w.Setup.Operations {
			for _, f := range op.Facts {
				if f.Name == "by hand" {
					return true
				}
			}
		}
	}
	return false
}

// bench is the machine while the rows of one set-up are laid out.
type bench struct {
	table   *Table
	machine *machines.Machine
	setup   *toolpath.Setup
	work    Work
	xy      [2]*wheel
	z       map[string]*wheel
	by      string  // what sets Z now
	locked  [4]bool // X, Y, Z, the rotary table
	rot     *rotor
	speed   measure.Speed
	op      *toolpath.Operation
	pass    string
	stop    *measure.Length // where the cut in hand stops
	goOn    int             // the operation to go on with after a measuring; -1 is none
	left    bool            // the wheels were left since the last movement
	fitted  int             // the row that says how the quill has to stand
	dried   int             // the row of the dry run
	marked  map[string]bool // the dials of Z that bear a mark
	nut     *measure.Length // where the stop nut stands; nil is not set for the tool in hand
}

// now is the wheel of an axis.
func (b *bench) now(axis int) *wheel {
	if axis < 2 {
		return b.xy[axis]
	}
	return b.z[b.by]
}

// say adds a row without a movement.
func (b *bench) say(format string, args ...any) {
	r := Row{Setup: b.setup.Number, Pass: b.pass, Note: clean(fmt.Sprintf(format, args...))}
	if b.op != nil {
		r.Cut = clean(b.op.Name)
	}
	b.table.Rows = append(b.table.Rows, r)
}

// clean puts text from a file on one line.
func clean(s string) string { return strings.Join(strings.Fields(s), " ") }

// lay is the whole set-up.
func (b *bench) lay() error {
	b.zeros()
	for i := range b.setup.Operations {
		if err := b.cut(i); err != nil {
			return err
		}
	}
	b.reach()
	b.pass, b.stop = "", nil
	if b.waits() {
		b.say("spindle off; do not let the work go: %s waits for its reading", b.op.Of)
		return nil
	}
	b.op = nil
	if b.studded() {
		b.say("spindle off; brush the chips away, and measure what the stud leaves free before it comes out")
	} else {
		b.say("spindle off; brush the chips away and measure before the work is let go")
	}
	for i := range b.setup.Operations {
		b.op = &b.setup.Operations[i]
		for _, n := range b.op.Notes {
			b.say("%s", n)
		}
	}
	b.op = nil
	return nil
}

// waits tells whether the table ends with a rough whose finish waits for its reading.
func (b *bench) waits() bool {
	ops := b.setup.Operations
	return len(ops) > 0 && ops[len(ops)-1].Part == toolpath.Rough
}

// goesOn is where a table goes on that was worked out again from readings: after the last
// rough that was measured. set is -1 where none was.
func goesOn(works []Work) (set, op int) {
	set = -1
	for i, w := range works {
		ops := w.Setup.Operations
		for k, finish := range ops {
			if finish.Part != toolpath.Finish || finish.Waits() {
				continue
			}
			for r := range k {
				if ops[r].Part == toolpath.Rough && ops[r].Cut == finish.Cut && (set != i || r+1 > op) {
					set, op = i, r+1
				}
			}
		}
	}
	return set, op
}

// cut is one operation: its tool, where Z is touched, its stop, and its passes.
func (b *bench) cut(i int) error {
	ops := b.setup.Operations
	op := &ops[i]
	if _, ok := b.z[op.DepthBy]; !ok {
		return refusal(b.setup, op, "wheels", "depth by "+op.DepthBy, strings.Join(b.machine.Sources(), " or "), "plan it for this machine")
	}
	b.op, b.pass = op, ""
	fresh := i == 0 || ops[i-1].Tool.Number != op.Tool.Number || ops[i-1].DepthBy != op.DepthBy
	tool := toolText(op.Tool, b.machine.Units)
	if !fresh {
		tool += "; stays in"
	}
	b.say("cut %d of %d: tool %d, %s", i+1, len(ops), op.Tool.Number, tool)
	b.table.Rows[len(b.table.Rows)-1].begins = true
	if i == b.goOn {
		b.say("go on here: what stands above is cut, and the dials are as they were set; every wheel back to where it stood: %s", b.stand())
		b.table.GoOn = len(b.table.Rows)
	}
	if op.Part == toolpath.Finish && !op.Waits() {
		b.say("%s", b.readFor(op.Look, b.work.Moved[i]))
	}
	if fresh {
		b.reach()
		b.fit(i)
		b.touch()
	}
	if err := b.setStop(fresh); err != nil {
		return err
	}
	if fresh {
		if err := b.lift(b.now(2), clearanceOf(op, b.setup)); err != nil {
			return err
		}
	}
	if err := b.dryRun(); err != nil {
		return err
	}
	if op.Speed != b.speed {
		b.speed = op.Speed
		b.say("spindle on at %s", op.Speed)
	}
	for k, pass := range op.Passes {
		b.pass = clean(pass.Name)
		if k > 0 && k%stopAgain == 0 {
			b.stopAgain()
		}
		for _, mv := range pass.Moves {
			if err := b.move(mv); err != nil {
				return err
			}
		}
	}
	b.ran()
	b.pass = ""
	if op.Part == toolpath.Rough {
		b.halt("%s; %s with --measured %d:%d=READING", op.Look.Asks(b.machine.Units), b.readings(op), b.setup.Number, op.Cut)
	}
	return b.inTravel()
}

// halt is a row at which the operator looks or measures, the cutter lifted; the spindle
// goes on again with the next cut. A wheel may be turned for it.
func (b *bench) halt(format string, args ...any) {
	b.say("spindle off: %s; then every wheel that was turned for it back to where it stood: %s", fmt.Sprintf(format, args...), b.stand())
	b.speed = 0
	b.leave()
}

// readings is with which readings to go on after a rough: those of a floor that is less
// than a line of the dial too high, or too deep by no more than the last pass bears as it
// was planned, which is by cut. A rough whose finish is not in the table always waits.
func (b *bench) readings(op *toolpath.Operation) string {
	deeper, ok := b.work.GoOn[op.Cut]
	if !ok {
		return "then have its finish worked out"
	}
	l, line := op.Look, b.now(2).Position(1, measure.Floor)
	low, high := l.Reads-line, l.Reads+deeper
	if l.Rises {
		low, high = l.Reads-deeper, l.Reads+line
	}
	up, down := measure.Ceil, measure.Floor
	if deeper == 0 { // no further than the figure that it should read
		up, down = measure.Nearest, measure.Nearest
	}
	return fmt.Sprintf("go on where it reads %s to %s; else go no further and have it worked out again",
		low.Number(b.machine.Units, up), high.Shown(b.machine.Units, down))
}

// readFor is how a finish was worked out from a reading: by how much it goes lower than it
// was planned, on the lines of the dial.
func (b *bench) readFor(l *toolpath.Look, moved measure.Length) string {
	s := fmt.Sprintf("worked out for a reading of %s where %s was planned: ", b.figure(*l.Taken), b.figure(l.Reads))
	switch {
	case moved < 0:
		return s + fmt.Sprintf("it goes %s %s than planned", b.figure(-moved), further(b.machine))
	case moved > 0:
		return s + fmt.Sprintf("it stays %s short of the depth planned", b.figure(moved))
	}
	return s + "less than a line of the dial, so it goes as planned"
}

// leave is the wheels left to hands that do not count: each place is met anew before
// anything is cut. Z comes down to its place as it does, from above.
func (b *bench) leave() {
	b.leaveSlides()
	if b.rot != nil {
		b.rot.met, b.rot.loose = false, true
	}
}

// leaveSlides is leave for X and Y.
func (b *bench) leaveSlides() {
	b.left = true
	for _, w := range b.xy {
		w.met, w.loose = false, true
	}
}

// clearanceOf is the height that an operation starts at.
func clearanceOf(op *toolpath.Operation, s *toolpath.Setup) measure.Length {
	for _, p := range op.Passes {
		for _, m := range p.Moves {
			return m.To.Z
		}
	}
	return s.Clearance
}

// inTravel asks that the wheel that sets Z has travel for all that it was turned
// since it was touched off.
func (b *bench) inTravel() error {
	w := b.now(2)
	span := w.Position(w.most, measure.Ceil) - w.Position(w.lowest, measure.Floor)
	if span <= w.Travel {
		return nil
	}
	has := w.Dial(w.Travel, measure.Floor)
	do := "cut it in two set-ups, or drill from both sides, or raise the work and lower the clearance plane"
	if len(b.z) > 1 {
		do += ", or set its depth by another wheel with depth_by"
	}
	deep := w.Reading(max(-w.lowest, 0))
	return refusal(b.setup, b.op, "travel of the "+w.by,
		fmt.Sprintf("%s deep is %s, and %s with the lift to the clearance plane", w.Position(-w.lowest, measure.Ceil).Shown(b.machine.Units, measure.Nearest), deep.Text(), span.Shown(b.machine.Units, measure.Nearest)),
		fmt.Sprintf("%s, %s", has.Text(), w.Travel.Shown(b.machine.Units, measure.Nearest)), do)
}

func refusal(s *toolpath.Setup, op *toolpath.Operation, limit, planned, allowed, do string) error {
	return toolpath.Refusal{Setup: s.Name, Cut: op.Name, Limit: limit, Planned: planned, Allowed: allowed, Do: do}
}

// toolText is a cutter for a person.
func toolText(c toolpath.Cutter, u measure.Unit) string {
	s := fmt.Sprintf("%s %s, %s", c.Kind, c.Diameter.Both(), c.MadeOf)
	if c.Measured != c.Diameter {
		s += ", measured " + c.Measured.Shown(u, measure.Nearest)
	}
	return s
}
