package post

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stopshort/machines"
	"stopshort/post/rs274/write"
	"stopshort/toolpath"
	"stopshort/toolpath/job"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/plan"
	"stopshort/toolpath/recipe"
)

// looked is a job planned with its measurings, and with a reading for one of them.
func looked(t fatal, j *job.Job, m *machines.Machine, taken map[[2]int]measure.Length) (*toolpath.Plan, []Asked) {
	p := planned(t, j, m)
	r, err := Through(p, j.Stem, m)
	if err != nil {
		t.Fatal(err)
	}
	looks := Close(p, r.Verdicts)
	if p, err = recipe.Plan(j, m, recipe.Options{Look: looks, Taken: taken}); err != nil {
		t.Fatal(err)
	}
	return p, Asks(p, r.Verdicts, m)
}

// blind is a tapped hole near a bore, whose depth is measured from the face.
const blind = `
units = "mm"
material = "bronze"
stock = { low = [-20, -10, -30], size = [40, 20, 30] }
bore = [{ name = "pivot", diameter = 10, along = "y", at = [0, -14] }]
[[tool]]
number = 1
kind = "spot drill"
diameter = 3
flute_length = 10
stick_out = 20
holder = 16
[[tool]]
number = 2
kind = "drill"
diameter = 2.5
flute_length = 26
stick_out = 28
holder = 16
[[setup]]
zero = [0, 0, 0]
touch_at = [15, 8]
[[setup.cut]]
recipe = "bolt holes"
screw = "M3"
hole = "tapped"
depth = 4
shoulder = 6
spot = 1
drill = 2
points = [0, 5, 0, -5]
`

// bench is a job on a machine whose zero may be out, and the rule that measures its true
// floor.
type bench struct {
	name    string
	machine *machines.Machine
	job     *job.Job
	reads   func(floor measure.Length) measure.Length
	asked   Asked
	planned [2]measure.Length
	step    measure.Length // of the grid
}

func benches(t *testing.T) (out []*bench) {
	slot, err := os.ReadFile("../testdata/jobs/slot.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range machines.Names() {
		m, err := machines.Find(name)
		if err != nil {
			t.Fatal(err)
		}
		step := plan.ForMachine(m).Step(2)
		if m.Second != nil {
			step = max(step, m.Second.StepValue().Times(1, measure.Ceil))
		}
		for _, b := range []bench{
			// The bore's centre is 16.5 under the zero, its half 9.525: over the pin it reads the
			// floor's height and 26.025.
			{name: string(slot), reads: func(floor measure.Length) measure.Length { return floor + 26_025*um }},
			{name: blind, reads: func(floor measure.Length) measure.Length { return -floor }},
		} {
			j, err := job.Read("bench.toml", []byte(b.name), recipe.Tables())
			if err != nil {
				t.Fatal(err)
			}
			p, asked := looked(t, j, m, nil)
			if len(asked) != 1 {
				t.Fatalf("%s, %s: %d measurings", name, j.Title, len(asked))
			}
			b.name, b.machine, b.job, b.asked, b.step = name+", "+j.Title, m, j, asked[0], step
			b.planned = floors(p, m, t)
			if got := b.reads(b.planned[0]); got != b.asked.Look.Reads {
				t.Errorf("%s: it should read %s and says %s", b.name, got, b.asked.Look.Reads)
			}
			out = append(out, &b)
		}
	}
	return out
}

// A zero that is out, found by the measuring, does no harm: whatever it is, the finish
// that is worked out again from a true reading leaves the true floor no lower than it was
// planned, and less than a step of the grid higher.
func TestAMeasuredFinishCutsToItsDepth(t *testing.T) {
	all := benches(t)
	cut := 0
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.SampledFrom(all).Draw(t, "bench")
		a, m := b.asked, b.machine
		out := measure.Length(rapid.Int64Range(int64(-a.Within), int64(a.Within)).Draw(t, "zero out by"))
		reading := b.reads(b.planned[0] + out)
		if err := a.Fits(reading, m.Units); err != nil {
			if -a.Look.Step < out { // no deeper than the finish itself
				t.Fatal(err)
			}
			return
		}
		again, _ := looked(t, b.job, m, map[[2]int]measure.Length{{1, a.Cut}: reading})
		now := floors(again, m, t)
		if now[0] != b.planned[0] {
			t.Fatalf("%s: the rough has moved from %s to %s", b.name, b.planned[0], now[0])
		}
		over := now[1] + out - b.planned[1]
		if over < -1 || over >= b.step+1 { // a dial's line lies up to a tenth of a nanometre off
			t.Fatalf("%s: the zero is out by %s and the floor comes out %s over the planned one, the step is %s", b.name, out, over, b.step)
		}
		cut++
	})
	if cut < 10 { // of 20 in the short run
		t.Errorf("%d readings were cut to: the test says too little", cut)
	}
}

// um is a micrometre.
const um = measure.Micrometre

// floors is the lowest place of the rough and of the finish, read from what was written:
// the text, or the table's rows.
func floors(p *toolpath.Plan, m *machines.Machine, t fatal) [2]measure.Length {
	var low [2]measure.Length
	note := func(part toolpath.Part, z measure.Length) {
		if part == toolpath.Whole {
			return
		}
		i := part - toolpath.Rough
		low[i] = min(low[i], z)
	}
	if m.Controller == nil {
		h, err := ByHand(p, []int{0}, "bronze", m, false)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range h.Traces[0].Steps {
			if s.Kind == toolpath.Line {
				note(p.Setups[0].Operations[s.Op].Part, s.To.Z)
			}
		}
		return low
	}
	r, err := Through(p, "bench", m)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range r.Programs {
		for _, s := range x.Trace.Steps {
			if s.Kind == toolpath.Line {
				note(x.Program.Operations[s.Op].Part, s.To.Z)
			}
		}
	}
	return low
}

