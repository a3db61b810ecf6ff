package post

import (
	"fmt"

	"stopshort/toolpath"
)

// parts are what a name says of a program that is a part of its cut.
var parts = map[toolpath.Part]string{toolpath.Rough: "-rough", toolpath.Finish: "-finish"}

// Names is the file name of each program, by its job, set-up, place in the
// set-up and tool: <job>-<set-up>-<order>-<tool>.ngc, numbers of two places; before the ending
// -rough and -finish where the operator measures in between.
func Names(stem string, programs []toolpath.Program) []string {
	names := make([]string, len(programs))
	order := 0
	for i, p := range programs {
		if i == 0 || programs[i-1].Setup != p.Setup {
			order = 0
		}
		order++
		names[i] = fmt.Sprintf("%s-%02d-%02d-%02d%s.ngc", stem, p.Setup.Number, order, p.Tool().Number, parts[p.Part()])
	}
	return names
}
