package write

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// dialect is what lines a controller wants beside those of every program.
type dialect struct {
	comments  [2]string // what stands before and behind a comment; nothing is none
	numbers   int       // step of the lines' numbers; nought is none
	percent   bool
	dwellUnit string // "seconds" or "milliseconds"
	cycles    [4]bool
	peckLift  measure.Length
	lengths   bool // G43 behind a change by code
	headWords []string
	endWords  []string
	endUnits  string // G20 or G21 where it is left in other units; else nothing
	lastWord  string
}

// The cycles in the order of the array above.
var cycleWords = [4]int{73, 81, 82, 83}

func dialectOf(c *machines.Controller, u measure.Unit) dialect {
	d := dialect{
		numbers: c.LineNumbers, percent: c.Percent, dwellUnit: c.Dwell, peckLift: c.PeckLift, lengths: c.ToolLengths,
		headWords: c.HeadWords, endWords: c.EndWords, lastWord: c.End,
	}
	for i, g := range cycleWords {
		d.cycles[i] = c.Cycle(g)
	}
	if d.lastWord == "" {
		d.lastWord = "M2"
	}
	switch {
	case c.NativeUnits == u:
	case c.NativeUnits == measure.MM:
		d.endUnits = "G21"
	case c.NativeUnits == measure.In:
		d.endUnits = "G20"
	}
	return d
}

// mostNumber is the greatest number of a line (NISTIR 6556, 3.3.1).
const mostNumber = 99999

// numbered is the number that the next line begins with.
func (w *writer) numbered() string {
	if w.numbers == 0 {
		return ""
	}
	if w.number += w.numbers; w.number > mostNumber {
		w.number = w.numbers
	}
	return "N" + strconv.Itoa(w.number) + " "
}

// putMove puts the line of a move. A feed for which there is no room goes on a line
// of its own before it: it stays in force (NISTIR 6556, 3.5.19 and table 8).
func (w *writer) putMove(line string) error {
	number := w.number
	b := w.numbered() + line
	if f := strings.LastIndex(line, " F"); len(b)+len(w.end) > w.limit && f >= 0 {
		w.number = number
		return w.putAll(line[f+1:], line[:f])
	}
	return w.bare(b)
}

// first is the line before all others.
func (w *writer) first() error {
	if !w.percent {
		return nil
	}
	return w.bare("%")
}

// level is the mode of the height that drilling cycles go back to, where the
// controller has any: the one before the cycle.
func (w *writer) level() string {
	if w.cycles == [4]bool{} {
		return ""
	}
	return " G98"
}

// dwell is the P of a dwell in the controller's unit.
func (w *writer) dwell(t measure.Time) (string, error) {
	said, ok := seconds(t)
	switch {
	case !ok || t < 0:
		return "", fmt.Errorf("%v to wait: write whole hundredths of a second", t)
	case w.dwellUnit == "seconds":
		return "P" + said, nil
	case w.dwellUnit == "milliseconds":
		return "P" + strconv.FormatInt(int64(t/time.Millisecond), 10), nil
	}
	return "", fmt.Errorf("a dwell in %q is not known: write seconds or milliseconds", w.dwellUnit)
}

// still is a dwell within an operation.
func (w *writer) still(mv toolpath.Move) (string, error) {
	if mv.To != w.at || !w.known || mv.Time <= 0 {
		return "", fmt.Errorf("a dwell that moves, or lasts no time")
	}
	p, err := w.dwell(mv.Time)
	return "G4 " + p, err
}

// coolants is the words of the head that turn a coolant on, each for a line of its own.
func (w *writer) coolants() (out []string) {
	for _, word := range w.headWords {
		if word == "M7" || word == "M8" {
			out = append(out, word)
		}
	}
	return out
}

// modeWords is the head's own words but those of a coolant.
func (w *writer) modeWords() (out []string) {
	for _, word := range w.headWords {
		if word != "M7" && word != "M8" {
			out = append(out, word)
		}
	}
	return out
}

// stopped is the lines that leave the spindle and a coolant off.
func (w *writer) stopped() []string {
	if len(w.coolants()) == 0 {
		return []string{"M5"}
	}
	return []string{"M5", "M9"}
}

// finish stops what turns or flows, on lines after the last rise, leaves the
// controller in its own units, and ends.
func (w *writer) finish() error {
	lines := w.stopped()
	if w.lengthsOn {
		lines = append(lines, "G49")
	}
	for _, word := range w.endWords {
		if word != "M5" && (word != "M9" || len(w.coolants()) == 0) {
			lines = append(lines, word)
		}
	}
	if w.endUnits != "" {
		lines = append(lines, w.endUnits)
	}
	if err := w.putAll(append(lines, w.lastWord)...); err != nil || !w.percent {
		return err
	}
	return w.bare("%")
}
