package post

import (
	"math/big"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"stopshort/toolpath"
	"stopshort/toolpath/solid"
)

var textRow = regexp.MustCompile(`^ *(\d+) (X \S+|Y \S+|Z \S+) +(clockwise|anticlockwise) +(\d+) \+ (\S+(?: \d+/\d+)?)((?: +\d+(?:\.\d+)?)?) +(\S+) +(\d+ \+ \S+)`)

// text follows the table for people: way, turns and lines, and looks at the dial after
// each. It must end each row where the first operator stood.
func (o *operator) text(table string, first *operator) {
	t := o.t
	moves := 0
	var steps []toolpath.Step // but for the halts, which are sentences
	for _, s := range first.trace.Steps {
		if s.Kind != toolpath.Stop {
			steps = append(steps, s)
		}
	}
	for _, line := range strings.Split(table, "\n") {
		if utf8.RuneCountInString(line) > 100 {
			t.Fatalf("%d characters: %s", utf8.RuneCountInString(line), line)
		}
		m := textRow.FindStringSubmatch(line)
		if m == nil {
			continue
		}
		s := o.find(m[2])
		if moves >= len(steps) {
			t.Fatalf("a row too many: %s", line)
		}
		st := steps[moves]
		if strconv.Itoa(st.Line) != m[1] {
			t.Fatalf("row %d follows in the CSV, and the text has: %s", st.Line, line)
		}
		// Set where the first stood before: dials are set in sentences.
		o.match(s, st, first)
		moves++
		s.turn(fraction(t, m[4]), fraction(t, m[5]), (m[3] == "clockwise") == s.clockwisePlus)
		if s.dial().Cmp(fraction(t, m[7])) != 0 {
			t.Fatalf("the dial shows %s: %s", s.dial().FloatString(3), line)
		}
		if got, want := known(o.placeOf(s)).Along(solid.Axis(o.axis(s))), st.To.Along(solid.Axis(o.axis(s))); (got - want).Abs() > 1 {
			t.Fatalf("the slide stands at %s and stood at %s: %s", got, want, line)
		}
	}
	if moves != len(steps) {
		t.Fatalf("the text has %d movements and the CSV %d", moves, len(steps))
	}
}

func (o *operator) placeOf(s *screw) (p [3]*big.Rat) {
	p[o.axis(s)] = s.slide
	return p
}

// match begins a screw's life where the first operator's movement began after a dial
// was set: only then do the two differ.
func (o *operator) match(s *screw, st toolpath.Step, first *operator) {
	a := o.axis(s)
	from := st.From.Along(solid.Axis(a))
	if s.set && (known(o.placeOf(s)).Along(solid.Axis(a))-from).Abs() <= 1 {
		return
	}
	f := first.find(s.label)
	// A dial is set on a whole step.
	n := new(big.Rat).Quo(big.NewRat(int64(from), 1), s.step())
	n.Add(n, big.NewRat(1, 2))
	whole := new(big.Int).Div(n.Num(), n.Denom())
	at := new(big.Rat).Mul(s.step(), new(big.Rat).SetInt(whole))
	s.touch(at, f.low.Sign() == 0 && f.high.Sign() >= 0 && (f.high.Sign() > 0 || f.play.Sign() == 0))
	s.low, s.high = f.low, f.high
}
