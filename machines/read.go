package machines

import (
	"path"
	"path/filepath"
	"strings"
	"unicode"
	"unicode/utf8"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
)

// Read reads a machine file; file is its name for messages and, without folder
// and ending, the machine's name. All faults of meaning are given at once, as
// [form.Faults].
func Read(file string, data []byte) (*Machine, error) {
	n, err := form.Read(file, data, Tables())
	if err != nil {
		return nil, err
	}
	m := &Machine{
		Name:      stem(file),
		Digest:    form.Digest(data),
		Title:     oneLine(n, "title"),
		Kind:      n.Word("kind"),
		Units:     measure.MM,
		Stiffness: n.Word("stiffness"),
		DepthBy:   n.Word("depth_by"),
	}
	if m.Title == "" {
		m.Title = m.Name
	}
	if n.Word("units") == "in" {
		m.Units = measure.In
	}
	if saddle := m.DepthBy == "saddle"; saddle != (m.Kind == "lathe") {
		n.Fault("depth_by", "%q does not go with a %s: a lathe's depth is set by its saddle, a mill's by head, knee or quill", m.DepthBy, m.Kind)
	}
	if c := n.Sub("controller"); c != nil {
		m.Controller = readController(c, m.Units)
	}
	for i, key := range []string{"x", "y", "z"} {
		m.Axes[i] = readAxis(n.Sub(key), m.Units, m.Controller != nil)
		m.Axes[i].meets(n.Sub(key), i == 2, m.DepthBy)
	}
	m.readSources(n)
	if r := n.Sub("readout"); r != nil {
		m.Readout = &Readout{Resolution: r.Length("resolution")}
		for i := range m.Readout.Axes {
			m.Readout.Axes[i] = strings.Contains(r.Word("axes"), "xyz"[i:i+1])
		}
	}
	if r := n.Sub("rotary_table"); r != nil {
		m.Rotary = readRotary(r)
		switch {
		case m.Controller != nil:
			r.Fault("ratio", "a machine with a controller follows arcs itself: leave rotary_table out")
		case m.Kind == "lathe":
			r.Fault("ratio", "a vertical slide carries no rotary table here: leave rotary_table out")
		}
	}
	m.ProfileBy = n.Word("profile_by")
	if m.ProfileBy == "rotary table" && m.Rotary == nil {
		n.Fault("profile_by", "there is no [rotary_table]: add one, or write nibbling")
	}
	m.Stop = Stop{Kind: "none"}
	if s := n.Sub("stop"); s != nil {
		m.Stop = m.readStop(s)
	}
	m.Spindle = readSpindle(n.Sub("spindle"))
	m.Feeds = readFeeds(n.Sub("feeds"), m.Units)
	m.Errors = readErrors(n.Sub("errors"), m)
	if err := n.Faults(); err != nil {
		return nil, err
	}
	return m, nil
}

// stem is the file's name without folder and ending, fit to be printed.
func stem(file string) string {
	s := path.Base(filepath.ToSlash(file))
	s = strings.TrimSuffix(s, path.Ext(s))
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return '-'
		}
		return r
	}, s)
}

// longest is the most characters of a text that goes into a row of a table.
const longest = 80

// oneLine is a text that is printed as it is, on one row.
func oneLine(n *form.Node, key string) string {
	s := strings.TrimSpace(n.Text(key))
	if strings.ContainsFunc(s, func(r rune) bool { return !unicode.IsPrint(r) }) {
		n.Fault(key, "holds a line break or a character that cannot be printed: write plain text on one line")
	}
	if c := utf8.RuneCountInString(s); c > longest {
		n.Fault(key, "%d characters do not fit a row: write at most %d", c, longest)
	}
	return s
}

// finest is the least that a line of a dial may be: a tenth of a micrometre,
// far finer than any. It keeps the number of lines to any position small enough
// to count.
const finest = measure.Micrometre / 10

