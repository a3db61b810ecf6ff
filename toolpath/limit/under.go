package limit

import (
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// centre asks that there is no metal under the centre of a cutter that does not
// cut there, where it goes down.
func (j *Judge) centre(op toolpath.Operation, p piece, line int) {
	t := j.at(op, "no metal under the cutter's centre", Length, nought,
		"take a slot drill, start outside the metal, or drill a hole there first")
	left := measure.Length(0)
	for _, end := range []solid.Point{p.from, p.to} {
		end.Z = p.to.Z
		if j.metalUnder(end) {
			left = min(left, p.to.Z-j.floorAt(end))
		}
	}
	t.meet(int64(left), int64(left), nil, j.here(line))
}

// metalUnder tells whether the stock has metal under a place seen from above.
func (j *Judge) metalUnder(p solid.Point) bool {
	for _, m := range j.metal {
		b := solid.Bounds(m)
		if _, over := solid.TopOver(m, p); over && b.Low.X < p.X && p.X < b.High.X && b.Low.Y < p.Y && p.Y < b.High.Y && p.Z < b.High.Z {
			return true
		}
	}
	return false
}

// floorAt is the height down to which the metal at a place is gone already; no
// less than the place's own height.
func (j *Judge) floorAt(p solid.Point) measure.Length {
	z := j.box.High.Z
	for _, c := range j.cut {
		if solid.Near(c.from, c.to, p, c.radius) {
			low := max(c.from.Z, c.to.Z)
			if c.from.X == c.to.X && c.from.Y == c.to.Y {
				low = min(c.from.Z, c.to.Z)
			}
			z = min(z, low+c.point) // off its axis a point is higher
		}
	}
	return max(z, p.Z)
}

// crestDrop is how far the skin of a lying bar may have dropped where it is
// touched off (own choice: less than paper is thick, which is 0.002 to 0.0035 in by
// "a home-built aircraft magazine's page for home machinists").
const crestDrop = 10 * measure.Micrometre

// onMetal is how far a place lies inside the touched face seen from above,
// and off every hole that is open there: below nought it touches air. On a
// lying bar it must be on the crest.
func (j *Judge) onMetal(at solid.Point) measure.Length {
	left := -solid.Far
	for _, m := range j.metal {
		if solid.Bounds(m).High.Z == j.setup.Top { // the face whose height the operator sets
			left = max(left, onBody(m, at))
		}
	}
	for _, f := range j.setup.Features {
		for _, b := range f.Bodies {
			if box := solid.Bounds(b); f.Cut == 0 && box.High.Z >= j.setup.Top {
				beside := max(box.Low.X-at.X, at.X-box.High.X, box.Low.Y-at.Y, at.Y-box.High.Y)
				left = min(left, beside)
			}
		}
	}
	for _, l := range j.setup.Limits {
		c, ok := l.Solid.(solid.Cylinder)
		if !ok || l.Kind != toolpath.Web && l.Kind != toolpath.Wall {
			continue
		}
		if a, ok := c.Axis(); ok && a == solid.Z && max(c.From.Z, c.To.Z) >= j.box.High.Z {
			r, _ := root(sum(square(at.X-c.From.X), square(at.Y-c.From.Y)))
			left = min(left, r-c.Radius)
		}
	}
	return left
}

// onBody is [Judge.onMetal] for one piece of metal.
func onBody(m solid.Body, at solid.Point) measure.Length {
	b := solid.Bounds(m)
	left := min(at.X-b.Low.X, b.High.X-at.X, at.Y-b.Low.Y, b.High.Y-at.Y)
	c, ok := m.(solid.Cylinder)
	if !ok {
		return left
	}
	a, _ := c.Axis()
	if a == solid.Z {
		return c.Radius - solid.HypotUp(at.X-c.From.X, at.Y-c.From.Y)
	}
	side := solid.X + solid.Y - a
	d := square(c.Radius)
	crest, _ := root(d.Sub(d, square(c.Radius-crestDrop)))
	return min(left, crest-(at.Along(side)-c.From.Along(side)).Abs())
}

// touchingPlace asks that the place where Z is touched off is on the metal and
// stays there.
func (j *Judge) touchingPlace(op toolpath.Operation, p piece, radius measure.Length, line int) {
	t := j.at(op, "touching place", Length, nought, "touch off on metal that this set-up leaves standing: move touch_at")
	at := solid.Point{X: j.setup.Touch[0], Y: j.setup.Touch[1]}
	if j.touch == nil { // it is the same for every step
		v := j.onMetal(at)
		j.touch = &v
	}
	left := *j.touch
	n, d := solid.SquareApart(p.from, p.to, at)
	away, _ := root(n.Quo(n, d))
	left = min(left, away-radius-p.grow)
	t.meet(int64(left), int64(left), nil, j.here(line))
}

// fromTouch is the distance from the touching place, seen from above, rounded
// up.
func (j *Judge) fromTouch(p solid.Point) measure.Length {
	return solid.HypotUp(p.X-j.setup.Touch[0], p.Y-j.setup.Touch[1])
}
