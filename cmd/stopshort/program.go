package main

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"stopshort/machines"
	"stopshort/post"
	"stopshort/post/rs274/read"
	"stopshort/post/rs274/survey"
	"stopshort/toolpath"
	"stopshort/toolpath/form"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/measure"
)

// programCall is check --program as it was asked for.
type programCall struct {
	file, stop, clear, units string
	setup, tool              string // with a job
}

// flags adds the flags of check that are for a program.
func (p *programCall) flags(c *cobra.Command) {
	c.Flags().StringVar(&p.file, "program", "", "RS-274 program to hold against --stop, or against JOB's set-up; - is standard input")
	c.Flags().StringVar(&p.stop, "stop", "", "with --program: the height below which nothing may go, as \"-6 mm\"")
	c.Flags().StringVar(&p.clear, "clear", "", "with --program: the height below which no rapid may go down")
	c.Flags().StringVar(&p.units, "units", "", "with --program: mm or in, for a program that names neither")
	c.Flags().StringVar(&p.setup, "setup", "", "with JOB and --program: the set-up, by number or name (default: the only one)")
	c.Flags().StringVar(&p.tool, "tool", "", "with JOB and --program: the cutter, by its number, of those that the set-up uses (default: by T and M6, or the only one)")
}

// args is what may stand beside the flags.
func (p *programCall) args(c *cobra.Command, args []string) error {
	if c.Flags().Changed("program") {
		if p.file == "" {
			return fmt.Errorf("--program is empty: name a file, or - for standard input")
		}
		if len(args) > 0 {
			return one("JOB")(c, args)
		}
		for _, flag := range []string{"setup", "tool"} {
			if c.Flags().Changed(flag) {
				return fmt.Errorf("--%s is for a program that is held against a job: write stopshort check JOB --program", flag)
			}
		}
		return nil
	}
	for _, flag := range []string{"stop", "clear", "units", "setup", "tool"} {
		if c.Flags().Changed(flag) {
			return fmt.Errorf("--%s is for a program: name it with --program", flag)
		}
	}
	return one("JOB")(c, args)
}

// run surveys the program and tells what it found.
func (p *programCall) run(c *cobra.Command, machine, format string) error {
	asked, err := p.asked(c)
	if err != nil {
		return err
	}
	var m *machines.Machine
	if c.Flags().Changed("machine") { // its dwells and its tool table
		if m, err = machines.Find(machine); err != nil {
			return err
		}
	}
	options, err := p.options(c, m)
	if err != nil {
		return err
	}
	r, err := p.survey(c, options, asked)
	if err != nil {
		return err
	}
	tell := p.text
	if format == "json" {
		tell = p.json
	}
	if err := tell(c.OutOrStdout(), r); err != nil {
		return err
	}
	switch r.Verdict() {
	case survey.Crossed, survey.RapidDown:
		return refused{}
	case survey.NotProved:
		return unproved{}
	}
	return nil
}

// asked reads --stop and --clear.
func (p *programCall) asked(c *cobra.Command) (a survey.Asked, err error) {
	if p.stop == "" {
		return a, fmt.Errorf("--stop is missing: write the height below which nothing may go, as --stop \"-6 mm\", or a job to hold the program against")
	}
	height := func(flag, text string) (measure.Length, error) {
		l, err := measure.ParseLength(text, measure.NoUnit)
		if err != nil {
			return 0, fmt.Errorf("--%s: %w", flag, err)
		}
		return l, nil
	}
	if a.Stop, err = height("stop", p.stop); err != nil {
		return a, err
	}
	if c.Flags().Changed("clear") {
		l, err := height("clear", p.clear)
		if err != nil {
			return a, err
		}
		if l < a.Stop {
			return a, fmt.Errorf("--clear %s is below --stop %s: write a height above it", p.clear, p.stop)
		}
		a.Clear = &l
	}
	return a, nil
}

// options is what the program does not say itself: what the machine, where one is
// named, says of it, and --units.
func (p *programCall) options(c *cobra.Command, m *machines.Machine) (o read.Options, err error) {
	if m != nil {
		o = post.ReadOptions(m)
	}
	if c.Flags().Changed("units") {
		if o.Units, err = measure.ParseUnits(p.units); err != nil {
			return o, fmt.Errorf("--units: %w", err)
		}
	}
	return o, nil
}

