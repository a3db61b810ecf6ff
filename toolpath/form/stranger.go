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
		return quoted(name) + " belongs to " + listed(takers, "or") + ": take it out here", ""
	}
	places := places(n.doc.root, name)
	if len(places) > 0 && len(places) <= 3 {
		return "unknown key " + quoted(name) + " here: it belongs " + listed(places, "or"), ""
	}
	if near := nearest(name, known); near != "" {
		return "unknown key " + quoted(name) + "; did you mean " + quoted(near) + "?", near
	}
	return "unknown key " + quoted(name) + ": the keys here are " + listed(known, "and"), ""
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
	if near := nearest(word, choices); near != "" {
		return fmt.Errorf("%s is no choice here; did you mean %s?", quoted(word), quoted(near))
	}
	return fmt.Errorf("%s is no choice here: write %s", quoted(word), listed(quotes(choices), "or"))
}

// nearest is the known name that is nearest to what was written, "" where none
// is near: one slip for a short name, three for a long one.
func nearest(name string, known []string) string {
	best, least := "", 1<<30
	for _, k := range known {
		allowed := 1 + min(len(k)/4, 2)
		if far := slips(strings.ToLower(name), strings.ToLower(k)); far <= allowed && far < least {
			best, least = k, far
		}
	}
	return best
}

// slips is how many letters were left out, put in, changed, or swapped with the
// next one. It looks at the first hundred letters.
func slips(a, b string) int {
	x, y := []rune(cut(a, 100)), []rune(cut(b, 100))
	rows := [3][]int{make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)}
	for j := range rows[1] {
		rows[1][j] = j
	}
	for i := 1; i <= len(x); i++ {
		before, last, row := rows[(i+2)%3], rows[i%3], rows[(i+1)%3]
		row[0] = i
		for j := 1; j <= len(y); j++ {
			change := 1
			if x[i-1] == y[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
	}
	return rows[(len(x)+1)%3][len(y)]
}
