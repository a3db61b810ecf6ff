package plan

import (
	"fmt"
	"math"
	"math/big"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// Chorded is an operation whose arcs a controller takes: where it takes none, and
// where an arc's two radii lie further apart on the grid than readers allow, the
// arc is put in chords. It must be on the grid.
func Chorded(op toolpath.Operation, m *machines.Machine) (toolpath.Operation, error) {
	c := m.Controller
	if c == nil {
		return op, nil
	}
	g, off := ForMachine(m), c.Chord
	if off == 0 {
		off = max(measure.Millimetre/100, 4*g.Step(solid.X))
	}
	var passes []toolpath.Pass
	var at solid.Point
	some := false
	for _, p := range op.Passes {
		moves := p.Moves
		p.Moves = nil
		for _, mv := range moves {
			if mv.Kind == toolpath.Arc && (c.Arcs == "chords" || !closes(at, mv, m.Units)) {
				chords, err := g.Chords(at, mv, off)
				if err != nil {
					return op, err
				}
				p.Moves = append(p.Moves, chords...)
				some = true
			} else {
				p.Moves = append(p.Moves, mv)
			}
			at = mv.To
		}
		passes = append(passes, p)
	}
	if some {
		op.Passes = passes
		op.Facts = append(op.Facts[:len(op.Facts):len(op.Facts)], toolpath.Fact{Name: "chords", Value: "at most " + off.Both() + " off",
			From: measure.Derived, Source: "of the machine's file, in place of arcs, on the side that leaves metal"})
	}
	return op, nil
}

// closes tells whether an arc's two radii differ by no more than readers allow:
// 0.002 mm or 0.0002 in (NISTIR 6556, 3.5.3.2). With a the longer, a-b <= s is
// a*a-b*b-s*s <= 2*s*b, whose squares are whole numbers.
func closes(from solid.Point, mv toolpath.Move, u measure.Unit) bool {
	slack := 2 * measure.Micrometre
	if u == measure.In {
		slack = measure.Thou / 5
	}
	long, short := squared(from.Minus(mv.Centre)), squared(mv.To.Minus(mv.Centre))
	if long.Cmp(short) < 0 {
		long, short = short, long
	}
	s := big.NewInt(int64(slack))
	ss := new(big.Int).Mul(s, s)
	over := long.Sub(long, short)
	if over.Sub(over, ss).Sign() <= 0 {
		return true
	}
	most := ss.Mul(ss, big.NewInt(4))
	most.Mul(most, short)
	return over.Mul(over, over).Cmp(most) <= 0
}

// squared is the square of a way's length, seen from above.
func squared(v solid.Point) *big.Int { return product(v, v) }

// product is the scalar product of two ways, seen from above.
func product(v, w solid.Point) *big.Int {
	x := new(big.Int).Mul(big.NewInt(int64(v.X)), big.NewInt(int64(w.X)))
	y := new(big.Int).Mul(big.NewInt(int64(v.Y)), big.NewInt(int64(w.Y)))
	return x.Add(x, y)
}

// maxChords is the most chords of one arc: more is a tolerance for another size.
const maxChords = 1 << 16

// Chords is an arc as straight feed moves from one place of the grid to the next, on
// the side that leaves metal, and nowhere further from the arc than off, which must
// be four steps of the grid or more. from is where it starts. Both ends stay.
//
// Let s be a step, and R the longer of the two radii that the ends have (r the
// shorter). The arc is halved until its N parts, each 2h wide, are short enough. A
// place that is put on the grid moves by at most s/sqrt(2) < 0.7072 s; floating point
// adds less than 0.01 s, since radii are at most 10^12 tenths of a nanometre, each
// figure has a few parts in 2^53, and s is 100 of them or more.
//
// Metal inside the circle: the corners stand over the parts' middles, (R+s)/cos h out
// before they are put on the grid. A chord between two of them would touch a circle
// of R+s, and each of its points moves by less than 0.72 s: it stays outside R. The
// first and the last chord go from an end to a corner that lies beyond the end's
// tangent; so they go away from the centre, and no point of them is nearer to it than
// the end. The furthest is a corner, at most (R+s)/cos h + 0.72 s from the centre:
// that is R+off at the most.
//
// Metal outside: the corners stand on the parts' ends, r-0.72 s out, and on the grid
// no further than r. A disc is convex, so no chord leaves the one of R. The nearest to
// the centre is a chord's middle, at least (r-0.72 s) cos h - 0.72 s from it: that is
// r-off at the least.
//
// What the first part of each promises is looked at again in whole numbers.
//
// The cutter is nowhere deeper than on the arc: a corner has the highest Z of the arc
// between the corners next to it, rounded up. On a chord from one corner to the next
// both ends are then no lower than any part of the arc between. To an end, at the
// same angle, the height that is left over falls with the way on the chord from three
// halves of a part (from a whole part where metal is outside) to nought, and on the arc
// from half a part (from a whole one) with the angle; the way's share is never under a third
// (a half) of the angle's, since tan h < 3h up to 60 degrees.
func (g Grid) Chords(from solid.Point, arc toolpath.Move, off measure.Length) ([]toolpath.Move, error) {
	a, b := from.Minus(arc.Centre), arc.To.Minus(arc.Centre)
	s := float64(g.Step(solid.X))
	f := &fan{grid: g, arc: arc, step: s, slip: float64(moved * s), from: from}
	ra, rb := radius(a), radius(b)
	f.low, f.high = min(ra, rb), max(ra, rb)
	if f.low <= 0 {
		return nil, fmt.Errorf("an arc without a radius")
	}
	u, v := ray{float64(a.X) / ra, float64(a.Y) / ra}, ray{float64(b.X) / rb, float64(b.Y) / rb}
	if arc.Sense == toolpath.Clockwise {
		f.flip = -1
		u.y, v.y = -u.y, -v.y
	} else {
		f.flip = 1
	}
	rays := f.halved(u, v, off)
	if rays == nil {
		return nil, fmt.Errorf("more than %d chords in one arc: a wider tolerance would do", maxChords)
	}
	moves := f.moves(rays)
	return moves, f.check(moves, a, b)
}

// ray is a direction from the centre, turned so that the arc goes anticlockwise.
type ray struct{ x, y float64 }

func (u ray) dot(v ray) float64   { return float64(u.x*v.x) + float64(u.y*v.y) }
func (u ray) cross(v ray) float64 { return float64(u.x*v.y) - float64(u.y*v.x) }

// middle halves the way from u on to v: across their difference, which holds for any
// width, or by their sum, which is better for small ones.
func (u ray) middle(v ray, wide bool) ray {
	m := ray{u.x + v.x, u.y + v.y}
	if wide {
		m = ray{v.y - u.y, u.x - v.x}
	}
	long := math.Sqrt(m.dot(m))
	return ray{m.x / long, m.y / long}
}

// fan is an arc on its way to chords.
type fan struct {
	grid      Grid
	arc       toolpath.Move
	from      solid.Point
	step      float64
	slip      float64 // how far a corner moves onto the grid, at the most
	flip      float64 // of Y: -1 for a clockwise arc
	low, high float64 // the ends' radii
}

// halved is the directions to the ends of 2^k equal parts, and nil where there would
// be too many.
func (f *fan) halved(u, v ray, off measure.Length) []ray {
	rays := []ray{u, v}
	turns := u.cross(v)
	wide := turns < 0 || u.dot(v) <= 0
	if turns == 0 && u.dot(v) > 0 {
		wide = true // a whole turn
		m := ray{-u.x, -u.y}
		rays = []ray{u, m, v}
	}
	helix := f.arc.To.Z != f.from.Z
	for {
		m := rays[0].middle(rays[1], wide)
		if half := rays[0].dot(m); half >= 0.5 && f.near(half, off) && !(helix && len(rays) == 2 && f.arc.Hollow) {
			return rays
		}
		if len(rays) > maxChords {
			return nil
		}
		next := rays[:1:1]
		for i := 1; i < len(rays); i++ {
			next = append(next, rays[i-1].middle(rays[i], wide), rays[i])
		}
		rays = next
		wide = rays[0].dot(rays[1]) <= 0
	}
}

const moved = 0.72 // of a step: see [Grid.Chords]

// near tells whether parts with that cosine of their half keep to the tolerance.
func (f *fan) near(cos float64, off measure.Length) bool {
	if f.arc.Hollow {
		return f.low-float64((f.low-f.slip)*cos)+f.slip <= float64(off)
	}
	return (f.high+f.step)/cos+f.slip-f.high <= float64(off)
}

// moves are the chords.
func (f *fan) moves(rays []ray) (out []toolpath.Move) {
	n := len(rays) - 1
	at := f.from
	add := func(p solid.Point) {
		if p != at {
			out = append(out, toolpath.Move{Kind: toolpath.Line, To: p, Feed: f.arc.Feed})
			at = p
		}
	}
	if f.arc.Hollow {
		for i := 1; i < n; i++ {
			add(f.corner(rays[i], max(f.low-f.slip, 0), 2*(i-1), 2*(i+1), 2*n))
		}
	} else {
		cos := rays[0].dot(rays[0].middle(rays[1], false))
		for i := range n {
			add(f.corner(rays[i].middle(rays[i+1], false), (f.high+f.step)/cos, 2*i-1, 2*i+3, 2*n))
		}
	}
	add(f.arc.To)
	return out
}

// corner is a place of the grid in a direction and at a radius, with the highest Z of
// the arc between two of its parts.
func (f *fan) corner(d ray, r float64, before, after, parts int) solid.Point {
	place := func(a solid.Axis, c measure.Length, v float64) measure.Length {
		return f.grid.Round(a, c+measure.Length(math.Round(float64(v*r))), measure.Nearest)
	}
	z := max(f.height(max(before, 0), parts), f.height(min(after, parts), parts))
	return solid.Point{
		X: place(solid.X, f.arc.Centre.X, d.x), Y: place(solid.Y, f.arc.Centre.Y, d.y*f.flip),
		Z: f.grid.Round(solid.Z, z, measure.Ceil),
	}
}

// height is Z of the arc at so many of its parts, rounded up.
func (f *fan) height(n, parts int) measure.Length {
	return f.from.Z + (f.arc.To.Z-f.from.Z).MulDiv(int64(n), int64(parts), measure.Ceil)
}

// check looks at the chords in whole numbers: none comes nearer to the centre than the
// nearer end where the metal is inside, and no corner is further out than the further
// end where it is outside.
func (f *fan) check(moves []toolpath.Move, a, b solid.Point) error {
	near, far := squared(a), squared(b)
	if near.Cmp(far) > 0 {
		near, far = far, near
	}
	p := a
	for _, mv := range moves {
		q := mv.To.Minus(f.arc.Centre)
		if f.arc.Hollow && squared(q).Cmp(far) > 0 || !f.arc.Hollow && !clears(p, q, near) {
			return fmt.Errorf("chords that cut into what stays at X %s, Y %s", mv.To.X.MM(), mv.To.Y.MM())
		}
		p = q
	}
	return nil
}

// clears tells whether the straight way from p to q stays as far from nought as the
// root of least, on whole numbers.
func clears(p, q solid.Point, least *big.Int) bool {
	if squared(p).Cmp(least) < 0 || squared(q).Cmp(least) < 0 {
		return false
	}
	d := q.Minus(p)
	if product(p, d).Sign() >= 0 || product(q, d).Sign() <= 0 {
		return true // the nearest is an end
	}
	cross := product(p, solid.Point{X: d.Y, Y: -d.X})
	return cross.Mul(cross, cross).Cmp(new(big.Int).Mul(least, squared(d))) >= 0
}

// radius is the length of a way seen from above.
func radius(v solid.Point) float64 {
	x, y := float64(v.X), float64(v.Y)
	return math.Sqrt(float64(x*x) + float64(y*y))
}
