package machines

import (
	"fmt"
	"strings"

	"stopshort/toolpath/measure"
)

// Facts is the machine as a person would be told it: rows of a label and its
// text, lengths in the machine's own units. Aligning them is the caller's.
func (m *Machine) Facts() [][2]string {
	var rows [][2]string
	add := func(label, format string, args ...any) {
		rows = append(rows, [2]string{label, fmt.Sprintf(format, args...)})
	}
	add("title", "%s", m.Title)
	add("kind", "%s", m.Kind)
	add("units", "%s", m.Units)
	add("stiffness", "%s", m.Stiffness)
	add("depth set by", "%s", m.DepthBy)
	for i, a := range m.Axes {
		name := "XYZ"[i : i+1]
		if a.HasDial() {
			add(name+" wheel", "%s", a.Wheel)
			add(name+" dial", "%s a turn, %s lines of %s", m.ratio(a.Lead), ratioText(a.Lines), m.ratio(a.LineValue()))
			add(name+" clockwise", "takes the cutter to %s%s", a.Sense, name)
			m.dialFacts(add, name, a)
		} else {
			add(name+" wheel", "none: a motor turns the screw")
		}
		add(name+" travel", "%s", lengthText(m.Units, a.Travel))
		add(name+" backlash", "%s", lengthText(m.Units, a.Backlash))
	}
	m.sourceFacts(add)
	switch m.Stop.Kind {
	case "nut":
		on := ""
		if m.Second != nil {
			on = " on the " + m.Stop.On
		}
		add("stop", "a nut%s, in steps of %s", on, lengthText(m.Units, m.Stop.Step))
	case "dial":
		add("stop", "the dial of Z is read; nothing halts the cut")
	default:
		add("stop", "none")
	}
	if len(m.Spindle.Speeds) > 0 {
		var speeds []string
		for _, s := range m.Spindle.Speeds {
			speeds = append(speeds, strings.TrimSuffix(s.String(), " rpm"))
		}
		add("spindle", "%s rpm", strings.Join(speeds, ", "))
	} else {
		add("spindle", "%s to %s", m.Spindle.Low, m.Spindle.High)
	}
	add("feed", "%s to %s", feedText(m.Units, m.Feeds.Low), feedText(m.Units, m.Feeds.High))
	add("feed down", "at most %s", feedText(m.Units, m.Feeds.Down))
	rows = append(rows, m.errorFacts()...)
	return append(rows, m.controllerFacts()...)
}

// dialFacts tells what is out of the common on a dial.
func (m *Machine) dialFacts(add func(label, format string, args ...any), name string, a Axis) {
	if a.Falls {
		add(name+" numbers", "fall when it is turned clockwise")
	}
	if a.Diameter {
		add(name+" shows", "diameters: it counts twice what the slide moves")
	}
	if a.Half {
		add(name+" lines", "set to half a line")
	}
	if v := a.LineValue(); a.Line > 0 && !a.Diameter && v != measure.NewRatio(int64(a.Line), 1) {
		add(name+" line", "is called %s; the screw is right", lengthText(m.Units, a.Line))
	}
}

// sourceFacts tells of a second wheel that sets Z, and of a readout.
func (m *Machine) sourceFacts(add func(label, format string, args ...any)) {
	if s := m.Second; s != nil {
		add(s.By+" wheel", "%s", s.Wheel)
		add(s.By+" dial", "%s a turn, %s lines of %s", m.ratio(s.Lead), ratioText(s.Lines), m.ratio(s.LineValue()))
		add(s.By+" clockwise", "takes the cutter to %sZ", s.Sense)
		m.dialFacts(add, s.By, s.Axis)
		add(s.By+" travel", "%s", lengthText(m.Units, s.Travel))
		add(s.By+" backlash", "%s", lengthText(m.Units, s.Backlash))
		for _, use := range [][2]string{{"mills by", m.MillBy}, {"drills by", m.DrillBy}} {
			if use[1] != "" {
				add(use[0], "%s", use[1])
			}
		}
	}
	if m.RoundColumn {
		add("column", "round: moving the head loses X and Y")
	}
	if m.Rotary != nil {
		m.Rotary.facts(add)
	}
	if r := m.Readout; r != nil {
		var axes string
		for i, on := range r.Axes {
			if on {
				axes += "XYZ"[i : i+1]
			}
		}
		add("readout", "of %s, to %s", axes, lengthText(m.Units, r.Resolution))
	}
}

