package form

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
)

const notFollowed = "the file's layout could not be followed; write it more plainly"

// crossCheck reads the data with the library and holds the scanner's tree
// against what it found: every key, the length of every list, every value. So
// neither a slip of the scanner nor one of the library can give a wrong figure.
func crossCheck(data string, root *value) *syntax {
	m, err := decode(data)
	var parse toml.ParseError
	switch {
	case errors.As(err, &parse):
		line := parse.Position.Line
		if line < 0 || line > strings.Count(data, "\n")+1 {
			line = 0
		}
		return &syntax{line, plainMessage(parse.Message)}
	case err != nil:
		return &syntax{0, notFollowed}
	case !same(root, m):
		return &syntax{0, notFollowed}
	}
	return nil
}

var errDecode = errors.New("the library gave up")

// decode is the library's reading. It panics on some texts, which is an error
// here.
func decode(data string) (m map[string]any, err error) {
	defer func() {
		if recover() != nil {
			m, err = nil, errDecode
		}
	}()
	_, err = toml.Decode(data, &m)
	return m, err
}

// plainMessage is the library's message in the manner of ours.
func plainMessage(s string) string {
	s = strings.TrimRight(strings.TrimSpace(s), ".")
	r, n := utf8.DecodeRuneInString(s)
	if !strings.HasPrefix(s, "TOML") {
		s = string(unicode.ToLower(r)) + s[n:]
	}
	return s
}

// same tells whether the scanner and the library saw the same value.
func same(v *value, lib any) bool {
	switch lib := lib.(type) {
	case map[string]any:
		if v.shape != isTable || len(v.under) != len(lib) {
			return false
		}
		for name, x := range lib {
			u := v.get(name)
			if u == nil || !same(u, x) {
				return false
			}
		}
		return true
	case []map[string]any:
		if v.shape != isTables && v.shape != isList || len(v.items) != len(lib) {
			return false
		}
		for i, x := range lib {
			if !same(v.items[i], x) {
				return false
			}
		}
		return true
	case []any:
		if v.shape != isList || len(v.items) != len(lib) {
			return false
		}
		for i, x := range lib {
			if !same(v.items[i], x) {
				return false
			}
		}
		return true
	case string:
		return v.shape == isText && v.text == lib
	case bool:
		return v.shape == isFlag && v.raw == strconv.FormatBool(lib)
	case int64:
		n, err := strconv.ParseInt(v.raw, 0, 64)
		return v.shape == isInteger && err == nil && n == lib
	case float64:
		n, err := strconv.ParseFloat(strings.ReplaceAll(v.raw, "_", ""), 64)
		return v.shape == isDecimal && err == nil && math.Float64bits(n) == math.Float64bits(lib)
	case time.Time:
		return v.shape == isDate
	}
	return false
}
