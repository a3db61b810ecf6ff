package outline_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"stopshort/toolpath/measure"
	. "stopshort/toolpath/outline"
)

// far is the distance of a place from a shape, by the schoolbook: the hypotenuse
// of what it lies beyond the box either way, less the radius. Within the box
// it is below nought, by the nearest side.
func far(s Shape, x, y float64) float64 {
	dx := math.Max(float64(s.Low.X)-x, x-float64(s.High.X))
	dy := math.Max(float64(s.Low.Y)-y, y-float64(s.High.Y))
	return math.Hypot(math.Max(dx, 0), math.Max(dy, 0)) + math.Min(math.Max(dx, dy), 0) - float64(s.Radius)
}

func farFromAll(shapes []Shape, x, y float64) float64 {
	d := math.Inf(1)
	for _, s := range shapes {
		d = math.Min(d, far(s, x, y))
	}
	return d
}

// drawShapes are a disc and up to eight more. Half the time they lie on whole
// millimetres, so that they touch and coincide as often as not.
func drawShapes(t *rapid.T) (shapes []Shape, by measure.Length) {
	step := rapid.SampledFrom([]measure.Length{mm, mm, 1, 254_000}).Draw(t, "step")
	length := func(name string, low, high measure.Length) measure.Length {
		return step * measure.Length(rapid.Int64Range(int64(low*mm/step), int64(high*mm/step)).Draw(t, name))
	}
	point := func() Point { return Point{length("x", -12, 12), length("y", -12, 12)} }
	shapes = []Shape{Disc(Point{}, length("radius", 1, 8))}
	for range rapid.IntRange(0, 8).Draw(t, "more") {
		p := point()
		if rapid.Bool().Draw(t, "disc") {
			shapes = append(shapes, Disc(p, length("radius", 1, 6)))
		} else {
			s := Rect(p, Point{p.X + length("wide", 1, 12), p.Y + length("high", 1, 12)})
			shapes = append(shapes, s.Grow(length("round", 0, 1)))
		}
	}
	return shapes, length("by", 0, 4)
}

// on is a place a part of the way along a piece, and a step to its left.
func on(p Piece, part, step float64) (x, y, leftX, leftY float64) {
	fx, fy, tx, ty := float64(p.From.X), float64(p.From.Y), float64(p.To.X), float64(p.To.Y)
	if p.Kind == Line {
		x, y = fx+(tx-fx)*part, fy+(ty-fy)*part
		l := math.Hypot(tx-fx, ty-fy)
		return x, y, x - (ty-fy)/l*step, y + (tx-fx)/l*step
	}
	cx, cy := float64(p.Centre.X), float64(p.Centre.Y)
	start, end := math.Atan2(fy-cy, fx-cx), math.Atan2(ty-cy, tx-cx)
	if end < start-1e-12 {
		end += 2 * math.Pi
	}
	a, r := start+(end-start)*part, float64(p.Radius)
	return cx + r*math.Cos(a), cy + r*math.Sin(a), cx + (r-step)*math.Cos(a), cy + (r-step)*math.Sin(a)
}

// The second method: distances of sampled places, and a grid.
func TestRandomUnions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shapes, by := drawShapes(t)
		o, err := Union(shapes, by)
		if err != nil {
			t.Fatal(err)
		}
		if err := o.Certify(shapes, by); err != nil {
			t.Fatal(err)
		}
		grow := float64(by)
		area := 0.0
		for i, l := range o.Loops() {
			area += l.Area()
			if anticlockwise := i <= len(o.Loose); (l.Area() > 0) != anticlockwise && math.Abs(l.Area()) > 1e-9 {
				t.Errorf("loop %d runs the wrong way: %v mm²", i, l.Area())
			}
			for _, p := range l {
				if p.Kind == Arc && p.Sense != Anticlockwise {
					t.Errorf("%v: a shape is never on the right", p)
				}
				for _, part := range []float64{0, 0.137, 0.5, 0.81, 1} {
					step := 100.0
					if p.Kind == Arc {
						step = math.Min(step, float64(p.Radius))
					}
					x, y, leftX, leftY := on(p, part, step)
					if d := farFromAll(shapes, x, y); math.Abs(d-grow) > 1.5 {
						t.Errorf("%v: %v tenths from the shapes at %v, not %v", p, d, part, grow)
					}
					if d := farFromAll(shapes, leftX, leftY); part != 0 && part != 1 && d > grow+1 {
						t.Errorf("%v: no material on its left", p)
					}
				}
			}
		}
		checkGrid(t, o, shapes, grow, area)
		for range 20 {
			x := rapid.Int64Range(-30*int64(mm), 30*int64(mm)).Draw(t, "px")
			y := rapid.Int64Range(-30*int64(mm), 30*int64(mm)).Draw(t, "py")
			checkPlace(t, o, shapes, by, Point{measure.Length(x), measure.Length(y)})
		}
		// Places where things happen are more telling.
		for _, s := range shapes {
			for _, p := range []Point{s.Low, s.High, {s.Low.X, s.High.Y}, {s.High.X + s.Radius, s.Low.Y}, {s.Low.X - s.Radius - by - 5, s.High.Y}} {
				checkPlace(t, o, shapes, by, p)
			}
		}
		for _, l := range o.Loops() {
			for _, p := range l {
				checkPlace(t, o, shapes, by, Point{p.From.X + 7, p.To.Y})
			}
		}
	})
}

