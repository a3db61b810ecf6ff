package form

import (
	"fmt"
	"strconv"
	"strings"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/measure"
)

// document is one file as it is read.
type document struct {
	file   string
	root   *Table
	top    *Node
	bare   measure.Unit // what a bare length takes
	lost   bool         // units is given and wrong, so lengths are not held to their bounds
	faults Faults
}

// mostItems is the longest list that a key takes.
const mostItems = 1000

// Load reads the file at path by the key table; see [ReadFile] and [Read].
func Load(path string, root *Table) (*Node, error) {
	data, err := ReadFile(path)
	if err != nil {
		return nil, err
	}
	return Read(path, data, root)
}

// Read reads a TOML file by the key table; file is its name for messages. The
// error is [Faults]: one fault where the layout cannot be read, else every
// fault of meaning at once (the first thousand) in the order of the lines.
//
// At most 1 MiB, 32 levels, 50 000 values, 64 bytes for a key and 400 for a path
// of keys are read. A byte-order mark, a NUL, what is not UTF-8, nan and inf are refused.
//
// A Word key "units" at the top, with the choices mm and in, sets what a bare
// number takes, everywhere in the file.
//
// It panics where the key table is wrong.
func Read(file string, data []byte, root *Table) (*Node, error) {
	root.check("", nil)
	d := &document{file: file, root: root}
	if line, text := plainText(data); text != "" {
		return nil, Faults{{Position{File: file, Line: line}, text}}
	}
	tree, err := scan(string(data))
	if err != nil {
		e := err.(*syntax)
		return nil, Faults{{Position{File: file, Line: e.line}, e.text}}
	}
	if e := crossCheck(string(data), tree); e != nil {
		return nil, Faults{{Position{File: file, Line: e.line}, e.text}}
	}
	if len(tree.names) == 0 {
		if need := required(root.Keys); len(need) > 0 {
			return nil, Faults{{Position{File: file}, "the file is empty: it needs " + Listed(need, "and")}}
		}
	}
	d.units(tree)
	d.top = d.node(root, tree, "")
	if err := d.err(); err != nil {
		return nil, err
	}
	return d.top, nil
}

func required(keys []Key) []string {
	var names []string
	for _, k := range keys {
		if k.Required {
			names = append(names, k.Name)
		}
	}
	return names
}

// units finds the unit of bare numbers before any number is read.
func (d *document) units(tree *value) {
	k := find(d.root.Keys, "units")
	if k == nil || k.Kind != Word {
		return
	}
	word := k.Default
	if v := tree.get(k.Name); v != nil {
		word = v.text
		d.lost = v.shape != isText || !slices.Contains(k.Choices, word)
	}
	switch {
	case word == "mm", d.lost: // a unit so that each number is not a fault too
		d.bare = measure.MM
	case word == "in":
		d.bare = measure.In
	}
}

func (d *document) err() error {
	if len(d.faults) == 0 {
		return nil
	}
	return d.faults.sorted()
}

func (d *document) fault(p Position, format string, args ...any) {
	if len(d.faults) < keptFaults {
		d.faults = append(d.faults, Fault{p, fmt.Sprintf(format, args...)})
	}
}

func (d *document) full() bool { return len(d.faults) >= keptFaults }

func (d *document) at(line int, key string) Position { return Position{d.file, line, key} }

// join is the path of a key under a table's path.
func join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

// node reads one table by its key table.
func (d *document) node(t *Table, v *value, path string) *Node {
	n := &Node{doc: d, table: t, pos: d.at(v.line, path), held: map[string]held{}}
	twins := d.twins(n, v)
	unsure := d.variant(n, v)
	meant := d.strangers(n, v, twins, unsure)
	for _, k := range n.keys() {
		if d.full() {
			return n
		}
		u := v.get(k.Name)
		if u != nil {
			d.key(n, k, u)
			continue
		}
		switch {
		case twins[strings.ToLower(k.Name)], meant[k.Name]: // told already
		case k.Required:
			d.absent(n, k)
		case k.Default != "":
			x, err := k.parseDefault(d.bare)
			if err != nil {
				panic(fmt.Sprintf("form: default of %s: %s", k.Name, err))
			}
			n.held[k.Name] = held{value: x, pos: n.pos}
		}
	}
	return n
}

