package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"stopshort/toolpath"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

func checkCommand() *cobra.Command {
	var machine, format string
	var program programCall
	var as wanted
	c := &cobra.Command{
		Use: "check JOB [--rough] [--measured SETUP:CUT=LENGTH]\n  stopshort check JOB --program FILE [--setup N] [--tool T] [--machine M]\n" +
			"  stopshort check --program FILE --stop Z [--clear Z] [--units mm|in] [--machine M]",
		Short: "hold every limit of the job against its own programs or any other, or any program against a stop",
		Long: `check plans the job, writes its programs in memory, reads them back and tells
every limit: what is left, the least that may be left, the margin, and the
margin when the machine's errors fall the wrong way. For a machine that is turned
by hand it is the table that is added up and held. Nothing is written.

` + strings.TrimPrefix(measuredHelp, "\n") + `

With JOB and --program the limits of one set-up are held against a program that
anyone wrote for it. It may cut what the set-up's cuts make, and nothing else. The
cutter is the job's tool that the program's T and M6 put in; --tool says it where the
program does not.

With --program alone it reads any RS-274 program and tells whether it goes below a
stop: exit status 1 where it does, or where a rapid goes down below --clear; 3
where something in it cannot be followed. Heights are the program's own Z.`,
		Args: program.args,
		RunE: func(c *cobra.Command, args []string) error {
			if format != "text" && format != "json" {
				return fmt.Errorf("--format %q: write text or json", format)
			}
			given := c.Flags().Changed("program")
			if given && (as.rough || len(as.measured) > 0) {
				return fmt.Errorf("--rough and --measured are for the job's own cuts: leave out --program")
			}
			switch {
			case given && len(args) > 0:
				return program.runJob(c, args[0], machine, format)
			case given:
				return program.run(c, machine, format)
			}
			w, err := throughAs(args[0], machine, as)
			if err != nil {
				return err
			}
			if w.machine.Controller == nil && len(w.Refused()) == 0 {
				// What is written for such a machine is the table.
				if _, err := w.byHand(""); err != nil {
					return err
				}
			}
			tell := w.text
			if format == "json" {
				tell = w.json
			}
			if err := tell(c.OutOrStdout()); err != nil {
				return err
			}
			if bad := w.Refused(); len(bad) > 0 {
				return w.refusal(bad)
			}
			return nil
		},
	}
	c.Flags().StringVar(&machine, "machine", "", "machine's name or file (default: the job's own; a program alone needs none)")
	c.Flags().StringVar(&format, "format", "text", "text or json")
	program.flags(c)
	as.flags(c)
	return c
}

// text is the check for a person: the answer, the figures each cut was planned
// from, the table of limits, and the shares of the worst cases that count.
func (w *work) text(out io.Writer) error {
	var b strings.Builder
	u := w.units()
	planned := w.plannedWarnings(everySetup)
	fmt.Fprintf(&b, "%s\n\n", wrapped(w.answer(u, len(planned)), 0, 98))
	fmt.Fprintf(&b, "%s on %s, job %s\n", oneLine(w.job.Title), w.machine.Name, w.Plan.Digest)
	for _, warn := range planned { // those of limits stand in the table
		fmt.Fprintf(&b, "%s\n", wrapped("WARNING "+warn, 2, 98))
	}
	from := marks{job: w.job.File}
	for _, s := range w.Plan.Setups {
		fmt.Fprintf(&b, "\nset-up %d, %s: clearance plane at %s, touch off at X %s, Y %s%s\n", s.Number, oneLine(s.Name),
			length(s.Clearance, u), length(s.Touch[0], u), length(s.Touch[1], u), touched(s.Top, u))
		from.facts(&b, "  ", s.Facts)
		for _, op := range s.Operations {
			fmt.Fprintf(&b, "  %s: tool %d, %s %s, %s\n", oneLine(op.Name), op.Tool.Number, op.Tool.Kind, op.Tool.Diameter.BothFrom(u), op.Tool.MadeOf)
			if op.Part == toolpath.Rough {
				fmt.Fprintf(&b, "    %s\n", wrapped("then spindle off, "+op.Look.Asks(u)+", derived", 4, 94))
			}
			if op.Part == toolpath.Finish && !op.Waits() {
				fmt.Fprintf(&b, "    %s\n", wrapped(op.Look.Told(u)+", derived", 4, 94))
			}
			for _, note := range op.Notes {
				fmt.Fprintf(&b, "    %s\n", wrapped(note, 4, 94))
			}
			from.facts(&b, "    ", factsOf(op, u))
		}
	}
	w.table(&b, u, &from)
	w.shares(&b, u)
	from.foot(&b, w)
	fmt.Fprintf(&b, "\nGo by the machine's manual and local rules, and ask a competent person where in doubt.\n")
	_, err := io.WriteString(plain{out}, b.String())
	return err
}

