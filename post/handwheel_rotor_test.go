package post

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// worm is a simulated rotary table, known to the test and not read from the machine:
// angles in seconds of arc. The table follows its worm only once the play is taken up.
type worm struct {
	turn      *big.Rat // the table's way for one turn of the wheel
	play      *big.Rat
	clockwise bool // the wheel turned clockwise turns the table clockwise
	wheel, at *big.Rat
	set       bool
	locked    bool
}

// seconds reads degrees, minutes and seconds.
func seconds(t *rapid.T, text string) *big.Rat {
	rest, neg := strings.CutPrefix(text, "-")
	sum := new(big.Rat)
	for _, part := range strings.Split(rest, ":") {
		sum.Mul(sum, big.NewRat(60, 1)).Add(sum, fraction(t, part))
	}
	if neg {
		sum.Neg(sum)
	}
	return sum
}

// touch is the dial's nought, come to as the row says: the table is hard against the
// worm on that side, and stands anywhere in the play if it was the other.
func (w *worm) touch(onward bool) {
	w.wheel, w.at, w.set = new(big.Rat), new(big.Rat), true
	if !onward {
		w.at = new(big.Rat).Set(w.play)
	}
}

func (w *worm) wind(turns, rest *big.Rat, way string) {
	by := new(big.Rat).Mul(turns, w.turn)
	by.Add(by, rest)
	if (way == "clockwise") != w.clockwise {
		by.Neg(by)
	}
	w.wheel = new(big.Rat).Add(w.wheel, by)
	if w.at.Cmp(w.wheel) < 0 {
		w.at = w.wheel
	}
	if high := new(big.Rat).Add(w.wheel, w.play); w.at.Cmp(high) > 0 {
		w.at = high
	}
}

// dial is what it shows.
func (w *worm) dial() *big.Rat {
	n := new(big.Rat).Quo(w.wheel, w.turn)
	floor := new(big.Int).Div(n.Num(), n.Denom())
	return n.Sub(n, new(big.Rat).SetInt(floor)).Mul(n, w.turn)
}

// over is a place of the slides as it stands over the work.
func (w *worm) over(p [3]*big.Rat) [3]*big.Rat {
	if w == nil || !w.set || w.at.Sign() == 0 || p[0] == nil || p[1] == nil {
		return p
	}
	s, _ := w.at.Float64()
	x, _ := p[0].Float64()
	y, _ := p[1].Float64()
	sin, cos := math.Sincos(s / 3600 * math.Pi / 180)
	p[0], p[1] = new(big.Rat), new(big.Rat)
	p[0].SetFloat64(x*cos - y*sin)
	p[1].SetFloat64(x*sin + y*cos)
	return p
}

// rotaryRow follows a row of the rotary table in the CSV.
func (o *operator) rotaryRow(n int, c []string) {
	t, w := o.t, o.worm
	if w == nil {
		t.Fatalf("row %d turns a rotary table that is not there", n)
	}
	if c[4] == "" {
		want := "anticlockwise"
		if w.clockwise {
			want = "clockwise"
		}
		w.touch(strings.Contains(c[11], "turn the wheel "+want+", up to"))
		w.locked = strings.Contains(c[11], "and lock the table")
		return
	}
	if !w.set || w.locked {
		t.Fatalf("row %d turns the rotary table, which is locked or has no zero", n)
	}
	was := new(big.Rat).Set(w.at)
	from := o.place()
	w.wind(fraction(t, c[5]), seconds(t, c[6]), c[4])
	if w.dial().Cmp(seconds(t, c[7])) != 0 {
		t.Fatalf("row %d: the dial of the rotary table shows %s seconds, the row says %s", n, w.dial().FloatString(2), c[7])
	}
	step := toolpath.Step{Kind: toolpath.Rapid, Speed: o.spin, Line: n, Op: o.op}
	m := secondsA.FindStringSubmatch(c[11])
	if m == nil {
		end := new(big.Rat).Set(w.at)
		w.at = was
		for w.at.Cmp(end) != 0 {
			step.From = known(o.place())
			by := big.NewRat(7200, 1)
			if left := new(big.Rat).Sub(end, w.at); left.Sign() < 0 {
				by.Neg(by)
				if left.Cmp(by) > 0 {
					by = left
				}
			} else if left.Cmp(by) < 0 {
				by = left
			}
			w.at = new(big.Rat).Add(w.at, by)
			step.To = known(o.place())
			o.trace.Steps = append(o.trace.Steps, step)
		}
		return
	}
	for _, s := range o.screws {
		if (o.axis(s) < 2 || s == o.z) && !s.locked {
			t.Fatalf("row %d is a cut, and %s is not locked", n, s.label)
		}
	}
	x, _ := from[0].Float64()
	y, _ := from[1].Float64()
	turn, _ := w.turn.Float64()
	time, err := strconv.ParseFloat(m[1], 64)
	if err != nil {
		t.Fatal(err)
	}
	step.Kind, step.Sense = toolpath.Arc, toolpath.Anticlockwise
	step.From, step.To = known(from), known(o.place())
	step.Feed = measure.Feed(math.Hypot(x, y) * turn / 3600 * math.Pi / 180 / time * 60)
	o.cuts = append(o.cuts, ended{3, o.place(), from, o.op, n})
	o.trace.Steps = append(o.trace.Steps, step)
}

