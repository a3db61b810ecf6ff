package read

import "stopshort/post/rs274"

// words is what stands on one line. Only what is marked as seen is good.
type words struct {
	seen    uint32     // letters, A is bit 0; G, M and N are not among them
	value   [26]number // by letter
	groups  uint32     // modal groups that have one word here
	clash   uint32     // modal groups that have several
	code    [rs274.GroupCount]int16
	other   int16 // a G word of ours that is in no group: 901 911 730, or 0
	gs, ms  int
	stray   bool // something that is no word stands here
	slash   bool
	comment bool
	any     bool // something but comments and the slash stands here
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
// do together. After what is no word it goes on with what follows.
func (s *state) parse(b []byte) {
	w := &s.w
	w.seen, w.groups, w.clash, w.other, w.gs, w.ms = 0, 0, 0, 0, 0, 0
	w.stray, w.slash, w.comment, w.any = false, false, false, false
	for i := 0; i < len(b); {
		c := b[i]
		switch {
		case c == ' ' || c == '\t':
			i++
		case c == '(':
			i += s.bracketed(b[i:])
		case c == ';':
			s.note(Semicolon)
			s.commentBytes(b[i:])
			return
		case c == '/' && !w.any && !w.slash:
			w.slash = true
			i++
		default:
			if c >= 'a' && c <= 'z' {
				c -= 'a' - 'A'
			}
			n := s.word(c, b[i:])
			w.any = true
			if n < 0 {
				return
			}
			i += n
		}
	}
}

// word takes one word, whose letter is c as a capital, and gives its length; -1
// where the rest of the line is not to be looked at.
func (s *state) word(c byte, b []byte) int {
	switch {
	case c == '#' || c == '[' || c == ']' || c == '=' || c == '<':
		s.note(ParameterForA)
		s.note(Parameter)
		return s.expression(b)
	case c == 'O':
		return s.programNumber(b)
	case c == 'N':
		return 1 + s.lineNumber(b[1:])
	case c == '%' && !s.w.any:
		s.percentInside(b)
		return -1
	}
	if !rs274.IsLetter(c) {
		s.about(BadCharacter, Word{b[0], -1})
		s.w.stray = true
		if c < 'A' || c > 'Z' {
			s.controlByte(c, b[0])
			return 1
		}
		_, took, _ := parseNumber(b[1:]) // of a letter that begins no word
		return 1 + took
	}
	n, took, any := parseNumber(b[1:])
	if !any {
		if next := 1 + took; next < len(b) && (b[next] == '#' || b[next] == '[') {
			s.note(ParameterForA)
			s.about(Parameter, Word{c, -1})
			if c == 'G' {
				s.clear = 0 // it may be any mode
			}
			if k := s.expression(b[next:]); k >= 0 {
				return next + k
			}
			return -1
		}
		s.about(NumberMissing, Word{c, -1})
		return 1 + took
	}
	s.take(c, n)
	return 1 + took
}

// take marks one word.
func (s *state) take(c byte, n number) {
	w := &s.w
	switch c {
	case 'G':
		w.gs++
		s.takeG(n)
	case 'M':
		if w.ms++; w.ms == 5 {
			s.note(TooManyM)
		}
		s.takeM(n)
	default:
		if w.has(c) {
			s.about(Twice, Word{c, -1})
		}
		w.seen |= bit(c)
		w.value[c-'A'] = n
	}
}

// takeG marks a G word.
func (s *state) takeG(n number) {
	w := &s.w
	tenths, exact, ok := n.times(10, 9999)
	word := Word{'G', int32(tenths)}
	if !exact || !ok {
		word.Tenths = -1
	}
	switch gr := rs274.GroupOfG(int(tenths)); {
	case n.neg:
		s.about(NegativeG, Word{'G', -1})
	case !ok || tenths > 999 || n.digits/powersOfTen[n.tens] > 99:
		s.about(GTooBig, word)
	case exact && (tenths == 730 || tenths == 901 || tenths == 911):
		if w.other != 0 {
			s.about(TwoOfGroupG, word)
		}
		w.other = int16(tenths)
		switch tenths {
		case 730:
			s.about(G73ForR, word)
		case 901:
			s.about(G901ForR, word)
		default:
			s.about(G911ForR, word)
		}
	case !exact || gr == rs274.NoGroup:
		if s.about(UnknownG, word); movesZero(tenths) {
			s.bent = true
		}
	case (w.groups|w.clash)&group(gr) != 0:
		s.about(TwoOfGroupG, word)
		w.groups &^= group(gr)
		w.clash |= group(gr)
	default:
		w.groups |= group(gr)
		w.code[gr] = int16(tenths)
	}
}

// movesZero tells of G words that are not the reference interpreter's and mostly
// shift, turn or scale all that comes after (from memory): polar places,
// scaling, shifts, turning.
func movesZero(tenths int64) bool {
	switch tenths {
	case 150, 160, 500, 510, 520, 680, 690:
		return true
	}
	return false
}

// takeM marks an M word.
func (s *state) takeM(n number) {
	w := &s.w
	v, whole := n.whole(1e17)
	word := Word{'M', int32(min(v, 99999) * 10)}
	if !whole {
		word.Tenths = -1
	}
	switch {
	case n.neg:
		s.about(NegativeM, Word{'M', -1})
	case n.huge || n.digits/powersOfTen[n.tens] > 99:
		s.about(MTooBig, word)
	case !whole:
		s.about(NotWhole, word)
	case rs274.GroupOfM(int(v)) == rs274.NoGroup:
		s.about(UnknownM, word)
	default:
		gr := rs274.GroupOfM(int(v))
		if (w.groups|w.clash)&group(gr) != 0 {
			s.about(TwoOfGroupM, word)
			w.groups &^= group(gr)
			w.clash |= group(gr)
			return
		}
		w.groups |= group(gr)
		w.code[gr] = int16(v)
	}
}

// lineNumber is the length of what stands behind N.
func (s *state) lineNumber(b []byte) int {
	if s.w.any {
		s.note(LineNumberInside)
	}
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
		value = min(value*10+int(c-'0'), 1e9)
	}
	switch {
	case !any:
		s.note(LineNumberBad)
	case value > 10_000_000:
		s.note(LineNumberBigForA)
		fallthrough
	case value > 99999:
		s.note(LineNumberBig)
	}
	return i
}

