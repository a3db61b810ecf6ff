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
// the part by a bore at zero, the slide that a vice's jaws lie along (empty is no vice), and
// how high what holds it stands right beside each edge, the lower and the upper one of X and
// of Y: nil is nothing.
type Work struct {
	Setup     *toolpath.Setup
	Low, High [3]measure.Length
	Moved     []measure.Length
	Through   []string
	Jaw       string
	Beside    [2][2]*measure.Length
	Edge      [2][2]measure.Length // how high the metal stands at these edges
	Packed    bool
	Bores     []Bore
	Bears     map[int]Bears // by cut, of a rough that was not measured yet
}

// Studded tells whether a stud through the bore at zero holds the part, which cannot be
// there while the bore is brought true.
func (w *Work) Studded() bool { return w.Setup.Over != "" && len(w.Through) > 0 }

// Bore is a bore that lies along X or Y: a pin that fits it, what is read over that from
// the touched face, pressed to the bore's side there, by how much that may be out, and
// whether what holds the part shuts it.
type Bore struct {
	Name, Along        string
	Pin, Reads, Within measure.Length
	Shut               bool
}

// Bears is how far the floor that a measuring finds may be out for the last pass to be cut
// as it was planned.
type Bears struct{ Higher, Deeper measure.Length }

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
		b := &bench{table: t, machine: m, setup: w.Setup, work: w, goOn: -1, locked: map[string]bool{}}
		if i == set {
			b.goOn = op
		}
		b.xy, b.z = wheelsOf(m)
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
		t.Reading = append(t.Reading, "an outline: the cutter goes in, straight out again and along outside the metal, spindle running; in clearing it cuts the part only on the way in")
	}
	t.Cautions = cautions(works, material, m)
	return t, nil
}

// outlined tells whether any cut is an outline by wheels.
func outlined(works []Work) bool {
	for _, w := range works {
		for i := range w.Setup.Operations {
			if w.Setup.Operations[i].Round != toolpath.NotRound {
				return true
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
	by      string          // what sets Z now
	locked  map[string]bool // by [bench.movable]
	rot     *rotor
	speed   measure.Speed
	op      *toolpath.Operation
	pass    string
	stop    *measure.Length // where the cut in hand stops
	goOn    int             // the operation to go on with after a measuring; -1 is none
	left    bool            // the wheels were left since the last movement
	fitted  int             // the row that says how the quill has to stand
	dried   int             // the row of the dry run
	start   string          // where the wheels stand at the first place of the cut in hand
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
	if b.work.Studded() {
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
		b.say("go on here: what stands above is cut, and the dials are as they were set; a count of Z that is lost from here on asks for another measuring, not another touching; every wheel back to where it stood: %s", b.stand())
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
	rests := op.Round != toolpath.NotRound
	for k, pass := range op.Passes {
		b.pass = clean(pass.Name)
		if k > 0 && (k%stopAgain == 0 || rests) {
			b.rests(k%stopAgain == 0, rests)
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
		b.halt("%s; %s", op.Look.Asks(b.machine.Units), b.readings(op))
	}
	return b.inTravel()
}

// halt is a row at which the operator looks or measures, the cutter lifted; the spindle
// goes on again with the next cut. A wheel may be turned for it.
func (b *bench) halt(format string, args ...any) {
	b.unlockCross()
	b.say("spindle off: %s; to go on, every wheel that was turned for it back to where it stood: %s", fmt.Sprintf(format, args...), b.stand())
	b.speed = 0
	b.leave()
}

// readings is with which readings to go on after a rough. One whose finish is not in the
// table waits for it.
func (b *bench) readings(op *toolpath.Operation) string {
	l, u := op.Look, b.machine.Units
	if l.Taken != nil {
		return "it read " + b.figure(*l.Taken)
	}
	with := fmt.Sprintf("with --measured %d:%d=READING and its unit", b.setup.Number, op.Cut)
	bears, ok := b.work.Bears[op.Cut]
	if !ok {
		return "then have its finish worked out " + with
	}
	low, high := l.Reads-bears.Higher, l.Reads+bears.Deeper
	if l.Rises {
		low, high = l.Reads-bears.Deeper, l.Reads+bears.Higher
	}
	up, down := measure.Ceil, measure.Floor
	if low == l.Reads { // no further than the figure that it should read
		up = measure.Nearest
	}
	if high == l.Reads {
		down = measure.Nearest
	}
	return fmt.Sprintf("go on where it reads %s to %s; else go no further, keep the work held and the dials as they are, and have it worked out again %s",
		low.Number(u, up), high.Shown(u, down), with)
}

// readFor is how a finish was worked out from a reading: by how much it goes lower than it
// was planned, on the lines of the dial.
func (b *bench) readFor(l *toolpath.Look, moved measure.Length) string {
	s := fmt.Sprintf("worked out for a reading of %s where %s was planned: ", b.figure(*l.Taken), b.figure(l.Reads))
	switch {
	case moved < 0:
		return s + fmt.Sprintf("in whole lines, on the shallow side, the dial goes %s %s than planned", b.figure(-moved), further(b.machine))
	case moved > 0:
		return s + fmt.Sprintf("in whole lines, on the shallow side, the dial stays %s short of the depth planned", b.figure(moved))
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
	if m, ok := firstMove(op); ok {
		return m.To.Z
	}
	return s.Clearance
}

// firstMove is an operation's first move; ok is false where it has none.
func firstMove(op *toolpath.Operation) (m toolpath.Move, ok bool) {
	for _, p := range op.Passes {
		if len(p.Moves) > 0 {
			return p.Moves[0], true
		}
	}
	return m, false
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
