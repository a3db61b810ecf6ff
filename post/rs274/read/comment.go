package read

// bracketed is the length of the comment at the head of b, which begins with a
// bracket. One that is not closed runs to the line's end.
func (s *state) bracketed(b []byte) int {
	if !s.w.comment {
		s.w.comment = true
		s.note(CommentForC)
	}
	for i := 1; i < len(b); i++ {
		switch b[i] {
		case ')':
			s.commentBytes(b[1:i])
			return i + 1
		case '(':
			s.note(NestedComment)
			s.commentBytes(b[1:])
			return len(b)
		}
	}
	s.note(OpenComment)
	s.commentBytes(b[1:])
	return len(b)
}

// commentBytes looks for what acts or is refused even in a comment.
func (s *state) commentBytes(b []byte) {
	for _, c := range b {
		if c >= ' ' && c <= '~' && c != '!' && c != '?' && c != '~' || c == '\t' {
			continue
		}
		s.controlByte(c, c)
		if c < ' ' || c > '~' {
			s.about(BadByte, Word{c, -1})
		}
		return // one is enough
	}
}

// controlByte tells of the bytes that class A picks out of the raw stream.
func (s *state) controlByte(c, as byte) {
	if c == '!' || c == '?' || c == '~' || c == 0x18 || c > 0x7f {
		s.about(ByteForA, Word{as, -1})
	}
}

// percentInside is a percent sign that is the first on its line and neither the
// first line nor the end of a program that began with one.
func (s *state) percentInside(b []byte) {
	s.w.stray = true
	s.note(PercentForA)
	s.note(PercentInside)
}

// isPercentLine tells whether a line holds a percent sign and nothing else.
func isPercentLine(b []byte) bool {
	i := skipBlanks(b, 0)
	return i < len(b) && b[i] == '%' && skipBlanks(b, i+1) == len(b)
}
