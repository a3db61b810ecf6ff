package post

import (
	"fmt"

	"stopshort/toolpath"
)

// Names is the file name of each program, by its job, set-up, place in the
// set-up and tool: <job>-<set-up>-<order>-<tool>.ngc, numbers of two places.
func Names(stem string, programs []toolpath.Program) []string {
	names := make([]string, len(programs))
	order := 0
	for i, p := range programs {
		if i == 0 || programs[i-1].Setup != p.Setup {
			order = 0
		}
		order++
		names[i] = fmt.Sprintf("%s-%02d-%02d-%02d.ngc", stem, p.Setup.Number, order, p.Tool().Number)
	}
	return names
}