// holdTurned holds a place that is come to on the rotary table against the plan's: at
// its angle, and no more than a line further out than its radius.
func (o *operator) holdTurned(c ended, mv toolpath.Move, line *big.Rat) {
	at := known(c.at)
	step, _ := line.Float64()
	r := math.Hypot(float64(at.X), float64(at.Y))
	turned := math.Atan2(float64(at.Y), float64(at.X)) - float64(mv.Polar.Angle)/float64(measure.Degree)*math.Pi/180
	turned = math.Remainder(turned, 2*math.Pi)
	out := r - float64(mv.Polar.Radius)
	if mv.Kind == toolpath.Line { // short of where it goes, whichever way that is
		if was := known(c.from); math.Hypot(float64(was.X), float64(was.Y)) < r-3 {
			out = -out
		}
	}
	if out < -3 || out > step+3 || math.Abs(turned)*r > 3 {
		o.t.Fatalf("row %d ends at X %s Y %s, planned %s at %s", c.row, at.X.MM(), at.Y.MM(), mv.Polar.Radius, mv.Polar.Angle)
	}
	if z := at.Z - mv.To.Z; z < -1 || float64(z) > step+1 {
		o.t.Fatalf("row %d ends at Z %s, planned %s", c.row, at.Z.MM(), mv.To.Z.MM())
	}
}

// drawRotary is a rotary table with the keys that say it in a machine file.
func drawRotary(t *rapid.T) (*worm, string) {
	ratio := rapid.SampledFrom([]int64{36, 40, 60, 72, 80, 90, 120}).Draw(t, "ratio")
	least := rapid.SampledFrom([]int64{1, 10, 60, 300}).Draw(t, "least, seconds")
	play := rapid.Int64Range(0, 3600).Draw(t, "play, seconds")
	w := &worm{turn: big.NewRat(360*3600, ratio), play: big.NewRat(play, 1), clockwise: rapid.Bool().Draw(t, "clockwise turns it clockwise")}
	way := "anticlockwise"
	if w.clockwise {
		way = "clockwise"
	}
	return w, fmt.Sprintf("[rotary_table]\nratio = %d\nleast = '%d\"'\nbacklash = \"%d deg %d' %d\\\"\"\nclockwise_turns = %q\n", ratio, least, play/3600, play%3600/60, play%60, way)
}

// Every fault put into a row of the rotary table is caught: the text then does not add
// up, is not the plan, or breaks a limit.
func TestRotaryFaultsAreCaught(t *testing.T) {
	h, prove := demoByHand(t, "stay", "dial-mill-mm")
	rows, err := csv.NewReader(bytes.NewReader(h.CSV)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	caught := 0
	try := func(what string, at int, edit func(row []string)) {
		t.Helper()
		out := append([][]string(nil), rows...)
		out[at] = append([]string(nil), rows[at]...)
		if edit == nil {
			out = append(append([][]string(nil), rows[:at]...), rows[at+1:]...)
		} else {
			edit(out[at])
		}
		verdicts, err := prove(written(t, out))
		var fault *Fault
		for _, v := range verdicts {
			if v.Stops() {
				caught++
				return
			}
		}
		if !errors.As(err, &fault) {
			t.Errorf("row %d: %s passes: %v", at, what, rows[at])
			return
		}
		caught++
	}
	for at, r := range rows {
		if r[3] != "C rotary" || r[4] == "" {
			if strings.Contains(r[11], "rotary table") && (strings.HasPrefix(r[11], "lock ") || strings.HasPrefix(r[11], "free ")) {
				try("left out", at, nil)
			}
			continue
		}
		try("left out", at, nil)
		try("a turn more", at, func(row []string) {
			n, _ := strconv.Atoi(row[5])
			row[5] = strconv.Itoa(n + 1)
		})
		try("the other way", at, func(row []string) {
			row[4] = map[string]string{"clockwise": "anticlockwise", "anticlockwise": "clockwise"}[row[4]]
		})
		try("another reading", at, func(row []string) { row[7] = "3:59:50" })
		try("ten seconds more", at, func(row []string) { row[6] = tenSecondsMore(t, row[6]) })
		try("another target", at, func(row []string) { row[8] = "1" + row[8] })
		if strings.HasPrefix(r[11], "feed ") {
			try("wound instead of fed", at, func(row []string) { row[11] = "" })
		}
	}
	t.Logf("%d faults caught", caught)
	if caught < 40 {
		t.Errorf("%d faults are too few to tell", caught)
	}
}

// tenSecondsMore is an angle of a table's row with ten seconds of arc more, which is the
// finest that the table's dial can be set to.
func tenSecondsMore(t *testing.T, angle string) string {
	t.Helper()
	var d, m, s int
	if n, err := fmt.Sscanf(angle, "%d:%d:%d", &d, &m, &s); n != 3 || err != nil {
		t.Fatalf("%q is no angle: %v", angle, err)
	}
	s += 10
	m, s = m+s/60, s%60
	d, m = d+m/60, m%60
	return fmt.Sprintf("%d:%02d:%02d", d, m, s)
}
