package write

import "strings"

// textWidth is the longest text of a comment, in characters.
const textWidth = 60

// wrap cuts cleaned text at its spaces into lines of at most width characters.
// A run without spaces that is longer is cut where the line ends.
func wrap(text string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		for len(word) > width {
			// Cutting may leave a lone letter at an end, which grows when it is
			// cleaned again, by fewer than 8 characters in all.
			if line != "" {
				lines, line = append(lines, line), ""
			}
			if piece := Clean(word[:width-8]); piece != "" {
				lines = append(lines, piece)
			}
			word = Clean(word[width-8:])
		}
		switch {
		case word == "":
		case line == "":
			line = word
		case len(line)+1+len(word) <= width:
			line += " " + word
		default:
			lines, line = append(lines, line), word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// comment writes one fact for the operator, on as many lines as it needs.
func (w *writer) comment(text string) error {
	if w.comments == ([2]string{}) {
		if w.heading {
			w.tell(text)
		}
		return nil
	}
	width := min(textWidth, w.limit-len("()")-len(w.end))
	for _, line := range wrap(Clean(text), width) {
		if err := w.bare(w.comments[0] + line + w.comments[1]); err != nil {
			return err
		}
	}
	return nil
}

// tell keeps a fact that the operator must know and the text cannot say.
func (w *writer) tell(text string) { w.told = append(w.told, wrap(Clean(text), textWidth)...) }