// programNumber takes an O word: a bare number on the first line of words is the
// program's; all else is a loop or a subprogram.
func (s *state) programNumber(b []byte) int {
	n, took, any := parseNumber(b[1:])
	_, whole := n.whole(1e9)
	rest := b[1+took:]
	for len(rest) > 0 && (rest[0] == ' ' || rest[0] == '\t') {
		rest = rest[1:]
	}
	alone := len(rest) == 0 || rest[0] == '(' || rest[0] == ';'
	if !any || !whole || n.neg || s.w.any || !alone || s.numbered || s.moved {
		s.note(Loop)
		return -1
	}
	s.numbered = true
	s.note(ProgramNumber)
	return 1 + took
}

// expression is the length of a parameter or an expression with what is set to
// it; -1 where that cannot be told, and then every mode is unclear.
func (s *state) expression(b []byte) int {
	i, depth := 0, 0
	for i < len(b) {
		switch c := b[i]; {
		case c == '[' || c == '<':
			depth++
		case c == ']' || c == '>':
			depth--
		case depth > 0, c >= '0' && c <= '9', c == '.', c == '#', c == '=', c == ' ', c == '\t', c == '+', c == '-':
		case c == '(' || c == ';':
			return i
		case rs274.IsLetter(c &^ 0x20):
			if i+1 < len(b) && !isLetterByte(b[i+1]) {
				return i // the next word
			}
			s.clear = 0
			return -1
		default:
			s.clear = 0
			return -1
		}
		if depth < 0 {
			s.clear = 0
			return -1
		}
		i++
	}
	return i
}

func isLetterByte(c byte) bool { return c|0x20 >= 'a' && c|0x20 <= 'z' }
