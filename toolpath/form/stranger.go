package form

import (
	"fmt"
	"strings"

	"golang.org/x/exp/slices"
)

// strangers adds a fault for each key of the file that the table has not; just
// for those that differ in capitals only where the variant is not known. Known
// keys that stand twice in other capitals are told as twins. It gives the known
// keys that were meant.
func (d *document) strangers(n *Node, v *value, twins map[string]bool, unsure bool) map[string]bool {
	meant := map[string]bool{}
	var known []string
	for _, k := range n.keys() {
		known = append(known, k.Name)
	}
	for _, name := range v.names {
		if d.full() {
			break
		}
		same := func(k string) bool { return strings.EqualFold(k, name) }
		other := slices.ContainsFunc(known, same)
		if slices.Contains(known, name) || unsure && !other || other && twins[strings.ToLower(name)] {
			continue
		}
		p := d.at(v.get(name).line, join(n.pos.Key, shownName(name)))
		text, key := n.stranger(name, known)
		d.fault(p, "%s", text)
		meant[key] = true
	}
	return meant
}

// stranger says what a person meant by a key that the table has not: which key,
// "" where none of the known ones.
func (n *Node) stranger(name string, known []string) (text, key string) {
	for _, k := range known {
		if strings.EqualFold(k, name) {
			return "unknown key " + quoted(name) + ": capitals count here; write " + k, k
		}
	}
	var takers []string // variants of this table that have the key
	for word, t := range n.table.Variants {
		if find(t.Keys, name) != nil {
			takers = append(takers, n.table.By+" = "+quoted(word))
		}
	}
	if len(takers) > 0 {
		slices.Sort(takers)
		return quoted(name) + " belongs to " + Listed(takers, "or") + ": take it out here", ""
	}
	places := places(n.doc.root, name)
	if len(places) > 0 && len(places) <= 3 {
		return "unknown key " + quoted(name) + " here: it belongs " + Listed(places, "or"), ""
	}
	if near := Nearest(name, known); near != "" {
		return "unknown key " + quoted(name) + "; did you mean " + quoted(near) + "?", near
	}
	return "unknown key " + quoted(name) + ": the keys here are " + Listed(known, "and"), ""
}

// places are the tables of the file that have a key of that name.
func places(root *Table, name string) []string {
	var found []string
	each(root, "", false, func(t *Table, path, by string, many bool) {
		if find(t.Keys, name) == nil {
			return
		}
		at := "at the top of the file, before the first table"
		if path != "" {
			at = "in " + brackets(path, many) + by
		}
		if !slices.Contains(found, at) {
			found = append(found, at)
		}
	})
	return found
}

// each calls do for the table and every table under it, with the path of its
// header; for a variant, by says which (` recipe = "slot"`).
func each(t *Table, path string, many bool, do func(t *Table, path, by string, many bool)) {
	eachUnder(t, path, "", many, do)
}

func eachUnder(t *Table, path, by string, many bool, do func(t *Table, path, by string, many bool)) {
	do(t, path, by, many)
	for _, k := range t.Keys {
		if k.Table != nil {
			eachUnder(k.Table, join(path, k.Name), by, k.Kind == Subs, do)
		}
	}
	var words []string
	for word := range t.Variants {
		words = append(words, word)
	}
	slices.Sort(words)
	for _, word := range words {
		eachUnder(t.Variants[word], path, by+" "+t.By+" = "+quoted(word), many, do)
	}
}

func brackets(path string, many bool) string {
	if many {
		return "[[" + path + "]]"
	}
	return "[" + path + "]"
}

// choice refuses a word that is none of the choices.
func choice(word string, choices []string) error {
	if slices.Contains(choices, word) {
		return nil
	}
	if near := Nearest(word, choices); near != "" {
		return fmt.Errorf("%s is no choice here; did you mean %s?", quoted(word), quoted(near))
	}
	return fmt.Errorf("%s is no choice here: write %s", quoted(word), Listed(quotes(choices), "or"))
}