// checkPlace holds Contains against the distance, but within two tenths of the
// boundary, where either will do.
func checkPlace(t *rapid.T, o Outlines, shapes []Shape, by measure.Length, p Point) {
	d := farFromAll(shapes, float64(p.X), float64(p.Y)) - float64(by)
	if math.Abs(d) < 2 {
		return
	}
	if got := holds(o, p); got != (d < 0) {
		t.Errorf("%v lies %v tenths outside, but is told to be within: %v", p, d, got)
	}
}

// holds tells whether a place that is not on a loop is material.
func holds(o Outlines, p Point) bool {
	n := 0
	for i, l := range o.Loops() {
		if l.Contains(p) {
			if i <= len(o.Loose) {
				n++
			} else {
				n--
			}
		}
	}
	return n > 0
}

// checkGrid counts the cells whose middles lie in the union. The area differs
// by no more than the cells that the boundary can pass through.
func checkGrid(t *rapid.T, o Outlines, shapes []Shape, grow, area float64) {
	const cell, half = 5_000_000.0, 60
	in, edge := 0, 0
	for i := -half; i < half; i++ {
		for j := -half; j < half; j++ {
			d := farFromAll(shapes, (float64(i)+0.5)*cell, (float64(j)+0.5)*cell) - grow
			if d < 0 {
				in++
			}
			if math.Abs(d) <= cell*math.Sqrt2/2 {
				edge++
			}
		}
	}
	mm2 := cell / 1e7 * cell / 1e7
	if diff := math.Abs(area - float64(in)*mm2); diff > float64(edge)*mm2 {
		t.Errorf("%v mm², but %v in the grid: more apart than %d cells", area, float64(in)*mm2, edge)
	}
	low, high := o.Outer.Bounds()
	for _, l := range o.Loose {
		l, h := l.Bounds()
		low = Point{min(low.X, l.X), min(low.Y, l.Y)}
		high = Point{max(high.X, h.X), max(high.Y, h.Y)}
	}
	wantLow, wantHigh := Point{math.MaxInt64, math.MaxInt64}, Point{math.MinInt64, math.MinInt64}
	for _, s := range shapes {
		r := s.Radius + measure.Length(grow)
		wantLow = Point{min(wantLow.X, s.Low.X-r), min(wantLow.Y, s.Low.Y-r)}
		wantHigh = Point{max(wantHigh.X, s.High.X+r), max(wantHigh.Y, s.High.Y+r)}
	}
	if low != wantLow || high != wantHigh {
		t.Errorf("bounds %v %v, not %v %v", low, high, wantLow, wantHigh)
	}
}

// However the part is turned by right angles and mirrored, the outline is the
// same, turned and mirrored.
func TestTurnedAndMirrored(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shapes, by := drawShapes(t)
		turns := map[string]func(Point) Point{
			"turned":   func(p Point) Point { return Point{-p.Y, p.X} },
			"mirrored": func(p Point) Point { return Point{-p.X, p.Y} },
		}
		o, err := Union(shapes, by)
		if err != nil {
			t.Fatal(err)
		}
		for name, f := range turns {
			moved := make([]Shape, len(shapes))
			for i, s := range shapes {
				a, b := f(s.Low), f(s.High)
				moved[i] = Shape{Point{min(a.X, b.X), min(a.Y, b.Y)}, Point{max(a.X, b.X), max(a.Y, b.Y)}, s.Radius}
			}
			m, err := Union(moved, by)
			if err != nil {
				t.Fatal(err)
			}
			if len(m.Loose) != len(o.Loose) || len(m.Inner) != len(o.Inner) || len(m.Touches) != len(o.Touches) {
				t.Fatalf("%s: %v\nnot as %v", name, m, o)
			}
			want, got := map[Point]bool{}, map[Point]bool{}
			for _, l := range o.Loops() {
				for _, p := range l {
					if p.Joint != Smooth {
						want[f(p.From)] = true
					}
				}
			}
			for _, l := range m.Loops() {
				for _, p := range l {
					if p.Joint != Smooth {
						got[p.From] = true
						if !want[p.From] {
							t.Errorf("%s: a corner at %v", name, p.From)
						}
					}
				}
			}
			if len(got) != len(want) {
				t.Errorf("%s: %d corners, not %d", name, len(got), len(want))
			}
		}
	})
}
