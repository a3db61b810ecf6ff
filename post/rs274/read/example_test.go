package read_test

import (
	"fmt"
	"strings"

	"stopshort/post/rs274/read"
	"stopshort/toolpath/measure"
)

// The lowest place of a program, and what there is to say of a line.
func ExampleRead() {
	const head = "G17 G21 G40 G49 G54 G80 G90 G94\nG0 Z5.\nM3 S1200\n"
	r, err := read.Read(strings.NewReader(head+"G1 Z-1.25 F60.\nG0 Z5. ; up\nG1 Z#1\nM2\n"), read.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	step := r.Trace.Steps[1]
	fmt.Printf("%v to Z %d um on line %d\n", step.Kind, step.To.Z/measure.Micrometre, step.Line)
	for _, n := range r.Notes {
		if n.Classes()&read.R != 0 {
			fmt.Printf("rule %s, %v\n", n.ID(), n)
		} else if !n.Proved() {
			fmt.Printf("not proved, %v\n", n)
		}
	}
	// Output:
	// line to Z -1250 um on line 4
	// rule 12, line 5: a comment behind a semicolon
	// not proved, line 6: Z: a parameter or an expression
}
