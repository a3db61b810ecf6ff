package post

import (
	"encoding/csv"
	"flag"
	"fmt"
	"math/big"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stopshort/machines"
	"stopshort/post/handwheel"
	"stopshort/toolpath"
	"stopshort/toolpath/job"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/recipe"
	"stopshort/toolpath/solid"
)

// screw is a simulated screw with its nut and its dial, known to the test and not read
// from the machine: a turn clockwise sends the cutter to the side given, and the
// slide follows only once the play is taken up. Lengths are tenths of a nanometre.
type screw struct {
	label             string
	lead, lines, play *big.Rat
	clockwisePlus     bool
	falls             bool
	half              bool
	wheel, slide      *big.Rat
	low, high         *big.Rat // the slide is between wheel + low and wheel + high
	set               bool
	locked            bool
}

// touch sets the dial so that its zero is the slide's, with the nut hard on the side
// that the last turn pressed it to: a row that says the wrong way leaves the play on
// the bad side.
func (s *screw) touch(at *big.Rat, plus bool) {
	s.wheel, s.slide, s.set = new(big.Rat).Set(at), new(big.Rat).Set(at), true
	s.low, s.high = new(big.Rat), s.play
	if !plus {
		s.low, s.high = new(big.Rat).Neg(s.play), new(big.Rat)
	}
}

func (s *screw) turn(turns, lines *big.Rat, plus bool) {
	by := new(big.Rat).Quo(lines, s.lines)
	by.Add(by, turns).Mul(by, s.lead)
	if !plus {
		by.Neg(by)
	}
	s.wheel.Add(s.wheel, by)
	if low := new(big.Rat).Add(s.wheel, s.low); s.slide.Cmp(low) < 0 {
		s.slide = low
	}
	if high := new(big.Rat).Add(s.wheel, s.high); s.slide.Cmp(high) > 0 {
		s.slide = high
	}
}

// dial is what stands at the mark.
func (s *screw) dial() *big.Rat {
	n := new(big.Rat).Quo(s.wheel, s.lead)
	n.Mul(n, s.lines)
	if s.clockwisePlus == s.falls {
		n.Neg(n)
	}
	t := new(big.Rat).Quo(n, s.lines)
	floor := new(big.Int).Div(t.Num(), t.Denom())
	return n.Sub(n, new(big.Rat).Mul(s.lines, new(big.Rat).SetInt(floor)))
}

func (s *screw) step() *big.Rat {
	v := new(big.Rat).Quo(s.lead, s.lines)
	if s.half {
		v.Quo(v, big.NewRat(2, 1))
	}
	return v
}

// ended is where a cut ended, and where it came from.
type ended struct {
	axis     int
	at, from [3]*big.Rat
	op       int
	row      int
}

// operator follows a table.
type operator struct {
	t      *rapid.T
	screws []*screw
	z      *screw
	cuts   []ended
	trace  toolpath.Trace
	op     int
	spin   measure.Speed
}

func (o *operator) axis(s *screw) int { return strings.IndexByte("XYZ", s.label[0]) }

func (o *operator) find(label string) *screw {
	for _, s := range o.screws {
		if s.label == label || s.label[0] != 'Z' && s.label[0] == label[0] {
			return s
		}
	}
	o.t.Fatalf("no wheel is called %q", label)
	return nil
}

func fraction(t *rapid.T, text string) *big.Rat {
	sum := new(big.Rat)
	for _, part := range strings.Fields(text) {
		r, ok := new(big.Rat).SetString(part)
		if !ok {
			t.Fatalf("%q is no number", text)
		}
		sum.Add(sum, r)
	}
	return sum
}

func (o *operator) place() (p [3]*big.Rat) {
	for _, s := range o.screws {
		if i := o.axis(s); (i < 2 || s == o.z) && s.set {
			p[i] = new(big.Rat).Set(s.slide)
		}
	}
	return p
}

