package main

import (
	"bytes"
	"io"
	"unicode"
	"unicode/utf8"
)

// plain hands text on to a terminal without what would steer it: names and
// titles come out of a file, and anything may stand in them. Every control
// character but the line's end becomes a space.
type plain struct{ to io.Writer }

func (p plain) Write(b []byte) (int, error) {
	if _, err := p.to.Write(bytes.Map(steerless, b)); err != nil {
		return 0, err
	}
	return len(b), nil
}

func steerless(r rune) rune {
	if r != '\n' && (unicode.IsControl(r) || unicode.Is(unicode.Cf, r)) || r == utf8.RuneError {
		return ' '
	}
	return r
}

// oneLine is text from a file for a place in a line of ours.
func oneLine(s string) string { return wrapped(s, 0, len(s)+1) }
