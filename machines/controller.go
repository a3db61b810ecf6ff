package machines

import (
	"time"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
)

// Controller is the abilities of what runs a G-code program. The dialect is put
// together from them.
type Controller struct {
	Places      int            // decimals of a coordinate, 2 to 5
	Arcs        string         // "centre": by their centre, or "chords"
	Chord       measure.Length // how far a chord may lie off its arc
	Cycles      []int          // drilling cycles by their G words: 73, 81, 82, 83; rising
	PeckLift    measure.Length // how far over its last depth a peck of G83 comes down by rapid, and one of G73 lifts
	ToolChange  string         // "files": one program for each tool; "pause": M0; "code": T and M6
	Slots       int            // of its tool table: the highest T, H and D; nought is not known
	ToolLengths bool           // G43 after a change by code: a table of the controller's holds each cutter's length
	Comments    string         // "parentheses", "semicolon" or "none"
	LineNumbers int            // their step; nought is none
	Percent     bool           // a percent line first and last
	Dwell       string         // the unit of a dwell: "seconds" or "milliseconds"
	SpinUp      measure.Time   // from the spindle's word to full speed
	HeadWords   []string       // of one's own, behind the modes; see [ReadWords]
	EndWords    []string       // of one's own, behind the spindle's stop
	End         string         // "M2" or "M30"
	NativeUnits measure.Unit   // the units it is left in: MM or In
	LineLength  int            // longest line, the line's end counted
	LineEnd     string         // "lf" or "crlf"
	SetsSpindle bool           // S is obeyed; otherwise the operator sets the speed
}

// Step is the least length that a program can tell in a unit.
func (c *Controller) Step(u measure.Unit) measure.Length {
	s := u.Size()
	for range c.Places {
		s /= 10
	}
	return s
}

// Cycle tells whether the controller has a drilling cycle, by its G word.
func (c *Controller) Cycle(g int) bool { return slices.Contains(c.Cycles, g) }

// The defaults: peck_lift is the reference interpreter's own figure, 0.010 in (its public
// source); chord_tolerance is an own choice, a hundredth of a millimetre being what a mill's
// dials show.
var controllerTable = &form.Table{
	Help: "Abilities of what runs a program; the dialect is put together from them",
	Keys: []form.Key{
		{Name: "places", Kind: form.Count, Required: true, Min: "2", Max: "5", Help: "decimals of a coordinate; a limit that they cannot hold refuses"},
		{Name: "arcs", Kind: form.Word, Choices: []string{"centre", "chords"}, Says: "centre; with fewer than 3 places in mm or 4 in inches chords", Help: "centre: G2 and G3 with I and J; chords: straight lines on the side that leaves metal"},
		{Name: "chord_tolerance", Kind: form.Length, Above: "0 mm", Max: "2 mm", Says: "0.01 mm, or four steps of the places where that is more", Help: "how far a chord may lie off its arc, on the side that leaves metal; arcs that do not close on the places are put in chords too"},
		{Name: "cycles", Kind: form.Counts, Says: "none: each move written out", Help: "drilling cycles it has, such as [81, 83]: of 73, 81, 82 and 83; one is written where it does just what the plan's moves do"},
		{Name: "peck_lift", Kind: form.Length, Min: "0.25 mm", Max: "5 mm", Default: "0.010 in", Says: "0.010 in", Help: "how far over its last depth a peck of G83 comes down by a rapid, and one of G73 lifts: the controller's own figure"},
		{Name: "tool_change", Kind: form.Word, Choices: []string{"files", "pause", "code"}, Default: "files", Help: "files: one program for each tool; pause: M0, the operator changes it and touches off; code: T and M6"},
		{Name: "slots", Kind: form.Count, Min: "1", Max: "100000", Says: "not known, and no number is too large", Help: "how many tools its table holds: the highest number that T, H and D may have"},
		{Name: "tool_lengths", Kind: form.Flag, Default: "false", Help: "with code: G43 and the tool's number after each change, its length in the controller's table; otherwise all are set to one length"},
		{Name: "comments", Kind: form.Word, Choices: []string{"parentheses", "semicolon", "none"}, Default: "parentheses", Help: "how a comment is written"},
		{Name: "line_numbers", Kind: form.Count, Min: "1", Max: "1000", Says: "none", Help: "the step from one line's number to the next; after 99999 they begin again"},
		{Name: "percent", Kind: form.Flag, Default: "false", Help: "a percent sign alone on the first and on the last line"},
		{Name: "dwell", Kind: form.Word, Required: true, Choices: []string{"seconds", "milliseconds"}, Help: "the unit of a dwell's P; whole milliseconds have no point"},
		{Name: "spin_up", Kind: form.Time, Required: true, Min: "0 s", Max: "60 s", Help: "from the spindle's word to full speed"},
		{Name: "head_words", Kind: form.Text, Says: "none", Help: "words of your own behind the modes, one to a line: of M7, M8, M48, M49, G61, G61.1, and the modes that are in force there anyhow"},
		{Name: "end_words", Kind: form.Text, Says: "none", Help: "words of your own behind the spindle's stop: of M9, M48, M49 and the modes that are in force there anyhow; a coolant that the head turns on goes off without them"},
		{Name: "end", Kind: form.Word, Choices: []string{"M2", "M30"}, Default: "M2", Help: "the program's last word"},
		{Name: "native_units", Kind: form.Word, Choices: []string{"mm", "in"}, Says: "those of the programs", Help: "the units that it is left in at the end"},
		{Name: "line_length", Kind: form.Count, Default: "70", Min: "50", Max: "70", Help: "longest line, its end counted"},
		{Name: "line_end", Kind: form.Word, Choices: []string{"lf", "crlf"}, Default: "lf", Help: "how a line ends"},
		{Name: "sets_spindle", Kind: form.Flag, Required: true, Help: "whether the program sets the spindle's speed; otherwise the operator does"},
	},
}

