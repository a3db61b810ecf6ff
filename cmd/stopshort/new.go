package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"stopshort/machines"
	"stopshort/toolpath/form"
	"stopshort/toolpath/job"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/recipe"
)

func newCommand() *cobra.Command {
	var machine, units, out string
	c := &cobra.Command{
		Use:   "new",
		Short: "print a job file to begin from, which runs as it is",
		Long: `new prints a job file with a comment on every key: a block with a bore, one slot
that stops short of it, and a pair of tapped holes. It runs as it is; change the
figures to those of your part. It was taken through the gate before it is
printed.`,
		Args: none,
		RunE: func(c *cobra.Command, args []string) error {
			if u := c.Flags().Changed("units"); u && units != "mm" && units != "in" {
				return fmt.Errorf("--units %q: write mm or in", units)
			}
			if !c.Flags().Changed("machine") {
				machine = map[string]string{"": "stepper-mill-mm", "mm": "stepper-mill-mm", "in": "stepper-mill-inch"}[units]
			}
			m, err := machines.Find(machine)
			if err != nil {
				return err
			}
			if units == "" {
				units = m.Units.String()
			}
			text, err := newJob(m, fromFolder(machine, out), units)
			if err != nil {
				return err
			}
			if !c.Flags().Changed("out") {
				_, err := c.OutOrStdout().Write([]byte(text))
				return err
			}
			if err := create(out, text); err != nil {
				return err
			}
			_, err = fmt.Fprintln(c.OutOrStdout(), "wrote", out)
			return err
		},
	}
	c.Flags().StringVar(&machine, "machine", "", "machine's name or file (default: the stepper mill of the units)")
	c.Flags().StringVar(&units, "units", "", "mm or in (default: the machine's)")
	c.Flags().StringVarP(&out, "out", "o", "", "file to write, where there is none yet (default: standard output)")
	return c
}

// fromFolder is a machine's name as a job in the file out must write it: a
// machine file is named from the job's folder.
func fromFolder(machine, out string) string {
	if filepath.Ext(machine) != ".toml" || filepath.IsAbs(machine) {
		return machine
	}
	if name, err := filepath.Rel(filepath.Dir(out), machine); err == nil {
		return filepath.ToSlash(name)
	}
	return machine
}

// newJob is the job's text for a machine, taken through the gate.
func newJob(m *machines.Machine, machine, units string) (string, error) {
	text, err := sample(m, machine, units)
	if err != nil {
		return "", err
	}
	j, err := job.Read("new", []byte(text), recipe.Tables())
	if err == nil {
		err = runs(j, m)
	}
	if err != nil {
		return "", fmt.Errorf("%s cannot cut the job that new prints: name another --machine: %w", m.Name, err)
	}
	return text, nil
}

// runs tells what keeps a job from running on a machine.
func runs(j *job.Job, m *machines.Machine) error {
	w := &work{job: j, machine: m, named: m.Name, known: map[string]bool{}}
	if err := w.plan(wanted{}); err != nil {
		return err
	}
	if bad := w.Refused(); len(bad) > 0 {
		return w.refusal(bad)
	}
	return nil
}

// create writes a file where there is none; one that is there is left as it is.
func create(name, text string) error {
	if strings.TrimSpace(name) == "" {
		return fmt.Errorf("-o is empty: name a file")
	}
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	var path *fs.PathError
	switch {
	case errors.Is(err, fs.ErrExist):
		return fmt.Errorf("-o %s is there already: name a file that is not there yet", name)
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("-o %s: the folder it stands in does not exist: make that first", name)
	case errors.As(err, &path):
		return fmt.Errorf("-o %s cannot be written: %s", name, path.Err)
	case err != nil:
		return err
	}
	_, err = f.WriteString(text)
	if err = errors.Join(err, f.Sync(), f.Close()); err != nil {
		os.Remove(name) // no partial file
		return fmt.Errorf("-o %s cannot be written: %w", name, err)
	}
	return nil
}

// section is one table of the new job: where it stands, and its keys with their
// values in millimetres and in inches.
type section struct {
	header string // as TOML has it
	path   string // through the key tables, with the recipe behind a cut
	indent int
	rows   []entry
}

// entry is a key with its value; in is "" where both are the same.
type entry struct{ key, mm, in string }

