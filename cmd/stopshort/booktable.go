package main

import (
	"fmt"
	"io"
	"strings"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/trade"
)

// bookTable is a table of the handbook's figures: what, how much, and where from
// by the number of each source, which are listed under it.
type bookTable struct {
	rows    [][3]string
	sources []string
}

func (t *bookTable) row(what, value, from string) {
	t.rows = append(t.rows, [3]string{what, value, from})
}

// from says that a figure is the handbook's and what its row rests on, with its note.
func (t *bookTable) from(r trade.Row) string {
	says := r.Source
	if r.Basis == trade.Published || r.Basis == trade.Chosen {
		says = t.numbers(r.Source)
	}
	switch r.Basis {
	case trade.Published:
		says = "handbook " + says
	case trade.Chosen:
		says = "handbook, chosen by " + says
	default:
		says = "handbook, " + says
	}
	if r.Note != "" {
		says += ": " + r.Note
	}
	return says
}

// numbers is the numbers of titles with semicolons between them.
func (t *bookTable) numbers(titles string) string {
	var all []string
	for _, title := range strings.Split(titles, "; ") {
		i := slices.Index(t.sources, title)
		if i < 0 {
			i = len(t.sources)
			t.sources = append(t.sources, title)
		}
		all = append(all, fmt.Sprintf("[%d]", i+1))
	}
	return strings.Join(all, " ")
}

// titles is the numbers of the titles that rows name.
func (t *bookTable) titles(rows []trade.Row) string {
	var all []string
	for _, r := range rows {
		all = append(all, t.numbers(r.Source))
	}
	return strings.Join(all, " ")
}

// widest is how wide a line of a table may be.
const widest = 100

func (t *bookTable) write(w io.Writer) error {
	what, value := 0, 0
	for _, r := range t.rows {
		what = max(what, len([]rune(r[0])))
		if r[2] != "" {
			value = max(value, len([]rune(r[1])))
		}
	}
	var b strings.Builder
	from := what + 2 + value + 2
	for _, r := range t.rows {
		line := fmt.Sprintf("%-*s  ", what, r[0])
		if r[2] == "" && len([]rune(line+r[1])) <= widest {
			line += r[1]
		} else if r[2] == "" {
			line += wrapped(r[1], what+2, widest-what-2)
		} else {
			line += fmt.Sprintf("%-*s  %s", value, r[1], wrapped(r[2], from, widest-from))
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	for i, s := range t.sources {
		mark := fmt.Sprintf("[%d]", i+1)
		b.WriteString(fmt.Sprintf("%-4s %s\n", mark, wrapped(s, 5, widest-5)))
	}
	_, err := io.WriteString(w, b.String())
	return err
}
