package survey

import (
	"strings"

	"golang.org/x/exp/slices"

	"stopshort/post/rs274/read"
)

// Tally is notes of one rule: the first, and how many.
type Tally struct {
	First read.Note
	Count int
	Words []read.Word // what they are about, each once; no more than mostWords
}

// mostWords bounds the words that a tally names.
const mostWords = 12

// Text is what the notes say, with the words that they are about.
func (t Tally) Text() string {
	var words []string
	for _, w := range t.Words {
		words = append(words, w.String())
	}
	if len(words) == 0 {
		return t.First.Rule.Text()
	}
	return strings.Join(words, ", ") + ": " + t.First.Rule.Text()
}

// Notes counts notes by their rule, so that a long program takes no more memory than
// a short one.
type Notes struct {
	by    map[read.Rule]*Tally
	order []*Tally
}

// Add counts one note.
func (s *Notes) Add(n read.Note) {
	t := s.by[n.Rule]
	if t == nil {
		if s.by == nil {
			s.by = map[read.Rule]*Tally{}
		}
		t = &Tally{First: n}
		s.by[n.Rule] = t
		s.order = append(s.order, t)
	}
	t.Count++
	if n.Word.Letter != 0 && len(t.Words) < mostWords && !slices.Contains(t.Words, n.Word) {
		t.Words = append(t.Words, n.Word)
	}
}

// NotProved is the notes that leave moves open.
func (s *Notes) NotProved() []Tally { return s.those(func(n read.Note) bool { return !n.Proved() }) }

// Assumed is the notes that the moves depend on.
func (s *Notes) Assumed() []Tally {
	return s.those(func(n read.Note) bool { return n.Kind() == read.Assumed })
}

// Findings is the notes of lines that some class of reader would refuse; one may be
// among the others too.
func (s *Notes) Findings() []Tally {
	return s.those(func(n read.Note) bool { return n.Classes() != 0 })
}

func (s *Notes) those(is func(read.Note) bool) (out []Tally) {
	for _, t := range s.order {
		if is(t.First) {
			out = append(out, *t)
		}
	}
	return out
}
