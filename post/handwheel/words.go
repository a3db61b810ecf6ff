package handwheel

import "stopshort/machines"

// zWords are the words for the ways of Z: on a machine whose depth lies along its bed, and
// where the work is moved to the cutter, it goes not down and up.
type zWords struct{ goes, down, near, up string }

func wordsOfZ(m *machines.Machine, by string) zWords {
	a, _ := m.ZAxis(by)
	switch {
	case m.Kind == "lathe":
		return zWords{"goes", "deeper", "in, near", "out, clear"}
	case raises(a, m):
		return zWords{"is", "raised", "raised, near", "lowered, clear"}
	}
	return zWords{"goes", "down", "down, near", "up, clear"}
}

// inwards is the way to the side of the metal from above.
func inwards(m *machines.Machine) string {
	if m.Kind == "lathe" {
		return "in"
	}
	return "down"
}

// further is deeper for a place that is compared.
func further(m *machines.Machine) string {
	if m.Kind == "lathe" {
		return "deeper"
	}
	return "lower"
}