// touched says what Z is on the touched face where that is not nought.
func touched(top measure.Length, u measure.Unit) string {
	if top == 0 {
		return ""
	}
	return fmt.Sprintf(": set Z to %s there", length(top, u))
}

// length is a length in a person's unit.
func length(l measure.Length, u measure.Unit) string {
	return amount(int64(l), limit.Length, u, measure.Nearest)
}

// answer is the first line: whether all holds, and where it is closest. warned is how
// many warnings there are besides those of limits.
func (w *work) answer(u measure.Unit, warned int) string {
	bad := 0
	var near, first *limit.Verdict
	for i := range w.Verdicts {
		v := &w.Verdicts[i]
		switch {
		case v.Stops():
			bad++
			if first == nil {
				first = v
			}
		case v.State == limit.Warned && !v.Accepted:
			warned++
		}
		if v.Leave != nil && (near == nil || v.MarginWorst < near.MarginWorst) {
			near = v
		}
	}
	s := fmt.Sprintf("ALL %d LIMITS HOLD", len(w.Verdicts))
	switch {
	case bad > 0:
		s = fmt.Sprintf("REFUSED: %d of %d limits", bad, len(w.Verdicts))
		near = first
	case warned == 1:
		s += ", with a warning"
	case warned > 1:
		s += fmt.Sprintf(", with %d warnings", warned)
	}
	switch {
	case near != nil && near.Figure != "":
		s += fmt.Sprintf(". %s: %s, and %s", near.Limit, near.Figure, near.Do)
	case near != nil:
		t := toldOf(*near, u)
		s += fmt.Sprintf(". %s: %s left, %s at worst, never less than %s", near.Limit, t.left, t.worst, t.least)
	}
	return s
}

// plenty is a margin at worst that nobody needs to look at: such limits are
// named in one line.
const plenty = 10 * measure.Millimetre

