package read

import "stopshort/post/rs274"

// words is what stands on one line. Only what is marked as seen is good.
type words struct {
	seen   uint32     // letters, A is bit 0; G, M and N are not among them
	value  [26]number // by letter
	groups uint32     // modal groups that have a word here
	code   [rs274.GroupCount]int16
	any    bool // something but comments stands here
}

// bit is the mark of a letter.
func bit(letter byte) uint32 { return 1 << (letter - 'A') }

// group is the mark of a modal group.
func group(g rs274.Group) uint32 { return 1 << g }

func (w *words) has(letter byte) bool        { return w.seen&bit(letter) != 0 }
func (w *words) of(letter byte) number       { return w.value[letter-'A'] }
func (w *words) hasGroup(g rs274.Group) bool { return w.groups&group(g) != 0 }

// is tells whether the line has this code: of G in tenths, of M as it is.
func (w *words) is(g rs274.Group, code int16) bool { return w.hasGroup(g) && w.code[g] == code }

const axes = 1<<('X'-'A') | 1<<('Y'-'A') | 1<<('Z'-'A')

func (w *words) hasAxes() bool { return w.seen&axes != 0 }

// parse takes a line apart. It looks at what words there are, not at what they
// do together.
func (w *words) parse(b []byte) *Error {
	w.seen, w.groups, w.any = 0, 0, false
	ms := 0
	for i := 0; i < len(b); {
		c := b[i]
		switch {
		case c == ' ' || c == '\t':
			i++
			continue
		case c == '(':
			n, err := comment(b[i:])
			if err != nil {
				return err
			}
			i += n
			continue
		case c >= 'a' && c <= 'z':
			c -= 'a' - 'A'
		case c == '/' && !w.any:
			return fault(NotFollowed, "a line that a switch may leave out cannot be followed")
		case c == '#':
			return fault(NotFollowed, "a parameter cannot be followed")
		}
		if !rs274.IsLetter(c) {
			return badCharacter(b[i])
		}
		i++
		if c == 'N' {
			if w.any {
				return fault(BadCharacter, "a line number that is not at the start of its line")
			}
			n, err := lineNumber(b[i:])
			if err != nil {
				return err
			}
			w.any = true
			i += n
			continue
		}
		w.any = true
		n, took, err := parseNumber(b[i:])
		if err != nil {
			if err.Rule == BadNumber {
				err.Text = "the letter " + string(rune(c)) + " without a number"
			}
			return err
		}
		i += took
		switch c {
		case 'G':
			err = w.g(n)
		case 'M':
			if ms++; ms > 4 {
				return fault(TooManyM, "more than four M words on a line")
			}
			err = w.m(n)
		default:
			if w.has(c) {
				return fault(twice(c), "two %c words on a line", c)
			}
			w.seen |= bit(c)
			w.value[c-'A'] = n
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func badCharacter(c byte) *Error {
	if c >= ' ' && c <= '~' {
		return fault(BadCharacter, "the character %q begins no word", string(rune(c)))
	}
	return fault(BadCharacter, "the byte %d has no meaning in a program", c)
}

// comment is the length of the comment at the head of b.
func comment(b []byte) (int, *Error) {
	for i := 1; i < len(b); i++ {
		switch c := b[i]; {
		case c == ')':
			return i + 1, nil
		case c == '(':
			return 0, fault(NestedComment, "a bracket within a comment")
		case c > '~' || c < ' ' && c != '\t':
			return 0, badCharacter(c)
		}
	}
	return 0, fault(OpenComment, "a comment that is not closed on its line")
}

// lineNumber is the length of a line number of up to five digits.
func lineNumber(b []byte) (int, *Error) {
	value, any := 0, false
	i := 0
	for ; i < len(b); i++ {
		c := b[i]
		if c == ' ' || c == '\t' {
			continue
		}
		if c < '0' || c > '9' {
			break
		}
		any = true
		if value = value*10 + int(c-'0'); value > 99999 {
			return 0, fault(LineNumberBig, "a line number over 99999")
		}
	}
	if !any {
		return 0, fault(BadLineNumber, "N without digits")
	}
	return i, nil
}

// g marks a G word.
func (w *words) g(n number) *Error {
	switch tenths, ok := n.times(10, 9999); {
	case n.neg:
		return fault(NegativeG, "a G word below nought")
	case n.digits/powersOfTen[n.tens] > 99:
		return fault(GTooBig, "a G word over 99.9")
	case !ok || rs274.GroupOfG(int(tenths)) == rs274.NoGroup:
		return fault(UnknownG, "G%s is not known", n)
	default:
		gr := rs274.GroupOfG(int(tenths))
		if w.hasGroup(gr) {
			return fault(TwoOfGroupG, "%s and %s on one line: they shut each other out", gName(w.code[gr]), gName(int16(tenths)))
		}
		w.groups |= group(gr)
		w.code[gr] = int16(tenths)
	}
	return nil
}

// m marks an M word.
func (w *words) m(n number) *Error {
	switch v, ok := n.whole(1e17); {
	case n.neg:
		return fault(NegativeM, "an M word below nought")
	case n.digits/powersOfTen[n.tens] > 99:
		return fault(MTooBig, "an M word over 99")
	case !ok:
		return fault(NotWhole, "M%s is not a whole number", n)
	case rs274.GroupOfM(int(v)) == rs274.NoGroup:
		return fault(UnknownM, "M%d is not known", v)
	default:
		gr := rs274.GroupOfM(int(v))
		if w.hasGroup(gr) {
			return fault(TwoOfGroupM, "M%d and M%d on one line: they shut each other out", w.code[gr], v)
		}
		w.groups |= group(gr)
		w.code[gr] = int16(v)
	}
	return nil
}
