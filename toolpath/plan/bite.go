package plan

import (
	"math"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
)

// fresh is the metal that a ring finds: stock inside the ring outside it, and no
// nearer to that than the cutter reaches. Like what clips the rings it is worked out
// in floating point: it decides where the cutter goes slowly, and nothing that it cuts.
// Where it errs, fresh metal is met at the full feed for as far as the error goes.
type fresh struct {
	stock  []outline.Shape
	outer  outline.Loop
	tracks []trackOf
	radius float64
}

func (c Clearing) fresh(outer outline.Loop) fresh {
	f := fresh{stock: c.Stock, outer: outer, radius: float64(c.Radius)}
	for _, p := range outer {
		f.tracks = append(f.tracks, trackOn(p))
	}
	return f
}

// at tells whether there is fresh metal at a place.
func (f fresh) at(x, y float64) bool {
	if !anyWithin(f.stock, 0, x, y) {
		return false
	}
	for _, t := range f.tracks {
		if t.from(x, y) <= f.radius {
			return false
		}
	}
	return f.outer.Contains(outline.Point{X: measure.Length(math.Round(x)), Y: measure.Length(math.Round(y))})
}

// from is how far a place is from the piece.
func (t trackOf) from(x, y float64) float64 {
	if t.Kind == outline.Arc {
		dx, dy := x-float64(t.Centre.X), y-float64(t.Centre.Y)
		d := math.Mod(math.Atan2(dy, dx)-t.start, 2*math.Pi)
		if d < 0 {
			d += 2 * math.Pi
		}
		if d <= t.sweep {
			return math.Abs(math.Hypot(dx, dy) - t.r)
		}
	} else {
		dx, dy := float64(t.To.X-t.From.X), float64(t.To.Y-t.From.Y)
		k := float64((x-float64(t.From.X))*dx) + float64((y-float64(t.From.Y))*dy)
		if long := float64(dx*dx) + float64(dy*dy); k > 0 && k < long {
			return math.Abs(float64((x-float64(t.From.X))*dy)-float64((y-float64(t.From.Y))*dx)) / math.Sqrt(long)
		}
	}
	return math.Min(math.Hypot(x-float64(t.From.X), y-float64(t.From.Y)), math.Hypot(x-float64(t.To.X), y-float64(t.To.Y)))
}

// wide tells whether a cutter that is part of the way along the piece, the metal on
// its left, meets fresh metal on more than the side step: some of it lies ahead, and
// further to the right than the step reaches from the cutter's left edge.
func (f fresh) wide(t trackOf, part, step float64) bool {
	x, y := t.at(part, 0)
	rx, ry := t.at(part, 1)
	rx, ry = rx-x, ry-y // to the right; ahead is a quarter turn from it
	r := f.radius
	first := math.Acos(held((r - step) / r))
	for k := 0.0; k <= looks; k++ {
		sin, cos := math.Sincos(first + float64((math.Pi-first)*k/looks))
		if f.at(x-float64(r*cos*rx)-float64(r*sin*ry), y-float64(r*cos*ry)+float64(r*sin*rx)) {
			return true
		}
	}
	return false
}

// bites tells whether a cutter that is part of the way along the piece meets fresh
// metal at all: on the front half of its edge, from its left round to its right.
func (f fresh) bites(t trackOf, part, step float64) bool {
	x, y := t.at(part, 0)
	rx, ry := t.at(part, 1)
	rx, ry = rx-x, ry-y
	r := f.radius - float64(measure.Micrometre)
	first := math.Acos(held((r - step) / r))
	for k := 0.0; k <= looks; k++ {
		sin, cos := math.Sincos(first * k / looks)
		if f.at(x-float64(r*cos*rx)-float64(r*sin*ry), y-float64(r*cos*ry)+float64(r*sin*rx)) {
			return true
		}
	}
	return f.wide(t, part, step)
}

// looks is how many stretches of the cutter's front edge wide looks between.
const looks = 5

// slowed cuts a piece where the cutter takes more than the side step: towards a
// corner between two shapes, and by what was not cut. A stretch begins to be slow a
// little before it must.
func (c Clearing) slowed(g Grid, p outline.Piece, step measure.Length, f fresh, blocked bool) []Stretch {
	if blocked {
		return []Stretch{{Piece: p, Slow: true}}
	}
	t := trackOn(p)
	most := float64(step + 10*measure.Micrometre)
	slow := func(part float64) bool {
		if x, y := t.at(part, float64(step)); anyWithin(c.Off, 0, x, y) {
			return true
		}
		return f.wide(t, part, most)
	}
	parts := t.changes(f.radius/8, slow)
	var out []Stretch
	for _, q := range g.split(p, parts) {
		u := trackOn(q)
		s := Stretch{Piece: q}
		s.Slow = slices.ContainsFunc([]float64{0.25, 0.5, 0.75}, func(part float64) bool {
			x, y := u.at(part, float64(step))
			return anyWithin(c.Off, 0, x, y) || f.wide(u, part, most)
		})
		out = append(out, s)
	}
	return out
}

// changes are the parts of the piece at which something begins or ceases to be true,
// looked for in steps of each; what is true is taken a hair longer than it is.
func (t trackOf) changes(each float64, holds func(part float64) bool) (parts []float64) {
	n := math.Ceil(t.length()/each) + 1
	was := holds(0)
	for k := 1.0; k <= n; k++ {
		is := holds(k / n)
		if is != was {
			low, high := (k-1)/n, k/n
			for range 12 {
				if mid := (low + high) / 2; holds(mid) == was {
					low = mid
				} else {
					high = mid
				}
			}
			if is {
				parts = append(parts, low)
			} else {
				parts = append(parts, high)
			}
		}
		was = is
	}
	return parts
}

// narrow cuts a piece where the outline grown by next is further off than aside.
func (c Clearing) narrow(g Grid, p outline.Piece, next, aside measure.Length) []Stretch {
	more := float64(next - 10*measure.Micrometre)
	var curves []curve
	for _, s := range c.Shapes {
		curves = append(curves, curvesOf(s, more)...)
	}
	var out []Stretch
	for _, q := range g.split(p, trackOn(p).crossings(curves, float64(aside))) {
		x, y := trackOn(q).at(0.5, float64(aside))
		s := Stretch{Piece: q, Slow: anyWithin(c.Shapes, more, x, y)}
		if n := len(out); n > 0 && out[n-1].Slow == s.Slow {
			out[n-1].To = q.To // the cut was for nothing
			continue
		}
		out = append(out, s)
	}
	return out
}

// Slowed cuts a closed way that takes step all round at a growth where it takes more:
// in the corners between two shapes. There must be stock all round it.
func (c Clearing) Slowed(g Grid, l outline.Loop, growth, step measure.Length) ([]Stretch, error) {
	next, err := g.Contours(c.Shapes, growth+step)
	if err != nil {
		return nil, err
	}
	low, high := l.Bounds()
	all := c
	all.Off, all.Stock = nil, []outline.Shape{outline.Rect(low, high).Grow(2 * c.Radius)}
	f := all.fresh(next.Outer)
	var out []Stretch
	for _, p := range l {
		out = append(out, all.slowed(g, p, step, f, false)...)
	}
	return rejoined(out), nil
}
