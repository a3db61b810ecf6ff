package handwheel

import (
	"bytes"
	"encoding/csv"
	"strconv"
	"strings"

	"stopshort/machines"
	"stopshort/toolpath/measure"
)

// CSV is the rows for a spreadsheet, a line for each under a head of its columns.
// Movements are told as text that can be added up again: a feed in its note, lines
// exact. Lengths are in the machine's unit.
func (t *Table) CSV() []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	write := func(cells []string) {
		if err := w.Write(cells); err != nil {
			panic("handwheel: " + err.Error()) // a buffer takes everything
		}
	}
	write(csvColumns)
	for i := range t.Rows {
		write(t.cells(&t.Rows[i]))
	}
	w.Flush()
	return b.Bytes()
}

func (t *Table) cells(r *Row) []string {
	c := []string{strconv.Itoa(r.Setup), plainCell(r.Cut), plainCell(r.Pass), r.Wheel, r.Turn, "", "", "", "", "", "", plainCell(r.note())}
	if r.Wheel == "" {
		return c
	}
	if r.angle != nil {
		if r.Turn != "" {
			c[5], c[6] = strconv.FormatInt(r.Turns, 10), machines.AngleText(r.angle.rest)
		}
		c[7], c[8], c[9] = machines.AngleText(r.angle.reading), angleTarget(r.angle.target), "deg"
		return c
	}
	if r.Turn != "" {
		c[5], c[6] = strconv.FormatInt(r.Turns, 10), machines.LinesText(r.Lines)
	}
	c[7] = machines.LinesText(r.Reading)
	c[8] = t.exact(r.Target)
	c[9] = t.Machine.Units.String()
	if r.ToStop != nil {
		c[10] = t.exact(*r.ToStop)
	}
	return c
}

// angleTarget is an angle from zero, below nought with a minus sign.
func angleTarget(a measure.Angle) string {
	if a < 0 {
		return "-" + machines.AngleText(-a)
	}
	return machines.AngleText(a)
}

// plainCell keeps a name from being taken for a formula by a spreadsheet.
func plainCell(s string) string {
	if s != "" && strings.ContainsRune("=+-@", rune(s[0])) {
		return "'" + s
	}
	return s
}

// exact is a length in the machine's unit, to the tenth of a nanometre or the
// millionth of an inch.
func (t *Table) exact(l measure.Length) string {
	if t.Machine.Units == measure.In {
		return trimmed(l.Format(measure.In, 6, measure.Nearest))
	}
	return l.MM()
}

func trimmed(s string) string { return strings.TrimSuffix(strings.TrimRight(s, "0"), ".") }

// note is all that a row's note says: the feed, the ticks, the rest.
func (r *Row) note() string {
	var parts []string
	if r.Feed != "" {
		parts = append(parts, "feed "+r.Feed+" s a turn")
	}
	if r.Note != "" {
		parts = append(parts, r.Note)
	}
	if len(r.Ticks) > 0 {
		s := "tick off"
		for _, n := range r.Ticks {
			s += " " + strconv.FormatInt(n, 10)
		}
		parts = append(parts, s)
	}
	return strings.Join(parts, "; ")
}
