package plan

import (
	"errors"
	"math"
	"testing"

	"golang.org/x/exp/slices"
	"pgregory.net/rapid"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
	"stopshort/toolpath/solid"
)

// toPiece is the distance of a place from a piece, in floating point.
func toPiece(p outline.Piece, x, y float64) float64 {
	fx, fy, tx, ty := float64(p.From.X), float64(p.From.Y), float64(p.To.X), float64(p.To.Y)
	if p.Kind == outline.Line {
		dx, dy := tx-fx, ty-fy
		k := math.Max(0, math.Min(1, ((x-fx)*dx+(y-fy)*dy)/(dx*dx+dy*dy)))
		return math.Hypot(x-fx-k*dx, y-fy-k*dy)
	}
	cx, cy := float64(p.Centre.X), float64(p.Centre.Y)
	start, end := math.Atan2(fy-cy, fx-cx), math.Atan2(ty-cy, tx-cx)
	if end <= start {
		end += 2 * math.Pi
	}
	a := math.Atan2(y-cy, x-cx)
	for a < start {
		a += 2 * math.Pi
	}
	if a <= end {
		return math.Abs(math.Hypot(x-cx, y-cy) - float64(p.Radius))
	}
	return math.Min(math.Hypot(x-fx, y-fy), math.Hypot(x-tx, y-ty))
}

func toRings(rings []Ring, x, y float64) float64 {
	d := math.Inf(1)
	for _, r := range rings {
		for _, w := range r.Ways {
			for _, s := range w {
				d = math.Min(d, toPiece(s.Piece, x, y))
			}
		}
	}
	return d
}

// drawClearing is a random part in a rectangle or a disc of stock, with a cutter.
func drawClearing(t *rapid.T) Clearing {
	mm := func(name string, low, high int64) measure.Length { // in hundredths
		return measure.Length(rapid.Int64Range(low, high).Draw(t, name)) * measure.Millimetre / 100
	}
	c := Clearing{Shapes: drawPart(t), Radius: mm("radius", 200, 1000), Clear: measure.Millimetre}
	c.Allow = mm("allow", 0, 50)
	c.Step = min(mm("step", 150, 1000), c.Radius)
	low, high := c.Shapes[0].Bounds()
	for _, s := range c.Shapes {
		a, b := s.Bounds()
		low = outline.Point{X: min(low.X, a.X), Y: min(low.Y, a.Y)}
		high = outline.Point{X: max(high.X, b.X), Y: max(high.Y, b.Y)}
	}
	low = outline.Point{X: low.X - mm("left", 0, 1000), Y: low.Y - mm("front", 0, 1000)}
	high = outline.Point{X: high.X + mm("right", 0, 1000), Y: high.Y + mm("back", 0, 1000)}
	if rapid.Bool().Draw(t, "bar") {
		middle := outline.Point{X: (low.X + high.X) / 2, Y: (low.Y + high.Y) / 2}
		r, _ := solid.Hypot((high.X-low.X)/2+1, (high.Y-low.Y)/2+1)
		c.Stock = []outline.Shape{outline.Disc(middle, r+1)}
	} else {
		c.Stock = []outline.Shape{outline.Rect(low, high)}
	}
	return c
}

// ringsOf are the rings of a clearing; one that is refused is left out.
func ringsOf(t *rapid.T, g Grid, c Clearing) []Ring {
	rings, err := c.Rings(g)
	var far TooFar
	var loose LoosePocket
	if errors.As(err, &far) || errors.As(err, &loose) {
		t.Skip(err)
	}
	if err != nil {
		t.Fatal(err)
	}
	return rings
}

// hair is how far from a corner it need not be right whether a stretch is slow.
const hair = 30 * float64(measure.Micrometre)

