package plan

import (
	"fmt"
	"math"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
	"stopshort/toolpath/solid"
)

// Contours are the boundary of a union of grown shapes, on the grid.
type Contours struct {
	Outer outline.Loop
	Inner []outline.Loop // round holes that the growth leaves
}

// Loops are all of them, the outer one first.
func (c Contours) Loops() []outline.Loop { return append([]outline.Loop{c.Outer}, c.Inner...) }

// Contours grows the shapes by a length and gives the boundary of their union
// as the cutter's centre can be told it: every end and every centre on the grid,
// and no end nearer to a shape than the growth. Sides and radii are put on the grid outward,
// by less than a step; an end where two curves cross is put on the nearest place
// of the grid that is outside both. An arc so short that rounding could turn it about is a
// straight line: its ends are outside, and it cuts off less than a tenth of a
// step.
//
// The grid's steps along X and Y must be the same. The outline is certified
// before it is rounded.
func (g Grid) Contours(shapes []outline.Shape, by measure.Length) (Contours, error) {
	grown := make([]outline.Shape, len(shapes))
	for i, s := range shapes {
		grown[i] = g.grow(s, by)
	}
	o, err := outline.Union(grown, 0)
	if err != nil {
		return Contours{}, err
	}
	if err := o.Certify(grown, 0); err != nil {
		return Contours{}, fmt.Errorf("the outline fails its proof: %w", err)
	}
	var c Contours
	if c.Outer, err = g.settle(o.Outer); err != nil {
		return Contours{}, err
	}
	for _, l := range o.Inner {
		l, err := g.settle(l)
		if err != nil {
			return Contours{}, err
		}
		if len(l) > 0 {
			c.Inner = append(c.Inner, l)
		}
	}
	return c, nil
}

// grow is the shape grown, on the grid, no smaller than it is.
func (g Grid) grow(s outline.Shape, by measure.Length) outline.Shape {
	if s.IsDisc() {
		at := outline.Point{X: g.Round(solid.X, s.Low.X, measure.Nearest), Y: g.Round(solid.Y, s.Low.Y, measure.Nearest)}
		moved := solid.HypotUp(at.X-s.Low.X, at.Y-s.Low.Y)
		return outline.Disc(at, g.Round(solid.X, s.Radius+moved+by, measure.Ceil))
	}
	return outline.Shape{
		Low:    outline.Point{X: g.Round(solid.X, s.Low.X, measure.Floor), Y: g.Round(solid.Y, s.Low.Y, measure.Floor)},
		High:   outline.Point{X: g.Round(solid.X, s.High.X, measure.Ceil), Y: g.Round(solid.Y, s.High.Y, measure.Ceil)},
		Radius: g.Round(solid.X, s.Radius+by, measure.Ceil),
	}
}

// settle puts the ends of a loop's pieces on the grid, outside.
func (g Grid) settle(l outline.Loop) (outline.Loop, error) {
	ends := make([]outline.Point, len(l)) // where each piece begins
	for i, p := range l {
		before := l[(i+len(l)-1)%len(l)]
		var ok bool
		if ends[i], ok = g.place(p.From, before, p); !ok {
			return nil, fmt.Errorf("at (%s, %s) the grid has no place outside both curves: a cutter of another size, or a controller of more places, would do", p.From.X.MM(), p.From.Y.MM())
		}
	}
	var out outline.Loop
	for i, p := range l {
		p.From, p.To = ends[i], ends[(i+1)%len(l)]
		if p.From == p.To {
			continue
		}
		out = append(out, g.straightened(p))
	}
	if len(out) < 2 {
		return nil, nil
	}
	return out, nil
}

// tinyArc is how many steps of the grid the chord of an arc must have: a shorter one
// is taken straight. Over a chord of 8 steps an arc of 100 steps or more stands
// out by less than a tenth of one.
const tinyArc = 8

