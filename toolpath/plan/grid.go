package plan

import (
	"stopshort/machines"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// Grid is the positions that a target can be told: the decimals of a
// controller, or the lines of a machine's dials, counted from the set-up's
// zero on each axis.
type Grid struct {
	step [3]measure.Ratio // tenths of a nanometre
	Dial bool             // the steps are lines of a dial
}

// ForMachine is the grid of a machine: its controller's decimals where it has
// one, else its dials' lines.
func ForMachine(m *machines.Machine) Grid {
	var g Grid
	if c := m.Controller; c != nil {
		s := m.Units.Size()
		for range c.Places {
			s /= 10
		}
		for a := range g.step {
			g.step[a] = measure.NewRatio(int64(s), 1)
		}
		return g
	}
	g.Dial = true
	for a, x := range m.Axes {
		g.step[a] = x.StepValue()
	}
	return g
}

// ForSource is the grid of a machine whose Z is set by one of its wheels: "head",
// "knee", "quill" or "saddle".
func ForSource(m *machines.Machine, by string) Grid {
	g := ForMachine(m)
	if z, ok := m.ZAxis(by); ok && g.Dial {
		g.step[solid.Z] = z.StepValue()
	}
	return g
}

// Round puts a position on the grid at or below it, at or above it, or nearest.
//
// A dial's line need not stand on a whole tenth of a nanometre. The position
// given for it then lies between the line and v, so that what is judged is no
// further on the safe side than what the dial can be set to; the two differ by
// less than a tenth of a nanometre.
func (g Grid) Round(a solid.Axis, v measure.Length, way measure.Rounding) measure.Length {
	n := g.step[a].Steps(v, way)
	if g.step[a].Times(n, measure.Floor) >= v {
		return g.step[a].Times(n, measure.Floor)
	}
	return g.step[a].Times(n, measure.Ceil)
}

// Step is the distance between two positions, rounded up.
func (g Grid) Step(a solid.Axis) measure.Length { return g.step[a].Times(1, measure.Ceil) }

// Lines is how many whole steps lie in a distance from nought.
func (g Grid) Lines(a solid.Axis, v measure.Length) int64 { return g.step[a].Steps(v, measure.Floor) }
