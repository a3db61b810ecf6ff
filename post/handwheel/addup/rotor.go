package addup

import (
	"fmt"
	"math/big"
	"strconv"
	"strings"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// rotor is a rotary table: its worm's wheel, and the table, which lags behind it by up
// to its play. Angles are from zero, turning clockwise as seen from above; it is met
// turning that way.
type rotor struct {
	perTurn, play, least measure.Angle
	on, back             string // the words for turning its wheel
	wheel, at            measure.Angle
	known                bool
}

const rotorLabel = "C rotary"

// rotorName is what it is called where it is locked and freed.
const rotorName = "rotary table"

func newRotor(r *machines.Rotary) *rotor {
	if r == nil {
		return nil
	}
	return &rotor{perTurn: measure.FullTurn / measure.Angle(r.Ratio), play: r.Backlash, least: r.Least, on: r.Words[0], back: r.Words[1]}
}

// angle reads degrees, minutes and seconds: "36:52:12", "-3:00:00".
func angle(text string) (measure.Angle, error) {
	wrong := fmt.Errorf("%q is no angle", text)
	rest, neg := strings.CutPrefix(text, "-")
	parts := strings.Split(rest, ":")
	if len(parts) != 3 || len(text) > 30 {
		return 0, wrong
	}
	var sum measure.Angle
	for i, unit := range []measure.Angle{measure.Degree, measure.ArcMinute} {
		n, err := strconv.ParseUint(parts[i], 10, 32)
		if err != nil || i == 1 && n > 59 || n > 100_000 {
			return 0, wrong
		}
		sum += measure.Angle(n) * unit
	}
	whole, frac, dot := strings.Cut(parts[2], ".")
	n, err := strconv.ParseUint(whole, 10, 32)
	if err != nil || n > 59 || dot && (len(frac) == 0 || len(frac) > 6) {
		return 0, wrong
	}
	sum += measure.Angle(n) * measure.ArcSecond
	if dot {
		f, err := strconv.ParseUint(frac+strings.Repeat("0", 6-len(frac)), 10, 32)
		if err != nil {
			return 0, wrong
		}
		sum += measure.Angle(f)
	}
	if neg {
		sum = -sum
	}
	return sum, nil
}

// here is where the cutter stands over the work: the work turns with the table, about
// the zero of X and Y. Where the table stands at zero, or there is none, it is where
// the slides stand.
func (b *bed) here() toolpath.Place {
	p := b.place
	if b.rotor == nil || b.rotor.at%measure.FullTurn == 0 {
		return p
	}
	if !p.Known[0] || !p.Known[1] {
		p.Known[0], p.Known[1] = false, false
		return p
	}
	sin, cos := b.rotor.at.SinCos()
	p.X, p.Y = cos.Of(b.place.X)-sin.Of(b.place.Y), sin.Of(b.place.X)+cos.Of(b.place.Y)
	return p
}

// shows holds a row's reading against what the dial shows.
func (r *rotor) shows(reading string) error {
	want, err := angle(reading)
	if err != nil {
		return err
	}
	if is := ((r.wheel % r.perTurn) + r.perTurn) % r.perTurn; is != want {
		return fmt.Errorf("the dial of the rotary table shows %s and the row says %s", is, reading)
	}
	return nil
}

// mostTurns bounds a movement of the table's wheel.
const mostTurns = 100_000

// table is a row of the rotary table.
func (b *bed) table(row int, c []string) error {
	r := b.rotor
	if r == nil {
		return fault(row, "this machine has no rotary table")
	}
	if c[9] != "deg" {
		return fault(row, "%q is no unit of a rotary table", c[9])
	}
	if c[4] == "" {
		m := dialTo.FindStringSubmatch(c[11])
		if m == nil || m[1] != "" || m[2] != "0" || !strings.Contains(c[11], "turn the wheel "+r.on+", ") {
			return fault(row, "the dial of the rotary table is not set to nought, turning its wheel %s", r.on)
		}
		if b.locked[rotorName] {
			return fault(row, "the rotary table is set to nought and is locked")
		}
		r.wheel, r.at, r.known = 0, 0, true
		b.locked[rotorName] = strings.Contains(c[11], "lock the table")
		if err := r.shows(c[7]); err != nil {
			return fault(row, "%s", err)
		}
		return nil
	}
	if !r.known {
		return fault(row, "the wheel of the rotary table is turned before its dial is set")
	}
	if b.locked[rotorName] {
		return fault(row, "the wheel of the rotary table is turned and is locked")
	}
	turns, err := strconv.ParseInt(c[5], 10, 64)
	if err != nil || turns < 0 || turns > mostTurns {
		return fault(row, "%q is no number of turns", c[5])
	}
	by, err := angle(c[6])
	if err != nil || by < 0 || by >= r.perTurn {
		return fault(row, "%q is not less than a turn of the rotary table's wheel", c[6])
	}
	by += measure.Angle(turns) * r.perTurn
	switch c[4] {
	case r.on:
	case r.back:
		by = -by
	default:
		return fault(row, "%q is no way to turn the wheel of the rotary table", c[4])
	}
	from, was := b.here(), r.at
	r.wheel += by
	r.at = max(r.wheel, min(r.at, r.wheel+r.play))
	if err := r.shows(c[7]); err != nil {
		return fault(row, "%s", err)
	}
	target, err := angle(c[8])
	if err != nil {
		return fault(row, "%s", err)
	}
	if off := target - r.at; off >= r.least || off <= -r.least {
		return fault(row, "the rotary table stands at %s and the row says %s", r.at, c[8])
	}
	m := feedOf.FindStringSubmatch(c[11])
	if m == nil {
		return b.swung(row, was)
	}
	return b.turned(row, m, from, was)
}

// turned is a cut round the table's axis.
func (b *bed) turned(row int, m []string, from toolpath.Place, was measure.Angle) error {
	r := b.rotor
	if !from.AllKnown() || b.op < 0 {
		return fault(row, "a cut is fed from a place that is not known")
	}
	for _, o := range b.slides {
		if name := strings.TrimPrefix(o.label, "Z "); (o.axis < 2 || o == b.z) && !b.locked[name] {
			return fault(row, "a cut is fed and %s is not locked", name)
		}
	}
	if r.at <= was || r.at-was >= measure.FullTurn {
		return fault(row, "a cut is fed round by %s: less than a turn, clockwise", r.at-was)
	}
	halves, err := halfSeconds(m)
	if err != nil {
		return fault(row, "%s", err)
	}
	// 2 pi radius a turn of the table; pi is less than 355/113 by a ten-millionth.
	radius := new(big.Int).Sqrt(new(big.Int).Add(square(b.place.X), square(b.place.Y)))
	f := new(big.Rat).Mul(new(big.Rat).SetInt(radius), big.NewRat(2*355, 113))
	f.Mul(f, big.NewRat(int64(r.perTurn), int64(measure.FullTurn))).Mul(f, big.NewRat(120, halves))
	b.set.Trace.Steps = append(b.set.Trace.Steps, toolpath.Step{Kind: toolpath.Arc, From: from, To: b.here(), Sense: toolpath.Anticlockwise,
		Feed: measure.Feed(nearest(f)), Speed: b.speed, Line: row, Op: b.op})
	return nil
}

func square(l measure.Length) *big.Int {
	v := big.NewInt(int64(l))
	return v.Mul(v, v)
}

// swing is how far the table turns in one step of those that a way in the air is told as:
// its bulge is then under a five-thousandth of a millimetre at 30 mm, and a rapid keeps
// 1 mm clear.
const swing = 2 * measure.Degree

// swung is the table turned with the cutter out of the work.
func (b *bed) swung(row int, was measure.Angle) error {
	r := b.rotor
	end := r.at
	if d := end - was; d > 3*measure.FullTurn || d < -3*measure.FullTurn {
		return fault(row, "the rotary table is turned more than three times round")
	}
	r.at = was
	for r.at != end {
		from := b.here()
		if end > r.at {
			r.at = min(end, r.at+swing)
		} else {
			r.at = max(end, r.at-swing)
		}
		b.set.Trace.Steps = append(b.set.Trace.Steps, toolpath.Step{Kind: toolpath.Rapid, From: from, To: b.here(), Speed: b.speed, Line: row, Op: b.op})
	}
	return nil
}