// survey reads the program to its end.
func (p *programCall) survey(c *cobra.Command, o read.Options, a survey.Asked) (*survey.Report, error) {
	in, done, err := p.open(c)
	if err != nil {
		return nil, err
	}
	defer done()
	r, err := survey.Run(in, o, a)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", p.name(), err)
	}
	return r, nil
}

// open is the program's text; on a terminal it tells how far it is read.
func (p *programCall) open(c *cobra.Command) (in io.Reader, done func(), err error) {
	if p.file == "-" {
		watch := newProgress(c.InOrStdin(), 0, c.ErrOrStderr())
		return watch, watch.done, nil
	}
	f, err := form.Open(p.file)
	if err != nil {
		return nil, nil, err
	}
	size := int64(0)
	if info, err := f.Stat(); err == nil && info.Mode().IsRegular() {
		size = info.Size()
	}
	watch := newProgress(f, size, c.ErrOrStderr())
	return watch, func() { watch.done(); f.Close() }, nil
}

// name is the program's for a person.
func (p *programCall) name() string {
	if p.file == "-" {
		return "standard input"
	}
	return oneLine(p.file)
}

// text is the report for a person at a machine, the answer first.
func (p *programCall) text(out io.Writer, r *survey.Report) error {
	var b strings.Builder
	u := spokenIn(p.stop)
	row := func(name, format string, args ...any) {
		fmt.Fprintf(&b, "%-13s %s\n", name, wrapped(fmt.Sprintf(format, args...), 14, 84))
	}
	low := func(l measure.Length) string { return l.ShownBoth(u, measure.Floor) }
	high := func(l measure.Length) string { return l.ShownBoth(u, measure.Ceil) }
	switch r.Verdict() {
	case survey.Crossed:
		row("STOP CROSSED", "by %s, first on line %d", high(r.Stop-r.Lowest.Z), r.Crossing.Line)
		row("where", "%s", at(r.Crossing.Step, u, measure.Floor))
	case survey.RapidDown:
		row("RAPID DOWN", "below the clear plane, to %s, first on line %d", low(r.Down.Z), r.Down.Line)
		row("where", "%s", at(r.Down.Step, u, measure.Floor))
	case survey.NotProved:
		row("NOT PROVED", "first on line %d; what could be followed stays at or above the stop", r.NotProved[0].First.Line)
	default:
		switch spare := r.Lowest.Z - r.Stop; {
		case r.Lowest.Line == 0:
			row("NOT CROSSED", "the program moves to no height")
		case spare == 0:
			row("NOT CROSSED", "the lowest move comes just to the stop")
		case spare < measure.Micrometre:
			row("NOT CROSSED", "the lowest move stays less than %s above the stop", high(spare))
		default:
			row("NOT CROSSED", "the lowest move stays %s above the stop", low(spare))
		}
	}
	row("program", "%s: %s, %s, %s of them cuts", p.name(), plural(r.Lines, "line"), plural(r.Steps, "step"), fmt.Sprint(r.CutSteps))
	lowest, stop := "no height is known", r.Stop.ShownBoth(u, measure.Nearest)
	if r.Lowest.Line > 0 {
		lowest, stop = clearOf(r.Lowest.Z, r.Stop, u)
		lowest += fmt.Sprintf(", line %d", r.Lowest.Line)
	}
	if r.Crossing.Count > 0 {
		stop += ": " + plural(r.Crossing.Count, "step") + " below it"
	}
	row("stop", "%s", stop)
	row("lowest", "%s", lowest)
	switch {
	case r.Clear == nil:
		row("clear plane", "not asked: give --clear")
	case r.Down.Line == 0:
		row("clear plane", "%s: no rapid goes down below it", r.Clear.ShownBoth(u, measure.Nearest))
	default:
		_, clear := clearOf(r.Down.Z, *r.Clear, u)
		row("clear plane", "%s: %s down below it, the first on line %d", clear, plural(r.Down.Count, "rapid"), r.Down.Line)
	}
	row("cuts", "%s", boxSpan(r.Cuts, u))
	row("rapids", "%s", boxSpan(r.Rapids, u))
	if r.First.Line > 0 {
		row("first move", "%s", at(r.First.Step, u, measure.Nearest))
	}
	switch {
	case r.Standing.Line > 0:
		row("spindle", "stands, or its speed is not said, in %s, the first on line %d", plural(r.Standing.Count, "cut"), r.Standing.Line)
	case r.CutSteps > 0:
		row("spindle", "turns in every cut")
	}
	p.notes(&b, r)
	p.whence(&b, r)
	_, err := io.WriteString(plain{out}, b.String())
	return err
}