func known(p [3]*big.Rat) (out toolpath.Place) {
	for i, v := range p {
		if v == nil {
			continue
		}
		f, _ := new(big.Rat).Add(v, big.NewRat(1, 2)).Float64() // below 2^53: exact enough to floor
		n := measure.Length(f)
		if float64(n) > f {
			n--
		}
		out.Point = out.With(solid.Axis(i), n)
		out.Known[i] = true
	}
	return out
}

var (
	opensCut = regexp.MustCompile(`^cut (\d+) of `)
	turningW = regexp.MustCompile(`turning (\S+);`)
	spinsAt  = regexp.MustCompile(`^spindle on at (\S+) rpm`)
	setTo    = regexp.MustCompile(`dial set to (back )?(\d+) turns? \+ ([^;]+)`)
	secondsA = regexp.MustCompile(`^feed (\S+) s a turn`)
)

// rows follows the CSV, row by row.
func (o *operator) rows(text []byte) {
	t := o.t
	all, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for n, c := range all[1:] {
		note := c[11]
		if c[3] == "" {
			o.sentence(note)
			continue
		}
		s := o.find(c[3])
		if c[4] == "" {
			m := setTo.FindStringSubmatch(note)
			if m == nil {
				t.Fatalf("row %d sets no dial: %s", n+1, note)
			}
			at := new(big.Rat).Quo(fraction(t, m[3]), s.lines)
			at.Add(at, fraction(t, m[2])).Mul(at, s.lead)
			if m[1] != "" {
				at.Neg(at)
			}
			plus := false // Z is touched going down
			if o.axis(s) < 2 {
				w := turningW.FindStringSubmatch(note)
				if w == nil {
					t.Fatalf("row %d does not say which way zero is picked up: %s", n+1, note)
				}
				plus = (w[1] == "clockwise") == s.clockwisePlus
			} else {
				o.z = s
			}
			s.touch(at, plus)
			if s.dial().Cmp(fraction(t, c[7])) != 0 {
				t.Fatalf("row %d: the dial shows %s, the row says %s", n+1, s.dial(), c[7])
			}
			continue
		}
		if !s.set || s.locked {
			t.Fatalf("row %d turns the wheel of %s, which is locked or has no zero", n+1, s.label)
		}
		from := o.place()
		s.turn(fraction(t, c[5]), fraction(t, c[6]), (c[4] == "clockwise") == s.clockwisePlus)
		if s.dial().Cmp(fraction(t, c[7])) != 0 {
			t.Fatalf("row %d: the dial of %s shows %s, the row says %s", n+1, s.label, s.dial().FloatString(3), c[7])
		}
		to := o.place()
		step := toolpath.Step{Kind: toolpath.Rapid, From: known(from), To: known(to), Speed: o.spin, Line: n + 1, Op: o.op}
		if m := secondsA.FindStringSubmatch(note); m != nil {
			for _, other := range o.screws {
				if other != s && (o.axis(other) < 2 || other == o.z) && !other.locked {
					t.Fatalf("row %d is a cut, and %s is not locked", n+1, other.label)
				}
			}
			step.Kind = toolpath.Line
			f := new(big.Rat).Quo(new(big.Rat).Mul(s.lead, big.NewRat(60, 1)), fraction(t, m[1]))
			v, _ := f.Float64()
			step.Feed = measure.Feed(v)
			o.cuts = append(o.cuts, ended{o.axis(s), to, from, o.op, n + 1})
		}
		o.trace.Steps = append(o.trace.Steps, step)
	}
	o.trace.Ended = true
}