// part is the new job. Its figures are invented: the bore's top is 9 mm (3/8 in)
// under the face, so that the slot comes out 8 mm (0.310 in) deep.
func part(machine, units string) []section {
	return []section{
		{"", "", 0, []entry{
			{"title", `"Float-arm block"`, ""}, {"units", quoted(units), ""},
			{"material", `"brass"`, ""}, {"machine", quoted(machine), ""},
		}},
		{"[stock]", "stock", 0, []entry{
			{"low", `[-20, -15, -25]`, `["-3/4 in", "-5/8 in", -1]`}, {"size", `[40, 30, 25]`, `["1-1/2 in", "1-1/4 in", 1]`},
		}},
		{"[[bore]]", "bore", 0, []entry{
			{"name", `"pivot"`, ""}, {"diameter", `12`, `"1/2 in"`}, {"along", `"y"`, ""}, {"at", `[0, -15]`, `[0, "-0.6 in"]`},
		}},
		{"[[tool]]", "tool", 0, []entry{
			{"number", `1`, ""}, {"kind", `"slot drill"`, ""}, {"diameter", `4`, `"5/32 in"`}, {"flutes", `2`, ""},
			{"made_of", `"HSS"`, ""}, {"flute_length", `12`, `0.5`}, {"stick_out", `22`, `0.9`}, {"holder", `20`, `"3/4 in"`},
		}},
		{"[[tool]]", "tool", 0, []entry{
			{"number", `2`, ""}, {"kind", `"spot drill"`, ""}, {"diameter", `3`, `"1/8 in"`},
			{"flute_length", `10`, `"3/8 in"`}, {"stick_out", `22`, `0.9`}, {"holder", `20`, `"3/4 in"`},
		}},
		{"[[tool]]", "tool", 0, []entry{
			{"number", `3`, ""}, {"kind", `"drill"`, ""}, {"diameter", `2.5`, `"2.3 mm"`}, {"tip", `"118 deg"`, ""},
			{"flute_length", `25`, `1`}, {"stick_out", `32`, `1.3`}, {"holder", `20`, `"3/4 in"`},
		}},
		{"[[setup]]", "setup", 0, []entry{
			{"name", `"top up"`, ""}, {"up", `"+z"`, ""}, {"right", `"+x"`, ""}, {"zero", `[0, 0, 0]`, ""},
			{"touch_at", `[7, 10]`, `[0.3, 0.4]`},
		}},
		{"[setup.jaws]", "setup jaws", 2, []entry{{"along", `"x"`, ""}, {"top", `-12`, `-0.5`}}},
		{"[[setup.cut]]", "setup cut slot", 2, []entry{
			{"recipe", `"slot"`, ""}, {"name", `"arm slot"`, ""}, {"tool", `1`, ""},
			{"from", `[0, -15]`, `[0, "-5/8 in"]`}, {"to", `[0, 15]`, `[0, "5/8 in"]`}, {"ends", `"open"`, ""}, {"width", `5`, `"3/16 in"`},
		}},
		{"[setup.cut.short_of]", "setup cut slot short_of", 4, []entry{
			{"bore", `"pivot"`, ""}, {"leave", `"1 mm"`, `"40 thou"`}, {"never_less", `"0.6 mm"`, `"25 thou"`},
		}},
		{"[[setup.cut]]", "setup cut bolt holes", 2, []entry{
			{"recipe", `"bolt holes"`, ""}, {"name", `"cap screws"`, ""}, {"screw", `"M3"`, `"6BA"`}, {"hole", `"tapped"`, ""},
			{"depth", `6`, `0.25`}, {"spot", `2`, ""}, {"drill", `3`, ""},
		}},
		{"[setup.cut.pair]", "setup cut bolt holes pair", 4, []entry{
			{"bore", `"pivot"`, ""}, {"apart", `26`, `1`}, {"along", `"x"`, ""},
		}},
	}
}

