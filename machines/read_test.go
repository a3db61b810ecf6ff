package machines

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
)

// plain is a machine with both dials and a controller, whose lines the tests
// below change one at a time. It has no file of its own, so that a change of a
// built-in machine does not change what is tested.
const plain = `title = "a mill"
kind = "mill"
units = "mm"
stiffness = "medium"
depth_by = "knee"
[x]
wheel = "table wheel"
travel = 300
lead = "2.5 mm"
lines = 125
clockwise = "+"
backlash = 0.15
[y]
wheel = "cross wheel"
travel = 130
lead = "14/11 mm"
lines = 62.5
clockwise = "-"
backlash = "6 thou"
[z]
wheel = "knee crank"
travel = "7 in"
lead = "8 TPI"
lines = 125
clockwise = "+"
backlash = 0
[stop]
kind = "nut"
step = 0.01
[spindle]
low = 100
high = "3000 rpm"
[feeds]
low = 1
high = "600 mm/min"
down = "6 in/min"
[errors]
touch_z = 0.01
touch_xy = 0.02
setting = 0.03
stop = 0.04
play = 0.05
lead = "0.02 mm in 100 mm"
tilt = "0"
run_out = 0.06
bend = 0.07
place = 0.08
diameter = 0.09
gauge = 0.1
[controller]
places = 4
dwell = "milliseconds"
spin_up = "3 s"
sets_spindle = false
`

