package plan

import (
	"errors"
	"math"
	"testing"

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

func TestRingsClearTheStock(t *testing.T) {
	counts := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		g, c := drawGrid(t), drawClearing(t)
		rings, err := c.Rings(g)
		var far TooFar
		var loose LoosePocket
		if errors.As(err, &far) || errors.As(err, &loose) {
			counts["refused"]++
			t.Skip(err)
		}
		if err != nil {
			t.Fatal(err)
		}
		counts["done"]++
		const hair = 300_000 // 30 micrometres: what is called slow or not near a corner
		r, step := float64(c.Radius), float64(c.Step)
		metal := func(x, y float64) bool { return farFromAll(c.Stock, x, y) < -hair }
		for i, ring := range rings {
			for _, w := range ring.Ways {
				for _, s := range w {
					for _, part := range []float64{0.02, 0.31, 0.5, 0.74, 0.98} {
						x, y, lx, ly := on(s.Piece, part)
						if d := farFromAll(c.Shapes, x, y); d < float64(c.Radius+c.Allow)-5000 {
							t.Fatalf("ring %d %v: %v from the part", i, s, d)
						}
						if s.Slow {
							continue
						}
						for _, aside := range []float64{r - step - hair, (r - step) / 2, -hair, -r / 2, hair - r} {
							if aside > r-step-hair {
								continue
							}
							qx, qy := x+lx*aside, y+ly*aside
							if metal(qx, qy) && toRings(rings[:i], qx, qy) > r+hair {
								t.Fatalf("ring %d of %d, %v at %v: metal %v to the left of the middle, the step is %v of %v", i, len(rings), s, part, aside, step, r)
							}
						}
					}
				}
				if ring.Closed {
					continue
				}
				for _, e := range []outline.Point{w[0].From, w[len(w)-1].To} {
					if d := farFromAll(c.Stock, float64(e.X), float64(e.Y)); d < float64(c.Radius+c.Clear-8*g.Step(solid.X)) {
						t.Fatalf("ring %d: a way ends %v from the stock", i, d)
					}
				}
			}
		}
		// No metal is left where the cutter could stand.
		b := c.Stock[0]
		bl, bh := b.Bounds()
		for range 60 {
			x := float64(rapid.Int64Range(int64(bl.X), int64(bh.X)).Draw(t, "x"))
			y := float64(rapid.Int64Range(int64(bl.Y), int64(bh.Y)).Draw(t, "y"))
			if farFromAll(c.Stock, x, y) < -hair && farFromAll(c.Shapes, x, y) > float64(c.Radius+c.Allow)+hair && toRings(rings, x, y) > r+hair {
				t.Fatalf("metal is left at %v, %v", x, y)
			}
		}
	})
	t.Log(counts)
}