// table is a row for each limit, by cut, and a line for those with plenty to
// spare.
func (w *work) table(b *strings.Builder, u measure.Unit, from *marks) {
	last := ""
	if w.inLines {
		last = "  and its line"
	}
	fmt.Fprintf(b, "\n%-42s %9s %11s %-3s %9s %9s%s\n", "limit", "left", "never less", "", "margin", "at worst", last)
	var spare []string
	rest := func() {
		if len(spare) > 0 {
			much := "10 mm (0.394 in)"
			if u == measure.In {
				much = "0.394 in (10 mm)"
			}
			fmt.Fprintf(b, "  %s\n", wrapped("at worst "+much+" or more to spare, left: "+strings.Join(spare, ", "), 4, 94))
		}
		spare = nil
	}
	cut := "\x00"
	for _, v := range w.Verdicts {
		if name := v.Setup + "\x00" + v.Cut; name != cut {
			rest()
			cut = name
			title := v.Setup
			if v.Cut != "" {
				title += ", " + v.Cut
			} else {
				title += ", whole set-up"
			}
			fmt.Fprintf(b, "%s\n", cutTo(oneLine(title), 98))
		}
		if v.State == limit.OK && v.Unit == limit.Length && v.Leave == nil && v.MarginWorst >= int64(plenty) {
			left, _ := figure(v.Planned, v.Unit, u, measure.Floor)
			spare = append(spare, oneLine(v.Limit)+" "+left)
			continue
		}
		t := toldOf(v, u)
		left, unit, _ := strings.Cut(t.left, " ")
		least, _, _ := strings.Cut(t.least, " ")
		margin, _ := figure(v.Margin, v.Unit, u, measure.Floor)
		worst, _ := figure(v.MarginWorst, v.Unit, u, measure.Floor)
		if v.NeverLess <= -int64(solid.Far) { // told, not held
			least, margin, worst = "-", "-", "-"
		}
		name := oneLine(v.Limit)
		if unit != "" && (v.Unit != limit.Length || unit != u.String()) {
			name += ", " + unit
		}
		line := fmt.Sprintf("  %-40s %9s %11s %-3s %9s %9s  %s", cutTo(name, 40), left, least, from.limit(v), margin, worst, w.state(v))
		if long := strings.LastIndex(line, ", "); len([]rune(line)) > widest && long > 0 {
			line = line[:long] + "\n      " + line[long+2:]
		}
		b.WriteString(line + "\n")
	}
	rest()
}

// state is the judge's word for the table's last column.
func (w *work) state(v limit.Verdict) string {
	s := map[limit.State]string{limit.OK: "ok", limit.Warned: "warn", limit.AtWorst: "REFUSED at worst", limit.Refused: "REFUSED", limit.Undecided: "TOO CLOSE"}[v.State]
	if v.Accepted {
		s = "accepted"
	} else if v.Reason != "" {
		s += ", " + v.Reason
	}
	switch at := where(v); {
	case at == "":
	case v.State != limit.OK:
		s += ", " + at
	case w.inLines:
		s += fmt.Sprintf(", %d", v.Where)
	}
	return s
}

// shares tells what each worst case is made of, for the limits that have a
// leave or that do not hold at worst.
func (w *work) shares(b *strings.Builder, u measure.Unit) {
	head := "\nworst case, share by share\n"
	for _, v := range w.Verdicts {
		if len(v.Shares) == 0 || v.Leave == nil && v.State == limit.OK {
			continue
		}
		of := v.Cut
		if of == "" { // the whole set-up's
			of = v.Setup
		}
		line := fmt.Sprintf("%s, %s: %s: %s", of, v.Limit, sharesOf(v, u), v.State)
		fmt.Fprintf(b, "%s  %s\n", head, wrapped(line, 4, 96))
		if v.Accepted {
			fmt.Fprintf(b, "    accepted: %s\n", wrapped(v.Reason, 14, 84))
		}
		if v.Pin > 0 && v.Leave != nil {
			fmt.Fprintf(b, "    measured over a pin that fits the bore (%s): %s to its far side\n",
				amount(v.Pin, limit.Length, u, measure.Nearest), amount(v.Planned+v.Pin, limit.Length, u, measure.Floor))
		}
		head = ""
	}
}

// wrapped breaks text at spaces to lines of a width, each after the first
// indented.
func wrapped(text string, indent, width int) string {
	var b strings.Builder
	n := 0
	for i, word := range strings.Fields(text) {
		if l := len([]rune(word)); i > 0 && n+1+l > width {
			b.WriteString("\n" + strings.Repeat(" ", indent))
			n = 0
		} else if i > 0 {
			b.WriteString(" ")
			n++
		}
		b.WriteString(word)
		n += len([]rune(word))
	}
	return b.String()
}

// cutTo shortens text to a width.
func cutTo(text string, width int) string {
	r := []rune(text)
	if len(r) <= width {
		return text
	}
	return string(r[:width-1]) + "."
}