// absent adds a fault for a required key that is not given.
func (d *document) absent(n *Node, k *Key) {
	help := ""
	if k.Help != "" {
		help = " (" + k.Help + ")"
	}
	d.fault(n.At(k.Name), "not given: write %s%s", n.example(k), help)
}

// variant picks the further keys that the table's By key asks for. It tells
// whether they could not be picked, and so are not to be checked.
func (d *document) variant(n *Node, v *value) (skip bool) {
	if n.table.By == "" {
		return false
	}
	k := find(n.table.Keys, n.table.By)
	word := k.Default
	if u := v.get(k.Name); u != nil {
		word = u.text
		if u.shape != isText {
			return true
		}
	}
	n.variant = n.table.Variants[word]
	return n.variant == nil
}

// twins adds a fault for keys of one table that differ in case only, and gives
// those keys in small letters.
func (d *document) twins(n *Node, v *value) map[string]bool {
	seen, twins := map[string]string{}, map[string]bool{}
	for _, name := range v.names {
		low := strings.ToLower(name)
		if first, ok := seen[low]; ok {
			d.fault(d.at(v.get(name).line, join(n.pos.Key, shownName(name))),
				"%s and %s, in line %d, differ in capitals only: keep one", quoted(name), quoted(first), v.get(first).line)
			twins[low] = true
			continue
		}
		seen[low] = name
	}
	return twins
}

// key reads one key that the file gives.
func (d *document) key(n *Node, k *Key, v *value) {
	h := held{given: true, pos: d.at(v.line, join(n.pos.Key, k.Name))}
	switch k.Kind {
	case Sub:
		if v.shape != isTable {
			d.fault(h.pos, "%s where a table belongs: write %s", v.shown(), n.example(k))
			return
		}
		h.value = d.node(k.Table, v, h.pos.Key)
	case Subs:
		h.value = d.subs(n, k, v, h.pos)
	case Lengths, Speeds, Counts:
		list, ok := d.list(n, k, v, h.pos)
		if !ok {
			return
		}
		h.value = list
	default:
		x, err := d.single(n, k, k.Kind, v)
		if err != nil {
			d.fault(h.pos, "%s", err)
			return
		}
		h.value = x
	}
	n.held[k.Name] = h
}

// subs reads a list of tables.
func (d *document) subs(n *Node, k *Key, v *value, p Position) []*Node {
	if v.shape != isTables && v.shape != isList {
		d.fault(p, "%s where a list of tables belongs: write %s, with two brackets, for each", v.shown(), n.example(k))
		return nil
	}
	if len(v.items) == 0 && k.Required {
		d.fault(p, "the list is empty: write at least one %s", n.example(k))
	}
	if len(v.items) > mostItems {
		d.fault(p, "%d tables: at most %d will do", len(v.items), mostItems)
		return nil
	}
	var nodes []*Node
	for i, item := range v.items {
		at := d.at(item.line, p.Key+"["+strconv.Itoa(i+1)+"]")
		if item.shape != isTable {
			d.fault(at, "%s where a table belongs: write %s", item.shown(), n.example(k))
			continue
		}
		nodes = append(nodes, d.node(k.Table, item, at.Key))
	}
	return nodes
}

// list reads a list of figures.
func (d *document) list(n *Node, k *Key, v *value, p Position) (any, bool) {
	kind := kinds[k.Kind].of
	switch {
	case v.shape != isList:
		d.fault(p, "%s where a list belongs: write %s", v.shown(), n.example(k))
		return nil, false
	case k.Len > 0 && len(v.items) != k.Len:
		d.fault(p, "%s where %d belong: write %s", counted(len(v.items), kinds[kind].name), k.Len, n.example(k))
		return nil, false
	case len(v.items) == 0 && k.Required:
		d.fault(p, "the list is empty: write %s", n.example(k))
		return nil, false
	case len(v.items) > mostItems:
		d.fault(p, "%d figures: at most %d will do", len(v.items), mostItems)
		return nil, false
	}
	values, ok := make([]any, len(v.items)), true
	for i, item := range v.items {
		x, err := d.single(n, k, kind, item)
		if err != nil {
			d.fault(d.at(item.line, p.Key+"["+strconv.Itoa(i+1)+"]"), "%s", err)
			ok = false
		}
		values[i] = x
	}
	if !ok {
		return nil, false
	}
	return together(kind, values), true
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}
