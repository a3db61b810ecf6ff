package form

import (
	"strings"
	"testing"
)

func TestUnknownKeys(t *testing.T) {
	head := "material = \"bronze\"\n"
	for _, c := range []struct{ text, want string }{
		// a slip of the fingers
		{"materail = 1", `job.toml:2: materail: unknown key "materail"; did you mean "material"?`},
		{"stock.lwo = 1", `job.toml:2: stock.lwo: unknown key "lwo"; did you mean "low"?`},
		{"stock.diamter = 1", `job.toml:2: stock.diamter: unknown key "diamter"; did you mean "diameter"?`},
		// nothing near
		{"stock.colour = 1", `job.toml:2: stock.colour: unknown key "colour": the keys here are low, grips, diameter and spare`},
		{"[stock.deep.er]\nx = 1", `job.toml:2: stock.deep: unknown key "deep": the keys here are low, grips, diameter and spare`},
		// capitals
		{"Units = \"mm\"", `job.toml:2: Units: unknown key "Units": capitals count here; write units`},
		{"units = \"mm\"\nUNITS = \"in\"", `job.toml:3: UNITS: "UNITS" and "units", in line 2, differ in capitals only: keep one`},
		// a key of another table
		{"flutes = 3", `job.toml:2: flutes: unknown key "flutes" here: it belongs in [[tool]]`},
		{"[stock]\nunits = \"mm\"", `job.toml:3: stock.units: unknown key "units" here: it belongs at the top of the file, before the first table`},
		{"stock.leave = 3", `job.toml:2: stock.leave: unknown key "leave" here: it belongs in [setup.cut.short_of] recipe = "slot"`},
		// a key of another recipe
		{"[[setup]]\n[[setup.cut]]\nrecipe = \"bolt holes\"\nscrew = \"M3\"\nends = \"open\"",
			`job.toml:6: setup[1].cut[1].ends: "ends" belongs to recipe = "slot": take it out here`},
		// text that a terminal must not obey
		{`"a\u001b[2J\u202e" = 1`, `job.toml:2: "a\x1b[2J\u202e": unknown key "a\x1b[2J\u202e": the keys here are units, material, stock, screw, tool and setup`},
		{`"" = 1`, `job.toml:2: "": unknown key "": the keys here are units, material, stock, screw, tool and setup`},
	} {
		got := refused(t, head+c.text)
		lines := strings.Split(got, "\n")
		if len(lines) != 1 || lines[0] != c.want {
			t.Errorf("%s\ngives\n%s\nwant\n%s", c.text, got, c.want)
		}
	}
}

// A required key that is misspelt or written with a capital is one fault, not
// two; so is the key that picks the variant.
func TestASlipIsOneFault(t *testing.T) {
	says(t, `materail = "bronze"`, `job.toml:1: materail: unknown key "materail"; did you mean "material"?`)
	says(t, "material = \"bronze\"\ntool = [{flutes = 2, name = 1}]",
		`job.toml:2: tool[1].name: unknown key "name" here: it belongs in [[setup.cut]]`,
		`job.toml:2: tool[1].number: not given: write number = 3 or the like (what it is called by)`)
	says(t, `Material = "bronze"`, `job.toml:1: Material: unknown key "Material": capitals count here; write material`)
	says(t, "material = \"bronze\"\n[[setup]]\n[[setup.cut]]\nRecipe = \"slot\"\nwidth = \"3 mm\"",
		`job.toml:4: setup[1].cut[1].Recipe: unknown key "Recipe": capitals count here; write recipe`)
	says(t, "material = \"bronze\"\nunits = \"mm\"\nUnits = \"mm\"",
		`job.toml:3: Units: "Units" and "units", in line 2, differ in capitals only: keep one`)
}

func TestSlips(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"", "abc", 3}, {"abc", "", 3}, {"width", "width", 0},
		{"widht", "width", 1}, {"wdth", "width", 1}, {"wiidth", "width", 1}, {"wixth", "width", 1},
		{"lwo", "low", 1}, {"kitten", "sitting", 3}, {"ca", "abc", 3},
	} {
		if got := slips(c.a, c.b); got != c.want {
			t.Errorf("%q to %q: %d slips, want %d", c.a, c.b, got, c.want)
		}
	}
}
