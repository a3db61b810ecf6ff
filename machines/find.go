package machines

import (
	"embed"
	"fmt"
	"path/filepath"
	"strings"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/form"
)

//go:embed *.toml
var builtIn embed.FS

// Names are the built-in machines, sorted.
func Names() []string {
	entries, err := builtIn.ReadDir(".")
	if err != nil {
		panic("machines: " + err.Error()) // the folder is part of the program
	}
	var names []string
	for _, e := range entries {
		names = append(names, strings.TrimSuffix(e.Name(), ".toml"))
	}
	slices.Sort(names)
	return names
}

// Find is the built-in machine of that name, or else, where the name ends in
// .toml, the machine in that file. Faults of a file are [form.Faults].
func Find(nameOrPath string) (*Machine, error) {
	if slices.Contains(Names(), nameOrPath) {
		file := nameOrPath + ".toml"
		data, err := builtIn.ReadFile(file)
		if err != nil {
			return nil, err
		}
		return Read(file, data)
	}
	if strings.EqualFold(filepath.Ext(nameOrPath), ".toml") {
		data, err := form.ReadFile(nameOrPath)
		if err != nil {
			return nil, err
		}
		return Read(nameOrPath, data)
	}
	return nil, unknown(nameOrPath)
}

func unknown(name string) error {
	hint := ""
	if near := nearest(name); near != "" {
		hint = fmt.Sprintf("; did you mean %s?", near)
	}
	return fmt.Errorf("%q is no machine here: built in are %s; a machine file of your own is named by its path, which ends in .toml%s",
		name, strings.Join(Names(), ", "), hint)
}

// nearest is the built-in machine whose name shares most words with this one,
// longer words counting for more; nothing where none is shared.
func nearest(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return r == '-' || r == '_' || r == ' ' || r == '.' })
	best, most := "", 0
	for _, n := range Names() {
		shared := 0
		for _, w := range strings.Split(n, "-") {
			if slices.Contains(words, w) {
				shared += len(w)
			}
		}
		if shared > most {
			best, most = n, shared
		}
	}
	return best
}
