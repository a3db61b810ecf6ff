package plan

import (
	"math"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
	"stopshort/toolpath/solid"
)

// What follows cuts contours into stretches: what lies by the stock, where the
// feed drops. It is worked out in floating point and decides only where a cutter
// goes in and out of the air and how fast it goes; what it may cut is decided by
// the contours themselves, and judged on what is written.

// curve is a line along an axis or a circle that contours are cut at.
type curve struct {
	axis   int // 0: x is at; 1: y is at; 2: a circle
	at     float64
	x, y   float64
	radius float64
}

// curvesOf is the boundary of a shape, taken further than it goes.
func curvesOf(s outline.Shape, more float64) []curve {
	r := float64(s.Radius) + more
	lx, ly, hx, hy := float64(s.Low.X), float64(s.Low.Y), float64(s.High.X), float64(s.High.Y)
	if s.IsDisc() {
		return []curve{{axis: 2, x: lx, y: ly, radius: r}}
	}
	return []curve{
		{axis: 0, at: lx - r}, {axis: 0, at: hx + r}, {axis: 1, at: ly - r}, {axis: 1, at: hy + r},
		{axis: 2, x: lx, y: ly, radius: r}, {axis: 2, x: lx, y: hy, radius: r},
		{axis: 2, x: hx, y: ly, radius: r}, {axis: 2, x: hx, y: hy, radius: r},
	}
}

// within tells whether a place is in the shape grown by more, and not on its
// boundary.
func within(s outline.Shape, more, x, y float64) bool {
	dx := math.Max(float64(s.Low.X)-x, x-float64(s.High.X))
	dy := math.Max(float64(s.Low.Y)-y, y-float64(s.High.Y))
	off := math.Max(dx, dy) // in its box: how far from the nearest side, below nought
	if off > 0 {
		off = math.Hypot(math.Max(dx, 0), math.Max(dy, 0))
	}
	return off < float64(s.Radius)+more
}

// track of a piece: places along it by the part t of it that is done, and aside
// of it to the right, which is outside.
type trackOf struct {
	outline.Piece
	start, sweep float64 // of an arc, anticlockwise
	r            float64
}

func trackOn(p outline.Piece) trackOf {
	t := trackOf{Piece: p}
	if p.Kind == outline.Arc {
		t.r = float64(p.Radius)
		t.start = math.Atan2(float64(p.From.Y-p.Centre.Y), float64(p.From.X-p.Centre.X))
		t.sweep = math.Atan2(float64(p.To.Y-p.Centre.Y), float64(p.To.X-p.Centre.X)) - t.start
		if t.sweep <= 0 {
			t.sweep += 2 * math.Pi
		}
	}
	return t
}

// at is the place after a part of the piece, aside of it to the right.
func (t trackOf) at(part, aside float64) (x, y float64) {
	if t.Kind == outline.Arc {
		a := t.start + float64(t.sweep*part)
		return float64(t.Centre.X) + float64((t.r+aside)*math.Cos(a)), float64(t.Centre.Y) + float64((t.r+aside)*math.Sin(a))
	}
	dx, dy := float64(t.To.X-t.From.X), float64(t.To.Y-t.From.Y)
	long := math.Hypot(dx, dy)
	return float64(t.From.X) + float64(dx*part) + float64(dy/long*aside), float64(t.From.Y) + float64(dy*part) - float64(dx/long*aside)
}

func (t trackOf) length() float64 {
	if t.Kind == outline.Arc {
		return t.r * t.sweep
	}
	return math.Hypot(float64(t.To.X-t.From.X), float64(t.To.Y-t.From.Y))
}

