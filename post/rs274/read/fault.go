package read

import "fmt"

// Rule is why a line was refused: a number in the reference interpreter's own
// list of errors, or [NotFollowed].
type Rule int

// The rules this reader keeps.
const (
	NotFollowed    Rule = 0   // nothing wrong by the list, but not followed here
	EmptyArcRadius Rule = 197 // radius nought
	NoMotion       Rule = 57  // axis words and no motion in force
	AxesWithG80    Rule = 56
	NoAxes         Rule = 6 // a motion word and no axis word
	BadCharacter   Rule = 12
	BadLineNumber  Rule = 13
	FeedMissing    Rule = 41
	ArcFeedMissing Rule = 43
	LineTooLong    Rule = 66
	DwellMissing   Rule = 72 // G4 without P
	NoPercentEnd   Rule = 80
	NoEnd          Rule = 81
	GTooBig        Rule = 84
	UnusedH        Rule = 85
	UnusedI        Rule = 88
	UnusedJ        Rule = 91
	KInXY          Rule = 92
	UnusedK        Rule = 94
	UnusedL        Rule = 95
	LineNumberBig  Rule = 98
	MTooBig        Rule = 100
	MixedArc       Rule = 101
	TwoWords       Rule = 102 // of A; the letters follow to 119, see [twice]
	NegativeF      Rule = 123
	NegativeG      Rule = 124
	NegativeM      Rule = 127
	NegativeP      Rule = 129
	NegativeS      Rule = 130
	NegativeT      Rule = 131
	NestedComment  Rule = 132
	BadNumber      Rule = 134
	NotWhole       Rule = 135
	UnusedD        Rule = 71
	UnusedP        Rule = 140
	UnusedQ        Rule = 144
	NoCentre       Rule = 147
	UnusedR        Rule = 151
	RadiiDiffer    Rule = 152
	TooManyM       Rule = 163
	TwoOfGroupG    Rule = 168
	TwoOfGroupM    Rule = 169
	OpenComment    Rule = 171
	UnknownG       Rule = 173
	UnknownM       Rule = 174
	NoArcEnd       Rule = 189 // X and Y both missing
)

// Error is a line that was refused.
type Error struct {
	Line int // from 1
	Rule Rule
	Text string // what is wrong, as a sentence
}

func (e *Error) Error() string { return fmt.Sprintf("line %d: %s", e.Line, e.Text) }

// fault is an Error whose line is filled in later.
func fault(r Rule, format string, args ...any) *Error {
	return &Error{Rule: r, Text: fmt.Sprintf(format, args...)}
}

// twice is the rule of a letter that stands on a line for a second time: A is
// 102, and so on by the alphabet over the letters that may stand only once.
func twice(letter byte) Rule {
	r := TwoWords
	for _, c := range []byte("ABCDFHIJKLPQRSTXYZ") {
		if c == letter {
			return r
		}
		r++
	}
	return BadCharacter
}
