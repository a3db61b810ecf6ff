package form

import (
	"strings"
	"unicode/utf8"
)

// scanner reads the layout of a TOML file: each key with its line, each number
// as it was written. It says what a person should write instead where it cannot
// follow, and is no stricter than the library, which reads the file after it.
type scanner struct {
	data   string
	pos    int
	line   int
	values int
	open   int    // brackets and braces that are open
	key    string // last key read, for messages
}

// scan is the file as a tree. The data is plain text by [plainText]. The error
// is a *syntax.
func scan(data string) (*value, error) {
	s := &scanner{data: data, line: 1}
	root := &value{shape: isTable, birth: headed}
	t := root
	for {
		s.blanks()
		switch c := s.peek(); {
		case c == 0:
			return root, nil
		case c == '\n' || c == '\r' || c == '#':
			if err := s.lineEnd(); err != nil {
				return nil, err
			}
		case c == '[':
			var err error
			if t, err = s.header(root); err != nil {
				return nil, err
			}
			if err := s.lineEnd(); err != nil {
				return nil, err
			}
		default:
			if err := s.keyValue(t); err != nil {
				return nil, err
			}
			if err := s.lineEnd(); err != nil {
				return nil, err
			}
		}
	}
}

// peek is the next byte, 0 at the end; no text holds a NUL.
func (s *scanner) peek() byte {
	if s.pos < len(s.data) {
		return s.data[s.pos]
	}
	return 0
}

func (s *scanner) has(prefix string) bool { return strings.HasPrefix(s.data[s.pos:], prefix) }

// blanks skips spaces and tabs.
func (s *scanner) blanks() {
	for s.peek() == ' ' || s.peek() == '\t' {
		s.pos++
	}
}

// space skips spaces, tabs, comments and ends of lines, inside brackets.
func (s *scanner) space() {
	for {
		s.blanks()
		switch s.peek() {
		case '\n':
			s.line++
			s.pos++
		case '\r': // always before a line feed
			s.pos++
		case '#':
			s.comment()
		default:
			return
		}
	}
}

// comment skips to the end of the line.
func (s *scanner) comment() {
	if i := strings.IndexByte(s.data[s.pos:], '\n'); i >= 0 {
		s.pos += i
		return
	}
	s.pos = len(s.data)
}

// lineEnd takes the end of a line, after a comment perhaps.
func (s *scanner) lineEnd() error {
	s.blanks()
	if s.peek() == '#' {
		s.comment()
	}
	if s.peek() == '\r' {
		s.pos++
	}
	switch s.peek() {
	case 0:
		return nil
	case '\n':
		s.pos++
		s.line++
		return nil
	}
	return s.errorf("%s stands after the end of what the line says: take it out, or give it a line of its own", quoted(s.restOfLine()))
}

// restOfLine is what follows on the line, without a comment's text.
func (s *scanner) restOfLine() string {
	rest := s.data[s.pos:]
	if i := strings.IndexAny(rest, "#\r\n"); i >= 0 {
		rest = rest[:i]
	}
	return strings.TrimRight(rest, " \t")
}

// here is what stands at the scanner's place, for a message.
func (s *scanner) here() string {
	switch s.peek() {
	case 0:
		return "the end of the file"
	case '\n', '\r':
		return "the end of the line"
	}
	r, _ := utf8.DecodeRuneInString(s.data[s.pos:])
	return quoted(string(r))
}

// header takes [a.b] or [[a.b]] and gives its table.
func (s *scanner) header(root *value) (*value, error) {
	open, shut := "[", "]"
	if s.has("[[") {
		open, shut = "[[", "]]"
	}
	s.pos += len(open)
	line := s.line
	path, err := s.path(open)
	if err != nil {
		return nil, err
	}
	if !s.has(shut) {
		return nil, s.errorf("%s where %s must close the name: write %s%s%s", s.here(), shut, open, shownPath(path), shut)
	}
	s.pos += len(shut)
	if open == "[" {
		return s.openTable(root, path, line)
	}
	return s.openItem(root, path, line)
}

