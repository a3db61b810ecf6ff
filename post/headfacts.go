package post

import (
	"fmt"
	"strings"

	"golang.org/x/exp/slices"

	"stopshort/post/rs274/write"
	"stopshort/toolpath"
)

// longWord is the longest word of a fact that stands in a head as it is, however short
// the controller's lines: longer ones are cut where a line ends.
const longWord = 20

// untold is the first of some facts for the operator that a text's remarks do not tell,
// whatever lines they stand on; empty is none. A fact with a word that may be cut is
// passed over.
func untold(said []string, facts []string) string {
	all := squeezed(strings.Join(said, ""))
	for _, f := range facts {
		words := strings.Fields(write.Clean(f))
		if slices.ContainsFunc(words, func(w string) bool { return len(w) > longWord }) {
			continue
		}
		if !strings.Contains(all, strings.Join(words, "")) {
			return f
		}
	}
	return ""
}

func squeezed(s string) string { return strings.ReplaceAll(s, " ", "") }

// stopsSaid holds what a text tells of each stop where the operator looks: its note, and
// where the controller takes no comments, the line on which it waits too.
func stopsSaid(text write.Text, p toolpath.Program, trace *toolpath.Trace, none bool) *Fault {
	said := remarks(text.Bytes)
	if none {
		said = text.Told
	}
	lines := map[int]bool{}
	for _, s := range trace.Steps {
		if s.Kind == toolpath.Stop {
			lines[s.Line] = true
		}
	}
	var at []int // where it is told to wait, in order
	for _, s := range said {
		n := 0
		if _, err := fmt.Sscanf(s, "WHERE IT WAITS IN LINE %d -", &n); err == nil {
			at = append(at, n)
		}
	}
	for _, op := range p.Operations {
		for _, pass := range op.Passes {
			for _, m := range pass.Moves {
				switch {
				case m.Kind != toolpath.Stop:
				case untold(said, []string{m.Note}) != "":
					return &Fault{Line: 1, Text: "it does not tell what to look at where it waits: " + m.Note}
				case none && (len(at) == 0 || !lines[at[0]]):
					return &Fault{Line: 1, Text: "it does not tell the line on which it waits: " + m.Note}
				case none:
					delete(lines, at[0]) // each waits once
					at = at[1:]
				}
			}
		}
	}
	return nil
}
