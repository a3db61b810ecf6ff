package machines

// Sides are the words for the two sides of zero of X, Y and Z, the lower first: on a
// mill as one stands before it, on a lathe with a vertical slide as the work is seen
// from there.
func (m *Machine) Sides() [3][2]string {
	if m.Kind == "lathe" {
		return [3][2]string{{"far", "near"}, {"low", "high"}, {"deep", "out"}}
	}
	return [3][2]string{{"left", "right"}, {"front", "back"}, {"down", "up"}}
}