// path takes a key with its dots.
func (s *scanner) path(after string) ([]string, error) {
	var path []string
	for {
		s.blanks()
		name, err := s.name(after)
		if err != nil {
			return nil, err
		}
		if len(name) > maxName {
			return nil, s.errorf("the key %s is %d bytes long: no key is longer than %d", quoted(name), len(name), maxName)
		}
		if path = append(path, name); len(path) > maxDepth {
			return nil, s.errorf("the file nests deeper than %d levels: write it flatter", maxDepth)
		}
		s.blanks()
		if s.peek() != '.' {
			return path, nil
		}
		s.pos++
		after = "."
	}
}

func bareKey(c byte) bool {
	return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || '0' <= c && c <= '9' || c == '_' || c == '-'
}

// name takes one step of a key.
func (s *scanner) name(after string) (string, error) {
	switch s.peek() {
	case '"', '\'':
		return s.oneLine()
	}
	from := s.pos
	for bareKey(s.peek()) {
		s.pos++
	}
	if s.pos == from {
		if after == "" {
			return "", s.errorf("%s where a key belongs: write a line as key = value", s.here())
		}
		return "", s.errorf("%s after %s where a name belongs: write letters, digits, - or _, or put the name in quotes", s.here(), quoted(after))
	}
	return s.data[from:s.pos], nil
}

// keyValue takes key = value into the table.
func (s *scanner) keyValue(t *value) error {
	line := s.line
	path, err := s.path("")
	if err != nil {
		return err
	}
	s.key = shownPath(path)
	if s.peek() != '=' {
		return s.errorf("%s after %s where = belongs: write %s = value", s.here(), s.key, s.key)
	}
	s.pos++
	if t, err = s.holder(t, path, line); err != nil {
		return err
	}
	s.blanks()
	v, err := s.value(t, path[len(path)-1])
	if err != nil {
		return err
	}
	v.line = line
	t.put(path[len(path)-1], v)
	return nil
}

// value takes one value, which stands one step below t.
func (s *scanner) value(t *value, name string) (*value, error) {
	v, err := s.fresh(t, name, value{line: s.line})
	if err != nil {
		return nil, err
	}
	switch s.peek() {
	case '[':
		v.shape = isList
		s.open++
		err = s.list(v)
		s.open--
	case '{':
		v.shape, v.birth = isTable, dotted
		s.open++
		err = s.inlineTable(v)
		s.open--
		v.birth = inline
	case '"', '\'':
		v.shape = isText
		v.text, err = s.text()
		if c := s.peek(); err == nil && (c == '"' || c == '\'') {
			err = s.errorf("a quote stands close behind the text %s: for inches write in, or put the text in single quotes", quoted(v.text))
		}
	default:
		err = s.bareValue(v)
	}
	return v, err
}

// list takes [a, b].
func (s *scanner) list(v *value) error {
	s.pos++
	for {
		s.space()
		if s.peek() == ']' {
			s.pos++
			return nil
		}
		if s.peek() == ',' {
			return s.errorf("a comma in the list with nothing before it: take it out")
		}
		item, err := s.value(v, "")
		if err != nil {
			return err
		}
		v.items = append(v.items, item)
		s.space()
		switch s.peek() {
		case ',':
			s.pos++
		case ']':
		default:
			return s.errorf("%s in the list of line %d where a comma or ] belongs", s.here(), v.line)
		}
	}
}

// inlineTable takes { a = 1, b = 2 }, over several lines if need be.
func (s *scanner) inlineTable(v *value) error {
	line := s.line
	s.pos++
	for {
		s.space()
		if s.peek() == '}' {
			s.pos++
			return nil
		}
		if s.peek() == ',' {
			return s.errorf("a comma in the table with nothing before it: take it out")
		}
		if s.peek() == 0 {
			return s.errorf("the table of line %d is not closed: write }", line)
		}
		if err := s.keyValue(v); err != nil {
			return err
		}
		s.space()
		switch s.peek() {
		case ',':
			s.pos++
		case '}':
		default:
			return s.errorf("%s in the table of line %d where a comma or } belongs", s.here(), line)
		}
	}
}
