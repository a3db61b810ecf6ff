package handwheel

import (
	"fmt"
	"math/big"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// rotor is the rotary table with where it stands: angles from zero, turning clockwise
// as seen from above.
type rotor struct {
	machines.Rotary
	at, plan measure.Angle
	met      bool
	loose    bool // as of a wheel
	dry      dry[measure.Angle]
}

// rotaryLabel is what the table's wheel is called in the rows.
const rotaryLabel = "C rotary"

// turnRow is what a row of the rotary table says instead of lines: what is beyond whole
// turns, what its dial shows, and the angle that it then stands at.
type turnRow struct{ rest, reading, target measure.Angle }

// usesRotary tells whether any move of a set-up turns the table.
func usesRotary(s *toolpath.Setup) bool {
	for _, op := range s.Operations {
		for _, p := range op.Passes {
			for _, m := range p.Moves {
				if m.Polar.On {
					return true
				}
			}
		}
	}
	return false
}

// rotaryBolt is how the table is set up, before anything is picked up.
func (b *bench) rotaryBolt() {
	if b.machine.Rotary == nil || !usesRotary(b.setup) {
		return
	}
	b.rot = &rotor{Rotary: *b.machine.Rotary, met: true}
	b.say("bolt the rotary table down, its axis upright, with nothing on it yet")
}

// rotaryZero is how the table's dial is set, and the part put on it: true to the table by
// its bore, and to the X slide by an edge, for which X is turned.
func (b *bench) rotaryZero() {
	note := "spindle off: turn the wheel " + b.rot.Words[0] + ", up to the dial's nought, and lock the table; dial set to 0 turns + 0:00:00"
	b.table.Rows = append(b.table.Rows, Row{Setup: b.setup.Number, Wheel: rotaryLabel, Total: b.rot.total(0), angle: &turnRow{}, Note: note})
	b.locked[rotaryName] = true
	hold := "tighten what holds it"
	if b.work.Studded() {
		hold = "clamp it, and take the pin out; " + b.through("and begin again with the pin")
	}
	b.say("%s; put the part on the rotary table, down on %s, its bore over the table's by a pin that fits both, its X along the X slide by a gauge run along an edge, the part tapped round and not the table; %s; run the gauge along that edge again: where it is out begin again with the pin", b.clearOf("gauge"), b.rest(), hold)
	b.noted()
	b.leaveSlides() // the table stays locked
}

// total is turns and the rest from zero: "9 + 0:52:12".
func (r *rotor) total(a measure.Angle) string {
	n, rest := r.Turns(a)
	s := fmt.Sprintf("%d + %s", n, machines.AngleText(rest))
	if a < 0 {
		s += " back"
	}
	return s
}

// rotate turns the table to an angle with the cutter lifted, always coming to it
// clockwise, as it is fed.
func (b *bench) rotate(to measure.Angle) {
	r := b.rot
	if r == nil || to == r.plan && r.met {
		return
	}
	b.free(rotaryName, false)
	least := measure.Angle(0)
	if r.loose {
		least = r.Backlash
	}
	if to-r.at <= least {
		past := max(r.Backlash+r.PerTurn()/4, to-r.at+least)
		past += ((-past)%r.Least + r.Least) % r.Least
		b.turnTable(to-past, to, "", "past it")
		b.turnTable(to, to, "", "back to it")
		return
	}
	b.turnTable(to, to, "", "")
}

// turnTable is the row of one movement of the table's wheel.
func (b *bench) turnTable(to, plan measure.Angle, feed, note string) {
	r := b.rot
	delta := to - r.at
	if delta == 0 {
		r.plan = plan
		return
	}
	n, rest := r.Turns(delta)
	way := r.Words[0]
	if delta < 0 {
		way = r.Words[1]
	}
	target := to
	if r.met = delta > 0; !r.met {
		target = to + r.Backlash // the worm's play is not taken up yet
	}
	row := Row{Setup: b.setup.Number, Cut: clean(b.op.Name), Pass: b.pass, Wheel: rotaryLabel, Turn: way, Turns: n, Total: r.total(to), Feed: feed, Note: note,
		angle: &turnRow{rest, r.Shown(to), target}}
	for k := int64(fiveTurns); k <= n && len(row.Ticks) < mostTicks; k += fiveTurns {
		row.Ticks = append(row.Ticks, k)
	}
	r.at, r.plan, r.loose = to, plan, false
	r.dry.reach(to)
	b.table.Rows = append(b.table.Rows, row)
}

// polar is the rows of one move on the rotary table.
func (b *bench) polar(m toolpath.Move) error {
	if b.rot == nil {
		return refusal(b.setup, b.op, "wheels", "a rotary table", "none", "plan it for a machine that has one")
	}
	place := m
	place.Polar, place.To.X, place.To.Y = toolpath.Polar{}, m.Polar.Radius, 0
	switch {
	case m.Kind == toolpath.Rapid:
		return b.rapidAt(place, m.Polar.Angle)
	case m.Kind == toolpath.Arc:
		b.free(rotaryName, true)
		b.turnTable(m.Polar.Angle, m.Polar.Angle, halves(b.tableSeconds(m.Polar.Radius, m.Feed)), "under a light drag")
		return nil
	}
	return b.move(place)
}

// tableSeconds is the time of one turn of the table's wheel, in half seconds, rounded up:
// so long that the cutter goes no faster than the feed along its circle. 355/113 is
// greater than pi by a ten-millionth of it.
func (b *bench) tableSeconds(radius measure.Length, f measure.Feed) int64 {
	r := new(big.Rat).Mul(big.NewRat(2*355, 113), big.NewRat(int64(radius), b.rot.Ratio))
	r.Mul(r, big.NewRat(120, int64(f)))
	n := new(big.Int).Add(r.Num(), new(big.Int).Sub(r.Denom(), big.NewInt(1)))
	half := n.Quo(n, r.Denom()).Int64()
	if half > countable {
		half += half % 2
	}
	return max(half, quickestTurn)
}

// quickestTurn is the least half seconds for a turn of the table's wheel: an arm keeps up
// a turn a second (common practice, no source).
const quickestTurn = 2

// rotaryLegend tells how the table's wheel counts.
func rotaryLegend(r *machines.Rotary) string {
	return fmt.Sprintf("%s is the wheel of the rotary table: turned %s the table goes clockwise, seen from above, so that the cutter goes anticlockwise round the work; a turn is %s, the dial is set to %s; its figures are degrees:minutes:seconds; play %s, so every place is met turning %s; lock the table for a cut along X or Y, and leave a light drag on it for an arc",
		rotaryLabel, r.Words[0], r.PerTurn(), r.Least, r.Backlash, r.Words[0])
}
