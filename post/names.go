package post

import (
	"fmt"
	"path/filepath"
	"strings"

	"stopshort/toolpath"
)

// Names is the file name of each program, by its job, set-up, place in the
// set-up and tool: <job>-<set-up>-<order>-<tool>.ngc, numbers of two places. A
// program that changes its tools has none in its name.
func Names(stem string, programs []toolpath.Program) []string {
	names := make([]string, len(programs))
	order := 0
	for i, p := range programs {
		if i == 0 || programs[i-1].Setup != p.Setup {
			order = 0
		}
		order++
		tool := fmt.Sprintf("-%02d", p.Tool().Number)
		if p.Change != toolpath.ByFile {
			tool = "" // it may have several
		}
		names[i] = fmt.Sprintf("%s-%02d-%02d%s.ngc", stem, p.Setup.Number, order, tool)
	}
	return names
}

// lifted ends the name of a dry run's file.
const lifted = "-lifted"

// LiftedName is the name of a program's dry run: -lifted before the ending.
func LiftedName(name string) string {
	ext := filepath.Ext(name)
	return strings.TrimSuffix(name, ext) + lifted + ext
}

// isLifted tells whether a name is a dry run's. Capitals are no other name: some
// disks take them for the same.
func isLifted(name string) bool {
	return strings.HasSuffix(strings.ToLower(strings.TrimSuffix(name, filepath.Ext(name))), lifted)
}

// Apart keeps the files of a dry run and those of the cut apart: neither may
// take a name of the other kind, nor stand behind a link of that name.
func Apart(programs []*Proven, t Target) error {
	for _, p := range programs {
		name := t.Path
		if t.Folder {
			name = filepath.Join(t.Path, p.Name)
		}
		dry := p.Lift > 0
		switch {
		case isLifted(name) == dry:
		case dry:
			return fmt.Errorf("-o %s: the name of a dry run ends in %s, so that nobody takes it for the cut: write -o %s", name, lifted, LiftedName(name))
		default:
			return fmt.Errorf("-o %s: a name that ends in %s is kept for dry runs: name another", name, lifted)
		}
		real, err := filepath.EvalSymlinks(name)
		if err != nil {
			continue // nothing is there, or Commit says what is wrong with it
		}
		if isLifted(real) != dry {
			what := "the cut"
			if dry {
				what = "a dry run"
			}
			return fmt.Errorf("%s is a link to %s, whose name is not that of %s: remove the link", name, real, what)
		}
	}
	return nil
}
