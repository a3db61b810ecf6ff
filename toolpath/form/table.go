package form

import (
	"fmt"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/measure"
)

// check panics where a key table is wrong, which is its writer's slip and never
// a file's. above are the tables it stands under.
func (t *Table) check(path string, above []*Table) {
	wrong := func(format string, args ...any) {
		panic(fmt.Sprintf("form: key table %q: ", path) + fmt.Sprintf(format, args...))
	}
	if t == nil {
		wrong("is missing")
	}
	if slices.Contains(above, t) {
		wrong("stands under itself")
	}
	above = append(above, t)
	for i := range t.Keys {
		k := &t.Keys[i]
		if find(t.Keys[:i], k.Name) != nil {
			wrong("%s stands twice", k.Name)
		}
		k.check(path, t, above)
	}
	if t.By == "" {
		if len(t.Variants) > 0 {
			wrong("has variants and no By")
		}
		return
	}
	by := find(t.Keys, t.By)
	if by == nil || by.Kind != Word || !by.Required && by.Default == "" {
		wrong("By must name a Word that is required or has a default")
	}
	for _, word := range by.choices(t) {
		v := t.Variants[word]
		if v == nil || v.By != "" {
			wrong("variant %q is missing, or has variants itself", word)
		}
		v.check(path+" "+word, above)
		for _, k := range v.Keys {
			if find(t.Keys, k.Name) != nil {
				wrong("%s of variant %q is the table's own", k.Name, word)
			}
		}
	}
}

func (k *Key) check(path string, t *Table, above []*Table) {
	wrong := func(format string, args ...any) {
		panic(fmt.Sprintf("form: key %q: ", join(path, k.Name)) + fmt.Sprintf(format, args...))
	}
	if k.Name == "" || len(k.Name) > maxName || shownName(k.Name) != k.Name {
		wrong("is no plain name")
	}
	if int(k.Kind) >= len(kinds) {
		wrong("has no such kind")
	}
	if (k.Kind == Sub || k.Kind == Subs) != (k.Table != nil) {
		wrong("a Table goes with Sub and Subs")
	}
	if k.Table != nil {
		k.Table.check(join(path, k.Name), above)
	}
	if (k.Kind == Word) != (len(k.choices(t)) > 0) && k.Name != t.By {
		wrong("Choices go with Word")
	}
	if k.Required && k.Default != "" {
		wrong("is required and has a default")
	}
	of := kinds[k.Kind].of
	switch of {
	case Text, Word, Flag, Sub, Subs:
		if k.Min+k.Max+k.Above != "" {
			wrong("has bounds and no order")
		}
	}
	if k.Len != 0 && of == k.Kind {
		wrong("has a Len and is no list")
	}
	for _, b := range []string{k.Min, k.Max, k.Above} {
		if b != "" {
			k.bound(of, b)
		}
	}
	if k.Default == "" {
		return
	}
	if _, err := k.parseDefault(measure.NoUnit); err != nil {
		wrong("default: %s", err)
	}
	if k.Kind == Word && !slices.Contains(k.choices(t), k.Default) {
		wrong("default %q is no choice", k.Default)
	}
}