// notes is what there is to say of lines.
func (p *programCall) notes(b *strings.Builder, r *survey.Report) {
	rowsOf(b, "not proved, by the first line of each kind", asSayings(r.NotProved))
	rowsOf(b, "the above holds if", asSayings(r.Assumed))
	findings(b, r.Findings)
}

// saying is a row of what there is to say of lines: the first line, and how often.
type saying struct {
	line, count int
	text        string
}

func asSayings(tallies []survey.Tally) (out []saying) {
	for _, t := range tallies {
		out = append(out, saying{t.First.Line, t.Count, t.Text()})
	}
	return out
}

// times is the text with how often it holds.
func (t saying) times() string {
	if t.count > 1 {
		return fmt.Sprintf("%s (%d times)", t.text, t.count)
	}
	return t.text
}

// rowsOf writes a head and its rows, where there are any.
func rowsOf(b *strings.Builder, head string, rows []saying) {
	if len(rows) == 0 {
		return
	}
	fmt.Fprintf(b, "\n%s\n", head)
	for _, t := range rows {
		at := "line " + strconv.Itoa(t.line)
		if t.line == 0 {
			at = "all of it"
		}
		fmt.Fprintf(b, "  %-11s %s\n", at, wrapped(t.times(), 14, 84))
	}
}

// findings writes who would refuse which line.
func findings(b *strings.Builder, tallies []survey.Tally) {
	if len(tallies) == 0 {
		return
	}
	classes := read.Class(0)
	fmt.Fprintf(b, "\nwho would refuse it: class of reader, rule\n")
	for i, t := range asSayings(tallies) {
		n := tallies[i].First
		fmt.Fprintf(b, "  line %-6d %-10s %-9s %s\n", t.line, n.Classes(), n.ID(), wrapped(t.times(), 34, 64))
		classes |= n.Classes()
	}
	for _, words := range classes.Words() {
		fmt.Fprintf(b, "  %s\n", words)
	}
}

// at is a step's line, its kind and where it goes to; z is how its height is rounded.
func at(s toolpath.Step, u measure.Unit, z measure.Rounding) string {
	var parts []string
	for i, l := range [3]measure.Length{s.To.X, s.To.Y, s.To.Z} {
		if s.To.Known[i] {
			way := measure.Nearest
			if i == 2 {
				way = z
			}
			t, _ := figure(int64(l), limit.Length, u, way)
			parts = append(parts, "XYZ"[i:i+1]+" "+t)
		}
	}
	to := "a place that is not known"
	if len(parts) > 0 {
		to = strings.Join(parts, ", ") + " " + u.String()
	}
	return fmt.Sprintf("line %d, %s to %s", s.Line, s.Kind, to)
}

// boxSpan is a box in one line.
func boxSpan(x survey.Box, u measure.Unit) string {
	var parts []string
	for i, known := range x.Known {
		if !known {
			continue
		}
		l, _ := figure(int64(x.Low[i]), limit.Length, u, measure.Floor)
		h, _ := figure(int64(x.High[i]), limit.Length, u, measure.Ceil)
		parts = append(parts, fmt.Sprintf("%c %s to %s", "XYZ"[i], l, h))
	}
	if len(parts) == 0 {
		return "none at a place that is known"
	}
	return strings.Join(parts, ", ") + " " + u.String()
}

// plural is a count with its noun.
func plural(n int, noun string) string {
	if n != 1 {
		noun += "s"
	}
	return fmt.Sprintf("%d %s", n, noun)
}