// Faults put into the text of a measured finish, and into the stop of a rough, do not
// pass.
func TestFaultsAboutAMeasuringAreCaught(t *testing.T) {
	j, m := demoOn(t, "slot.toml", "stepper-mill-mm")
	// 0.0381 over the 20.6619 that it should read: the finish goes 0.0381 lower.
	p, _ := looked(t, j, m, map[[2]int]measure.Length{{1, 1}: 20_700 * um})
	programs := plan.Programs(p, m)
	if len(programs) != 2 {
		t.Fatalf("%d programs", len(programs))
	}
	for _, c := range []struct {
		of             int
		name, old, new string
	}{
		{0, "the stop lost", "M0\n", ""},
		{0, "the spindle left on", "M5\nM0\n", "M0\n"},
		{0, "the spindle not put on again", "M0\nM3 S1989\n", "M0\n"},
		{0, "no wait for the spindle", "M0\nM3 S1989\n(3.0 SECONDS FOR THE SPINDLE TO GET UP TO SPEED)\nG4 P3.0\n", "M0\nM3 S1989\n"},
		{0, "the cutter not parked", "G0 Y-26.3500\n", ""},
		{0, "the stop in the cut", "G1 Z-1.1918 F19.0\n", "G1 Z-1.1918 F19.0\nM0\n"},
		{1, "as if it read as planned", "Z-5.9971", "Z-5.9590"},
		{1, "a step of the grid deeper", "Z-5.9971", "Z-5.9972"},
		{1, "a step of the grid shallower", "Z-5.9971", "Z-5.9970"},
		{1, "the clearance plane as planned", "Z4.9619", "Z5.0000"},
		{1, "moved the other way", "Z-5.9971", "Z-5.9209"},
	} {
		program := programs[c.of]
		shift := shiftOf(program.Operations[0], m)
		text, err := write.Program(shifted(program, shift), m)
		if err != nil {
			t.Fatal(err)
		}
		pass := func(b string) bool {
			bad := text
			bad.Bytes = []byte(b)
			trace, err := Reading(bad, m)
			return err == nil && equal(asked(program, m), lowered(trace, shift)) == nil
		}
		whole := string(text.Bytes)
		if !pass(whole) {
			t.Fatal("the text itself does not pass")
		}
		if !strings.Contains(whole, c.old) {
			t.Fatalf("%s: the text has no %q", c.name, c.old)
		}
		if pass(strings.Replace(whole, c.old, c.new, 1)) {
			t.Errorf("%s passed", c.name)
		}
	}
}

// What is close: a limit under the cut whose margin at worst is less than the last step.
func TestClose(t *testing.T) {
	op := toolpath.Operation{Cut: 2, Passes: []toolpath.Pass{{Moves: []toolpath.Move{line(-1), line(-2)}}, {Moves: []toolpath.Move{line(-3)}}}}
	p := &toolpath.Plan{Setups: []toolpath.Setup{{Number: 1, Operations: []toolpath.Operation{op}}}}
	v := limit.Verdict{Number: [2]int{1, 2}, Limit: "web", Deep: true, Margin: 1, MarginWorst: int64(measure.Millimetre) - 1}
	for _, c := range []struct {
		name string
		edit func(v *limit.Verdict)
		want bool
	}{
		{"a tenth of a nanometre under the step", func(*limit.Verdict) {}, true},
		{"just the step", func(v *limit.Verdict) { v.MarginWorst++ }, false},
		{"broken at worst", func(v *limit.Verdict) { v.MarginWorst = -5 }, true},
		{"broken as planned", func(v *limit.Verdict) { v.Margin = -1 }, false},
		{"a wall beside the cut", func(v *limit.Verdict) { v.Deep = false }, false},
		{"another cut", func(v *limit.Verdict) { v.Number[1] = 1 }, false},
		{"the whole set-up", func(v *limit.Verdict) { v.Number[1] = 0 }, false},
	} {
		w := v
		c.edit(&w)
		near := w
		near.Limit, near.MarginWorst = "floor", near.MarginWorst+1
		if got := Close(p, []limit.Verdict{near, w}); (got[[2]int{1, 2}] == "web") != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

func line(z measure.Length) toolpath.Move {
	m := toolpath.Move{Kind: toolpath.Line, Feed: 1}
	m.To.Z = z * measure.Millimetre
	return m
}

// The table's rows where the operator looks and measures cannot be left out or moved.
func TestHaltsInTheTableAreHeld(t *testing.T) {
	j, m := demoOn(t, "slot.toml", "dial-mill-inch")
	p, _ := looked(t, j, m, nil)
	h, err := ByHand(p, []int{0}, j.Material, m, false)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(string(h.CSV), "\n")
	halts := 0
	for i, l := range lines {
		if !strings.Contains(l, "spindle off: look") && !strings.Contains(l, "spindle off: measure") {
			continue
		}
		halts++
		for what, at := range map[string]int{"left out": 0, "a row later": i + 1, "three rows sooner": i - 3} {
			rest := append(append([]string(nil), lines[:i]...), lines[i+1:]...)
			if at > 0 {
				rest = append(rest[:at:at], append([]string{l}, rest[at:]...)...)
			}
			var fault *Fault
			if _, _, err := addsUp([]byte(strings.Join(rest, "\n")), onStop(p, []int{0}, m, false).Setups, m); !errors.As(err, &fault) {
				t.Errorf("%s %s passes: %v", fmt.Sprint(l), what, err)
			}
		}
	}
	if halts != 2 {
		t.Errorf("%d rows to look or measure at, want 2", halts)
	}
}
