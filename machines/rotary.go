package machines

import (
	"fmt"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
)

// Rotary is a rotary table: a worm that a wheel turns, so many turns for one of the
// table. Its angles are counted with the table turning clockwise, seen from above: so
// the cutter goes anticlockwise round the work, which is conventional outside.
type Rotary struct {
	Ratio    int64         // turns of the wheel for one of the table
	Least    measure.Angle // the finest that its dial can be set to
	Backlash measure.Angle // play of the worm, at the table
	Words    [2]string     // turning the wheel so that the table goes clockwise, and back
	Plates   []int64       // circles of holes of its dividing plates
}

// The defaults: the dial's vernier of ten seconds is "a rotary table manual, p.12-13" (90
// to 1, marked in minutes); the play is common practice, no source.
var rotaryTable = &form.Table{
	Help: "A rotary table that is bolted to the machine's table when it is asked for, its axis upright",
	Keys: []form.Key{
		{Name: "ratio", Kind: form.Count, Required: true, Min: "4", Max: "400", Help: "turns of its wheel for one turn of the table"},
		{Name: "least", Kind: form.Angle, Default: `10"`, Above: "0 deg", Max: "1 deg", Help: "the finest that its dial, with a vernier where it has one, can be set to"},
		{Name: "backlash", Kind: form.Angle, Default: "15'", Min: "0 deg", Max: "5 deg", Help: "play of the worm, as the table's angle"},
		{Name: "clockwise_turns", Kind: form.Word, Choices: []string{"clockwise", "anticlockwise"}, Default: "clockwise", Help: "which way the table goes, seen from above, when its wheel is turned clockwise"},
		{Name: "plates", Kind: form.Counts, Min: "1", Max: "1000", Help: "the circles of holes of its dividing plates"},
	},
}

func readRotary(n *form.Node) *Rotary {
	r := &Rotary{Ratio: n.Count("ratio"), Least: n.Angle("least"), Backlash: n.Angle("backlash"), Words: [2]string{"clockwise", "anticlockwise"}}
	if n.Has("plates") {
		r.Plates = n.Counts("plates")
	}
	if n.Word("clockwise_turns") == "anticlockwise" {
		r.Words[0], r.Words[1] = r.Words[1], r.Words[0]
	}
	switch {
	case measure.FullTurn%measure.Angle(r.Ratio) != 0:
		n.Fault("ratio", "%d turns do not divide 360 deg into whole millionths of a second: write a ratio such as 36, 40, 60, 72, 80, 90 or 120", r.Ratio)
	case r.PerTurn()%r.Least != 0:
		n.Fault("least", "%s does not divide a turn of %s: write what a mark of the dial or the vernier is", r.Least, r.PerTurn())
	}
	return r
}

// PerTurn is how far the table goes for one turn of its wheel.
func (r Rotary) PerTurn() measure.Angle { return measure.FullTurn / measure.Angle(r.Ratio) }

// Turns is an angle as whole turns of the wheel from zero and what is beyond them, of
// its size where it is below nought.
func (r Rotary) Turns(a measure.Angle) (turns int64, rest measure.Angle) {
	if a < 0 {
		a = -a
	}
	return int64(a / r.PerTurn()), a % r.PerTurn()
}

// Shown is what the dial shows at an angle: from nought to below a turn.
func (r Rotary) Shown(a measure.Angle) measure.Angle {
	return ((a % r.PerTurn()) + r.PerTurn()) % r.PerTurn()
}

// AngleText is an angle from nought on as degrees, minutes and seconds: "0:52:12",
// "12:00:00.5".
func AngleText(a measure.Angle) string {
	s := fmt.Sprintf("%d:%02d:%02d", a/measure.Degree, a%measure.Degree/measure.ArcMinute, a%measure.ArcMinute/measure.ArcSecond)
	if f := a % measure.ArcSecond; f != 0 {
		s += trimZeros(fmt.Sprintf(".%06d", f))
	}
	return s
}

func trimZeros(s string) string {
	for s[len(s)-1] == '0' {
		s = s[:len(s)-1]
	}
	return s
}

// facts tells of a rotary table.
func (r Rotary) facts(add func(label, format string, args ...any)) {
	add("rotary table", "%d to 1, a turn of its wheel is %s, set to %s", r.Ratio, r.PerTurn(), r.Least)
	add("its play", "%s", r.Backlash)
	add("its wheel", "turned %s the table goes clockwise, seen from above", r.Words[0])
	if len(r.Plates) > 0 {
		s := ""
		for _, p := range r.Plates {
			s += fmt.Sprintf(", %d", p)
		}
		add("its plates", "circles of %s holes", s[2:])
	}
}
