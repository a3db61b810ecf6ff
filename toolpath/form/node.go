package form

import (
	"fmt"
	"strconv"

	"stopshort/toolpath/measure"
)

// Node is one table of a file, checked. Its readers give the value of a key, or
// its default, or the kind's nought where it has neither; they panic where the
// key table has no such key or has it with another kind.
type Node struct {
	doc     *document
	table   *Table
	variant *Table // nil: none
	pos     Position
	held    map[string]held
}

// held is the value of one key.
type held struct {
	value any
	given bool // by the file, not by a default
	pos   Position
}

// keys are the table's own keys and those of its variant.
func (n *Node) keys() []*Key {
	var keys []*Key
	for i := range n.table.Keys {
		keys = append(keys, &n.table.Keys[i])
	}
	if n.variant != nil {
		for i := range n.variant.Keys {
			keys = append(keys, &n.variant.Keys[i])
		}
	}
	return keys
}

// row is the key's row in the key table.
func (n *Node) row(key string) *Key {
	if k := find(n.table.Keys, key); k != nil {
		return k
	}
	if n.variant != nil {
		if k := find(n.variant.Keys, key); k != nil {
			return k
		}
	}
	panic(fmt.Sprintf("form: %q is no key of table %q", key, n.pos.Key))
}

func find(keys []Key, name string) *Key {
	for i := range keys {
		if keys[i].Name == name {
			return &keys[i]
		}
	}
	return nil
}

// Has tells whether the file itself gives the key.
func (n *Node) Has(key string) bool {
	n.row(key)
	return n.held[key].given
}

// Set tells whether the key has a value, given or by default.
func (n *Node) Set(key string) bool {
	n.row(key)
	_, ok := n.held[key]
	return ok
}

// Pos is where the table begins; its line is 0 for the top of the file.
func (n *Node) Pos() Position { return n.pos }

// At is where the key is given; where the file does not give it, the table's
// line with the key's path. An empty key is the table itself.
func (n *Node) At(key string) Position {
	if key == "" {
		return n.pos
	}
	n.row(key)
	if h := n.held[key]; h.given {
		return h.pos
	}
	return Position{n.pos.File, n.pos.Line, join(n.pos.Key, key)}
}

// Fault adds a fault at the key's position (see [Node.At]) to those of the
// file. The text is a sentence in lower case that says what to write instead.
func (n *Node) Fault(key, format string, args ...any) {
	n.doc.fault(n.At(key), format, args...)
}

// Faults is every fault of the whole file so far, in the order of the lines, as
// an error of type [Faults]; nil where there is none. Of more than a thousand
// the first thousand found are kept.
func (n *Node) Faults() error { return n.doc.err() }

// read is the key's value of that type.
func read[T any](n *Node, key string, allowed ...Kind) T {
	k := n.row(key)
	for _, a := range allowed {
		if k.Kind == a {
			v, _ := n.held[key].value.(T)
			return v
		}
	}
	panic(fmt.Sprintf("form: %q of table %q is a %s and was read as another kind", key, n.pos.Key, kinds[k.Kind].name))
}

// Text is the text of a Text key.
func (n *Node) Text(key string) string { return read[string](n, key, Text) }

// Word is the choice of a Word key.
func (n *Node) Word(key string) string { return read[string](n, key, Word) }

// Length is the value of a Length or a Size key.
func (n *Node) Length(key string) measure.Length {
	return read[measure.Length](n, key, Length, Size)
}

// Figure is the value of a Length or a Size key with where it came from: its
// place in the file, or "default".
func (n *Node) Figure(key string) measure.Figure[measure.Length] {
	f := measure.Figure[measure.Length]{Value: n.Length(key), From: measure.Default, Source: "default"}
	if n.Has(key) {
		f.From, f.Source = measure.Given, n.At(key).String()
	}
	return f
}

// Angle is the value of an Angle key.
func (n *Node) Angle(key string) measure.Angle { return read[measure.Angle](n, key, Angle) }

// Feed is the value of a Feed key.
func (n *Node) Feed(key string) measure.Feed { return read[measure.Feed](n, key, Feed) }

// Speed is the value of a Speed key.
func (n *Node) Speed(key string) measure.Speed { return read[measure.Speed](n, key, Speed) }

// Surface is the value of a Surface key.
func (n *Node) Surface(key string) measure.SurfaceSpeed {
	return read[measure.SurfaceSpeed](n, key, Surface)
}

// Time is the value of a Time key.
func (n *Node) Time(key string) measure.Time { return read[measure.Time](n, key, Time) }

// Lead is the value of a Lead key, in tenths of a nanometre for one turn; the
// zero Ratio where there is none.
func (n *Node) Lead(key string) measure.Ratio { return read[measure.Ratio](n, key, Lead) }

// Rate is the value of a Rate key, a length for each length; the zero Ratio
// where there is none.
func (n *Node) Rate(key string) measure.Ratio { return read[measure.Ratio](n, key, Rate) }

// Number is the value of a Number key; the zero Ratio where there is none.
func (n *Node) Number(key string) measure.Ratio { return read[measure.Ratio](n, key, Number) }

// Count is the value of a Count key.
func (n *Node) Count(key string) int64 { return read[int64](n, key, Count) }

// Flag is the value of a Flag key.
func (n *Node) Flag(key string) bool { return read[bool](n, key, Flag) }

// Lengths is the value of a Lengths key, nil where there is none.
func (n *Node) Lengths(key string) []measure.Length {
	return read[[]measure.Length](n, key, Lengths)
}

// Speeds is the value of a Speeds key, nil where there is none.
func (n *Node) Speeds(key string) []measure.Speed { return read[[]measure.Speed](n, key, Speeds) }

// Counts is the value of a Counts key, nil where there is none.
func (n *Node) Counts(key string) []int64 { return read[[]int64](n, key, Counts) }

// Sub is the table of a Sub key, nil where there is none.
func (n *Node) Sub(key string) *Node { return read[*Node](n, key, Sub) }

// Subs is the tables of a Subs key, in the order of the file.
func (n *Node) Subs(key string) []*Node { return read[[]*Node](n, key, Subs) }

// header is the path of a table's header: its key without the indexes.
func header(path string) string {
	b := make([]byte, 0, len(path))
	for i := 0; i < len(path); i++ {
		if path[i] == '[' {
			for path[i] != ']' {
				i++
			}
			continue
		}
		b = append(b, path[i])
	}
	return string(b)
}

// example is how the key could be written.
func (n *Node) example(k *Key) string {
	switch k.Kind {
	case Sub:
		return "[" + join(header(n.pos.Key), k.Name) + "]"
	case Subs:
		return "[[" + join(header(n.pos.Key), k.Name) + "]]"
	case Word:
		return k.Name + " = " + Listed(quotes(k.choices(n.table)), "or")
	case Flag:
		return k.Name + " = true or false"
	}
	one := kinds[k.Kind].example
	if of := kinds[k.Kind].of; of != k.Kind {
		one = kinds[of].example
		many := one
		for i := 1; i < max(k.Len, 2) && i < 4; i++ {
			many += ", " + one
		}
		return k.Name + " = [" + many + "] or the like" + lenNote(k.Len)
	}
	if k.Kind == Text {
		return k.Name + " = " + one
	}
	return k.Name + " = " + one + " or the like" // nobody should copy the figure
}

func lenNote(n int) string {
	switch {
	case n == 0:
		return ", as many as there are"
	case n > 4:
		return ", " + strconv.Itoa(n) + " of them"
	}
	return ""
}
