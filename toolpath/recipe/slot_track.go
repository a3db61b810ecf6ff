package recipe

import (
	"errors"
	"fmt"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/plan"
	"stopshort/toolpath/solid"
)

// track is the slot's two turning points on the grid, and how far to each side
// of the line between them the cutter's centre may go.
type track struct {
	line
	grid   plan.Grid
	ends   [2]solid.Point // from, to
	closed [2]bool
	arcs   bool           // the target can follow an arc
	finish measure.Length // offset of the finishing passes; nought: the cutter is as wide as the slot
	rough  []measure.Length
}

// errSideSteps is too many side steps.
var errSideSteps = errors.New("side steps each way")

// track puts the turning points on the grid: a closed end short, an open end
// long and clear of the metal, both nearest across the line; what that moves
// them aside comes off the room at the walls.
func (s *slot) track() (*track, error) {
	radius := s.tool.Measured / 2
	t := &track{
		line: newLine(s.from, s.to), grid: s.grid,
		closed: [2]bool{!s.open[0], !s.open[1]}, arcs: s.machine.Controller != nil,
	}
	ends := [2]solid.Point{s.from, s.to}
	for i := range ends {
		away := ends[1-i]
		out := ends[i]
		if s.open[i] {
			out = s.exit(away, ends[i], radius+approach, max(s.width/2-radius, 0))
		}
		t.ends[i] = s.putEnd(out, away, s.open[i])
	}
	half := s.width/2 - radius
	if half <= 0 {
		return t, nil
	}
	// On the grid the centre line may stand aside by up to half a step, at an
	// angle a point by up to one step and a tenth of a nanometre.
	step := max(s.grid.Step(solid.X), s.grid.Step(solid.Y))
	var aside measure.Length
	if t.straight() {
		aside = max(across(t.line, s.from, t.ends[0]), across(t.line, s.from, t.ends[1]))
	} else {
		aside = 2*step + 2
	}
	t.finish = s.offset(t.line, half-aside)
	if t.finish <= 0 {
		t.finish = 0
		return t, nil
	}
	// As thin as a finishing pass is (common practice, no source).
	allowance := s.tool.Diameter.MulDiv(2, 100, measure.Floor)
	out := s.offset(t.line, half-aside-allowance)
	if out <= 0 {
		return t, nil
	}
	n := int64((out + radius - 1) / radius)
	if n > maxMoves {
		return nil, fmt.Errorf("%d %w for a slot of %s with a cutter of %s: a larger cutter would do", n, errSideSteps, s.width, s.tool.Measured)
	}
	for k := int64(1); k <= n; k++ {
		t.rough = append(t.rough, s.offset(t.line, out.MulDiv(k, n, measure.Floor)))
	}
	return t, nil
}

// side is the place beside one end, an offset to the left of the way from it to
// the other, on the grid.
func (t *track) side(end int, offset measure.Length) solid.Point {
	if end == 1 {
		offset = -offset // the line runs from end 0 to end 1
	}
	p := t.off(t.ends[end], 0, offset)
	for _, a := range []solid.Axis{solid.X, solid.Y} {
		p = p.With(a, t.grid.Round(a, p.Along(a), measure.Nearest))
	}
	return p
}

// across is how far q stands aside from the straight line through p.
func across(l line, p, q solid.Point) measure.Length {
	if l.dx == 0 {
		return (q.X - p.X).Abs()
	}
	return (q.Y - p.Y).Abs()
}

// offset puts an offset from the line on the grid, inwards. At an angle its
// points are put there each for itself; an offset that could come to nothing
// is none.
func (s *slot) offset(l line, o measure.Length) measure.Length {
	if !l.straight() {
		if o < 2*max(s.grid.Step(solid.X), s.grid.Step(solid.Y)) {
			return 0
		}
		return o
	}
	if o <= 0 {
		return o
	}
	a := solid.X
	if l.dx != 0 {
		a = solid.Y
	}
	return s.grid.Round(a, o, measure.Floor)
}

// putEnd puts a turning point on the grid.
func (s *slot) putEnd(p, away solid.Point, long bool) solid.Point {
	for _, a := range []solid.Axis{solid.X, solid.Y} {
		v, w := p.Along(a), away.Along(a)
		way := measure.Nearest
		switch {
		case v == w:
		case (v > w) == long:
			way = measure.Ceil
		default:
			way = measure.Floor
		}
		p = p.With(a, s.grid.Round(a, v, way))
	}
	return p
}

// exit is where a cutter that goes on from away past end is clear of the metal
// by clear on one side at least, as far as aside to the left or right of the
// line too; never short of end.
func (s *slot) exit(away, end solid.Point, clear, aside measure.Length) solid.Point {
	l := newLine(away, end)
	best, found := l.length, false
	for _, a := range []solid.Axis{solid.X, solid.Y} {
		d := end.Along(a) - away.Along(a)
		if d == 0 {
			continue
		}
		out := clear + l.sideways(aside, a)
		edge := s.metal.High.Along(a) + out
		if d < 0 {
			edge = s.metal.Low.Along(a) - out
		}
		// distance along the line to the edge, rounded up
		need := (edge - away.Along(a)).Abs()
		run := need
		if !l.straight() {
			run = need.MulDiv(int64(l.length+1), int64(d.Abs()), measure.Ceil)
		}
		if (edge > away.Along(a)) != (d > 0) {
			run = 0
		}
		if !found || run < best {
			best, found = run, true
		}
	}
	if best <= l.length {
		return end
	}
	if l.straight() {
		return l.at(best)
	}
	return l.at(best + 2) // a point at an angle is short by less than a tenth on each axis
}

// opensThrough is the faces of the metal that the open ends go out through: the
// cutter at its turning point is clear of them.
func (s *slot) opensThrough(t *track) (sides [2][2]bool) {
	radius := s.tool.Measured / 2
	for i, p := range t.ends {
		if t.closed[i] {
			continue
		}
		for _, a := range []solid.Axis{solid.X, solid.Y} {
			sides[a][0] = sides[a][0] || p.Along(a)+radius <= s.metal.Low.Along(a)
			sides[a][1] = sides[a][1] || p.Along(a)-radius >= s.metal.High.Along(a)
		}
	}
	return sides
}
