package machines

import (
	"strings"
	"testing"
	"unicode/utf8"

	"stopshort/toolpath/measure"
)

func builtins(t *testing.T) map[string]*Machine {
	t.Helper()
	all := map[string]*Machine{}
	for _, name := range Names() {
		m, err := Find(name)
		if err != nil {
			t.Fatal(err)
		}
		all[name] = m
	}
	return all
}

// The shares of a depth together: at most 8 thou on a mill and 12 on the lathe,
// for a slot an inch long and an inch deep. Added up here by hand from the
// shares, so that one that is left out of the sum shows.
func TestBuiltInErrorsInDepth(t *testing.T) {
	left := builtins(t)
	for name, want := range map[string]measure.Length{
		// 1 + 0.5 + 1 + 1 + 1.5 + 0.5 and 0.5 + 0.5 for the inch: 6.5 thou
		"dial-mill-inch": 6_500 * measure.Thou / 1000,
		// 0.03 + 0.01 + 0.02 + 0.03 + 0.04 + 0.015 and 0.00508 + 0.0127 for the inch
		"dial-mill-mm": 1_627_800,
		// 1 + 0.5 + 0.5 + 1.5 + 0.5 and 0.5 + 0.5 for the inch: 5 thou
		"knee-mill-inch": 5 * measure.Thou,
		// 1 + 0.5 + 3 + 3 + 1 and 0.5 + 1 for the inch: 10 thou
		"lathe-slide-inch": 10 * measure.Thou,
		// 0.03 + 0.01 + 0.03 + 0.05 + 0.02 and 0.00508 + 0.02032 for the inch
		"stepper-mill-mm": 1_654_000,
		// 1 + 0.5 + 1 + 2 + 0.8 and 0.2 + 1 for the inch: 6.5 thou
		"stepper-mill-inch": 6_500 * measure.Thou / 1000,
	} {
		m := builtins(t)[name]
		delete(left, name)
		got := m.Errors.InZ(in, in)
		if got != want {
			t.Errorf("%s: %s, by hand %s", name, got, want)
		}
		most := 8 * measure.Thou
		if m.Kind == "lathe" {
			most = 12 * measure.Thou
		}
		if got > most {
			t.Errorf("%s: %s is more than %s", name, got, most)
		}
	}
	if len(left) > 0 {
		t.Errorf("no sum by hand for %v", left)
	}
	// The demo part (invented data) reckons with about 6 thou for its slot.
	if got := builtins(t)["stepper-mill-mm"].Errors.InZ(12700*um, 6*mm); got < 1400*um/10 || got > 1650*um/10 {
		t.Errorf("for the demo slot %s, want 0.140 to 0.165 mm", got)
	}
}

// A share that the machine has must not be forgotten.
func TestBuiltInSharesAreThere(t *testing.T) {
	for name, m := range builtins(t) {
		e := m.Errors
		for share, of := range map[string]measure.Length{
			"touch_z": e.TouchZ, "touch_xy": e.TouchXY, "setting": e.Setting, "play": e.Play,
			"run_out": e.RunOut, "bend": e.Bend, "place": e.Place, "diameter": e.Diameter, "gauge": e.Gauge,
			"lead": e.Lead.Of(in, measure.Floor), "tilt": e.Tilt.Of(in, measure.Floor),
		} {
			if of <= 0 {
				t.Errorf("%s: %s is nought", name, share)
			}
		}
		if (e.Stop > 0) != (m.Stop.Kind == "nut") {
			t.Errorf("%s: a repeat of %s with the stop %q", name, e.Stop, m.Stop.Kind)
		}
		for i, a := range m.Axes {
			if a.Backlash <= 0 {
				t.Errorf("%s: no backlash on axis %d", name, i)
			}
			if a.HasDial() == (m.Controller != nil) {
				t.Errorf("%s: axis %d: a dial or a controller, one of them", name, i)
			}
		}
	}
}

