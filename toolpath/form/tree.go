package form

import (
	"fmt"
	"strings"
)

// shape is what a value looks like in the file.
type shape uint8

const (
	isTable   shape = iota
	isTables        // tables under [[headers]]
	isList          // [a, b]
	isText          // any of the four kinds of string
	isInteger       // as raw, whatever its base
	isDecimal       // as raw, perhaps with an exponent
	isFlag
	isDate
)

// birth is how a table came to be; it decides what may be added to it.
type birth uint8

const (
	implied birth = iota // a [header] of something below it: its own [header] may follow
	headed               // its own [header]
	dotted               // a key with dots
	inline               // { }: closed
)

// value is one value of a file as the scanner saw it.
type value struct {
	shape shape
	birth birth
	depth int // steps from the top of the file
	path  int // bytes of the names on the way
	line  int // of its key or header; of an item of a list its own
	raw   string
	text  string // of a string, with its escapes resolved
	names []string
	under map[string]*value // of a table
	items []*value          // of a list, or of tables
}

// maxDepth is how deep a file may nest: keys, dotted keys, lists and tables.
const maxDepth = 32

// The library keeps the whole path of each key, so that these bound what a
// hostile file costs: about 100 MB and a second.
const (
	maxValues = 50_000
	maxName   = 64  // bytes of one step of a key
	maxPath   = 400 // bytes of all the steps to a key
)

func (t *value) get(name string) *value { return t.under[name] }

func (t *value) put(name string, v *value) {
	if t.under == nil {
		t.under = map[string]*value{}
	}
	t.names = append(t.names, name)
	t.under[name] = v
}

// fresh is a value one step below t, under that name, or "" for an item.
func (s *scanner) fresh(t *value, name string, v value) (*value, error) {
	v.depth, v.path = t.depth+1, t.path+len(name)+1
	if v.depth > maxDepth {
		return nil, s.errorf("the file nests deeper than %d levels: write it flatter", maxDepth)
	}
	if v.path > maxPath {
		return nil, s.errorf("the names down to %s are longer than %d bytes together: write it flatter", shownName(name), maxPath)
	}
	if s.values++; s.values > maxValues {
		return nil, s.errorf("the file holds more than %d values: write it shorter", maxValues)
	}
	return &v, nil
}

// step goes to the table of that name under t for a header, and makes it where
// there is none.
func (s *scanner) step(t *value, name string, line int) (*value, error) {
	v := t.get(name)
	if v == nil {
		v, err := s.fresh(t, name, value{shape: isTable, birth: implied, line: line})
		if err != nil {
			return nil, err
		}
		t.put(name, v)
		return v, nil
	}
	switch {
	case v.shape == isTables:
		return v.items[len(v.items)-1], nil
	case v.shape == isTable && v.birth != inline:
		return v, nil
	}
	return nil, s.errorf("%s is given its value in line %d: nothing can be added to it here", shownName(name), v.line)
}

// parent is the table that a header's last name stands in, and that name.
func (s *scanner) parent(root *value, path []string, line int) (t *value, name string, err error) {
	t = root
	for _, name := range path[:len(path)-1] {
		if t, err = s.step(t, name, line); err != nil {
			return nil, "", err
		}
	}
	return t, path[len(path)-1], nil
}

// openTable is the table of a [header].
func (s *scanner) openTable(root *value, path []string, line int) (*value, error) {
	t, name, err := s.parent(root, path, line)
	if err != nil {
		return nil, err
	}
	v := t.get(name)
	switch {
	case v == nil:
		v, err := s.fresh(t, name, value{shape: isTable, birth: headed, line: line})
		if err != nil {
			return nil, err
		}
		t.put(name, v)
		return v, nil
	case v.shape == isTable && v.birth == implied:
		v.birth, v.line = headed, line
		return v, nil
	case v.shape == isTables:
		return nil, s.errorf("the file has [[%s]] in line %d: write two brackets here too", shownPath(path), v.line)
	case v.shape == isTable:
		return nil, s.errorf("%s is a table in line %d already: put its keys together", shownPath(path), v.line)
	}
	return nil, s.errorf("%s is given its value in line %d already: keep one of the two", shownPath(path), v.line)
}

// openItem is the next table of a [[header]].
func (s *scanner) openItem(root *value, path []string, line int) (*value, error) {
	t, name, err := s.parent(root, path, line)
	if err != nil {
		return nil, err
	}
	list := t.get(name)
	switch {
	case list == nil:
		var err error
		if list, err = s.fresh(t, name, value{shape: isTables, line: line}); err != nil {
			return nil, err
		}
		t.put(name, list)
	case list.shape == isTable && list.birth != inline:
		return nil, s.errorf("the file has [%s] in line %d: write two brackets there too", shownPath(path), list.line)
	case list.shape != isTables:
		return nil, s.errorf("%s is given its value in line %d already: keep one of the two", shownPath(path), list.line)
	}
	v, err := s.fresh(list, "", value{shape: isTable, birth: headed, line: line})
	if err != nil {
		return nil, err
	}
	list.items = append(list.items, v)
	return v, nil
}

// holder is the table that a key with dots stands in, made where there is none.
func (s *scanner) holder(t *value, path []string, line int) (*value, error) {
	for _, name := range path[:len(path)-1] {
		v := t.get(name)
		switch {
		case v == nil:
			var err error
			if v, err = s.fresh(t, name, value{shape: isTable, birth: dotted, line: line}); err != nil {
				return nil, err
			}
			t.put(name, v)
		case v.shape == isTable && v.birth != inline:
		default:
			return nil, s.errorf("%s is given its value in line %d: nothing can be added to it here", shownName(name), v.line)
		}
		t = v
	}
	name := path[len(path)-1]
	if v := t.get(name); v != nil {
		return nil, s.errorf("%s is given in line %d already: keep one of the two", shownPath(path), v.line)
	}
	return t, nil
}

// shownName is one step of a path as a message shows it.
func shownName(name string) string {
	for i := 0; i < len(name); i++ {
		if !bareKey(name[i]) {
			return quoted(name)
		}
	}
	if name == "" {
		return `""`
	}
	return name
}

func shownPath(path []string) string {
	shown := make([]string, len(path))
	for i, p := range path {
		shown[i] = shownName(p)
	}
	return strings.Join(shown, ".")
}

// syntax is a fault of a file's layout, at which reading stops.
type syntax struct {
	line int
	text string
}

func (e *syntax) Error() string { return e.text }

func (s *scanner) errorf(format string, args ...any) error {
	return &syntax{s.line, fmt.Sprintf(format, args...)}
}
