package handwheel

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"stopshort/machines"
	"stopshort/toolpath/measure"
)

// wide is the most characters of a line of the text.
const wide = 100

// Text is the table for a person at the machine: what must be known once, the dry
// run, then the rows, a page for each cut.
func (t *Table) Text() string {
	var b strings.Builder
	b.WriteString(wrap(fmt.Sprintf("%s by hand on %s, job %s", clean(t.Title), t.Machine.Name, t.Digest), 0))
	lines := func(title string, of []string) {
		if len(of) == 0 {
			return
		}
		fmt.Fprintf(&b, "\n%s\n", title)
		for _, s := range of {
			b.WriteString("  " + wrap(clean(s), 4))
		}
	}
	if t.GoOn > 0 {
		b.WriteString("\n" + wrap(fmt.Sprintf("go on at row %d: the rows before it are cut", t.GoOn), 0))
	}
	lines("warnings", t.Warnings)
	lines("wheels", t.Head)
	again := t.passesAgain()
	readings := t.Reading
	if len(again) > 0 {
		readings = append(readings[:len(readings):len(readings)], againReading)
	}
	lines("how the rows are read", readings)
	lines("cautions", t.Cautions)
	lines("measure, spindle off", t.Measures)
	lines("where the figures come from", t.Whence)
	setup := 0
	var c columns
	skip := map[int]string{}
	for _, a := range again {
		skip[a.first] = a.text(t)
		for i := a.first + 1; i < a.past; i++ {
			skip[i] = ""
		}
	}
	for i := range t.Rows {
		r := &t.Rows[i]
		instead, skipped := skip[i]
		if r.Setup != setup {
			setup = r.Setup
			c = t.columns()
			lines("the dry run, spindle off and the cutter raised: each cut is walked at its row before it is cut", t.walksOf(setup))
			b.WriteString("\n" + strings.Repeat("=", wide) + "\n")
			b.WriteString(c.head(t.Machine.Units))
		}
		if r.begins {
			b.WriteString("\n" + strings.Repeat("-", wide) + "\n")
			b.WriteString(fmt.Sprintf("%4d ", r.Number) + wrap(fmt.Sprintf("%s: %s", r.Cut, r.Note), 5))
			b.WriteString(c.head(t.Machine.Units))
			c.pass = ""
			continue
		}
		if r.Pass != c.pass {
			c.pass = r.Pass
			if r.Pass != "" {
				b.WriteString(wrap("- "+r.Pass, 2))
			}
		}
		if skipped {
			b.WriteString(instead)
			continue
		}
		b.WriteString(c.row(t, r))
	}
	return b.String()
}

// walksOf is the dry runs of a set-up, with their rows' numbers.
func (t *Table) walksOf(setup int) (out []string) {
	for _, w := range t.walks {
		if w.setup == setup {
			out = append(out, fmt.Sprintf("row %d, %s", t.Rows[w.row].Number, w.text))
		}
	}
	return out
}

// columns are the widths that depend on the machine's words.
type columns struct {
	wheel, turn, by, dial int
	pass                  string
}

func (t *Table) columns() columns {
	c := columns{wheel: 5, turn: 4, by: 11, dial: 6}
	for i := range t.Rows {
		c.wheel = max(c.wheel, utf8.RuneCountInString(t.Rows[i].Wheel))
		c.turn = max(c.turn, utf8.RuneCountInString(t.Rows[i].Turn))
		if t.Rows[i].angle != nil {
			c.by, c.dial = 12, 7
		}
	}
	return c
}

func (c *columns) head(u measure.Unit) string {
	return c.line("row", "wheel", "turn", "turns+lines", "s/turn", "dial", "total", u.String(), "to stop", "")
}

func (c *columns) line(number, wheel, turn, by, feed, dial, total, target, stop, note string) string {
	s := fmt.Sprintf("%4s %s %s %*s %6s %*s %14s %9s %8s", number, pad(wheel, c.wheel), pad(turn, c.turn), c.by, by, feed, c.dial, dial, total, target, stop)
	switch {
	case note == "":
	case utf8.RuneCountInString(s)+1+utf8.RuneCountInString(note) <= wide:
		s += " " + note
	default:
		return strings.TrimRight(s, " ") + "\n     " + wrap(note, 5)
	}
	return strings.TrimRight(s, " ") + "\n"
}

