package trade

import "strings"

// nearest is the known name that shares most pairs of letters with the name, as
// the end of a message; nothing where they have less than half in common.
func nearest(name string, known []string) string {
	best, most := "", 0.5
	for _, k := range known {
		shared, pairs := 0, len(name)+len(k)-2
		for i := 0; i+2 <= len(name); i++ {
			if strings.Contains(k, name[i:i+2]) {
				shared += 2
			}
		}
		if pairs > 0 && float64(shared)/float64(pairs) >= most {
			best, most = k, float64(shared)/float64(pairs)
		}
	}
	if best == "" {
		return ""
	}
	return "; did you mean " + best + "?"
}

// listing is names for a message: "a, b and c".
func listing(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " and " + names[last]
}
