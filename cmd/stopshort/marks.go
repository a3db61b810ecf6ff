package main

import (
	"cmp"
	"fmt"
	"strings"
	"sync"

	"golang.org/x/exp/slices"

	"stopshort/toolpath"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
	"stopshort/toolpath/trade"
)

// marks keeps what the marks beside figures stand for, so that the foot of an output
// can list it: a letter and a number beside a never-less, a number in brackets for the
// title of a source.
type marks struct {
	job    string          // the job's file
	limits []toolpath.Fact // the never-lesses, by the number of their letter
	titles []string
}

// factsOf is the figures of an operation with its tool's.
func factsOf(op toolpath.Operation) []toolpath.Fact {
	t := op.Tool
	tool := toolpath.Fact{Name: "tool", Value: fmt.Sprintf("%s, out %s", t.Measured, t.StickOut), From: measure.Given, Source: t.Source}
	if t.Flutes > 0 {
		tool.Value += fmt.Sprintf(", %d flutes", t.Flutes)
	}
	return append([]toolpath.Fact{tool}, op.Facts...)
}

// whence is the column at which a line says where its figure comes from.
const whence = 42

// facts writes a line for each figure: what it is, how much, and where it comes from.
func (m *marks) facts(b *strings.Builder, indent string, facts []toolpath.Fact) {
	for _, f := range facts {
		line := fmt.Sprintf("%s%-*s %-28s ", indent, 12-len(indent), f.Name, f.Value)
		b.WriteString(line + wrapped(m.says(f), whence, widest-max(len([]rune(line)), whence)) + "\n")
	}
}

// says is where a figure comes from: a line of the job, the sum that gave it, or the
// handbook's row with the titles of its sources as numbers.
func (m *marks) says(f toolpath.Fact) string {
	return f.From.String() + ": " + m.numbered(strings.Replace(f.Source, m.job+":", "line ", 1))
}

// titles are looked for in the text of a source, the longest first.
var titles = sync.OnceValue(trade.Titles)

// numbered puts numbers in the place of titles.
func (m *marks) numbered(source string) string {
	type found struct {
		at    int
		title string
	}
	var all []found
	for _, t := range titles() {
		for at := 0; ; {
			i := strings.Index(source[at:], t)
			if i < 0 {
				break
			}
			at += i + len(t)
			here := found{at - len(t), t}
			if !slices.ContainsFunc(all, func(o found) bool { return here.at < o.at+len(o.title) && o.at < at }) {
				all = append(all, here)
			}
		}
	}
	slices.SortFunc(all, func(a, b found) int { return cmp.Compare(a.at, b.at) })
	var b strings.Builder
	end := 0
	for _, f := range all {
		b.WriteString(source[end:f.at])
		b.WriteString(m.number(f.title))
		end = f.at + len(f.title)
	}
	b.WriteString(source[end:])
	return strings.ReplaceAll(b.String(), "]; [", "] [")
}

func (m *marks) number(title string) string {
	i := slices.Index(m.titles, title)
	if i < 0 {
		i = len(m.titles)
		m.titles = append(m.titles, title)
	}
	return fmt.Sprintf("[%d]", i+1)
}

// limit is the mark beside a limit's never-less: g, d or h for given, derived or
// handbook, and the number of its source.
func (m *marks) limit(v limit.Verdict) string {
	if v.NeverLess <= -int64(solid.Far) && v.Source == "" {
		return "-"
	}
	f := toolpath.Fact{From: v.From, Source: v.Source}
	i := slices.Index(m.limits, f)
	if i < 0 {
		i = len(m.limits)
		m.limits = append(m.limits, f)
	}
	return fmt.Sprintf("%c%d", f.From.String()[0], i+1)
}

// foot lists what the marks stand for.
func (m *marks) foot(b *strings.Builder, w *work) {
	fmt.Fprintf(b, "\nwhere the figures come from\n")
	lines := []string{
		"given: a line of " + m.job + " and its key",
		"left: derived, " + w.readFrom(),
		"margin: derived, left less never less; at worst: derived, margin less the shares",
		fmt.Sprintf("shares: given, the errors of the machine: stopshort machine show %s", w.named),
	}
	for _, s := range w.ownShares() {
		lines = append(lines, s.Name+": "+m.says(toolpath.Fact{From: s.From, Source: s.Source}))
	}
	for _, s := range lines {
		fmt.Fprintf(b, "  %s\n", wrapped(s, 4, widest-4))
	}
	fmt.Fprintf(b, "  never less, by its mark:\n")
	for i, f := range m.limits {
		fmt.Fprintf(b, "  %-4s %s\n", fmt.Sprintf("%c%d", f.From.String()[0], i+1), wrapped(m.says(f), 7, widest-7))
	}
	m.sources(b, "  ")
}

// sources lists the titles by their numbers.
func (m *marks) sources(b *strings.Builder, indent string) {
	for i, t := range m.titles {
		fmt.Fprintf(b, "%s%-4s %s\n", indent, fmt.Sprintf("[%d]", i+1), wrapped(t, len(indent)+5, widest-len(indent)-5))
	}
}

// readFrom is what the figures that are left were found in.
func (w *work) readFrom() string {
	if w.inLines {
		return "from the program as it was read"
	}
	if len(w.Programs) > 0 {
		return "from the programs as they read back from their own text"
	}
	return "from the plan's steps on the machine's dials"
}

// ownShares is the shares that are not the machine's own errors, once each.
func (w *work) ownShares() (out []toolpath.Share) {
	for _, v := range w.Verdicts {
		for _, s := range v.Shares {
			if s.Source != "" && !slices.ContainsFunc(out, func(o toolpath.Share) bool { return o.Name == s.Name && o.Source == s.Source }) {
				out = append(out, s)
			}
		}
	}
	return out
}

// whence is where the figures of a table by hand come from, a sentence each: those of
// its set-ups' rows, and those that each cut was planned from.
func (w *work) whence(setups []int) []string {
	m := marks{job: w.job.File}
	out := []string{
		"turns, lines, dial, total, stop: derived, from the plan's places and the wheels' leads and lines; s/turn: derived, from the feed",
		fmt.Sprintf("wheels, leads, lines, backlash: given, the machine: stopshort machine show %s", w.named),
		"given, with a line: a line of " + m.job + " and its key",
	}
	say := func(name string, facts []toolpath.Fact) {
		for _, f := range facts {
			out = append(out, fmt.Sprintf("%s: %s %s: %s", name, f.Name, f.Value, m.says(f)))
		}
	}
	for _, i := range setups {
		s := w.Plan.Setups[i]
		say(s.Name, s.Facts)
		for _, op := range s.Operations {
			say(op.Name, factsOf(op))
		}
	}
	for i, t := range m.titles {
		out = append(out, fmt.Sprintf("[%d] %s", i+1, t))
	}
	return out
}

// askedBy is the line of a refusal that says where its never-less comes from. A bound of
// nought that nobody gave needs none.
func askedBy(v limit.Verdict) string {
	if v.NeverLess == 0 && v.From != measure.Given || v.Source == "" {
		return ""
	}
	return fmt.Sprintf("\n  never less: %s: %s", v.From, v.Source)
}