// errorFacts lists the shares, each way, and what those of a depth come to.
func (m *Machine) errorFacts() (rows [][2]string) {
	e := m.Errors
	for _, r := range []struct {
		label string
		of    measure.Length
	}{
		{"error, touching a face", e.TouchZ},
		{"error, picking up an edge", e.TouchXY},
		{"error, setting", e.Setting},
		{"error, stop", e.Stop},
		{"error, play", e.Play},
		{"error, run-out", e.RunOut},
		{"error, bending", e.Bend},
		{"error, place", e.Place},
		{"error, diameter", e.Diameter},
		{"error, gauge", e.Gauge},
	} {
		rows = append(rows, [2]string{r.label, lengthText(m.Units, r.of)})
	}
	rows = append(rows,
		[2]string{"error, screw", m.rate(e.Lead)},
		[2]string{"error, tilt", m.rate(e.Tilt)})
	over := measure.Inch
	if m.Units == measure.MM {
		over = 25 * measure.Millimetre
	}
	return append(rows, [2]string{"error in depth",
		fmt.Sprintf("%s together, over %s of length and of depth", lengthText(m.Units, e.InZ(over, over)), lengthText(m.Units, over))})
}

// InZ is what all shares that bear on a depth come to, each way: over a length
// from the touching place, and a depth.
func (e Errors) InZ(length, depth measure.Length) measure.Length {
	sum := e.TouchZ + e.Setting + e.Stop + e.Play + e.Place + e.Diameter
	return sum + part(e.Tilt, length) + part(e.Lead, depth)
}

// part is the share of a length, rounded up; a ratio that was never set is
// nought.
func part(r measure.Ratio, l measure.Length) measure.Length {
	if r.IsZero() {
		return 0
	}
	return r.Of(l.Abs(), measure.Ceil)
}

// lengthText is a length in the machine's unit: millimetres to at most four places,
// inches to three or, where that is not exact, five.
func lengthText(u measure.Unit, l measure.Length) string {
	if u != measure.In {
		return l.String()
	}
	switch {
	case l%measure.Inch == 0:
		return l.Inches(0) + " in"
	case l%measure.Thou == 0:
		return l.Inches(3) + " in"
	case l%(measure.Thou/10) == 0:
		return l.Inches(4) + " in"
	}
	return l.Inches(5) + " in"
}

// ratio is a lead or a line, exact: in the machine's unit, else in millimetres,
// else as a fraction of a millimetre.
func (m *Machine) ratio(r measure.Ratio) string {
	l := measure.Length(r.Num)
	switch {
	case r.Den == 1 && m.Units == measure.In && l%(measure.Thou/100) == 0:
		return lengthText(m.Units, l)
	case r.Den == 1:
		return l.MM() + " mm"
	}
	q, err := r.Over(measure.NewRatio(int64(measure.Millimetre), 1))
	if err != nil {
		return "about " + r.Times(1, measure.Nearest).String()
	}
	return ratioText(q) + " mm"
}

// feedText is a feed in the machine's unit, to at most four places.
func feedText(u measure.Unit, f measure.Feed) string {
	if u != measure.In {
		return f.String()
	}
	return strings.TrimSuffix(strings.TrimRight(f.Format(measure.In, 4, measure.Nearest), "0"), ".") + " in/min"
}

// rate is an error for a length, rounded up: over 100 mm, or over an inch in
// thou.
func (m *Machine) rate(r measure.Ratio) string {
	if m.Units == measure.In {
		return part(r, measure.Inch).Format(measure.InThou, 2, measure.Ceil) + " thou in 1 in"
	}
	return part(r, 100*measure.Millimetre).Format(measure.MM, 3, measure.Ceil) + " mm in 100 mm"
}