func (o *operator) sentence(note string) {
	if opensCut.MatchString(note) {
		o.op++
	}
	if strings.HasPrefix(note, "spindle off") {
		o.spin = 0
	}
	if strings.Contains(note, "fit tool") {
		if o.z != nil {
			o.z.set = false
		}
		for _, s := range o.screws {
			s.locked = false
		}
	}
	if m := spinsAt.FindStringSubmatch(note); m != nil {
		v, _ := strconv.Atoi(m[1])
		o.spin = measure.Speed(v) * measure.RPM
	}
	for _, part := range strings.Split(note, "; ") {
		word, rest, _ := strings.Cut(part, " ")
		if word != "lock" && word != "free" {
			continue
		}
		rest, _, _ = strings.Cut(rest, " and read")
		for _, name := range strings.Split(rest, " and ") {
			found := false
			for _, s := range o.screws {
				if s.label == name || s.label == "Z "+name {
					s.locked, found = word == "lock", true
				}
			}
			if !found {
				o.t.Fatalf("%q locks nothing that there is", note)
			}
		}
	}
}

// dials are screws and dials as they are met ("Manual machine facts", 1.1), and odd
// ones: lead as a file says it, its size, lines.
var dials = []struct {
	lead        string
	size        *big.Rat // millimetres a turn
	lines       string
	linesOnDial *big.Rat
}{
	{"0.100 in", big.NewRat(254, 100), "100", big.NewRat(100, 1)},
	{"0.200 in", big.NewRat(508, 100), "200", big.NewRat(200, 1)},
	{"16 TPI", big.NewRat(254, 160), "62.5", big.NewRat(125, 2)},
	{"8 TPI", big.NewRat(254, 80), "125", big.NewRat(125, 1)},
	{"20 TPI", big.NewRat(254, 200), "50", big.NewRat(50, 1)},
	{"14/11 mm", big.NewRat(14, 11), "50", big.NewRat(50, 1)},
	{"1 mm", big.NewRat(1, 1), "20", big.NewRat(20, 1)},
	{"1.5 mm", big.NewRat(3, 2), "60", big.NewRat(60, 1)},
	{"2 mm", big.NewRat(2, 1), "100", big.NewRat(100, 1)},
	{"2.5 mm", big.NewRat(5, 2), "125", big.NewRat(125, 1)},
	{"3 mm", big.NewRat(3, 1), "60", big.NewRat(60, 1)},
	{"4 mm", big.NewRat(4, 1), "80", big.NewRat(80, 1)},
	{"5 mm", big.NewRat(5, 1), "250", big.NewRat(250, 1)},
}

// drawScrew is a screw of any kind with the keys that say it in a machine file.
func drawScrew(t *rapid.T, label string) (*screw, string) {
	d := rapid.SampledFrom(dials).Draw(t, label+" dial")
	play := rapid.Int64Range(0, 900).Draw(t, label+" backlash, um")
	s := &screw{
		label: label, lines: d.linesOnDial, play: big.NewRat(play*10_000, 1),
		lead:          new(big.Rat).Mul(d.size, big.NewRat(10_000_000, 1)),
		clockwisePlus: rapid.Bool().Draw(t, label+" clockwise plus"),
		falls:         rapid.Bool().Draw(t, label+" numbers fall"),
		half:          rapid.Bool().Draw(t, label+" half lines"),
	}
	sign := map[bool]string{true: "+", false: "-"}
	keys := fmt.Sprintf("wheel = \"wheel\"\ntravel = 300\nlead = %q\nlines = %s\nclockwise = %q\nbacklash = \"%d um\"\nhalf_lines = %v\n",
		d.lead, d.lines, sign[s.clockwisePlus], play, s.half)
	if s.falls {
		keys += "numbers = \"fall\"\n"
	}
	if label[0] != 'Z' && rapid.Bool().Draw(t, label+" approach said") {
		keys += fmt.Sprintf("approach = %q\n", sign[rapid.Bool().Draw(t, label+" approach")])
	}
	return s, keys
}

