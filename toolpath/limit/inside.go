package limit

import (
	"math/big"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// keepIn holds the teeth against a shape that they must stay inside.
func (j *Judge) keepIn(op toolpath.Operation, l *toolpath.Limit, p piece, s toolpath.Step) {
	teeth := op.Tool.Teeth()
	if l.Bar != nil {
		t := j.at(op, l.Name, Length, l.NeverLess, keepOutAdvice[l.Kind])
		t.verdict.Deep = l.Kind == toolpath.Floor
		left, dir := barRoom(*l.Bar, p, teeth.LowRadius)
		t.meet(int64(left), int64(left), j.errorsAlong(dir, p.sweep(teeth)), j.here(s.Line))
		return
	}
	room := roomIn(*l.Channel, p, s, teeth)
	left, do, errors := room.Side, "take a smaller cutter, or widen the slot", j.widthErrors()
	switch l.Size {
	case toolpath.SlotEnd:
		left, do = room.End, "move the end, or take a smaller cutter"
	case toolpath.SlotDepth:
		left, do, errors = room.Floor, "cut less deep", j.errorsAlong([3]float64{0, 0, 1}, p.sweep(teeth))
	}
	if !l.OverGiven { // no tolerance is asked for, so none is held
		errors = nil
	}
	j.at(op, l.Name, Length, l.NeverLess, do).meet(int64(left), int64(left), errors, j.here(s.Line))
}

// roomIn is the room that a stretch of a step has in a channel.
func roomIn(c solid.Channel, p piece, s toolpath.Step, teeth solid.Part) solid.ChannelRoom {
	if s.Kind == toolpath.Arc && s.Plane == toolpath.PlaneXY {
		// The whole arc lies in a disc about its centre; for a round end that
		// is as good as the arc itself.
		teeth.LowRadius += radiusUp(s) + 2*s.Slack
		teeth.HighRadius = teeth.LowRadius
		at := s.Centre.With(solid.Z, min(p.from.Z, p.to.Z, s.From.Z, s.To.Z))
		return c.Inside(teeth, at, at)
	}
	if s.Kind == toolpath.Arc || s.Slack > 0 { // else it is grown for its ends' rounding alone
		teeth.LowRadius += p.grow
		teeth.HighRadius = teeth.LowRadius
	}
	return c.Inside(teeth, p.from, p.to)
}

// radiusUp is the larger radius of an arc, rounded up.
func radiusUp(s toolpath.Step) measure.Length {
	return max(solid.HypotUp(s.From.X-s.Centre.X, s.From.Y-s.Centre.Y), solid.HypotUp(s.To.X-s.Centre.X, s.To.Y-s.Centre.Y))
}

func square(l measure.Length) *big.Int {
	b := big.NewInt(int64(l))
	return b.Mul(b, b)
}

func sum(a, b *big.Int) *big.Int { return a.Add(a, b) }

// root is the whole square root of n, and whether it is exact.
func root(n *big.Int) (measure.Length, bool) {
	r := new(big.Int).Sqrt(n)
	return measure.Length(r.Int64()), new(big.Int).Mul(r, r).Cmp(n) == 0
}

// barRoom is what a round bar has left beyond a cut: where it stands, from the
// teeth to its skin; where it lies, from the cut's lower corners straight down
// to the skin.
func barRoom(bar solid.Cylinder, p piece, radius measure.Length) (measure.Length, [3]float64) {
	radius += p.grow
	a, _ := bar.Axis()
	c := bar.From
	if a == solid.Z {
		far := max(solid.HypotUp(p.from.X-c.X, p.from.Y-c.Y), solid.HypotUp(p.to.X-c.X, p.to.Y-c.Y))
		return bar.Radius - radius - far, [3]float64{0.7072, 0.7072, 0}
	}
	side := solid.X
	if a == solid.X {
		side = solid.Y
	}
	aside := max((p.from.Along(side)-c.Along(side)).Abs(), (p.to.Along(side)-c.Along(side)).Abs()) + radius
	deep := min(p.from.Z, p.to.Z) - c.Z
	if aside >= bar.Radius {
		return deep, [3]float64{0, 0, 1}
	}
	d := square(bar.Radius)
	d.Sub(d, square(aside))
	down, _ := root(d)
	return deep + down, [3]float64{0, 0, 1}
}
