package main

import (
	"fmt"
	"strings"

	"stopshort/post/rs274/survey"
	"stopshort/toolpath/measure"
)

// marks is where the figures of a survey come from, by their row or their key.
func (p *programCall) marks(r *survey.Report) []mark {
	given := []mark{{Name: "stop", From: measure.Given.String(), Source: "--stop"}}
	if r.Clear != nil {
		given = append(given, mark{Name: "clear", From: measure.Given.String(), Source: "--clear"})
	}
	given = append(given, mark{Name: "all else", From: measure.Derived.String(), Source: "from the program as it was read, each with the line that it is from"})
	if len(r.Findings) > 0 {
		given = append(given, ruleMark)
	}
	return given
}

// ruleMark is where the rules of the readers come from.
var ruleMark = mark{Name: "rules", From: measure.Handbook.String(),
	Source: "R: the number of its own list of errors (NISTIR 6556 and its public source); A: its public source and manual; C: from memory; D: its public manuals"}

// whence writes where a survey's figures come from.
func (p *programCall) whence(b *strings.Builder, r *survey.Report) {
	fmt.Fprintf(b, "\nwhere the figures come from\n")
	for _, m := range p.marks(r) {
		fmt.Fprintf(b, "  %s\n", wrapped(m.Name+": "+m.From+": "+m.Source, 4, widest-4))
	}
}
