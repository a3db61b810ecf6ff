package machines

import (
	"strings"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
)

// modesSet are the modes that every program states, so that to state them again
// changes nothing.
var modesSet = []string{"G17", "G40", "G49", "G54", "G80", "G90", "G94"}

// unitWord is the word of a unit.
func unitWord(u measure.Unit) string {
	if u == measure.In {
		return "G20"
	}
	return "G21"
}

// headWords are the words that may stand behind the modes: what turns nothing but a
// coolant, and leaves the way and every mode as they are. G61 and G61.1 keep to the
// way; G64 is not among them, since it rounds corners.
func headWords(u measure.Unit) []string {
	return append([]string{"M7", "M8", "M9", "M48", "M49", "G61", "G61.1", unitWord(u)}, modesSet...)
}

// endWords are those that may stand at the end; native are the units there.
func endWords(native measure.Unit) []string {
	return append([]string{"M5", "M9", "M48", "M49", unitWord(native)}, modesSet...)
}

// refusedWords says why a word that a person might ask for is not taken.
var refusedWords = map[string]string{
	"G64": "it rounds corners, and the way that is proved would not be the one that is cut",
	"G91": "the program is in G90", "G93": "the program is in G94", "G18": "the program is in G17", "G19": "the program is in G17",
	"G43": "write tool_lengths = true", "M6": "write tool_change = \"code\"", "M0": "write tool_change = \"pause\"",
	"M2": "write end = \"M2\"", "M30": "write end = \"M30\"", "M3": "the program starts the spindle itself", "M4": "the spindle turns clockwise",
	"G28": "it moves the cutter", "G30": "it moves the cutter", "G53": "it moves the cutter",
	"G92": "it moves the zero", "G10": "it moves the zero", "G41": "the path is the cutter's own", "G42": "the path is the cutter's own",
	"G20": "it is the unit of another program: see units and native_units", "G21": "it is the unit of another program: see units and native_units",
}

// readWords takes words that a person wants in every program. Each must be one of
// the known ones, letter and number and nothing else, so that no text can bring in a
// line, a comment or a move.
func readWords(n *form.Node, key string, known []string) (out []string) {
	for _, given := range strings.Fields(n.Text(key)) {
		word := strings.ToUpper(given)
		why := refusedWords[word]
		switch {
		case !slices.Contains(known, word) && why != "":
			n.Fault(key, "%s is not taken: %s", word, why)
			return nil
		case !slices.Contains(known, word):
			n.Fault(key, "%q is no word that is known to be safe there: write words of %s", short(given), form.Listed(known, "and"))
			return nil
		case slices.Contains(out, word):
			n.Fault(key, "%s stands twice: write it once", word)
			return nil
		}
		for _, pair := range [][2]string{{"G61", "G61.1"}, {"M48", "M49"}, {"M7", "M9"}, {"M8", "M9"}} {
			if slices.Contains(pair[:], word) && (slices.Contains(out, pair[0]) || slices.Contains(out, pair[1])) {
				n.Fault(key, "%s and %s undo each other: write one", pair[0], pair[1])
				return nil
			}
		}
		out = append(out, word)
	}
	return out
}

// short is a text for a message, at most 12 characters of it.
func short(s string) string {
	if r := []rune(s); len(r) > 12 {
		return string(r[:12]) + "..."
	}
	return s
}
