// Package rs274 holds what the writer and the reader of RS-274 text share: the
// letters of its words and the modal groups. Numbers, lines and meaning are not
// shared: the one prints and the other parses, each by its own code, so that a
// mistake in either shows when a text is read back.
//
// Source: NISTIR 6556, "The NIST RS274NGC Interpreter - Version 3", sections
// 3.3 and 3.4.
package rs274

// IsLetter tells whether a capital begins a word (NISTIR 6556, table 3). E, O,
// U, V and W do not.
func IsLetter(c byte) bool {
	if c < 'A' || c > 'Z' {
		return false
	}
	switch c {
	case 'E', 'O', 'U', 'V', 'W':
		return false
	}
	return true
}
