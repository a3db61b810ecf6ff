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
	if near := form.Nearest(name, Names()); near != "" {
		hint = fmt.Sprintf("; did you mean %s?", near)
	}
	return fmt.Errorf("%q is no machine here: built in are %s; a machine file of your own is named by its path, which ends in .toml%s",
		name, strings.Join(Names(), ", "), hint)
}
