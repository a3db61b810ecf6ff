package read_test

import (
	"fmt"
	"strings"

	"stopshort/post/rs274/read"
	"stopshort/toolpath/measure"
)

// The lowest place of a program, and where a program cannot be followed.
func ExampleRead() {
	const head = "G17 G21 G40 G49 G54 G80 G90 G94\nG0 Z5.\nM3 S1200\n"
	trace, err := read.Read(strings.NewReader(head+"G1 Z-1.25 F60.\nG0 Z5.\nM5\nM2\n"), read.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	step := trace.Steps[1]
	fmt.Printf("%v to Z %d um on line %d\n", step.Kind, step.To.Z/measure.Micrometre, step.Line)

	_, err = read.Read(strings.NewReader(head+"G91\nM2\n"), read.Options{})
	fmt.Println(err)
	// Output:
	// line to Z -1250 um on line 4
	// line 4: G91 cannot be followed
}