// fewestPlaces is how many decimals an arc needs: with fewer, rounding puts its
// two radii further apart than readers allow (0.002 mm or 0.0002 in, NISTIR 6556,
// 3.5.3.2).
func fewestPlaces(u measure.Unit) int {
	if u == measure.In {
		return 4
	}
	return 3
}

func readController(n *form.Node, u measure.Unit) *Controller {
	c := &Controller{
		Places: int(n.Count("places")), Arcs: n.Word("arcs"), PeckLift: n.Length("peck_lift"),
		ToolChange: n.Word("tool_change"), ToolLengths: n.Flag("tool_lengths"), Comments: n.Word("comments"),
		LineNumbers: int(n.Count("line_numbers")), Percent: n.Flag("percent"),
		Dwell: n.Word("dwell"), SpinUp: n.Time("spin_up"), End: n.Word("end"), NativeUnits: u,
		LineLength: int(n.Count("line_length")), LineEnd: n.Word("line_end"), SetsSpindle: n.Flag("sets_spindle"),
	}
	if n.Has("slots") {
		c.Slots = int(n.Count("slots"))
	}
	if c.SpinUp%(10*time.Millisecond) != 0 {
		n.Fault("spin_up", "%s is too fine for a dwell: write whole hundredths of a second", measure.FormatTime(c.SpinUp))
	}
	switch n.Word("native_units") {
	case "mm":
		c.NativeUnits = measure.MM
	case "in":
		c.NativeUnits = measure.In
	}
	c.readArcs(n, u)
	c.readCycles(n, u)
	if c.ToolLengths && c.ToolChange != "code" {
		n.Fault("tool_lengths", "a table of lengths goes with a change by code: write tool_change = \"code\", or leave it out")
	}
	if c.Comments == "none" && (c.ToolChange == "pause" || c.ToolChange == "code" && !c.SetsSpindle) {
		n.Fault("comments", "without any the operator is not told what to do at a change of tool: write tool_change = \"files\"")
	}
	c.HeadWords = readWords(n, "head_words", headWords(u))
	c.EndWords = readWords(n, "end_words", endWords(c.NativeUnits))
	return c
}

// readArcs settles arcs or chords, and the chords' tolerance.
func (c *Controller) readArcs(n *form.Node, u measure.Unit) {
	fewest, step := fewestPlaces(u), c.Step(u)
	switch {
	case c.Arcs == "" && c.Places < fewest:
		c.Arcs = "chords"
	case c.Arcs == "":
		c.Arcs = "centre"
	case c.Arcs == "centre" && c.Places < fewest:
		n.Fault("arcs", "%d places do not hold an arc's centre: write arcs = \"chords\", or places = %d where the controller takes them", c.Places, fewest)
	}
	// Four steps: the corners of chords are put on the grid on the side that leaves
	// metal, which takes up to 1.71 of them.
	least := 4 * step
	c.Chord = max(measure.Millimetre/100, least)
	if n.Has("chord_tolerance") {
		if c.Chord = n.Length("chord_tolerance"); c.Chord < least {
			n.Fault("chord_tolerance", "%s is less than four steps of %d places, %s: write that or more", lengthText(u, c.Chord), c.Places, lengthText(u, least))
		}
	}
}

// cyclesKnown are the cycles that the writer knows, by their G words.
var cyclesKnown = []int64{73, 81, 82, 83}

func (c *Controller) readCycles(n *form.Node, u measure.Unit) {
	for _, g := range n.Counts("cycles") {
		switch {
		case !slices.Contains(cyclesKnown, g):
			n.Fault("cycles", "%d is no drilling cycle that is written here: write 73, 81, 82 or 83", g)
			return
		case c.Cycle(int(g)):
			n.Fault("cycles", "%d stands twice: write each once", g)
			return
		}
		c.Cycles = append(c.Cycles, int(g))
	}
	slices.Sort(c.Cycles)
	if pecks := c.Cycle(83) || c.Cycle(73); pecks && c.PeckLift%c.Step(u) != 0 {
		key := "cycles"
		if n.Has("peck_lift") {
			key = "peck_lift"
		}
		n.Fault(key, "a peck lifts by %s, which %d places do not hold: leave 73 and 83 out, or give peck_lift as the controller has it",
			lengthText(u, c.PeckLift), c.Places)
	}
}
