package trade

import (
	_ "embed"
	"fmt"
	"sync"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
)

//go:embed proportions.toml
var proportionsFile []byte

// oneRow is a table of just one row.
func oneRow(name, help string, keys ...form.Key) form.Key {
	return form.Key{Name: name, Kind: form.Subs, Required: true, Help: help, Table: &form.Table{Help: "A rule: " + help, Keys: rests(keys...)}}
}

func share(name, help string) form.Key {
	return form.Key{Name: name, Kind: form.Number, Required: true, Above: "0", Max: "100", Help: help}
}

func perCent(name, help string) form.Key {
	return form.Key{Name: name, Kind: form.Count, Required: true, Min: "1", Max: "100", Help: "per cent: " + help}
}

func small(name, help string) form.Key {
	return form.Key{Name: name, Kind: form.Length, Required: true, Above: "0 mm", Max: "100 mm", Help: help}
}

var proportionsTable = &form.Table{
	Help: "Rules that go by a diameter",
	Keys: []form.Key{
		oneRow("slot_depth", "depth of a slot", share("warn", "diameters: told past this"), share("clear", "diameters: chips cleared past this"), share("stop", "diameters: refused past this")),
		oneRow("stick_out", "stick-out of a drill", share("warn", "diameters: told from here")),
		oneRow("oversize", "how much wider a drill cuts", small("least", "at the least"), share("of_drill", "of its diameter")),
		oneRow("wall", "metal between holes", small("least", "at the least"), share("of_least", "of the smaller diameter")),
		oneRow("least_thread", "thread that a screw finds", share("of_major", "of the major diameter"), share("threads", "whole threads")),
		oneRow("full_thread", "full thread that a tapping drill leaves", perCent("stop_thin", "refused under this"), perCent("thin", "told under this"),
			perCent("aim", "sought for tough metal"), perCent("tough", "in tough metal told over this"), perCent("heavy", "told over this"), perCent("stop_heavy", "refused over this")),
		oneRow("deep_hole", "depth of a drilled hole", share("warn", "diameters: told past this")),
	},
}

// proportionBook is every such rule, read.
type proportionBook struct {
	rows  map[string]Row
	nodes map[string]*form.Node
}

// proportions reads the embedded rows once; as with [book], a fault in them is a
// fault of the program.
var proportions = sync.OnceValue(func() proportionBook {
	b, err := readProportions("proportions.toml", proportionsFile)
	if err != nil {
		panic("trade: " + err.Error())
	}
	return b
})

func readProportions(file string, data []byte) (proportionBook, error) {
	n, err := form.Read(file, data, proportionsTable)
	if err != nil {
		return proportionBook{}, err
	}
	b := proportionBook{map[string]Row{}, map[string]*form.Node{}}
	for _, k := range proportionsTable.Keys {
		for i, s := range n.Subs(k.Name) {
			if i > 0 {
				s.Fault("basis", "is given already: there is one rule")
			}
			b.rows[k.Name], b.nodes[k.Name] = readRow(k.Name, "any", s), s
		}
	}
	order := func(table, low, high string) {
		if s := b.nodes[table]; less(s.Number(high), s.Number(low)) {
			s.Fault(high, "is less than %s: write as much at least", low)
		}
	}
	order("slot_depth", "warn", "clear")
	order("slot_depth", "clear", "stop")
	rising := []string{"stop_thin", "thin", "aim", "tough", "heavy", "stop_heavy"}
	for i, key := range rising[1:] {
		if s := b.nodes["full_thread"]; s.Count(key) < s.Count(rising[i]) {
			s.Fault(key, "is less than %s: write as much at least", rising[i])
		}
	}
	return b, n.Faults()
}

func (b *proportionBook) all() (rows []Row) {
	for _, k := range proportionsTable.Keys {
		rows = append(rows, b.rows[k.Name])
	}
	return rows
}

// figure is a length of a rule, with its row.
func (b *proportionBook) figure(table string, l measure.Length, says string, args ...any) measure.Figure[measure.Length] {
	return measure.Figure[measure.Length]{Value: l, From: measure.Handbook,
		Source: fmt.Sprintf(says, args...) + " (" + b.rows[table].rests() + ")"}
}

// SlotDepth is how deep a slot may be for a cutter of a diameter.
type SlotDepth struct {
	Warn  measure.Figure[measure.Length] // past this it is told
	Clear measure.Figure[measure.Length] // past this the chips are cleared by hand
	Stop  measure.Figure[measure.Length] // past this it is refused
}

// SlotDepths is how deep a slot may be in all for a cutter of diameter d: two,
// three and four diameters, rounded down to a tenth of a nanometre.
func SlotDepths(d measure.Length) SlotDepth {
	b := proportions()
	n := b.nodes["slot_depth"]
	of := func(key string) measure.Figure[measure.Length] {
		r := n.Number(key)
		return b.figure("slot_depth", r.Of(d, measure.Floor), "depth of a slot: %s D of its cutter", r)
	}
	return SlotDepth{of("warn"), of("clear"), of("stop")}
}

// StickOut is how far a drill of diameter d sticks out where it begins to bend and
// wander, rounded down to a tenth of a nanometre.
func StickOut(d measure.Length) measure.Figure[measure.Length] {
	b := proportions()
	r := b.nodes["stick_out"].Number("warn")
	return b.figure("stick_out", r.Of(d, measure.Floor), "stick-out of a drill: %s D", r)
}

// Oversize is how much wider than itself a drill of diameter d may cut: the
// greater of a length and a share, rounded up to a tenth of a nanometre.
func Oversize(d measure.Length) measure.Figure[measure.Length] {
	b := proportions()
	n := b.nodes["oversize"]
	l, r := n.Length("least"), n.Number("of_drill")
	return b.figure("oversize", max(l, r.Of(d, measure.Ceil)), "a drill cuts wider by %s or %s D, the greater", l, r)
}

// WallRule is the metal to leave between two holes, or beside a slot: a length or a
// share of the smaller diameter, the less, and their source.
func WallRule() (most measure.Length, share measure.Ratio, source string) {
	b := proportions()
	n := b.nodes["wall"]
	most, share = n.Length("least"), n.Number("of_least")
	return most, share, b.figure("wall", most, "wall: %s or %s of the smaller diameter, the less", most, share).Source
}

// LeastThread is the thread that a screw must find at the least: its major
// diameter or five threads, the greater, rounded up to a tenth of a nanometre.
func (t Thread) LeastThread() measure.Figure[measure.Length] {
	b := proportions()
	n := b.nodes["least_thread"]
	d, p := n.Number("of_major"), n.Number("threads")
	return b.figure("least_thread", max(d.Of(t.Major, measure.Ceil), p.Of(t.Pitch, measure.Ceil)),
		"thread at least: %s D or %s threads, the greater", d, p)
}

// DeepHole is the depth of a hole past which a drill of diameter d is told to wander, so
// that a short one begins it, rounded down to a tenth of a nanometre.
func DeepHole(d measure.Length) measure.Figure[measure.Length] {
	b := proportions()
	r := b.nodes["deep_hole"].Number("warn")
	return b.figure("deep_hole", r.Of(d, measure.Floor), "depth of a hole: %s D of its drill", r)
}