// drawMachine is a machine file and the screws that it describes.
func drawMachine(t *rapid.T) (string, []*screw) {
	two := rapid.Bool().Draw(t, "two wheels set Z")
	text := "kind = \"mill\"\nunits = \"mm\"\ndepth_by = \"head\"\n"
	if two {
		text += "mill_by = \"head\"\ndrill_by = \"quill\"\n"
	}
	var screws []*screw
	for _, l := range []string{"X", "Y", "Z head"} {
		s, keys := drawScrew(t, l)
		screws = append(screws, s)
		text += "[" + strings.ToLower(l[:1]) + "]\n" + keys
	}
	if two {
		s, keys := drawScrew(t, "Z quill")
		screws = append(screws, s)
		text += "[second_z]\nby = \"quill\"\n" + keys
	}
	repeat := "0"
	if rapid.Bool().Draw(t, "a nut") {
		text += fmt.Sprintf("[stop]\nkind = \"nut\"\nstep = \"%d um\"\n", rapid.Int64Range(5, 100).Draw(t, "nut's step, um"))
		repeat = "0.01"
	}
	text += "[spindle]\nlow = 40\nhigh = 6000\n[feeds]\nlow = 1\nhigh = 300\ndown = 150\n[errors]\n" +
		"touch_z = 0.01\ntouch_xy = 0.01\nsetting = 0.01\nstop = " + repeat + "\nplay = 0.01\nlead = \"0.01 mm in 100 mm\"\n" +
		"tilt = \"0.01 mm in 100 mm\"\nrun_out = 0.01\nbend = 0.01\nplace = 0.01\ndiameter = 0.01\n"
	return text, screws
}

// drawJob is a job with slots, faces and holes in a block of 60 by 40 by 20.
func drawJob(t *rapid.T) string {
	um := func(n int64) string { return fmt.Sprintf("\"%d um\"", n) }
	draw := func(lo, hi int64, what string) string { return um(rapid.Int64Range(lo, hi).Draw(t, what)) }
	var zero [3]int64 // in the part's frame, whose zero is on the block's top, in its middle
	for i, reach := range []int64{40_000, 30_000, 3_000} {
		zero[i] = rapid.Int64Range(-reach, reach).Draw(t, "zero")
	}
	at := func(axis int, lo, hi int64, what string) string {
		return um(rapid.Int64Range(lo, hi).Draw(t, what) - zero[axis])
	}
	text := "units = \"mm\"\nmaterial = \"brass\"\nstock = { low = [-30, -20, -20], size = [60, 40, 20] }\n" +
		"[[tool]]\nnumber = 1\nkind = \"slot drill\"\ndiameter = 4\nflute_length = 12\nstick_out = 30\nholder = 20\n" +
		"[[tool]]\nnumber = 2\nkind = \"spot drill\"\ndiameter = 3\nflute_length = 10\nstick_out = 30\nholder = 16\n" +
		"[[tool]]\nnumber = 3\nkind = \"drill\"\ndiameter = 2.5\nflute_length = 26\nstick_out = 35\nholder = 16\n" +
		fmt.Sprintf("[[setup]]\ntouch_at = [%s, %s]\nzero = [%s, %s, %s]\n", um(28_000-zero[0]), um(18_000-zero[1]), um(zero[0]), um(zero[1]), um(zero[2]))
	for i := range rapid.IntRange(1, 3).Draw(t, "cuts") {
		text += fmt.Sprintf("[[setup.cut]]\nname = \"c%d\"\n", i)
		pair := func() string {
			return fmt.Sprintf("points = [%s, %s, %s, %s]\n", at(0, -22_000, -5_000, "x1"), at(1, -12_000, 12_000, "y1"),
				at(0, 5_000, 22_000, "x2"), at(1, -12_000, 12_000, "y2"))
		}
		// a depth is from the zero
		deep := func(lo, hi int64) string {
			return um(max(rapid.Int64Range(lo, hi).Draw(t, "deep")+zero[2], 1))
		}
		switch rapid.IntRange(0, 2).Draw(t, "recipe") {
		case 0:
			a, b, c := at(0, -24_000, -4_000, "from"), at(0, 4_000, 22_000, "to"), at(1, -14_000, 12_000, "aside")
			from, to := "["+a+", "+c+"]", "["+b+", "+c+"]"
			if rapid.Bool().Draw(t, "along y") {
				a, b, c = at(1, -16_000, -4_000, "from"), at(1, 4_000, 14_000, "to"), at(0, -24_000, 22_000, "aside")
				from, to = "["+c+", "+a+"]", "["+c+", "+b+"]"
			}
			ends := rapid.SampledFrom([]string{"open", "closed", "open at from", "open at to"}).Draw(t, "ends")
			text += fmt.Sprintf("recipe = \"slot\"\ntool = 1\nfrom = %s\nto = %s\nends = %q\nwidth = %s\ndepth = %s\nstep = %s\n",
				from, to, ends, um(2*rapid.Int64Range(2_000, 3_500).Draw(t, "half the width")), deep(200, 6_000), draw(300, 2_000, "step"))
		case 1:
			text += fmt.Sprintf("recipe = \"spot face\"\ntool = 1\ndiameter = 4\ndeep = %s\n", draw(200, 3_000, "face")) + pair()
		case 2:
			text += fmt.Sprintf("recipe = \"bolt holes\"\nscrew = \"M3\"\nhole = \"tapped\"\ndepth = %s\nspot = 2\ndrill = 3\n", draw(3_000, 9_000, "thread")) + pair()
		}
	}
	return text
}

