package read

import (
	"fmt"
	"strconv"
)

// Class is a set of classes of reader. None is named: a class is a way of
// reading that many share.
type Class uint8

// The classes.
const (
	R Class = 1 << iota // the published reference interpreter, NISTIR 6556
	A                   // small controllers streamed over serial, without tools and cycles
	B                   // newer serial controllers that say they follow R
	C                   // controllers descended from the firmware of 3D printers
	D                   // industrial motion controllers
	E                   // PC controllers descended from R
)

// Words is what the classes are, one a line: "C: controllers descended from ...".
func (c Class) Words() (out []string) {
	for i, words := range []string{
		"the published reference interpreter",
		"small controllers streamed over serial, without tools and cycles",
		"newer serial controllers that say they follow R",
		"controllers descended from the firmware of 3D printers",
		"industrial motion controllers",
		"PC controllers descended from R",
	} {
		if c&(1<<i) != 0 {
			out = append(out, Class(1<<i).String()+": "+words)
		}
	}
	return out
}

// dialect is the classes that keep R's grammar: B says so of itself, E descends
// from it (from memory).
const dialect = R | A | B | E

// String is the letters of the classes, as "R, A".
func (c Class) String() string {
	s := ""
	for i, name := range "RABCDE" {
		if c&(1<<i) == 0 {
			continue
		}
		if s != "" {
			s += ", "
		}
		s += string(name)
	}
	return s
}

// Kind is what a note means for the moves.
type Kind uint8

const (
	// Finding: some reader refuses the line; the moves are clear all the same.
	Finding Kind = iota
	// Assumed: the moves are right if what the note says is true.
	Assumed
	// NotProved: what the line does is followed in part; places that it leaves
	// open are not known after it.
	NotProved
	// NotFollowed: the line does something that is not known, or readers differ
	// on it. No place is known after it until it is said again.
	NotFollowed
)

// Note is what there is to say of a line beside its moves.
type Note struct {
	Line int // from 1
	Rule Rule
	Word Word // what it is about; its letter is nought where it is the whole line
}

// Word is a letter with a number in tenths (G59.1 is G and 591), or a bare
// letter, byte or line where tenths are below nought.
type Word struct {
	Letter byte
	Tenths int32
}

// String is the word as it is written.
func (w Word) String() string {
	switch {
	case w.Letter < ' ' || w.Letter > '~':
		return "byte " + strconv.Itoa(int(w.Letter))
	case w.Tenths < 0:
		return string(rune(w.Letter))
	case w.Tenths%10 != 0:
		return fmt.Sprintf("%c%d.%d", w.Letter, w.Tenths/10, w.Tenths%10)
	}
	return fmt.Sprintf("%c%d", w.Letter, w.Tenths/10)
}

// Kind is what the note means for the moves.
func (n Note) Kind() Kind { return rules[n.Rule].kind }

// Classes is who would refuse the line; nought where it is no finding.
func (n Note) Classes() Class { return rules[n.Rule].classes }

// Proved tells whether the moves are known in spite of the note.
func (n Note) Proved() bool { return n.Kind() < NotProved }

// ID is the rule's number in the reference interpreter's own list of errors, or
// a short name of ours behind the class's letter; empty where it is no finding.
func (n Note) ID() string {
	switch n.Rule {
	case Twice:
		return lettered(n.Word.Letter, "ABCDFHIJKLPQRSTXYZ", 102, 1)
	case Unused:
		return map[byte]string{'D': "71", 'H': "85", 'I': "88", 'J': "91", 'K': "94", 'L': "95", 'P': "140", 'Q': "144", 'R': "151"}[n.Word.Letter]
	case CentreOffPlane:
		return lettered(n.Word.Letter, "IJK", 86, 3)
	}
	return rules[n.Rule].id
}

// lettered is the first number, and so many more for each letter before this.
func lettered(letter byte, letters string, first, step int) string {
	for i := range len(letters) {
		if letters[i] == letter {
			return strconv.Itoa(first + i*step)
		}
	}
	return ""
}

// Text is what is wrong, or assumed, without the line.
func (n Note) Text() string {
	if n.Word.Letter == 0 {
		return n.Rule.Text()
	}
	return n.Word.String() + ": " + n.Rule.Text()
}

// Text is what is wrong, or assumed, without the line and the word.
func (r Rule) Text() string { return rules[r].text }

func (n Note) String() string { return fmt.Sprintf("line %d: %s", n.Line, n.Text()) }
