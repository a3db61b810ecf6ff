package post

import (
	"fmt"
	"strconv"
	"strings"

	"golang.org/x/exp/slices"

	"stopshort/machines"
	"stopshort/post/rs274/write"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// remarks are the comments of a text, without their signs, a line each.
func remarks(text []byte) (out []string) {
	for _, line := range strings.Split(string(text), "\n") {
		at := strings.IndexAny(line, "(;")
		if at < 0 {
			continue
		}
		said, _, _ := strings.Cut(line[at+1:], ")")
		out = append(out, strings.TrimSpace(said))
	}
	return out
}

// headSays holds what a program's head tells the operator to mount and to set against
// the plan, since no word of the language says it: the job, the set-up, the units,
// each fact of the plan, what holds the part, where its zero is, each cutter, the spindle's speeds and the
// height to start from. p is the program as it is written. For a controller that takes no
// comments it is what is told beside the text.
func headSays(text write.Text, p toolpath.Program, m *machines.Machine) *Fault {
	said, head := remarks(text.Bytes), headOf(text.Bytes)
	if m.Controller.Comments == "none" {
		said, head = text.Told, strings.Join(text.Told, " ")
	}
	missing := func(what string) *Fault { return &Fault{Line: 1, Text: "its head does not tell " + what} }
	units := "UNITS ARE MM"
	if m.Units == measure.In {
		units = "UNITS ARE INCHES"
	}
	setup := "SET-UP " + strconv.Itoa(p.Setup.Number)
	switch {
	case !slices.Contains(said, "JOB "+p.Digest):
		return missing("the job")
	case !slices.Contains(said, units):
		return missing("the units")
	case !slices.ContainsFunc(said, func(s string) bool { return s == setup || strings.HasPrefix(s, setup+" ") }):
		return missing("the set-up")
	}
	if f := untold(said, p.Head); f != "" {
		return missing(f)
	}
	if len(p.Setup.Head) > 0 { // else the plan says nothing of it
		if name := unheld(figuresOf(head, p.Setup), p.Setup, m.Units); name != "" {
			return missing(name + ", which holds the part, with its place and top")
		}
		if what := unzeroed(head, p, m.Units); what != "" {
			return missing(what)
		}
	}
	for _, op := range p.Operations {
		t := op.Tool
		if !slices.ContainsFunc(said, func(s string) bool {
			of, figure, ok := figureIn(s, "TOOL ", m.Units)
			return ok && of == t.Number && figure(t.Diameter)
		}) {
			return missing(fmt.Sprintf("tool %d of %s", t.Number, t.Diameter))
		}
		if t.Measured != 0 && t.Measured != t.Diameter && !slices.ContainsFunc(said, func(s string) bool {
			_, figure, ok := figureIn(s, "THE CUTTER MEASURES", m.Units)
			return ok && figure(t.Measured)
		}) {
			return missing(fmt.Sprintf("that tool %d measures %s", t.Number, t.Measured))
		}
	}
	if !slices.ContainsFunc(said, func(s string) bool {
		_, figure, ok := figureIn(s, "START WITH THE CUTTER", m.Units)
		return ok && strings.Contains(s, " NO LOWER THAN ") == (p.Setup.Clearance < 0) && figure(p.Setup.Clearance.Abs())
	}) {
		return missing(fmt.Sprintf("the height of %s to start from", p.Setup.Clearance))
	}
	if want := speedsOf(p); !slices.Contains(toldSpeeds(said), want) {
		return missing("the spindle's speed of " + want + " rpm")
	}
	return nil
}

// figureIn takes a remark apart that begins with some words: the whole number behind
// them, if any, and the length in front of the unit, which is told to the places it
// has.
func figureIn(remark, begins string, u measure.Unit) (of int, is func(measure.Length) bool, ok bool) {
	rest, found := strings.CutPrefix(remark, begins)
	if !found {
		return 0, nil, false
	}
	words := strings.Fields(rest)
	at := slices.Index(words, strings.ToUpper(u.String()))
	if at < 1 {
		return 0, nil, false
	}
	of, _ = strconv.Atoi(words[0])
	l, off, ok := figure(words[at-1], u)
	return of, func(m measure.Length) bool { return (l - m).Abs() <= off }, ok
}

// figure is a length that is told to the places it has, and half of the last one.
func figure(text string, u measure.Unit) (l, off measure.Length, ok bool) {
	l, err := measure.ParseLength(text, u)
	_, decimals, point := strings.Cut(text, ".")
	if err != nil || !point {
		return 0, 0, false
	}
	last := u.Size()
	for range decimals {
		last /= 10
	}
	return l, last / 2, true
}

// speedsOf is the spindle's speeds in order, as they are told.
func speedsOf(p toolpath.Program) string {
	var all []string
	for i, op := range p.Operations {
		if i == 0 || op.Speed != p.Operations[i-1].Speed {
			all = append(all, strings.TrimSuffix(op.Speed.String(), " rpm"))
		}
	}
	return strings.Join(all, " ")
}

// toldSpeeds is what the remarks tell of the spindle: of each that begins so the
// numbers up to its end, which may stand on a later line.
func toldSpeeds(said []string) (out []string) {
	for i, s := range said {
		if !strings.HasPrefix(s, "SPINDLE ") && !strings.HasPrefix(s, "SET THE SPINDLE BY HAND TO ") {
			continue
		}
		var numbers []string
	told:
		for _, line := range said[i:] {
			for _, word := range strings.Fields(line) {
				if word == "RPM" {
					break told
				}
				if _, err := strconv.Atoi(word); err == nil {
					numbers = append(numbers, word)
				}
			}
		}
		out = append(out, strings.Join(numbers, " "))
	}
	return out
}