func readAxis(n *form.Node, u measure.Unit, driven bool) Axis {
	a := Axis{
		Wheel: oneLine(n, "wheel"), Travel: n.Length("travel"),
		Sense: n.Word("clockwise"), Backlash: n.Length("backlash"),
		Half: n.Flag("half_lines"), Falls: n.Word("numbers") == "fall", Diameter: n.Word("shows") == "diameter",
		Words: [2]string{"clockwise", "anticlockwise"},
	}
	for i, key := range []string{"clockwise_word", "anticlockwise_word"} {
		if w := oneLine(n, key); w != "" {
			a.Words[i] = w
		}
	}
	if a.Words[0] == a.Words[1] {
		n.Fault("clockwise_word", "%q means both ways to turn: give each its own word", a.Words[0])
	}
	if n.Has("lead") {
		a.Lead = n.Lead("lead")
	}
	if n.Has("lines") {
		a.Lines = n.Number("lines")
	}
	if a.Backlash >= a.Travel {
		n.Fault("backlash", "%s is not less than the travel, %s: is the unit right?", lengthText(u, a.Backlash), lengthText(u, a.Travel))
	}
	if !n.Has("lead") && !n.Has("lines") {
		if !driven {
			n.Fault("lead", "there is neither a dial nor a controller to set this slide by: give lead, lines, clockwise and wheel, or add a [controller]")
		}
		return a
	}
	for _, need := range []struct{ key, is string }{
		{"lead", "how far one turn moves the slide"},
		{"lines", "the lines of the dial for one turn"},
		{"clockwise", "which way the cutter goes, \"+\" or \"-\""},
		{"wheel", "what the operator turns"},
	} {
		if !n.Has(need.key) || need.key == "wheel" && a.Wheel == "" {
			n.Fault(need.key, "is missing beside the rest of the dial: %s", need.is)
		}
	}
	if a.HasDial() {
		a.called(n)
		v, err := a.Lead.Over(a.Lines)
		switch {
		case err != nil:
			n.Fault("lines", "one line comes to a figure that cannot be held exactly: write lead and lines with fewer figures")
		case v.Times(1, measure.Floor) < finest:
			n.Fault("lines", "one line comes to less than a tenth of a micrometre: are lead and lines right?")
		case v.Times(1, measure.Ceil) > a.Travel:
			n.Fault("lead", "one line comes to more than the travel, %s: are lead and lines right?", lengthText(u, a.Travel))
		}
	}
	return a
}

// readStop reads the stop. A mill's depth nut is on its quill, where it has one.
func (m *Machine) readStop(n *form.Node) Stop {
	z := m.Axes[2]
	s := Stop{Kind: n.Word("kind"), On: n.Word("on")}
	if s.On == "" {
		s.On = m.DepthBy
		if m.Second != nil && m.Second.By == "quill" {
			s.On = "quill"
		}
	}
	if _, ok := m.ZAxis(s.On); !ok {
		n.Fault("on", "no %s sets Z here: leave it out, or write %s", s.On, m.DepthBy)
	}
	if n.Has("step") {
		s.Step = n.Length("step")
	}
	switch {
	case s.Kind == "nut" && s.Step <= 0:
		n.Fault("step", "is missing: a stop nut has a finest setting, such as a line of its scale")
	case s.Kind != "nut" && n.Has("step"):
		n.Fault("step", "belongs to a nut: leave it out, or write kind = \"nut\"")
	case s.Kind == "dial" && !z.HasDial():
		n.Fault("kind", "%q needs a dial on [z]: give it lead and lines, or write kind = \"none\"", s.Kind)
	}
	return s
}

func readSpindle(n *form.Node) Spindle {
	var s Spindle
	if n.Has("speeds") {
		s.Speeds = n.Speeds("speeds")
		if n.Has("low") || n.Has("high") {
			n.Fault("speeds", "stands beside low and high: give either the list or the range")
		}
		if len(s.Speeds) == 0 {
			n.Fault("speeds", "is empty: list the speeds, or give low and high")
		}
		for i, v := range s.Speeds {
			if i > 0 && v <= s.Speeds[i-1] {
				n.Fault("speeds", "%s stands after %s: write each once, slowest first", v, s.Speeds[i-1])
			}
		}
		return s
	}
	if !n.Has("low") || !n.Has("high") {
		n.Fault("low", "the spindle's speeds are not said: give low and high, or the list speeds")
		return s
	}
	s.Low, s.High = n.Speed("low"), n.Speed("high")
	if s.Low > s.High {
		n.Fault("low", "%s is above high, %s: write the lesser as low", s.Low, s.High)
	}
	return s
}

func readFeeds(n *form.Node, u measure.Unit) Feeds {
	f := Feeds{Low: n.Feed("low"), High: n.Feed("high"), Down: n.Feed("down")}
	if f.Low > f.High {
		n.Fault("low", "%s is above high, %s: write the lesser as low", feedText(u, f.Low), feedText(u, f.High))
	}
	return f
}

func readErrors(n *form.Node, m *Machine) Errors {
	e := Errors{
		TouchZ: n.Length("touch_z"), TouchXY: n.Length("touch_xy"), Setting: n.Length("setting"),
		Stop: n.Length("stop"), Play: n.Length("play"), Lead: n.Rate("lead"), Tilt: n.Rate("tilt"),
		RunOut: n.Length("run_out"), Bend: n.Length("bend"), Place: n.Length("place"), Diameter: n.Length("diameter"), Gauge: n.Length("gauge"),
	}
	if e.Stop > 0 && m.Stop.Kind != "nut" {
		n.Fault("stop", "%s is given, but there is no stop nut that could repeat: write 0 mm, or kind = \"nut\" under [stop]", lengthText(m.Units, e.Stop))
	}
	// A screw or a vice that is out by a tenth of the way is a slip of the pen.
	for _, r := range []struct {
		key string
		of  measure.Ratio
	}{{"lead", e.Lead}, {"tilt", e.Tilt}} {
		if r.of.Num < 0 || r.of.Num > r.of.Den/10 {
			n.Fault(r.key, "is out of bounds: from nothing to a tenth of the length, such as \"0.02 mm in 100 mm\"")
		}
	}
	return e
}
