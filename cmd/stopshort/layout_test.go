package main

import (
	"encoding/json"
	"os/exec"
	"strings"
	"testing"

	"golang.org/x/exp/slices"
)

// mayImport is who may import what, of ours (DEVELOPERS.md, "The layout").
// Data flows one way; a package that is not named here has no place yet.
var mayImport = map[string]string{
	"toolpath/measure": "",
	"toolpath/form":    "toolpath/measure",
	"toolpath/solid":   "toolpath/measure",
	"toolpath/outline": "toolpath/measure toolpath/solid",
	"toolpath":         "toolpath/measure toolpath/solid",
	"toolpath/trade":   "toolpath/measure toolpath/form",
	"machines":         "toolpath/measure toolpath/form",
	"toolpath/job":     "toolpath/measure toolpath/form toolpath/solid toolpath",
	"toolpath/plan":    "toolpath/measure toolpath/solid toolpath/outline toolpath machines toolpath/trade",
	"toolpath/recipe": "toolpath/measure toolpath/form toolpath/solid toolpath/outline toolpath toolpath/trade machines " +
		"toolpath/job toolpath/plan",
	"toolpath/limit":       "toolpath/measure toolpath/solid toolpath machines",
	"post/rs274":           "",
	"post/rs274/read":      "toolpath/measure toolpath toolpath/solid machines post/rs274",
	"post/rs274/survey":    "toolpath/measure toolpath post/rs274/read",
	"post/rs274/write":     "toolpath/measure toolpath toolpath/solid machines post/rs274",
	"post/handwheel":       "toolpath/measure toolpath machines",
	"post/handwheel/addup": "toolpath/measure toolpath machines",
	"post": "toolpath/measure toolpath toolpath/solid machines toolpath/limit toolpath/job toolpath/plan " +
		"post/rs274 post/rs274/read post/rs274/write post/handwheel post/handwheel/addup",
	"cmd/stopshort": "*",
}

func TestImportsGoOneWay(t *testing.T) {
	out, err := exec.Command("go", "list", "-json=ImportPath,Imports", "stopshort/...").Output()
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	d := json.NewDecoder(strings.NewReader(string(out)))
	for d.More() {
		var p struct {
			ImportPath string
			Imports    []string
		}
		if err := d.Decode(&p); err != nil {
			t.Fatal(err)
		}
		name := strings.TrimPrefix(p.ImportPath, "stopshort/")
		seen[name] = true
		allowed, ok := mayImport[name]
		if !ok {
			t.Errorf("%s is not in the table of who may import what", name)
			continue
		}
		for _, i := range p.Imports {
			i, ours := strings.CutPrefix(i, "stopshort/")
			if ours && allowed != "*" && !slices.Contains(strings.Fields(allowed), i) {
				t.Errorf("%s imports %s: the table does not allow it", name, i)
			}
		}
	}
	for name := range mayImport {
		if !seen[name] {
			t.Errorf("%s is in the table but is no package", name)
		}
	}
}
