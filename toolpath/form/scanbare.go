package form

import (
	"regexp"
	"strconv"
	"strings"
)

// What a value without quotes may be. The library checks dates again, and the
// range of a number.
var (
	integerText = regexp.MustCompile(`^([+-]?(0|[1-9](_?[0-9])*)|0x[0-9A-Fa-f](_?[0-9A-Fa-f])*|0o[0-7](_?[0-7])*|0b[01](_?[01])*)$`)
	decimalText = regexp.MustCompile(`^[+-]?(0|[1-9](_?[0-9])*)(\.[0-9](_?[0-9])*)?([eE][+-]?[0-9](_?[0-9])*)?$`)
	dateText    = regexp.MustCompile(`^([0-9]{4}-[0-9]{2}-[0-9]{2}([Tt ][0-9].*)?|[0-9]{2}:[0-9]{2}.*)$`)
	dayText     = regexp.MustCompile(`^[0-9]{4}-[0-9]{2}-[0-9]{2}$`)
	noFigure    = regexp.MustCompile(`^[+-]?(nan|inf)$`)
)

// bareValue takes a number, true, false or a date.
func (s *scanner) bareValue(v *value) error {
	from := s.pos
	s.word()
	if dayText.MatchString(s.data[from:s.pos]) && s.peek() == ' ' &&
		s.pos+1 < len(s.data) && '0' <= s.data[s.pos+1] && s.data[s.pos+1] <= '9' {
		s.pos++
		s.word()
	}
	v.raw = s.data[from:s.pos]
	// What follows must end the value; otherwise it is text without quotes.
	next := s.pos
	for next < len(s.data) && (s.data[next] == ' ' || s.data[next] == '\t') {
		next++
	}
	if next < len(s.data) && !strings.ContainsRune("\r\n#,]}", rune(s.data[next])) {
		s.pos = from
		return s.needsQuotes()
	}
	switch {
	case v.raw == "true" || v.raw == "false":
		v.shape = isFlag
	case integerText.MatchString(v.raw):
		v.shape = isInteger
	case decimalText.MatchString(v.raw):
		v.shape = isDecimal
	case noFigure.MatchString(v.raw):
		return s.errorf("%s is %s, which is no figure: write a number", s.key, v.raw)
	case dateText.MatchString(v.raw):
		v.shape = isDate
	default:
		s.pos = from
		return s.needsQuotes()
	}
	if s.open == 0 && s.peek() == ',' { // 0,5
		return s.errorf("%s has a comma: write a decimal point, or a list in brackets", cut(v.raw+s.restOfLine(), shownValue))
	}
	return nil
}

// word passes over what a number, a date or true may hold.
func (s *scanner) word() {
	for c := s.peek(); bareKey(c) || c == '+' || c == '.' || c == ':'; c = s.peek() {
		s.pos++
	}
}

// needsQuotes is the fault of a value that is no number and stands without
// quotes, as 3/16 in does.
func (s *scanner) needsQuotes() error {
	rest := s.restOfLine()
	if i := strings.IndexAny(rest, ",]}"); i >= 0 {
		rest = strings.TrimRight(rest[:i], " \t")
	}
	if rest == "" {
		return s.errorf("%s where the value of %s belongs: write %s = value", s.here(), s.key, s.key)
	}
	if rest[0] == '.' || strings.HasSuffix(rest, ".") || plusZeros.MatchString(rest) {
		return s.errorf("%s is no number here: write digits on both sides of the point and no nought in front", cut(rest, shownValue))
	}
	if low := strings.ToLower(rest); low == "true" || low == "false" {
		return s.errorf("%s is written small: write %s = %s", rest, s.key, low)
	}
	rest = cut(strings.Trim(rest, "\"'“”„‘’"), shownValue)
	return s.errorf("%s needs quotes: write %s = %s", rest, s.key, strconv.Quote(rest))
}

var plusZeros = regexp.MustCompile(`^[+-]?0[0-9]+(\.[0-9]*)?$`)
