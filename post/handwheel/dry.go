package handwheel

import (
	"fmt"
	"strings"
)

// dry is how far a wheel goes in the cut in hand, to both sides.
type dry[T ~int64] struct{ low, high T }

func (d *dry[T]) from(at T) { d.low, d.high = at, at }

func (d *dry[T]) reach(at T) { d.low, d.high = min(d.low, at), max(d.high, at) }

// dryRun is the walk through the cut in hand with the cutter raised: from its first place
// over all that each wheel reaches to its last, and back. What it reaches is filled in once
// its rows are laid out.
func (b *bench) dryRun() error {
	start, err := b.starts()
	if err != nil {
		return err
	}
	b.unlockCross()
	z := b.now(2)
	b.dried, b.start = len(b.table.Rows), start
	high := fmt.Sprintf("%s at %s", b.by, z.total(z.at))
	if z.raises(b.machine) {
		high = fmt.Sprintf("%s lowered, the cutter at %s", b.by, z.total(z.at))
	}
	b.say("spindle off: dry run of %s, %s all the way: starts at %s; %s; then back to %s", b.op.Name, high, start, reachMark, b.stand())
	for _, w := range []*wheel{b.xy[0], b.xy[1], z} {
		w.dry.from(w.at)
	}
	if b.rot != nil {
		b.rot.dry.from(b.rot.at)
	}
	b.speed = 0
	b.leave()
	return nil
}

// starts is where the wheels stand at the cut's first place.
func (b *bench) starts() (string, error) {
	m, ok := firstMove(b.op)
	if !ok {
		return b.standing(), nil
	}
	if m.Polar.On {
		m.To.X, m.To.Y = m.Polar.Radius, 0
	}
	x, err := b.xy[0].steps(m.To.X)
	if err != nil {
		return "", err
	}
	y, err := b.xy[1].steps(m.To.Y)
	told := fmt.Sprintf("X %s, Y %s", b.xy[0].total(x), b.xy[1].total(y))
	if b.rot != nil {
		told += ", rotary table " + b.rot.total(m.Polar.Angle)
	}
	return told, err
}

// ran fills in what the wheels reach in the cut whose rows are laid out, and where they
// end.
func (b *bench) ran() {
	var between []string
	for i, w := range b.xy {
		if w.dry.low != w.dry.high {
			between = append(between, fmt.Sprintf("%s %s to %s", axisNames[i], w.total(w.dry.low), w.total(w.dry.high)))
		}
	}
	if b.rot != nil && b.rot.dry.low != b.rot.dry.high {
		between = append(between, fmt.Sprintf("rotary table %s to %s", b.rot.total(b.rot.dry.low), b.rot.total(b.rot.dry.high)))
	}
	say := "ends at " + b.standing()
	if len(between) > 0 {
		say = "reaches " + strings.Join(between, ", ") + "; " + say
	}
	r := &b.table.Rows[b.dried]
	r.Note = strings.Replace(r.Note, reachMark, say, 1)
	b.walked(say)
}

// walk is a cut's dry run as it stands before all rows: its row, where it goes, how deep
// the cut will, and what halts it.
type walk struct {
	setup, row int // the row's place
	text       string
}

// walked takes in the dry run of the cut in hand, whose rows are laid out; between is what
// its wheels reach and where they end.
func (b *bench) walked(between string) {
	z := b.now(2)
	halts := "no nut halts it"
	if b.nut != nil {
		halts = fmt.Sprintf("the nut at %s below zero", b.down(-*b.nut))
	}
	b.table.walks = append(b.table.walks, walk{b.setup.Number, b.dried, fmt.Sprintf("%s: starts at %s; %s; deepest %s, dial %s; %s",
		clean(b.op.Name), b.start, between, z.total(z.dry.low), z.shownText(z.dry.low), halts)})
}

// standing is where the wheels stand that move the cutter over the work.
func (b *bench) standing() string {
	s := fmt.Sprintf("X %s, Y %s", b.xy[0].total(b.xy[0].at), b.xy[1].total(b.xy[1].at))
	if b.rot != nil {
		s += ", rotary table " + b.rot.total(b.rot.at)
	}
	return s
}

// stand is where all wheels stand; before Z is touched it has no place.
func (b *bench) stand() string {
	if z := b.now(2); z != nil && z.known {
		return fmt.Sprintf("%s, %s %s", b.standing(), b.by, z.total(z.at))
	}
	return b.standing()
}