// manyOperators is how many machines and jobs are followed where the call does not say
// (go test ./post -run Operator -rapid.checks=20000).
const manyOperators = 300

// TestOperator: whoever follows the printed rows on any screws, the play at first on
// its bad side, ends every cut within a step of the dial of the plan, on its safe
// side, and breaks no limit on the way; and whoever follows the text's turns and
// checks its dial ends at the same places.
func TestOperator(t *testing.T) {
	if f := flag.Lookup("rapid.checks"); f != nil && f.Value.String() == f.DefValue {
		if err := f.Value.Set(strconv.Itoa(manyOperators)); err != nil {
			t.Fatal(err)
		}
		defer f.Value.Set(f.DefValue)
	}
	var followed, cuts, refused, unplanned int
	rapid.Check(t, func(t *rapid.T) {
		text, screws := drawMachine(t)
		m, err := machines.Read("random.toml", []byte(text))
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		jobText := drawJob(t)
		j, err := job.Read("random.toml", []byte(jobText), recipe.Tables())
		if err != nil {
			t.Fatalf("%v\n%s", err, jobText)
		}
		p, err := recipe.Plan(j, m)
		if err != nil {
			unplanned++
			return
		}
		h, err := ByHand(p, []int{0}, j.Material, m)
		if err != nil {
			t.Fatalf("%v\n%s\n%s", err, text, jobText)
		}
		for _, v := range h.Verdicts {
			if v.Stops() {
				refused++
				return
			}
		}
		o := &operator{t: t, screws: screws, op: -1}
		o.rows(h.CSV)
		s := p.Setups[0]
		s.Operations = append([]toolpath.Operation(nil), s.Operations...)
		for i := range s.Operations {
			s.Operations[i] = handwheel.Held(s.Operations[i], m)
		}
		o.hold(s)
		onItsLines(&o.trace, h.Traces[0])
		judge := limit.New(&s, m)
		judge.Program("", s.Operations, &o.trace)
		for _, v := range judge.Verdicts() {
			// A slide's place is told to the tenth of a nanometre.
			if v.Stops() && v.High < v.NeverLess-2 {
				t.Fatalf("row %d breaks %s: %d left, never less than %d\n%s\n%s", v.Where, v.Limit, v.Planned, v.NeverLess, text, jobText)
			}
		}
		second := &operator{t: t, op: -1}
		for _, s := range screws {
			c := *s
			c.set, c.locked = false, false
			second.screws = append(second.screws, &c)
		}
		second.text(h.Table.Text(), o)
		followed++
		cuts += len(o.cuts)
	})
	t.Logf("%d tables followed, %d cuts; %d jobs refused by a limit, %d not planned", followed, cuts, refused, unplanned)
	if followed < 30 {
		t.Errorf("%d tables are too few to tell", followed)
	}
}

