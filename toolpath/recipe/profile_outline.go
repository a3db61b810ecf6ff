package recipe

import (
	"fmt"
	"strings"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
	"stopshort/toolpath/plan"
	"stopshort/toolpath/solid"
)

// lug is a lug or a pad, seen from above.
type lug struct {
	name  string
	node  *form.Node
	shape outline.Shape
	side  plan.Side
	aside measure.Length
	pad   bool
}

// shapes are the boss and all that stands out from it.
func (p *profile) shapes() []outline.Shape {
	out := []outline.Shape{p.boss}
	for _, l := range p.lugs {
		out = append(out, l.shape)
	}
	return out
}

// readOutline reads the boss, the lugs and the pads, and asks that they are one
// part.
func (p *profile) readOutline() bool {
	at := outline.Point{X: p.bore.solid.From.X, Y: p.bore.solid.From.Y}
	p.boss = outline.Disc(at, p.bore.solid.Radius+p.wall.Value)
	ok := true
	for _, kind := range []string{"lug", "pad"} {
		for i, n := range p.node.Subs(kind) {
			l := readLug(n, fmt.Sprintf("%s %d", kind, i+1), at)
			l.pad = kind == "pad"
			ok = p.sensible(l) && ok
			p.lugs = append(p.lugs, l)
		}
	}
	return ok && p.onePart()
}

func readLug(n *form.Node, name string, at outline.Point) lug {
	l := lug{name: name, node: n, aside: n.Length("aside")}
	if given := strings.TrimSpace(n.Text("name")); given != "" {
		l.name = given
	}
	reach, half := n.Length("reach"), n.Length("across")/2
	for i, word := range []string{"+x", "-x", "+y", "-y"} {
		if n.Word("towards") == word {
			l.side = plan.Sides[i]
		}
	}
	end := l.side.Moved(at, reach)
	low := outline.Point{X: min(at.X, end.X), Y: min(at.Y, end.Y)}
	high := outline.Point{X: max(at.X, end.X), Y: max(at.Y, end.Y)}
	if l.side.X == 0 {
		low.X, high.X = at.X+l.aside-half, at.X+l.aside+half
	} else {
		low.Y, high.Y = at.Y+l.aside-half, at.Y+l.aside+half
	}
	l.shape = outline.Rect(low, high)
	return l
}

// sensible asks of one lug that it shows, and that it is not there twice.
func (p *profile) sensible(l lug) bool {
	if l.name == "boss" {
		l.node.Fault("name", "the boss is called so already: give it another name")
		return false
	}
	far := solid.HypotUp(l.node.Length("reach"), l.aside.Abs()+l.node.Length("across")/2)
	if far <= p.boss.Radius {
		l.node.Fault("reach", "%s reaches no further than the boss of %s about the bore: make it longer, or leave it out", l.name, p.both(p.boss.Radius*2))
		return false
	}
	for _, o := range p.lugs {
		if o.name == l.name {
			l.node.Fault("name", "%q names another lug or pad of this outline: give each its own name", l.name)
			return false
		}
		if o.side == l.side && o.aside == l.aside && o.pad == l.pad {
			l.node.Fault("towards", "%s stands out the same way as %s: give one of them, or set one aside", l.name, o.name)
			return false
		}
	}
	return true
}

// onePart asks that boss, lugs and pads are joined.
func (p *profile) onePart() bool {
	o, err := outline.Union(p.shapes(), 0)
	if err != nil {
		p.node.Fault("wall", "the outline cannot be made: %s", err)
		return false
	}
	for _, loose := range o.Loose {
		for _, l := range p.lugs {
			if loose.Contains(l.shape.Low) || loose.Contains(l.shape.High) {
				l.node.Fault("aside", "%s does not touch the boss of %s about the bore: it would be a piece of its own", l.name, p.both(p.boss.Radius*2))
				return false
			}
		}
	}
	if len(o.Touches) > 0 {
		t := o.Touches[0]
		p.node.Fault("lug", "two of the shapes touch at a single point, X %s, Y %s: let them overlap, or leave a gap", t.X, t.Y)
		return false
	}
	return true
}

// outlineBox is the box about the finished outline, seen from above.
func (p *profile) outlineBox() (low, high outline.Point) {
	low, high = p.boss.Bounds()
	for _, l := range p.lugs {
		a, b := l.shape.Bounds()
		low = outline.Point{X: min(low.X, a.X), Y: min(low.Y, a.Y)}
		high = outline.Point{X: max(high.X, b.X), Y: max(high.Y, b.Y)}
	}
	return low, high
}

// hasCorners tells whether the outline has an inside corner.
func (p *profile) hasCorners() bool {
	o, err := outline.Union(p.shapes(), 0)
	if err != nil {
		return true
	}
	for _, q := range o.Outer {
		if q.Joint == outline.Right {
			return true
		}
	}
	return false
}

// stockOver is no more than the metal that a shape has round it, seen from above:
// of several pieces of stock the one that holds it best.
func (p *profile) stockOver(s outline.Shape) measure.Length {
	best := -solid.Far
	low, high := s.Bounds()
	for _, m := range p.now {
		b := solid.Bounds(m)
		over := min(low.X-b.Low.X, low.Y-b.Low.Y, b.High.X-high.X, b.High.Y-high.Y)
		if c, round := m.(solid.Cylinder); round {
			if a, ok := c.Axis(); ok && a == solid.Z {
				over = c.Radius - s.Radius - farthest(s, c.From)
			}
		}
		best = max(best, over)
	}
	return best
}

// farthest is how far the corners of a shape's box are from a place, rounded up.
func farthest(s outline.Shape, from solid.Point) measure.Length {
	return solid.HypotUp(max((s.Low.X-from.X).Abs(), (s.High.X-from.X).Abs()), max((s.Low.Y-from.Y).Abs(), (s.High.Y-from.Y).Abs()))
}

// upright is a shape as a solid over the metal's whole height.
func (p *profile) upright(s outline.Shape) solid.Body {
	if s.IsDisc() {
		return solid.Cylinder{From: s.Low.At(p.metal.Low.Z), To: s.Low.At(p.metal.High.Z), Radius: s.Radius}
	}
	return solid.Box{Low: s.Low.At(p.metal.Low.Z), High: s.High.At(p.metal.High.Z)}
}