// crossings are the parts of the piece, moved aside, at which it meets curves, in
// order, with nought and one.
func (t trackOf) crossings(curves []curve, aside float64) []float64 {
	out := []float64{0, 1}
	add := func(part float64) {
		if part > 0 && part < 1 {
			out = append(out, part)
		}
	}
	for _, c := range curves {
		if t.Kind == outline.Arc {
			t.arcMeets(c, aside, add)
		} else {
			t.lineMeets(c, aside, add)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func (t trackOf) lineMeets(c curve, aside float64, add func(float64)) {
	x0, y0 := t.at(0, aside)
	x1, y1 := t.at(1, aside)
	dx, dy := x1-x0, y1-y0
	switch c.axis {
	case 0:
		if dx != 0 {
			add((c.at - x0) / dx)
		}
	case 1:
		if dy != 0 {
			add((c.at - y0) / dy)
		}
	default:
		ux, uy := x0-c.x, y0-c.y
		a, b, k := float64(dx*dx)+float64(dy*dy), float64(ux*dx)+float64(uy*dy), float64(ux*ux)+float64(uy*uy)-float64(c.radius*c.radius)
		if d := float64(b*b) - float64(a*k); d > -touch*a && a > 0 {
			d = math.Max(d, 0)
			add((-b - math.Sqrt(d)) / a)
			add((-b + math.Sqrt(d)) / a)
		}
	}
}

// touch is how much short of meeting still counts: a piece is cut where it touches a
// curve too, so that a place between two cuts tells for all of them.
const touch = 1e-12

func held(k float64) float64 { return math.Max(-1, math.Min(k, 1)) }

func (t trackOf) arcMeets(c curve, aside float64, add func(float64)) {
	r := t.r + aside
	angle := func(a float64) {
		d := math.Mod(a-t.start, 2*math.Pi)
		if d < 0 {
			d += 2 * math.Pi
		}
		add(d / t.sweep)
	}
	switch c.axis {
	case 0:
		if k := (c.at - float64(t.Centre.X)) / r; math.Abs(k) <= 1+touch {
			angle(math.Acos(held(k)))
			angle(-math.Acos(held(k)))
		}
	case 1:
		if k := (c.at - float64(t.Centre.Y)) / r; math.Abs(k) <= 1+touch {
			angle(math.Asin(held(k)))
			angle(math.Pi - math.Asin(held(k)))
		}
	default:
		dx, dy := c.x-float64(t.Centre.X), c.y-float64(t.Centre.Y)
		d := math.Hypot(dx, dy)
		if d == 0 {
			return
		}
		if k := (float64(d*d) + float64(r*r) - float64(c.radius*c.radius)) / (2 * d * r); math.Abs(k) <= 1+touch {
			a := math.Atan2(dy, dx)
			angle(a + math.Acos(held(k)))
			angle(a - math.Acos(held(k)))
		}
	}
}

// split cuts a piece at parts of it, on the grid; an arc's cuts stand outside
// its circle. Parts that come to one place are one.
func (g Grid) split(p outline.Piece, parts []float64) []outline.Piece {
	t := trackOn(p)
	var out []outline.Piece
	from := p.From
	for _, part := range parts {
		if part <= 0 || part >= 1 {
			continue
		}
		x, y := t.at(part, 0)
		to, ok := g.place(outline.Point{X: measure.Length(math.Round(x)), Y: measure.Length(math.Round(y))}, p)
		if !ok || to == from || to == p.To {
			continue
		}
		q := p
		q.From, q.To = from, to
		if g.tooShort(q) || g.tooShort(outline.Piece{From: to, To: p.To}) {
			continue // no cut is worth an arc that could turn about
		}
		if len(out) > 0 {
			q.Joint = outline.Smooth
		}
		out = append(out, q)
		from = to
	}
	if len(out) > 0 {
		p.Joint = outline.Smooth
	}
	p.From = from
	return append(out, p)
}

func (g Grid) tooShort(p outline.Piece) bool {
	chord, _ := solid.Hypot(p.To.X-p.From.X, p.To.Y-p.From.Y)
	return chord < tinyArc*g.Step(solid.X)
}
