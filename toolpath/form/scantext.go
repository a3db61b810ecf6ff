package form

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// text takes a string of any of the four kinds.
func (s *scanner) text() (string, error) {
	switch {
	case s.has(`"""`):
		return s.manyLines('"')
	case s.has(`'''`):
		return s.manyLines('\'')
	}
	return s.oneLine()
}

// oneLine takes "text" with escapes or 'text' without.
func (s *scanner) oneLine() (string, error) {
	quote := s.data[s.pos]
	s.pos++
	var b strings.Builder
	for {
		switch c := s.peek(); c {
		case 0, '\n', '\r':
			return "", s.errorf("the text %s is not closed: write %c at its end", quoted(b.String()), quote)
		case quote:
			s.pos++
			return b.String(), nil
		case '\\':
			if quote == '\'' {
				b.WriteByte(c)
				s.pos++
				continue
			}
			if err := s.escape(&b); err != nil {
				return "", err
			}
		default:
			b.WriteByte(c)
			s.pos++
		}
	}
}

// manyLines takes a string between three quotes on either side.
func (s *scanner) manyLines(quote byte) (string, error) {
	line := s.line
	three := strings.Repeat(string(quote), 3)
	s.pos += 3
	s.newline()
	var b strings.Builder
	for {
		switch c := s.peek(); {
		case c == 0:
			s.line = line
			return "", s.errorf("the text is not closed: write %s at its end", three)
		case s.has(three):
			n := 3 // up to two quotes may stand before the closing three
			for n < 5 && strings.HasPrefix(s.data[s.pos+n:], three[:1]) {
				n++
			}
			b.WriteString(s.data[s.pos : s.pos+n-3])
			s.pos += n
			return b.String(), nil
		case c == '\\' && quote == '"':
			if s.joined() {
				continue
			}
			if err := s.escape(&b); err != nil {
				return "", err
			}
		default:
			if c == '\n' {
				s.line++
			}
			b.WriteByte(c)
			s.pos++
		}
	}
}

// newline skips one end of a line, if it is next.
func (s *scanner) newline() bool {
	if s.peek() == '\r' {
		s.pos++
	}
	if s.peek() != '\n' {
		return false
	}
	s.pos++
	s.line++
	return true
}

// joined skips a backslash at the end of a line with all the blanks and ends of
// lines after it, if that is what is next.
func (s *scanner) joined() bool {
	from := s.pos
	s.pos++
	s.blanks()
	if !s.newline() {
		s.pos = from
		return false
	}
	for {
		s.blanks()
		if !s.newline() {
			return true
		}
	}
}

// escapes are those of one letter.
var escapes = map[byte]byte{
	'b': '\b', 't': '\t', 'n': '\n', 'f': '\f', 'r': '\r', 'e': 0x1b, '"': '"', '\\': '\\',
}

// escape takes a backslash and what it stands for.
func (s *scanner) escape(b *strings.Builder) error {
	s.pos++
	c := s.peek()
	if plain, ok := escapes[c]; ok {
		b.WriteByte(plain)
		s.pos++
		return nil
	}
	digits := map[byte]int{'x': 2, 'u': 4, 'U': 8}[c]
	if digits == 0 {
		return s.errorf(`\ before %s means nothing: write \\ for a backslash, or put the text in single quotes`, s.here())
	}
	s.pos++
	end := min(s.pos+digits, len(s.data))
	code, err := strconv.ParseUint(s.data[s.pos:end], 16, 32)
	if err != nil || end < s.pos+digits || !utf8.ValidRune(rune(code)) {
		return s.errorf(`\%c without a character's %d hexadecimal digits: write the character itself`, c, digits)
	}
	s.pos = end
	b.WriteRune(rune(code))
	return nil
}
