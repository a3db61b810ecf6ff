package machines

import (
	"fmt"
	"strings"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
)

// controllerFacts are the abilities as a person would be told them.
func (m *Machine) controllerFacts() [][2]string {
	c := m.Controller
	if c == nil {
		return [][2]string{{"controller", "none: the machine is turned by hand"}}
	}
	var rows [][2]string
	add := func(label, format string, args ...any) {
		rows = append(rows, [2]string{label, fmt.Sprintf(format, args...)})
	}
	add("controller", "%d decimals, lines of at most %d characters ending in %s", c.Places, c.LineLength, c.LineEnd)
	if c.Arcs == "chords" {
		add("arcs", "as chords, at most %s off, on the side that leaves metal", lengthText(m.Units, c.Chord))
	} else {
		add("arcs", "by their centre")
	}
	if len(c.Cycles) > 0 {
		var words []string
		for _, g := range c.Cycles {
			words = append(words, fmt.Sprintf("G%d", g))
		}
		text := form.Listed(words, "and")
		if c.Cycle(83) || c.Cycle(73) {
			text += fmt.Sprintf("; a peck lifts by %s", lengthText(m.Units, c.PeckLift))
		}
		add("drilling cycles", "%s", text)
	}
	change := map[string]string{
		"files": "one program for each tool", "pause": "by hand in a pause, M0; Z is touched off again", "code": "by T and M6; all tools are set to one length",
	}[c.ToolChange]
	if c.ToolLengths {
		change = "by T and M6; G43 takes each length from the controller's table"
	}
	add("tool change", "%s", change)
	if c.Slots > 0 {
		add("tool table", "%d: the highest T, H and D", c.Slots)
	}
	add("comments", "%s", map[string]string{"parentheses": "in parentheses", "semicolon": "behind a semicolon", "none": "none"}[c.Comments])
	if c.LineNumbers > 0 {
		add("line numbers", "in steps of %d", c.LineNumbers)
	}
	if c.Percent {
		add("percent lines", "first and last")
	}
	add("dwell", "in %s", c.Dwell)
	if len(c.HeadWords) > 0 {
		add("words at the head", "%s", strings.Join(c.HeadWords, " "))
	}
	if len(c.EndWords) > 0 {
		add("words at the end", "%s", strings.Join(c.EndWords, " "))
	}
	if c.End != "M2" {
		add("ends with", "%s", c.End)
	}
	if c.NativeUnits != m.Units {
		add("left in", "%s", map[measure.Unit]string{measure.MM: "mm, G21", measure.In: "inches, G20"}[c.NativeUnits])
	}
	speed := "the operator sets it"
	if c.SetsSpindle {
		speed = "the program sets it"
	}
	add("spindle speed", "%s; %s from its word to full speed", speed, measure.FormatTime(c.SpinUp))
	return rows
}