// checkRings holds rings against what is promised of them: off the part, at full
// feed no more than the side step into metal that is still there, ways that begin
// and end clear of the stock but for the last steps, since no piece is cut
// shorter than tinyArc, and the part on the left.
func checkRings(t *rapid.T, g Grid, c Clearing, rings []Ring) {
	r, step := float64(c.Radius), float64(c.Step)
	last := math.Inf(1)
	for i, ring := range rings {
		if float64(ring.Growth) > last-0.5 || last < math.Inf(1) && last-float64(ring.Growth) > step {
			t.Fatalf("ring %d of growth %v comes after one of %v, the step is %v", i, ring.Growth, last, step)
		}
		last = float64(ring.Growth)
		for n, w := range ring.Ways {
			for k, s := range w {
				if k > 0 && w[k-1].To != s.From {
					t.Fatalf("ring %d: %v and %v do not join", i, w[k-1], s)
				}
				for _, part := range []float64{0.02, 0.31, 0.5, 0.74, 0.98} {
					done := append(slices.Clone(rings[:i]), Ring{Ways: append(slices.Clone(ring.Ways[:n]), w[:k])})
					checkPlace(t, g, c, done, ring, s, part)
				}
			}
			from, to := w[0].From, w[len(w)-1].To
			if ring.Closed {
				if from != to {
					t.Fatalf("ring %d is not closed", i)
				}
				continue
			}
			for k, e := range []outline.Point{from, to} {
				if k == 1 && w[len(w)-1].Idle {
					continue // nothing more would be cut: what stays is found below
				}
				if d := farFromAll(c.Stock, float64(e.X), float64(e.Y)); d < r+float64(c.Clear-tinyArc*g.Step(solid.X)) {
					t.Fatalf("ring %d: a way ends %v from the stock", i, d)
				}
			}
		}
	}
	if n := len(rings); n > 0 && rings[n-1].Growth != c.Radius+c.Allow {
		t.Fatalf("the last ring's growth is %v, not %v", rings[n-1].Growth, c.Radius+c.Allow)
	}
}

func checkPlace(t *rapid.T, g Grid, c Clearing, before []Ring, ring Ring, s Stretch, part float64) {
	r, step := float64(c.Radius), float64(c.Step)
	x, y, leftX, leftY := on(s.Piece, part)
	d := farFromAll(c.Shapes, x, y)
	if d < float64(ring.Growth)-float64(g.Step(solid.X))/10 {
		t.Fatalf("%v: %v from the part, not %v", s, d, ring.Growth)
	}
	if aside := 20 * float64(g.Step(solid.X)); farFromAll(c.Shapes, x+leftX*aside, y+leftY*aside) > float64(ring.Growth)-0.7*aside {
		t.Fatalf("%v: the part is not on the left", s)
	}
	if s.Slow {
		return
	}
	// Ahead of the middle there is no metal further right than the step reaches from
	// the left edge.
	for _, angle := range []float64{0.1, 0.25, 0.5, 0.75, 1, 1.25, 1.5, 1.75, 2, 2.5, 3} {
		sin, cos := math.Sincos(angle)
		aside, ahead := r*cos, r*sin
		if aside > r-step-hair {
			continue
		}
		qx, qy := x+leftX*aside+leftY*ahead, y+leftY*aside-leftX*ahead
		if farFromAll(c.Stock, qx, qy) < -hair && toRings(before, qx, qy) > r+hair {
			t.Fatalf("%v at %v: metal %v to the left of the cutter's middle and %v ahead, of %v, and the step is %v", s, part, aside, ahead, r, step)
		}
	}
}

// left is the first of some random places where metal stays though the cutter
// could stand there.
func left(t *rapid.T, c Clearing, rings []Ring) (at [2]float64, any bool) {
	low, high := c.Stock[0].Bounds()
	for range 60 {
		x := float64(rapid.Int64Range(int64(low.X), int64(high.X)).Draw(t, "x"))
		y := float64(rapid.Int64Range(int64(low.Y), int64(high.Y)).Draw(t, "y"))
		if farFromAll(c.Stock, x, y) < -hair && farFromAll(c.Shapes, x, y) > float64(c.Radius+c.Allow)+hair &&
			toRings(rings, x, y) > float64(c.Radius)+hair {
			return [2]float64{x, y}, true
		}
	}
	return at, false
}

// Random parts in bar and in plate, on both grids.
func TestRings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, c := drawGrid(t), drawClearing(t)
		rings := ringsOf(t, g, c)
		checkRings(t, g, c, rings)
		if at, any := left(t, c, rings); any {
			t.Fatalf("metal is left at %v", at)
		}
	})
}