func pad(s string, n int) string { return s + strings.Repeat(" ", max(n-utf8.RuneCountInString(s), 0)) }

// row is one row: a movement in its columns, or a sentence behind the row's number.
func (c *columns) row(t *Table, r *Row) string {
	number := fmt.Sprint(r.Number)
	if r.Wheel == "" {
		return fmt.Sprintf("%4s ", number) + wrap(r.Note, 5)
	}
	stop := ""
	if r.ToStop != nil {
		stop = t.short(*r.ToStop, measure.Floor)
	}
	var by, dial, target string
	if r.angle != nil {
		dial, target = machines.AngleText(r.angle.reading), angleTarget(r.angle.target)
		if r.Turn != "" {
			by = fmt.Sprintf("%d + %s", r.Turns, machines.AngleText(r.angle.rest))
		}
		return c.line(number, r.Wheel, r.Turn, by, r.Feed, dial, r.Total, target, stop, r.ticked())
	}
	dial, target = machines.LinesText(r.Reading), t.target(r)
	if r.Turn != "" {
		by = fmt.Sprintf("%d + %s", r.Turns, machines.LinesText(r.Lines))
	}
	return c.line(number, r.Wheel, r.Turn, by, r.Feed, dial, r.Total, target, stop, r.ticked())
}

// ticked is the row's note, with turns to tick off.
func (r *Row) ticked() string {
	note := r.Note
	if len(r.Ticks) > 0 {
		if note != "" {
			note += "; "
		}
		note += "tick off"
		for _, n := range r.Ticks {
			note += fmt.Sprintf(" %d[ ]", n)
		}
	}
	return note
}

// target is where the cutter stands: where a readout is fitted, to its resolution.
func (t *Table) target(r *Row) string {
	l := r.Target
	if ro := t.Machine.Readout; ro != nil && ro.Axes[strings.IndexByte("XYZ", r.Wheel[0])] {
		l = l.Round(ro.Resolution, measure.Nearest)
	}
	return t.short(l, measure.Nearest)
}

func (t *Table) short(l measure.Length, way measure.Rounding) string {
	return l.Number(t.Machine.Units, way)
}

// together is a text's words, with a wheel's place as one: "Y 2 + 34 back,", so that no
// line ends within it, and a box with its number.
func together(text string) (words []string) {
	f := strings.Fields(text)
	for i := 0; i < len(f); i++ {
		if strings.HasSuffix(f[i], "[") && i+1 < len(f) { // "5[ ]"
			words = append(words, f[i]+" "+f[i+1])
			i++
			continue
		}
		if f[i] != "+" || i == 0 || i+1 == len(f) {
			words = append(words, f[i])
			continue
		}
		place := words[len(words)-1] + " + " + f[i+1]
		i++
		if i+1 < len(f) && isSide[strings.TrimRight(f[i+1], ",;")] {
			place += " " + f[i+1]
			i++
		}
		words = words[:len(words)-1]
		if n := len(words); n > 0 && isWheel[words[n-1]] {
			place = words[n-1] + " " + place
			words = words[:n-1]
		}
		words = append(words, place)
	}
	return words
}

// isWheel and isSide are the words before and after turns and lines that belong to them,
// on any machine.
var (
	isWheel = setOf(machines.ZSources, []string{axisNames[0], axisNames[1]})
	isSide  = func() map[string]bool {
		out := map[string]bool{}
		for _, kind := range machines.Kinds {
			for _, pair := range (&machines.Machine{Kind: kind}).Sides() {
				out[pair[0]], out[pair[1]] = true, true
			}
		}
		return out
	}()
)

func setOf(lists ...[]string) map[string]bool {
	out := map[string]bool{}
	for _, l := range lists {
		for _, w := range l {
			out[w] = true
		}
	}
	return out
}

// wrap breaks text at spaces to the table's width, each line after the first
// indented, and ends it with a line's end. The first line begins where the caller is,
// at most at the same indent.
func wrap(text string, indent int) string {
	var b strings.Builder
	n := indent
	for i, word := range together(text) {
		l := utf8.RuneCountInString(word)
		switch {
		case i > 0 && n+1+l > wide:
			b.WriteString("\n" + strings.Repeat(" ", indent))
			n = indent
		case i > 0:
			b.WriteString(" ")
			n++
		}
		b.WriteString(word)
		n += l
	}
	return b.String() + "\n"
}
