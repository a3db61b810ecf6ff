package job

import (
	"path/filepath"
	"strings"

	"stopshort/toolpath"
	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
)

// Job is one part, checked.
type Job struct {
	File     string // as it was named
	Stem     string // the file's name without folder and ending, fit for file names
	Title    string
	Digest   string // 12 decimal digits of the file's bytes
	Material string
	Machine  string // as the job names it; may be empty
	Stock    Stock
	Bores    []Bore
	Tools    []toolpath.Cutter
	Setups   []Setup
	Accepts  []Accept
	Node     *form.Node
}

// Accept is a limit whose warning the job takes on, by name, with the reason.
type Accept struct {
	Limit, Reason string
	Node          *form.Node
}

// Cut is one recipe with its figures; the figures are in Node.
type Cut struct {
	Number int // its place in the set-up, from 1
	Recipe string
	Name   string
	Node   *form.Node
}

// Load reads a job file. recipes holds each recipe's key table by its name. All
// faults of meaning are given at once, as form.Faults.
func Load(path string, recipes map[string]*form.Table) (*Job, error) {
	data, err := form.ReadFile(path)
	if err != nil {
		return nil, err
	}
	return Read(path, data, recipes)
}

// Read is [Load] on bytes; file is the name for messages.
func Read(file string, data []byte, recipes map[string]*form.Table) (*Job, error) {
	n, err := form.Read(file, data, Table(recipes))
	if err != nil {
		return nil, err
	}
	j := &Job{
		File: file, Stem: stem(file), Title: n.Text("title"), Digest: form.Digest(data),
		Material: n.Text("material"), Machine: n.Text("machine"), Node: n,
	}
	if j.Title == "" {
		j.Title = j.Stem
	}
	if s := n.Sub("stock"); s != nil {
		j.Stock = readStock(s)
	}
	j.readBores(n.Subs("bore"))
	j.readTools(n.Subs("tool"))
	for i, s := range n.Subs("setup") {
		j.Setups = append(j.Setups, j.readSetup(i+1, s))
	}
	sameNames(j.Setups)
	for _, a := range n.Subs("accept") {
		if strings.TrimSpace(a.Text("reason")) == "" {
			a.Fault("reason", "nothing is said: write why the limit is taken on")
		}
		j.Accepts = append(j.Accepts, Accept{a.Text("limit"), a.Text("reason"), a})
	}
	return j, n.Faults()
}

// Bore finds a bore by its name.
func (j *Job) Bore(name string) (Bore, bool) {
	for _, b := range j.Bores {
		if b.Name == name {
			return b, true
		}
	}
	return Bore{}, false
}

// Tool finds a tool by its number.
func (j *Job) Tool(number int) (toolpath.Cutter, bool) {
	for _, t := range j.Tools {
		if t.Number == number {
			return t, true
		}
	}
	return toolpath.Cutter{}, false
}

// Units is what a person reads the job's lengths in: its own units, else the machine's.
func (j *Job) Units(machine measure.Unit) measure.Unit {
	if u, err := measure.ParseUnits(j.Node.Word("units")); err == nil {
		return u
	}
	return machine
}

// stem is the file's name for output names: letters, digits, minus and
// underscore; anything else becomes a minus.
func stem(file string) string {
	s := filepath.Base(file)
	s = strings.TrimSuffix(s, filepath.Ext(s))
	out := strings.Map(func(r rune) rune {
		switch {
		case 'a' <= r && r <= 'z', 'A' <= r && r <= 'Z', '0' <= r && r <= '9', r == '-', r == '_':
			return r
		}
		return '-'
	}, s)
	if out = strings.Trim(out, "-"); out == "" {
		out = "job"
	}
	if len(out) > 60 {
		out = out[:60]
	}
	return out
}
