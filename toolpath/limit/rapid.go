package limit

import (
	"fmt"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// rapidRoom is how near a rapid may come to metal or holding, and short how far
// above what it has cut itself it must stop (own choice: 1 mm is far more than the touch
// errs, a quarter is what a peck comes back to, see drilling.toml).
const (
	rapidRoom = measure.Millimetre
	short     = measure.Millimetre / 4
)

// rapid judges a move that is as fast as the machine goes and need not be
// straight: upwards always; sideways at or above the clearance plane, as the
// box it spans; downwards above what the cutter has cut itself, or clear of
// everything.
func (j *Judge) rapid(op toolpath.Operation, before []toolpath.Step, s toolpath.Step) {
	if !s.To.Known[2] {
		return
	}
	sideways := s.From.X != s.To.X || s.From.Y != s.To.Y ||
		s.From.Known[0] != s.To.Known[0] || s.From.Known[1] != s.To.Known[1]
	if !sideways && (!s.From.Known[2] || s.To.Z >= s.From.Z) {
		return // straight up; or the first lift, which the head of the program speaks of
	}
	z := s.To.Z
	if s.From.Known[2] {
		z = min(z, s.From.Z)
	}
	if sideways {
		left := int64(z - j.setup.Clearance)
		j.at(op, "rapids sideways over the clearance plane", Length, nought,
			"lift to the clearance plane before crossing").meet(left, left, nil, j.here(s.Line))
	}
	own := !sideways && j.ownHole(before, s)
	need := measure.Figure[measure.Length]{Value: rapidRoom, From: measure.Default, Source: "a rapid keeps 1 mm clear"}
	t := j.at(op, "rapids to metal and holding", Length, need, "")
	meet := func(gap solid.Gap, what string, top measure.Length) {
		if !t.met || int64(gap.Low) < t.verdict.Planned {
			t.verdict.Do = fmt.Sprintf("the %s stands in the way: move it, or come down by a feed", what)
			if top+rapidRoom > j.setup.Clearance {
				t.verdict.Do = fmt.Sprintf("the %s stands in the way: move it, or raise the clearance plane to %s", what, top+rapidRoom)
			}
		}
		t.meet(int64(gap.Low), int64(gap.High), nil, j.here(s.Line))
	}
	for _, part := range stack(op.Tool) {
		box := swept(s, part, z)
		for _, m := range j.obstacles() {
			if !own {
				meet(j.rapidGap(s, part, box, m, sideways, t.need(0)), "metal", solid.Bounds(m).High.Z)
			}
		}
		for _, l := range j.setup.Limits {
			if l.Kind == toolpath.Holding || l.Kind == toolpath.Packing {
				meet(j.rapidGap(s, part, box, l.Solid, sideways, t.need(0)), l.Name, solid.Bounds(l.Solid).High.Z)
			}
		}
	}
}

// rapidGap is the distance from a rapid to a solid: sideways from the box it
// spans, straight down from the part's own way.
func (j *Judge) rapidGap(s toolpath.Step, part solid.Part, box solid.Box, b solid.Body, sideways bool, need measure.Length) solid.Gap {
	if sideways {
		d := box.Apart(solid.Bounds(b))
		return solid.Gap{Low: d, High: d}
	}
	return solid.Between(solid.Sweep{Part: part, From: s.From.Point, To: s.To.Point}, b, need)
}

// swept is the box that a part passes through on a rapid; where the program
// does not know where it starts, all there is.
func swept(s toolpath.Step, part solid.Part, z measure.Length) solid.Box {
	r := max(part.LowRadius, part.HighRadius)
	var b solid.Box
	for _, a := range []solid.Axis{solid.X, solid.Y} {
		lo, hi := -solid.Far, solid.Far
		if s.From.Known[a] && s.To.Known[a] {
			lo = min(s.From.Along(a), s.To.Along(a)) - r
			hi = max(s.From.Along(a), s.To.Along(a)) + r
		}
		b.Low, b.High = b.Low.With(a, lo), b.High.With(a, hi)
	}
	b.Low.Z, b.High.Z = z+part.Low, solid.Far
	return b
}

// ownHole tells whether a rapid straight down stays inside what the same
// operation has cut at the same place, and stops short of its bottom.
func (j *Judge) ownHole(before []toolpath.Step, s toolpath.Step) bool {
	for i := len(before) - 1; i >= 0; i-- {
		b := before[i]
		if b.Op != s.Op || b.To.X != s.To.X || b.To.Y != s.To.Y {
			return false // another operation, or the cutter came from elsewhere
		}
		if b.Kind != toolpath.Line {
			continue
		}
		if s.To.Z >= b.To.Z+short {
			return true
		}
	}
	return false
}