// quoted is a text as TOML writes it.
func quoted(s string) string { return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"` }

// sample is the new job with a comment on each key, which is what its key table
// says of it, once.
func sample(m *machines.Machine, machine, units string) (string, error) {
	var b strings.Builder
	remark := func(indent int, text string) { comment(&b, indent, text) }
	run := "stopshort gcode FILE -o out/"
	if m.Controller == nil {
		run = "stopshort handwheel FILE"
	}
	remark(0, `A job to begin from: a block for a tide gauge's float arm, with a bore, one slot that stops
		short of it and a pair of tapped holes. All figures are invented. It runs as it is:`)
	fmt.Fprintf(&b, "#\n#   stopshort check FILE\n#   %s\n#\n", run)
	remark(0, `Any length may have its own unit, "3/16 in", "20 thou" or "1.8 mm"; a bare number takes
		the file's units. "more" names the keys that are not used here: the README tells of them.`)
	root := job.Table(recipe.Tables())
	told := map[*form.Table]map[string]bool{}
	for i, s := range part(machine, units) {
		tables, err := walk(root, s.path)
		if err != nil {
			return "", err
		}
		t := tables[0]
		b.WriteByte('\n')
		first := told[t] == nil
		if first {
			told[t] = map[string]bool{}
			if i > 0 {
				remark(s.indent, strings.TrimSuffix(t.Help, ".")+".")
			}
		}
		if s.header != "" {
			fmt.Fprintf(&b, "%*s%s\n", s.indent, "", s.header)
		}
		if err := rows(&b, s, tables, units, told[t]); err != nil {
			return "", err
		}
		if more := unused(s, tables); first && len(more) > 0 {
			remark(s.indent, "more: "+strings.Join(more, ", "))
		}
	}
	return b.String(), nil
}

// sampleWidth is the most columns of a line of the new job.
const sampleWidth = 100

// comment writes a text on lines of its own.
func comment(b *strings.Builder, indent int, text string) {
	for _, l := range strings.Split(wrapped(text, 0, sampleWidth-indent-len("# ")), "\n") {
		fmt.Fprintf(b, "%*s# %s\n", indent, "", l)
	}
}

// rows writes a section's keys, each with its comment behind it, or before it
// where that would be too wide.
func rows(b *strings.Builder, s section, tables []*form.Table, units string, told map[string]bool) error {
	wide, name := 0, 0
	for _, r := range s.rows {
		name = max(name, len(r.key))
	}
	var lines []string
	for _, r := range s.rows {
		value := r.mm
		if units == measure.In.String() && r.in != "" {
			value = r.in
		}
		l := fmt.Sprintf("%*s%-*s = %s", s.indent, "", name, r.key, value)
		lines = append(lines, l)
		wide = max(wide, len([]rune(l)))
	}
	for i, r := range s.rows {
		k := keyOf(tables, r.key)
		if k == nil {
			return fmt.Errorf("new: %q is no key of %s", r.key, s.header)
		}
		help := k.Help
		if told[r.key] {
			help = ""
		}
		told[r.key] = true
		switch {
		case help == "":
			fmt.Fprintln(b, lines[i])
		case wide+4+len([]rune(help)) > sampleWidth:
			comment(b, s.indent, help)
			fmt.Fprintln(b, lines[i])
		default:
			fmt.Fprintf(b, "%-*s  # %s\n", wide, lines[i], help)
		}
	}
	return nil
}

// walk is the key tables at a path: one, or a cut's recipe's and that of all
// cuts.
func walk(root *form.Table, path string) ([]*form.Table, error) {
	at := []*form.Table{root}
	for rest := path; rest != ""; {
		var found []*form.Table
		for _, t := range at {
			for _, k := range t.Keys {
				if r, ok := behind(rest, k.Name); ok && k.Table != nil && found == nil {
					found, rest = []*form.Table{k.Table}, r
				}
			}
			for recipe, v := range t.Variants {
				if r, ok := behind(rest, recipe); ok && found == nil {
					found, rest = []*form.Table{v, t}, r
				}
			}
		}
		if found == nil {
			return nil, fmt.Errorf("new: the key tables have no %q", path)
		}
		at = found
	}
	return at, nil
}

// behind is what stands behind a name at the head of a path.
func behind(path, name string) (string, bool) {
	rest, ok := strings.CutPrefix(path, name)
	return strings.TrimPrefix(rest, " "), ok && (rest == "" || rest[0] == ' ')
}

func keyOf(tables []*form.Table, name string) *form.Key {
	for _, t := range tables {
		for i := range t.Keys {
			if t.Keys[i].Name == name {
				return &t.Keys[i]
			}
		}
	}
	return nil
}

// unused is the keys of a section's own table that the new job says nothing of.
func unused(s section, tables []*form.Table) (names []string) {
	said := map[string]bool{}
	for _, r := range s.rows {
		said[r.key] = true
	}
	for _, p := range part("", "") { // its sub-tables
		if rest, ok := behind(p.path, s.path); ok && rest != "" || s.path == "" {
			name, _, _ := strings.Cut(strings.TrimSpace(rest), " ")
			said[name] = true
		}
	}
	for _, k := range tables[0].Keys {
		if !said[k.Name] {
			names = append(names, k.Name)
		}
	}
	return names
}
