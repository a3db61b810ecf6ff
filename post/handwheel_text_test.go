package post

import (
	"math/big"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"pgregory.net/rapid"

	"stopshort/toolpath"
	"stopshort/toolpath/solid"
)

var textRow = regexp.MustCompile(`^ *(\d+) (X \S+|Y \S+|Z \S+) +(clockwise|anticlockwise) +(\d+) \+ (\S+(?: \d+/\d+)?)((?: +\d+(?:\.\d+)?)?) +(\S+) +(\d+ \+ \S+(?: \d+/\d+)?(?: (?:left|right|front|back|down|up|far|near|low|high|deep|out))?)`)

// numbered is a line that begins a row, or says which rows others stand for.
var numbered = regexp.MustCompile(`^(?: {0,3}(\d+)|     rows (\d+) to (\d+):) `)

// tableRow is a row of the rotary table: as textRow, with angles for lines.
var tableRow = regexp.MustCompile(`^ *(\d+) C rotary +(clockwise|anticlockwise) +(\d+) \+ (\S+)((?: +\d+(?:\.\d+)?)?) +(\S+) +(\d+ \+ \S+(?: back)?)`)

// count is turns and lines: "6 + 70", "0 + 20 1/3".
const count = `(\d+) \+ (\S+(?: \d+/\d+)?)`

// repeated sends back to rows that were printed: which rows they are, those to do again,
// the wheel, its way to where it is fed from, its way to the depth, and its way out; each
// way is how far, the total, and the dial.
var repeated = regexp.MustCompile(`^rows (\d+) to (\d+): rows (\d+) to (\d+) again, done to(?: \d+\[ \])+, but (Z \S+) (?:goes|is) ` +
	`(?:(?:down|deeper|raised) by ` + count + ` to (.+?), dial (.+?), then )?` +
	`(?:down|deeper|raised) by ` + count + `(?: at (\S+) s/turn)? to (.+?) each time, dial (.+?), also where it is read again, \S+ (?:mm|in)(?:, \S+ to the stop)?` +
	`(?:; and (?:up|out|lowered) by ` + count + ` each time, to (.+?), dial (.+?))?(?:; each way (?:down|deeper|raised) is two rows here)?$`)

// textMove is a movement of the text, and the total that it ends at.
type textMove struct {
	label, turn, turns, lines, reading, total string
}

// atTotal is the wheel's place from a total: "2 + 34 down".
func atTotal(t *rapid.T, s *screw, total string) *big.Rat {
	f := strings.Fields(total)
	at := new(big.Rat).Quo(fraction(t, strings.Join(f[2:len(f)-1], " ")), s.lines)
	at.Add(at, fraction(t, f[0])).Mul(at, s.lead)
	if side := f[len(f)-1]; side == "down" || side == "deep" {
		at.Neg(at)
	}
	return at
}

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
	byRow := map[int]textMove{}
	do := func(row int, m textMove, line string) {
		s := o.find(m.label)
		if moves >= len(steps) {
			t.Fatalf("a row too many: %s", line)
		}
		st := steps[moves]
		if st.Line != row {
			t.Fatalf("row %d follows in the CSV, and the text has %d: %s", st.Line, row, line)
		}
		// Set where the first stood before: dials are set in sentences.
		o.match(s, st, first)
		moves++
		s.turn(fraction(t, m.turns), fraction(t, m.lines), (m.turn == "clockwise") == s.clockwisePlus)
		if m.reading != "" && s.dial().Cmp(fraction(t, m.reading)) != 0 {
			t.Fatalf("the dial shows %s: %s", s.dial().FloatString(3), line)
		}
		if first.askew[row] && o.axis(s) < 2 {
			return
		}
		if got, want := known(o.placeOf(s)).Along(solid.Axis(o.axis(s))), st.To.Along(solid.Axis(o.axis(s))); (got - want).Abs() > 1 {
			t.Fatalf("the slide stands at %s and stood at %s: %s", got, want, line)
		}
	}
	// by is a movement as a sentence has it: how far, to which total, and what the dial shows.
	by := func(s *screw, plus bool, turns, lines, total, reading, line string) textMove {
		turn := "anticlockwise"
		if plus == s.clockwisePlus {
			turn = "clockwise"
		}
		way := new(big.Rat).Quo(fraction(t, lines), s.lines)
		way.Add(way, fraction(t, turns)).Mul(way, s.lead)
		if !plus {
			way.Neg(way)
		}
		if way.Add(way, s.wheel).Cmp(atTotal(t, s, total)) != 0 {
			t.Fatalf("%s + %s do not come to %s: %s", turns, lines, total, line)
		}
		return textMove{s.label, turn, turns, lines, reading, total}
	}
	lines := strings.Split(table, "\n")
	next, rows := 1, false // no row may seem lost
	for n, line := range lines {
		rows = rows || strings.HasPrefix(line, "=====")
		if m := numbered.FindStringSubmatch(line); m != nil && rows {
			if first, _ := strconv.Atoi(m[1] + m[2]); first != next {
				t.Fatalf("row %d is missing before: %s", next, line)
			}
			if next++; m[3] != "" {
				next, _ = strconv.Atoi(m[3])
				next++
			}
		}
		if utf8.RuneCountInString(line) > 100 {
			t.Fatalf("%d characters: %s", utf8.RuneCountInString(line), line)
		}
		if strings.HasPrefix(line, "     rows ") {
			whole := strings.TrimSpace(line)
			for k := n + 1; k < len(lines) && strings.HasPrefix(lines[k], "     ") && strings.TrimSpace(lines[k]) != ""; k++ {
				whole += " " + strings.TrimSpace(lines[k])
			}
			m := repeated.FindStringSubmatch(whole)
			if m == nil {
				t.Fatalf("no rows to do again: %s", whole)
			}
			var at [4]int
			for i := range at {
				at[i], _ = strconv.Atoi(m[i+1])
			}
			shift := 0
			for from := at[2]; from <= at[3]; from++ {
				row := at[0] + from - at[2] + shift
				x, ok := byRow[from]
				down := ok && x.label[0] == 'Z' && (x.turn == "clockwise") != o.find(x.label).clockwisePlus
				switch {
				case !ok: // a sentence
				case x.label[0] != 'Z':
					do(row, x, whole)
				case !down:
					do(row, by(o.find(x.label), true, m[15], m[16], m[17], m[18], whole), whole)
				default:
					if m[6] != "" {
						do(row, by(o.find(x.label), false, m[6], m[7], m[8], m[9], whole), whole)
						shift++
						row++
					}
					do(row, by(o.find(x.label), false, m[10], m[11], m[13], m[14], whole), whole)
				}
			}
			if at[0]+at[3]-at[2]+shift != at[1] {
				t.Fatalf("the rows do not come out: %s", whole)
			}
			continue
		}
		if m := tableRow.FindStringSubmatch(line); m != nil {
			row, _ := strconv.Atoi(m[1])
			o.worm.wind(fraction(t, m[3]), seconds(t, m[4]), m[2])
			if o.worm.dial().Cmp(seconds(t, m[6])) != 0 {
				t.Fatalf("the dial of the rotary table shows %s seconds: %s", o.worm.dial().FloatString(2), line)
			}
			for moves < len(steps) && steps[moves].Line == row {
				moves++
			}
			continue
		}
		m := textRow.FindStringSubmatch(line)
		if m == nil {
			continue
		}
		row, _ := strconv.Atoi(m[1])
		x := textMove{m[2], m[3], m[4], m[5], m[7], m[8]}
		byRow[row] = x
		do(row, x, line)
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
	if s.set && a < 2 && first.askew[st.Line] {
		return
	}
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
