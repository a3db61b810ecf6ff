package read

import (
	"strconv"
	"strings"

	"stopshort/post/rs274"
)

// codeName is a G or M word as it is written.
func codeName(g rs274.Group, code int16) string {
	if g >= rs274.Stopping {
		return "M" + strconv.Itoa(int(code))
	}
	return gName(code)
}

// gName is a G word as it is written, from its tenths.
func gName(tenths int16) string {
	s := "G" + strconv.Itoa(int(tenths/10))
	if tenths%10 != 0 {
		s += "." + strconv.Itoa(int(tenths%10))
	}
	return s
}

// String is the number as a person writes it, for a fault's text.
func (n number) String() string {
	s := strconv.FormatUint(n.digits, 10)
	if n.tens > 0 {
		if pad := int(n.tens) + 1 - len(s); pad > 0 {
			s = strings.Repeat("0", pad) + s
		}
		s = s[:len(s)-int(n.tens)] + "." + s[len(s)-int(n.tens):]
	}
	if n.neg {
		s = "-" + s
	}
	return s
}
