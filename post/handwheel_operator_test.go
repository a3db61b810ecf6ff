package post

import (
	"encoding/csv"
	"flag"
	"math/big"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/job"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/recipe"
	"stopshort/toolpath/solid"
)

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
	worm   *worm // of a rotary table; nil is none
	z      *screw
	cuts   []ended
	trace  toolpath.Trace
	op     int
	spin   measure.Speed
	halts  int
	askew  map[int]bool // rows at which the rotary table did not stand at its zero: places are over the work
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
			if s.left != nil {
				p[i].Set(s.left)
			}
		}
	}
	return o.worm.over(p)
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
	opensCut  = regexp.MustCompile(`^cut (\d+) of `)
	turningW  = regexp.MustCompile(`turning (\S+);`)
	spinsAt   = regexp.MustCompile(`^spindle on at (\S+) rpm`)
	setTo     = regexp.MustCompile(`dial set to (back )?(\d+) turns? \+ ([^;]+)`)
	quillUp   = regexp.MustCompile(`fit tool .*; (quill) right up and locked;`)
	hangsFrom = regexp.MustCompile(`^set the (\S+) so that the quill stands .* and lock the`)
	secondsA  = regexp.MustCompile(`^feed (\S+) s a turn`)
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
			if strings.HasPrefix(note, "spindle off: look") || strings.HasPrefix(note, "spindle off: measure") {
				o.halts++
				at := known(o.place())
				o.trace.Steps = append(o.trace.Steps, toolpath.Step{Kind: toolpath.Stop, From: at, To: at, Line: n + 1, Op: o.op})
			}
			continue
		}
		if strings.HasPrefix(c[3], "C ") {
			o.rotaryRow(n+1, c)
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
			if s.locked {
				t.Fatalf("row %d sets the dial of %s, which is locked", n+1, s.label)
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
				for _, other := range o.screws {
					if o.axis(other) == 2 && other != s && !other.locked {
						t.Fatalf("row %d touches by %s, and %s is not locked", n+1, s.label, other.label)
					}
				}
			}
			s.touch(at, plus)
			s.left = nil
			if s.dial().Cmp(fraction(t, c[7])) != 0 {
				t.Fatalf("row %d: the dial shows %s, the row says %s", n+1, s.dial(), c[7])
			}
			continue
		}
		if !s.set || s.locked {
			t.Fatalf("row %d turns the wheel of %s, which is locked or has no zero", n+1, s.label)
		}
		from := o.place()
		if o.worm != nil && o.worm.set && o.worm.at.Sign() != 0 {
			o.askew[n+1] = true
		}
		s.left = nil
		s.turn(fraction(t, c[5]), fraction(t, c[6]), (c[4] == "clockwise") == s.clockwisePlus)
		if s.dial().Cmp(fraction(t, c[7])) != 0 {
			t.Fatalf("row %d: the dial of %s shows %s, the row says %s", n+1, s.label, s.dial().FloatString(3), c[7])
		}
		to := o.place()
		step := toolpath.Step{Kind: toolpath.Rapid, From: known(from), To: known(to), Speed: o.spin, Line: n + 1, Op: o.op}
		if m := secondsA.FindStringSubmatch(note); m != nil {
			for _, other := range o.screws {
				if other.left != nil && (o.axis(other) < 2 || other == o.z) {
					t.Fatalf("row %d is a cut, and %s was not met since hands left it", n+1, other.label)
				}
				if other != s && (o.axis(other) < 2 || other == o.z) && !other.locked {
					t.Fatalf("row %d is a cut, and %s is not locked", n+1, other.label)
				}
			}
			if o.worm != nil && o.worm.set && !o.worm.locked {
				t.Fatalf("row %d is a cut, and the rotary table is not locked", n+1)
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

// leave is hands that turned the wheels and brought them back to where they stood, without
// a thought for the play: each slide lies somewhere within it, the cutter as low as it can.
func (o *operator) leave() {
	for _, s := range o.screws {
		if !s.set {
			continue
		}
		end := s.low
		if o.axis(s) < 2 && rapid.Bool().Draw(o.t, "left at the upper end of the play") {
			end = s.high
		}
		if s.left == nil { // where it stands in the trace
			s.left = s.slide
		}
		s.slide = new(big.Rat).Add(s.wheel, end)
	}
	if w := o.worm; w != nil && w.set && !w.locked {
		w.at = new(big.Rat).Add(w.wheel, w.play)
	}
}

func (o *operator) sentence(note string) {
	if strings.Contains(note, "then back to X") || strings.Contains(note, "where it stood: X") {
		defer o.leave()
	}
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
		for _, s := range o.screws { // X, Y and a rotary table may stay locked
			if s.locked && o.axis(s) == 2 {
				o.t.Fatalf("%s is locked: %q", s.label, note)
			}
		}
	}
	if m := spinsAt.FindStringSubmatch(note); m != nil {
		v, _ := strconv.Atoi(m[1])
		o.spin = measure.Speed(v) * measure.RPM
	}
	for _, held := range []*regexp.Regexp{quillUp, hangsFrom} {
		if m := held.FindStringSubmatch(note); m != nil {
			for _, s := range o.screws {
				s.locked = s.locked || s.label == "Z "+m[1]
			}
		}
	}
	if !strings.HasPrefix(note, "lock ") && !strings.HasPrefix(note, "free ") {
		return
	}
	for _, part := range strings.Split(note, "; ") {
		word, rest, _ := strings.Cut(part, " ")
		if word != "lock" && word != "free" {
			continue
		}
		rest, _, _ = strings.Cut(rest, " and read")
		for _, name := range strings.Split(rest, " and ") {
			found := name == "rotary table" && o.worm != nil
			if found {
				o.worm.locked = word == "lock"
			}
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
	var followed, outlines, round, cuts, refused, unplanned, halts int
	why := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		text, screws, table := drawMachine(t)
		m, err := machines.Read("random.toml", []byte(text))
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		jobText := drawJob(t, table != nil)
		j, err := job.Read("random.toml", []byte(jobText), recipe.Tables())
		if err != nil {
			t.Fatalf("%v\n%s", err, jobText)
		}
		p, err := recipe.Plan(j, m, recipe.Options{})
		if err != nil {
			unplanned++
			if testing.Verbose() {
				why[strings.Join(strings.Fields(err.Error())[:6], " ")]++
			}
			return
		}
		if rapid.Bool().Draw(t, "measured before the last pass") {
			p = drawLooks(t, j, m, p)
		}
		h, err := ByHand(p, []int{0}, j.Material, m, false)
		if err != nil {
			t.Fatalf("%v\n%s\n%s", err, text, jobText)
		}
		for _, v := range h.Verdicts {
			if v.Stops() && strings.HasPrefix(v.Limit, "outline of ") { // the user can do nothing about it
				t.Fatalf("row %d: %s: %d left, never less than %d\n%s\n%s", v.Where, v.Limit, v.Planned, v.NeverLess, text, jobText)
			}
			if v.Stops() {
				refused++
				return
			}
		}
		o := &operator{t: t, screws: screws, worm: table, op: -1, askew: map[int]bool{}}
		for _, s := range screws {
			s.locked = true // as the last work may have left it
		}
		o.rows(h.CSV)
		s := onStop(p, []int{0}, m, false).Setups[0]
		o.hold(s)
		onItsLines(&o.trace, h.Traces[0])
		judge := limit.New(&s, m)
		ops, overWork := asCut(&s, &o.trace, m)
		judge.Program("", ops, overWork)
		halts += o.halts
		for _, v := range judge.Verdicts() {
			// A slide's place is told to the tenth of a nanometre.
			if v.Stops() && v.High < v.NeverLess-2 {
				t.Fatalf("row %d breaks %s: %d left, never less than %d\n%s\n%s", v.Where, v.Limit, v.Planned, v.NeverLess, text, jobText)
			}
		}
		second := &operator{t: t, op: -1}
		if table != nil {
			second.worm = &worm{turn: table.turn, play: table.play, clockwise: table.clockwise}
			second.worm.touch(true)
			if table.set {
				round++
			}
		}
		for _, s := range screws {
			c := *s
			c.set, c.locked = false, false
			second.screws = append(second.screws, &c)
		}
		second.text(h.Table.Text(), o)
		followed++
		if strings.Contains(jobText, "\"profile\"") {
			outlines++
		}
		cuts += len(o.cuts)
	})
	t.Logf("not planned: %v", why)
	t.Logf("%d tables followed, %d of them outlines and %d on a rotary table, %d cuts, %d halts; %d jobs refused by a limit, %d not planned", followed, outlines, round, cuts, halts, refused, unplanned)
	// Of what is drawn nearly nine of ten are followed, more than a third of those are
	// outlines, and a tenth are on a rotary table.
	if followed*4 < 3*(followed+refused+unplanned) || outlines*6 < followed || round*100 < followed || halts < 30 {
		t.Errorf("%d tables, %d outlines, %d on a rotary table and %d halts are too few to tell", followed, outlines, round, halts)
	}
}

// drawLooks is the plan with every cut measured before its last pass, some of them with a
// reading that is out.
func drawLooks(t *rapid.T, j *job.Job, m *machines.Machine, whole *toolpath.Plan) *toolpath.Plan {
	options := recipe.Options{Look: map[[2]int]string{}, Taken: map[[2]int]measure.Length{}}
	for _, op := range whole.Setups[0].Operations {
		options.Look[[2]int{1, op.Cut}] = "floor"
	}
	p, err := recipe.Plan(j, m, options)
	if err != nil {
		t.Fatal(err)
	}
	for _, op := range p.Setups[0].Operations {
		if op.Part == toolpath.Finish && rapid.Bool().Draw(t, "there is a reading") {
			low := int64(op.Look.Reads - 2000*um) // too shallow
			high := int64(op.Look.Reads + op.Look.Step - 1)
			options.Taken[[2]int{1, op.Cut}] = measure.Length(rapid.Int64Range(max(low, 1), high).Draw(t, "reading"))
		}
	}
	if p, err = recipe.Plan(j, m, options); err != nil {
		t.Fatal(err)
	}
	return p
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
				if mv.Kind == toolpath.Rapid || mv.Kind == toolpath.Stop || mv.To == from {
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
				if mv.Polar.On {
					o.holdTurned(c, mv, o.find("X").step())
					continue
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