// onItsLines puts places on those of the table's own trace where they are the same to
// the tenth of a nanometre: a line need not be whole, and the judge asks for holes at
// just their places.
func onItsLines(trace, table *toolpath.Trace) {
	near := func(p *toolpath.Place, q toolpath.Place) {
		for _, a := range []solid.Axis{solid.X, solid.Y, solid.Z} {
			if v := q.Along(a); p.Known[a] && (p.Along(a)-v).Abs() <= 1 {
				p.Point = p.With(a, v)
			}
		}
	}
	for i := range trace.Steps {
		near(&trace.Steps[i].From, table.Steps[i].From)
		near(&trace.Steps[i].To, table.Steps[i].To)
	}
}

// hold holds the cuts against the plan's.
func (o *operator) hold(s toolpath.Setup) {
	t := o.t
	k := 0
	for i, op := range s.Operations {
		var at solid.Point
		for _, pass := range op.Passes {
			for _, mv := range pass.Moves {
				from := at
				at = mv.To
				if mv.Kind == toolpath.Rapid || mv.To == from {
					continue
				}
				if k >= len(o.cuts) {
					t.Fatalf("%s: the table has %d cuts and the plan more", op.Name, len(o.cuts))
				}
				c := o.cuts[k]
				k++
				if c.op != i {
					t.Fatalf("row %d belongs to cut %d, not %d", c.row, c.op, i)
				}
				for a := range 3 {
					want, was := mv.To.Along(solid.Axis(a)), from.Along(solid.Axis(a))
					line := o.z.step()
					for _, sc := range o.screws {
						if o.axis(sc) == a && (a < 2 || sc.set) {
							line = sc.step()
						}
					}
					short := new(big.Rat).Sub(big.NewRat(int64(want), 1), c.at[a])
					if want < was {
						short.Neg(short)
					}
					if want == was {
						short.Abs(short)
					}
					// The plan is whole tenths of a nanometre, a line need not be.
					if short.Cmp(big.NewRat(-1, 1)) < 0 || short.Cmp(new(big.Rat).Add(line, big.NewRat(1, 1))) >= 0 {
						t.Fatalf("row %d, %s, axis %d: ends at %s, planned %s from %s", c.row, op.Name, a, c.at[a].FloatString(1), want.MM(), was.MM())
					}
				}
			}
		}
	}
	if k != len(o.cuts) {
		t.Fatalf("the table has %d cuts and the plan %d", len(o.cuts), k)
	}
}

var textRow = regexp.MustCompile(`^ *(\d+) (X \S+|Y \S+|Z \S+) +(clockwise|anticlockwise) +(\d+) \+ (\S+(?: \d+/\d+)?)((?: +\d+(?:\.\d+)?)?) +(\S+) +(\d+ \+ \S+)`)

// text follows the table for people: way, turns and lines, and looks at the dial after
// each. It must end each row where the first operator stood.
func (o *operator) text(table string, first *operator) {
	t := o.t
	moves := 0
	for _, line := range strings.Split(table, "\n") {
		if utf8Len(line) > 100 {
			t.Fatalf("%d characters: %s", utf8Len(line), line)
		}
		m := textRow.FindStringSubmatch(line)
		if m == nil {
			continue
		}
		s := o.find(m[2])
		if moves >= len(first.trace.Steps) {
			t.Fatalf("a row too many: %s", line)
		}
		st := first.trace.Steps[moves]
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
	if moves != len(first.trace.Steps) {
		t.Fatalf("the text has %d movements and the CSV %d", moves, len(first.trace.Steps))
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

func utf8Len(s string) int { return len([]rune(s)) }
