package machines

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
)

// with is the plain machine with keys added to its controller, and its places.
func with(t *testing.T, places, keys string) string {
	t.Helper()
	return edited(t, "places = 4\n", "places = "+places+"\n"+keys+"\n")
}

// Each bad value is refused at its key.
func TestBadControllers(t *testing.T) {
	for _, c := range []struct{ name, places, keys, key, says string }{
		{"arcs on 2 places", "2", `arcs = "centre"`, "controller.arcs", "2 places do not hold an arc's centre: write arcs = \"chords\", or places = 3"},
		{"arcs of another word", "4", `arcs = "radius"`, "controller.arcs", "no choice here"},
		{"chords finer than the places", "3", `chord_tolerance = 0.0039`, "controller.chord_tolerance", "0.0039 mm is less than four steps of 3 places, 0.004 mm"},
		{"chords of no tolerance", "4", `chord_tolerance = 0`, "controller.chord_tolerance", "more than 0 mm"},
		{"chords of 3 mm", "4", `chord_tolerance = 3`, "controller.chord_tolerance", "more than 2 mm"},
		{"no such cycle", "4", `cycles = [81, 84]`, "controller.cycles", "84 is no drilling cycle that is written here: write 73, 81, 82 or 83"},
		{"a cycle twice", "4", `cycles = [81, 81]`, "controller.cycles", "81 stands twice"},
		{"cycles as a word", "4", `cycles = "81"`, "controller.cycles", ""},
		{"a peck between two steps", "2", `cycles = [83]`, "controller.cycles", "a peck lifts by 0.254 mm, which 2 places do not hold"},
		{"the same, said", "3", "cycles = [73]\npeck_lift = 0.3005", "controller.peck_lift", "0.3005 mm, which 3 places do not hold"},
		{"a peck too short for a rapid", "4", "cycles = [83]\npeck_lift = 0.2", "controller.peck_lift", "less than 0.25 mm"},
		{"a change of tool by a magazine", "4", `tool_change = "magazine"`, "controller.tool_change", "no choice here"},
		{"lengths without code", "4", "tool_change = \"pause\"\ntool_lengths = true", "controller.tool_lengths", "write tool_change = \"code\""},
		{"lengths as a word", "4", `tool_lengths = "yes"`, "controller.tool_lengths", ""},
		{"a silent pause", "4", "tool_change = \"pause\"\ncomments = \"none\"", "controller.comments", "not told what to do at a change of tool"},
		{"comments of another kind", "4", `comments = "#"`, "controller.comments", "no choice here"},
		{"numbers by nothing", "4", `line_numbers = 0`, "controller.line_numbers", "less than 1"},
		{"numbers by 1001", "4", `line_numbers = 1001`, "controller.line_numbers", "more than 1000"},
		{"percent as a number", "4", `percent = 1`, "controller.percent", ""},
		{"an end of another word", "4", `end = "M99"`, "controller.end", "no choice here"},
		{"native units of another word", "4", `native_units = "cm"`, "controller.native_units", "no choice here"},
		{"words that move", "4", `head_words = "G61 G28"`, "controller.head_words", "G28 is not taken: it moves the cutter"},
		{"words that bend the way", "4", `head_words = "G64"`, "controller.head_words", "it rounds corners"},
		{"words with a number behind", "4", `head_words = "G64P0.1"`, "controller.head_words", `"G64P0.1" is no word that is known to be safe there`},
		{"words of another mode", "4", `head_words = "g91"`, "controller.head_words", "G91 is not taken: the program is in G90"},
		{"words of the other unit", "4", `head_words = "G20"`, "controller.head_words", "see units and native_units"},
		{"a move", "4", `head_words = "G0 Z-5"`, "controller.head_words", `"G0" is no word`},
		{"an axis", "4", `head_words = "X10"`, "controller.head_words", `"X10" is no word`},
		{"a line broken in", "4", `head_words = "G61\nG0Z-9"`, "controller.head_words", `"G0Z-9" is no word`},
		{"a comment broken out of", "4", `head_words = "G61) G0"`, "controller.head_words", `"G61)" is no word`},
		{"a spindle of one's own", "4", `head_words = "M3"`, "controller.head_words", "starts the spindle itself"},
		{"leading noughts", "4", `head_words = "M08"`, "controller.head_words", `"M08" is no word`},
		{"words twice", "4", `head_words = "M8 M8"`, "controller.head_words", "M8 stands twice"},
		{"words that undo each other", "4", `head_words = "G61 G61.1"`, "controller.head_words", "G61 and G61.1 undo each other"},
		{"a coolant at the end", "4", `end_words = "M8"`, "controller.end_words", `"M8" is no word`},
		{"an end within the end", "4", `end_words = "M30"`, "controller.end_words", `write end = "M30"`},
		{"home at the end", "4", `end_words = "G28"`, "controller.end_words", "it moves the cutter"},
		{"a stop at the end", "4", `end_words = "M0"`, "controller.end_words", `write tool_change = "pause"`},
		{"a long word", "4", `end_words = "M999999999999999999999"`, "controller.end_words", `"M99999999999..." is no word`},
	} {
		_, err := Read("mill.toml", []byte(with(t, c.places, c.keys)))
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

// What is not said follows from places and units.
func TestControllerDefaults(t *testing.T) {
	for _, c := range []struct {
		units, places, arcs string
		chord               measure.Length
	}{
		{"mm", "2", "chords", 400_000}, // four steps of 0.01 mm
		{"mm", "3", "centre", 100_000},
		{"mm", "4", "centre", 100_000},
		{"in", "2", "chords", 10_160_000}, // four steps of 0.01 in
		{"in", "3", "chords", 1_016_000},
		{"in", "4", "centre", 101_600}, // four steps of 0.0001 in are 0.01016 mm
		{"in", "5", "centre", 100_000},
	} {
		m, err := Read("m.toml", []byte(strings.Replace(with(t, c.places, ""), `units = "mm"`, `units = "`+c.units+`"`, 1)))
		if err != nil {
			t.Fatal(err)
		}
		got := m.Controller
		if got.Arcs != c.arcs || got.Chord != c.chord || got.NativeUnits != m.Units || got.End != "M2" || got.ToolChange != "files" {
			t.Errorf("%s, %s places: %+v", c.units, c.places, got)
		}
	}
}

// A controller that gives every ability, and how it is told.
func TestFullController(t *testing.T) {
	m, err := Read("m.toml", []byte(with(t, "3", `arcs = "chords"
chord_tolerance = "0.02 mm"
cycles = [83, 81]
peck_lift = 0.3
tool_change = "code"
tool_lengths = true
comments = "semicolon"
line_numbers = 10
percent = true
head_words = "m8  G61"
end_words = "G80"
end = "M30"
native_units = "in"`)))
	if err != nil {
		t.Fatal(err)
	}
	want := &Controller{Places: 3, Arcs: "chords", Chord: 20 * um, Cycles: []int{81, 83}, PeckLift: 300 * um, ToolChange: "code", ToolLengths: true,
		Comments: "semicolon", LineNumbers: 10, Percent: true, Dwell: "milliseconds", SpinUp: 3_000_000_000, HeadWords: []string{"M8", "G61"},
		EndWords: []string{"G80"}, End: "M30", NativeUnits: measure.In, LineLength: 70, LineEnd: "lf"}
	if d := cmp.Diff(want, m.Controller); d != "" {
		t.Error(d)
	}
	var told [][2]string
	for _, row := range m.Facts() {
		if len(told) > 0 || row[0] == "controller" {
			told = append(told, row)
		}
	}
	if d := cmp.Diff([][2]string{
		{"controller", "3 decimals, lines of at most 70 characters ending in lf"},
		{"arcs", "as chords, at most 0.02 mm off, on the side that leaves metal"},
		{"drilling cycles", "G81 and G83; a peck lifts by 0.3 mm"},
		{"tool change", "by T and M6; G43 takes each length from the controller's table"},
		{"comments", "behind a semicolon"},
		{"line numbers", "in steps of 10"},
		{"percent lines", "first and last"},
		{"dwell", "in milliseconds"},
		{"words at the head", "M8 G61"},
		{"words at the end", "G80"},
		{"ends with", "M30"},
		{"left in", "inches, G20"},
		{"spindle speed", "the operator sets it; 3 s from its word to full speed"},
	}, told); d != "" {
		t.Error(d)
	}
}
