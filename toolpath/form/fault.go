package form

import (
	"fmt"
	"strconv"
	"strings"

	"golang.org/x/exp/slices"
)

// Most that is kept and printed. A hostile file must not fill the memory or the
// screen; a person mends the first few and runs again.
const (
	keptFaults  = 1000
	shownFaults = 100
	shownText   = 400 // runes of one fault
	shownKey    = 200 // runes of a position's key
	shownValue  = 40  // runes of a value that is quoted
)

// String is the position as messages begin: "job.toml:12: setup[1].name".
func (p Position) String() string {
	s := printable(p.File)
	if p.Line > 0 {
		s += ":" + strconv.Itoa(p.Line)
	}
	if p.Key != "" {
		s += ": " + cut(printable(p.Key), shownKey)
	}
	return s
}

// Error is the fault on one line: position, then text.
func (f Fault) Error() string {
	return f.Position.String() + ": " + cut(printable(f.Text), shownText)
}

// Error is a line for each of the first hundred faults, and how many more there
// are.
func (f Faults) Error() string {
	var b strings.Builder
	for i, one := range f {
		if i > 0 {
			b.WriteByte('\n')
		}
		if i == shownFaults {
			fmt.Fprintf(&b, "and %d more", len(f)-i)
			break
		}
		b.WriteString(one.Error())
	}
	return b.String()
}

// sorted is a copy in the order of the lines; faults of one line stay in the
// order they were found.
func (f Faults) sorted() Faults {
	s := slices.Clone(f)
	slices.SortStableFunc(s, func(a, b Fault) int { return a.Line - b.Line })
	return s
}

// printable is the text with everything that a terminal could take for a
// command, or that hides or turns round text, written as an escape.
func printable(s string) string {
	clean := true
	for _, r := range s {
		clean = clean && strconv.IsPrint(r) && r != '\uFFFD'
	}
	if clean {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		if strconv.IsPrint(r) {
			b.WriteRune(r)
			continue
		}
		q := strconv.QuoteRune(r)
		b.WriteString(q[1 : len(q)-1])
	}
	return b.String()
}

// cut is at most so many runes of the text.
func cut(s string, most int) string {
	n := 0
	for i := range s {
		if n == most {
			return s[:i] + "..."
		}
		n++
	}
	return s
}

// quoted is text from a file as a message shows it.
func quoted(s string) string { return strconv.Quote(cut(s, shownValue)) }

// Listed is names for a message: "a, b or c", the end of a long list left off.
func Listed(names []string, last string) string {
	const most = 40
	switch {
	case len(names) == 0:
		return "none"
	case len(names) == 1:
		return names[0]
	case len(names) > most:
		return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
	}
	return strings.Join(names[:len(names)-1], ", ") + " " + last + " " + names[len(names)-1]
}

// quotes is each name in quotes.
func quotes(names []string) []string {
	q := make([]string, len(names))
	for i, n := range names {
		q[i] = strconv.Quote(n)
	}
	return q
}
