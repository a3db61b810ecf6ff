package machines

import "stopshort/toolpath/measure"

// StopAt is where a stop nut on what sets Z halts a cut that is planned down to a depth:
// at a step of the nut, no lower, and on the dial at the first line that is no lower than
// that. The line is the depth itself where both fall on it; a line may stand a tenth of a
// nanometre off. exact is a cut that must come to its depth: the nut then halts it only
// where it can be set to just that. ok is false where no nut halts it, or no dial tells
// where.
func (m *Machine) StopAt(by string, deep measure.Length, exact bool) (nut, line measure.Length, ok bool) {
	z, ok := m.ZAxis(by)
	if !ok || m.Stop.Kind != "nut" || m.Stop.On != by || !z.HasDial() {
		return 0, 0, false
	}
	nut = deep.Round(m.Stop.Step, measure.Ceil)
	if exact && nut-deep > 1 {
		return 0, 0, false
	}
	line = z.Position(z.StepValue().Steps(nut, measure.Ceil), measure.Nearest)
	if line-deep <= 1 {
		line = deep
	}
	return nut, line, true
}