func (g Grid) straightened(p outline.Piece) outline.Piece {
	chord, _ := solid.Hypot(p.To.X-p.From.X, p.To.Y-p.From.Y)
	if p.Kind == outline.Arc && chord < tinyArc*g.Step(solid.X) {
		return outline.Piece{Kind: outline.Line, From: p.From, To: p.To, Joint: p.Joint}
	}
	return p
}

// lookAbout is how many steps each way a place for an end is looked for.
const lookAbout = 3

// place is the place of the grid nearest to p that lies on the lines of the pieces
// and not inside their arcs' circles: of several the one that stands out the
// least.
func (g Grid) place(p outline.Point, on ...outline.Piece) (best outline.Point, ok bool) {
	at := outline.Point{X: g.Round(solid.X, p.X, measure.Floor), Y: g.Round(solid.Y, p.Y, measure.Floor)}
	step := g.Step(solid.X)
	least := solid.Far
	for dx := -int64(lookAbout) + 1; dx <= lookAbout; dx++ {
		for dy := -int64(lookAbout) + 1; dy <= lookAbout; dy++ {
			q := outline.Point{
				X: g.Round(solid.X, at.X+measure.Length(dx)*step, measure.Nearest),
				Y: g.Round(solid.Y, at.Y+measure.Length(dy)*step, measure.Nearest),
			}
			if out, free := standsOut(q, on); free {
				away, _ := solid.Hypot(q.X-p.X, q.Y-p.Y)
				if out+away < least {
					least, best, ok = out+away, q, true
				}
			}
		}
	}
	if ok {
		return best, true
	}
	return g.placeOutward(p, on)
}

// lookOutward is how many steps outward a place is looked for where two curves all
// but touch. Such curves part by the square of the way over their diameter: on arcs
// of a metre 2000 steps of a ten-thousandth of a millimetre part them by none, on
// arcs of 10 mm by 20 steps.
const lookOutward = 2000

// placeOutward is the first place of the grid outward from p that lies on the lines
// and outside the circles: for curves that meet at so narrow an angle that near
// p there is none. A pass ends there by so much sooner, and leaves that much more.
func (g Grid) placeOutward(p outline.Point, on []outline.Piece) (outline.Point, bool) {
	var ux, uy float64
	for _, c := range on { // away from both centres; along a line where there is one
		if c.Kind == outline.Arc {
			ux += float64(p.X-c.Centre.X) / float64(c.Radius)
			uy += float64(p.Y-c.Centre.Y) / float64(c.Radius)
		}
	}
	for _, c := range on {
		if c.Kind == outline.Line {
			if c.From.X == c.To.X {
				ux = 0
			} else {
				uy = 0
			}
		}
	}
	long := math.Hypot(ux, uy)
	if long == 0 {
		return p, false
	}
	step := float64(g.Step(solid.X))
	for k := range lookOutward {
		x, y := float64(p.X)+float64(ux/long*step*float64(k)), float64(p.Y)+float64(uy/long*step*float64(k))
		for _, wx := range []measure.Rounding{measure.Floor, measure.Ceil} {
			for _, wy := range []measure.Rounding{measure.Floor, measure.Ceil} {
				q := outline.Point{X: g.Round(solid.X, measure.Length(math.Round(x)), wx), Y: g.Round(solid.Y, measure.Length(math.Round(y)), wy)}
				if out, free := standsOut(q, on); free && out <= 2*g.Step(solid.X) {
					return q, true
				}
			}
		}
	}
	return p, false
}

// standsOut is how far a place is outside the arcs' circles at the most; free is
// false where it is inside one, or off a line.
func standsOut(q outline.Point, on []outline.Piece) (out measure.Length, free bool) {
	for _, p := range on {
		if p.Kind == outline.Line {
			if p.From.X == p.To.X && q.X != p.From.X || p.From.Y == p.To.Y && q.Y != p.From.Y {
				return 0, false
			}
			continue
		}
		d, _ := solid.Hypot(q.X-p.Centre.X, q.Y-p.Centre.Y)
		if d < p.Radius {
			return 0, false
		}
		out = max(out, d-p.Radius)
	}
	return out, true
}