// Common practice, no source: 8 TPI is 0.125 in a turn, so one turn too many is
// 1/8 in too deep, and 125 lines are of a thousandth.
func TestLatheDepthWheel(t *testing.T) {
	z := builtins(t)["lathe-slide-inch"].Axes[2]
	if got := z.Reading(125); got.Text() != "1 turn + 0" || got.At != in/8 {
		t.Errorf("125 lines are %s, %s", got.Text(), got.At)
	}
	if v := z.LineValue(); v != measure.NewRatio(int64(measure.Thou), 1) {
		t.Errorf("a line is %s", v)
	}
	for _, says := range []string{"half-nuts closed", "train in neutral"} {
		if !strings.Contains(z.Wheel, says) {
			t.Errorf("the wheel does not say %q: %s", says, z.Wheel)
		}
	}
}

func TestFacts(t *testing.T) {
	want := map[string]map[string]string{
		"stepper-mill-mm": {
			"units": "mm", "X travel": "300 mm", "Y travel": "130 mm", "Z travel": "180 mm", "X backlash": "0.05 mm", "stop": "none",
			"spindle": "100 rpm to 3000 rpm", "feed": "1 mm/min to 600 mm/min", "feed down": "at most 150 mm/min",
			"error, screw": "0.020 mm in 100 mm", "dwell": "in seconds",
			"controller": "4 decimals, lines of at most 70 characters ending in lf",
		},
		"dial-mill-inch": {
			"units": "in", "X dial": "0.100 in a turn, 100 lines of 0.001 in", "Y clockwise": "takes the cutter to -Y",
			"stop": "a nut, in steps of 0.001 in", "spindle": "180, 320, 560, 900, 1500, 2400 rpm", "feed": "0.1 in/min to 6 in/min",
			"error, run-out": "0.0007 in", "error, tilt": "0.50 thou in 1 in", "controller": "none: the machine is turned by hand",
			"error in depth": "0.0065 in together, over 1 in of length and of depth",
		},
		"dial-mill-mm": {
			"units": "mm", "Z dial": "2.5 mm a turn, 125 lines of 0.02 mm", "stop": "a nut on the quill, in steps of 0.02 mm", "drills by": "quill",
			"error in depth": "0.1625 mm together, over 25 mm of length and of depth",
		},
		"knee-mill-inch": {
			"X dial": "0.200 in a turn, 200 lines of 0.001 in", "Z dial": "0.100 in a turn, 100 lines of 0.001 in",
			"depth set by": "knee", "stop": "the dial of Z is read; nothing halts the cut",
		},
		"lathe-slide-inch": {
			"Z dial": "0.125 in a turn, 125 lines of 0.001 in", "stop": "the dial of Z is read; nothing halts the cut",
			"depth set by": "saddle", "feed down": "at most 2.5 in/min",
		},
	}
	for name, m := range builtins(t) {
		got := map[string]string{}
		for _, row := range m.Facts() {
			if _, twice := got[row[0]]; twice {
				t.Errorf("%s: %s stands twice", name, row[0])
			}
			got[row[0]] = row[1]
			if n := utf8.RuneCountInString(row[1]); n > 72 {
				t.Errorf("%s: %s is %d characters long, too much for a table", name, row[0], n)
			}
		}
		for label, text := range want[name] {
			if got[label] != text {
				t.Errorf("%s: %s: %q, want %q", name, label, got[label], text)
			}
		}
	}
}

// Odd screws are told exactly.
func TestFactsOfOddScrews(t *testing.T) {
	m := &Machine{Units: measure.In}
	m.Axes[0] = mm25
	m.Axes[1] = odd
	m.Axes[2] = sixteen
	got := map[string]string{}
	for _, row := range m.Facts() {
		got[row[0]] = row[1]
	}
	for label, want := range map[string]string{
		"X dial": "2.5 mm a turn, 125 lines of 0.02 mm",
		"Y dial": "1 3/11 mm a turn, 50 lines of 7/275 mm",
		"Z dial": "0.0625 in a turn, 62.5 lines of 0.001 in",
	} {
		if got[label] != want {
			t.Errorf("%s: %q, want %q", label, got[label], want)
		}
	}
}