func TestRead(t *testing.T) {
	got, err := Read("shed/left-hand.toml", []byte(plain))
	if err != nil {
		t.Fatal(err)
	}
	want := &Machine{
		Name: "left-hand", Title: "a mill", Kind: "mill", Units: measure.MM, Stiffness: "medium", DepthBy: "knee",
		Axes: [3]Axis{
			{Wheel: "table wheel", Travel: 300 * mm, Lead: measure.Ratio{Num: 25_000_000, Den: 1}, Lines: measure.Ratio{Num: 125, Den: 1}, Sense: "+", Backlash: 150 * um, Moves: "work", Approach: "+", Words: [2]string{"clockwise", "anticlockwise"}},
			{Wheel: "cross wheel", Travel: 130 * mm, Lead: measure.Ratio{Num: 140_000_000, Den: 11}, Lines: measure.Ratio{Num: 125, Den: 2}, Sense: "-", Backlash: 1_524_000, Moves: "work", Approach: "-", Words: [2]string{"clockwise", "anticlockwise"}},
			{Wheel: "knee crank", Travel: 1_778_000_000, Lead: measure.Ratio{Num: 31_750_000, Den: 1}, Lines: measure.Ratio{Num: 125, Den: 1}, Sense: "+", Moves: "work", Approach: "-", Words: [2]string{"clockwise", "anticlockwise"}},
		},
		MillBy: "knee", DrillBy: "knee", ProfileBy: "nibbling",
		Stop:    Stop{Kind: "nut", Step: 10 * um, On: "knee"},
		Spindle: Spindle{Low: 100_000, High: 3_000_000},
		Feeds:   Feeds{Low: 10_000_000, High: 6_000_000_000, Down: 1_524_000_000},
		Errors: Errors{TouchZ: 10 * um, TouchXY: 20 * um, Setting: 30 * um, Stop: 40 * um, Play: 50 * um,
			Lead: measure.Ratio{Num: 1, Den: 5000}, Tilt: measure.Ratio{Num: 0, Den: 1},
			RunOut: 60 * um, Bend: 70 * um, Place: 80 * um, Diameter: 90 * um, Gauge: 100 * um},
		Controller: &Controller{Places: 4, Arcs: "centre", Chord: 10 * um, PeckLift: 2_540_000, ToolChange: "files",
			Comments: "parentheses", Dwell: "milliseconds", SpinUp: 3_000_000_000, End: "M2", NativeUnits: measure.MM, LineLength: 70, LineEnd: "lf"},
	}
	want.Digest = got.Digest // its value is the test of form
	if len(got.Digest) != 12 {
		t.Errorf("digest %q", got.Digest)
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

// edited is plain with lines taken out or changed.
func edited(t *testing.T, old, new string) string {
	t.Helper()
	if strings.Count(plain, old) != 1 {
		t.Fatalf("%q stands %d times in the plain machine", old, strings.Count(plain, old))
	}
	return strings.Replace(plain, old, new, 1)
}

func TestBadMachines(t *testing.T) {
	for _, c := range []struct{ name, old, new, key, says string }{
		{"slowest above fastest", "low = 100\n", "low = 4000\n", "spindle.low", "4000 rpm is above high, 3000 rpm"},
		{"no slowest", "low = 100\n", "", "spindle.low", "give low and high, or the list speeds"},
		{"range and list", "low = 100\n", "low = 100\nspeeds = [100, 200]\n", "spindle.speeds", "either the list or the range"},
		{"falling list", "low = 100\nhigh = \"3000 rpm\"", "speeds = [300, 200, 900]", "spindle.speeds", "200 rpm stands after 300 rpm"},
		{"a speed twice", "low = 100\nhigh = \"3000 rpm\"", "speeds = [200, 200]", "spindle.speeds", "200 rpm stands after 200 rpm"},
		{"empty list", "low = 100\nhigh = \"3000 rpm\"", "speeds = []", "spindle.speeds", "is empty: list the speeds"},
		{"speed of nought", "low = 100\nhigh = \"3000 rpm\"", "speeds = [0, 200]", "spindle.speeds[1]", "more than 0 rpm"},
		{"slowest feed above fastest", "low = 1\n", "low = 700\n", "feeds.low", "700 mm/min is above high, 600 mm/min"},
		{"lead without lines", "lead = \"2.5 mm\"\nlines = 125\n", "lead = \"2.5 mm\"\n", "x.lines", "is missing beside the rest of the dial"},
		{"lines without lead", "lead = \"14/11 mm\"\n", "", "y.lead", "how far one turn moves the slide"},
		{"dial without a way", "lines = 62.5\nclockwise = \"-\"\n", "lines = 62.5\n", "y.clockwise", "which way the cutter goes"},
		{"dial without a wheel", "wheel = \"knee crank\"\n", "", "z.wheel", "what the operator turns"},
		{"wheel of spaces", "\"knee crank\"", "\"  \"", "z.wheel", "what the operator turns"},
		{"wheel with an escape", "\"knee crank\"", `"knee \u001b[2J crank"`, "z.wheel", "cannot be printed"},
		{"title over two lines", "\"a mill\"", `"a\nmill"`, "title", "line break"},
		{"long title", "\"a mill\"", `"` + strings.Repeat("é", 81) + `"`, "title", "81 characters do not fit"},
		{"backlash of the whole travel", "travel = 130\n", "travel = 0.1\n", "y.backlash", "0.1524 mm is not less than the travel, 0.1 mm"},
		{"line finer than can be read", "lead = \"2.5 mm\"\nlines = 125\n", "lead = \"0.001 mm\"\nlines = 125\n", "x.lines", "less than a tenth of a micrometre"},
		{"line longer than the slide", "lead = \"2.5 mm\"\nlines = 125\n", "lead = \"100 mm\"\nlines = 0.1\n", "x.lead", "more than the travel, 300 mm"},
		{"a mill's saddle", `depth_by = "knee"`, `depth_by = "saddle"`, "depth_by", `"saddle" does not go with a mill`},
		{"a lathe's knee", `kind = "mill"`, `kind = "lathe"`, "depth_by", `"knee" does not go with a lathe`},
		{"nut without a step", "step = 0.01\n", "", "stop.step", "has a finest setting"},
		{"repeat without a nut", "kind = \"nut\"\nstep = 0.01\n", "kind = \"none\"\n", "errors.stop", "0.04 mm is given, but there is no stop nut"},
		{"screw out by a fifth", "0.02 mm in 100 mm", "20 mm in 100 mm", "errors.lead", "a tenth of the length"},
		{"tilt by a ninth", `tilt = "0"`, `tilt = "1 mm in 9 mm"`, "errors.tilt", "a tenth of the length"},
		{"one share left out", "bend = 0.07\n", "", "errors.bend", "not given"},
		{"a share below nought", "bend = 0.07", "bend = -0.07", "errors.bend", "less than 0 mm"},
		{"no travel", "travel = 130\n", "travel = 0\n", "y.travel", "more than 0 mm"},
		{"six decimals", "places = 4", "places = 6", "controller.places", "more than 5"},
		{"dwell too fine", `spin_up = "3 s"`, `spin_up = "1.234 s"`, "controller.spin_up", "1.234 s is too fine"},
		{"unknown kind", `kind = "mill"`, `kind = "planer"`, "kind", "no choice here"},
		{"depth met going up", "clockwise = \"+\"\nbacklash = 0\n", "clockwise = \"+\"\nbacklash = 0\napproach = \"+\"\n", "z.approach", "set going deeper"},
		// By hand: 25 mm taken for an inch is 15.7 thou in each dial inch, 0.4 mm in 25.4 mm.
		{"inch dial on a metric screw", "lead = \"2.5 mm\"\nlines = 125\n", "lead = \"2.5 mm\"\nlines = 100\nline = \"0.001 in\"\n", "x.line", "15.7 thou (0.40 mm) in each inch of the dial"},
		// The same: 62 whole divisions for 62.5 lose 8 thou in 1 in, 60 lose 40.
		{"62 lines on 16 TPI", "lead = \"2.5 mm\"\nlines = 125\n", "lead = \"16 TPI\"\nlines = 62\nline = \"0.001 in\"\n", "x.line", "8.1 thou (0.20 mm) in each inch"},
		{"60 lines on 16 TPI", "lead = \"2.5 mm\"\nlines = 125\n", "lead = \"16 TPI\"\nlines = 60\nline = \"0.001 in\"\n", "x.line", "41.7 thou (1.06 mm) in each inch"},
		{"a line called ten times too much", "lead = \"2.5 mm\"\nlines = 125\n", "lead = \"2.5 mm\"\nlines = 125\nline = 0.2\n", "x.line", "look at lead, lines and shows"},
		{"go_by alone", "lines = 125\nclockwise = \"+\"\nbacklash = 0.15", "lines = 125\nclockwise = \"+\"\ngo_by = \"screw\"\nbacklash = 0.15", "x.go_by", "needs line"},
		{"one word for both ways", "backlash = 0.15", "backlash = 0.15\nclockwise_word = \"anticlockwise\"", "x.clockwise_word", "means both ways"},
		{"a mill that mills by a quill it has not", `depth_by = "knee"`, "depth_by = \"knee\"\nmill_by = \"quill\"", "mill_by", "no quill sets Z here: write knee"},
		{"unknown key", "[stop]", "[stop]\nrepeat = 0.01", "stop.repeat", "unknown key"},
		{"comma", "backlash = 0.15", `backlash = "0,15 mm"`, "x.backlash", "0,15"},
	} {
		_, err := Read("mill.toml", []byte(edited(t, c.old, c.new)))
		var faults form.Faults
		if !errors.As(err, &faults) {
			t.Errorf("%s: no faults: %v", c.name, err)
			continue
		}
		if f := faults[0]; len(faults) != 1 || f.Key != c.key || !strings.Contains(f.Text, c.says) || f.Line == 0 {
			t.Errorf("%s: want %s: ... %s, got\n%v", c.name, c.key, c.says, err)
		}
	}
}

func TestStepWithoutANut(t *testing.T) {
	text := strings.Replace(edited(t, "kind = \"nut\"", "kind = \"dial\""), "stop = 0.04", "stop = 0", 1)
	_, err := Read("mill.toml", []byte(text))
	if err == nil || !strings.Contains(err.Error(), "mill.toml:29: stop.step: belongs to a nut") {
		t.Error(err)
	}
}

func TestStopDialNeedsADial(t *testing.T) {
	text := edited(t, "wheel = \"knee crank\"\ntravel = \"7 in\"\nlead = \"8 TPI\"\nlines = 125\nclockwise = \"+\"\n", "travel = \"7 in\"\n")
	text = strings.Replace(text, "kind = \"nut\"\nstep = 0.01", "kind = \"dial\"", 1)
	text = strings.Replace(text, "stop = 0.04", "stop = 0", 1)
	_, err := Read("mill.toml", []byte(text))
	if err == nil || !strings.Contains(err.Error(), `stop.kind: "dial" needs a dial on [z]`) {
		t.Error(err)
	}
}

// Without a controller each slide needs a dial; all faults come at once, in the
// order of the lines.
func TestAllFaultsAtOnce(t *testing.T) {
	text := plain[:strings.Index(plain, "[controller]")]
	for _, axis := range []string{
		"wheel = \"table wheel\"\n", "lead = \"2.5 mm\"\nlines = 125\nclockwise = \"+\"\n",
		"wheel = \"cross wheel\"\n", "lead = \"14/11 mm\"\nlines = 62.5\nclockwise = \"-\"\n",
	} {
		text = strings.Replace(text, axis, "", 1)
	}
	text = strings.Replace(text, "low = 100", "low = 9000", 1)
	_, err := Read("mill.toml", []byte(text))
	var faults form.Faults
	if !errors.As(err, &faults) {
		t.Fatal(err)
	}
	var keys []string
	for _, f := range faults {
		keys = append(keys, f.Key)
	}
	if d := cmp.Diff([]string{"x.lead", "y.lead", "spindle.low"}, keys); d != "" {
		t.Error(d, err)
	}
}

func TestFind(t *testing.T) {
	if d := cmp.Diff([]string{"dial-mill-inch", "dial-mill-mm", "knee-mill-inch", "lathe-slide-inch", "stepper-mill-inch", "stepper-mill-mm"}, Names()); d != "" {
		t.Error(d)
	}
	own := filepath.Join(t.TempDir(), "own.toml")
	if err := os.WriteFile(own, []byte(plain), 0o600); err != nil {
		t.Fatal(err)
	}
	m, err := Find(own)
	if err != nil || m.Name != "own" {
		t.Errorf("%v %v", m, err)
	}
	for name, says := range map[string]string{
		"steper-mil-mm": `"steper-mil-mm" is no machine here: built in are dial-mill-inch, dial-mill-mm, knee-mill-inch, lathe-slide-inch, stepper-mill-inch, stepper-mill-mm; a machine file of your own is named by its path, which ends in .toml; did you mean stepper-mill-mm?`,
		"lathe":         "built in are dial-mill-inch, dial-mill-mm, knee-mill-inch, lathe-slide-inch",
		"":              `"" is no machine here: built in are`,
		"../machines":   "no machine here",
		own + "x":       "no machine here",
		filepath.Join(filepath.Dir(own), "none.toml"): "there is no such file",
	} {
		_, err := Find(name)
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, want %s", name, err, says)
		}
	}
}

// FuzzMachine holds a machine that was read to what others rely on: nothing
// panics with it, and its figures are in order.
func FuzzMachine(f *testing.F) {
	f.Add([]byte(plain))
	for _, name := range Names() {
		data, err := builtIn.ReadFile(name + ".toml")
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add([]byte(strings.Replace(plain, `"2.5 mm"`, `"1/9999 in"`, 1)))
	f.Add([]byte(strings.Replace(plain, "62.5", "99999/50", 1)))
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := Read("fuzz.toml", data)
		if err != nil {
			var faults form.Faults
			if !errors.As(err, &faults) || len(faults) == 0 {
				t.Fatalf("an error that is no faults: %v", err)
			}
			return
		}
		for _, row := range m.Facts() {
			if strings.TrimSpace(row[1]) == "" || strings.ContainsAny(row[1], "\n\x1b") {
				t.Fatalf("%s is told as %q", row[0], row[1])
			}
		}
		for _, a := range m.Axes {
			if !a.HasDial() {
				if m.Controller == nil {
					t.Fatal("a slide that nothing moves")
				}
				continue
			}
			for _, pos := range []measure.Length{-measure.MaxLength, -1, 0, 1, a.Travel, measure.MaxLength} {
				for _, way := range []measure.Rounding{measure.Floor, measure.Ceil, measure.Nearest} {
					r := a.Dial(pos, way)
					if r.Turns < 0 || r.Lines.Num < 0 || r.Text() == "" {
						t.Fatalf("%d reads %+v", pos, r)
					}
				}
			}
		}
		low, high := m.Spindle.Low, m.Spindle.High
		if n := len(m.Spindle.Speeds); n > 0 {
			low, high = m.Spindle.Speeds[0], m.Spindle.Speeds[n-1]
		}
		if low <= 0 || low > high || m.Feeds.Low > m.Feeds.High || m.Feeds.Down <= 0 {
			t.Fatalf("speeds from %s to %s, feeds %+v", low, high, m.Feeds)
		}
		if got, ok := m.Spindle.AtMost(high + 1); !ok || got != high {
			t.Fatalf("the fastest is %s, not %s", got, high)
		}
		if m.Errors.InZ(measure.MaxLength, measure.MaxLength) < 0 {
			t.Fatal("errors below nought")
		}
	})
}
