package plan

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"stopshort/machines"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
	"stopshort/toolpath/solid"
)

// far is the distance of a place from a shape, by the schoolbook: the hypotenuse
// of what it lies beyond the box either way, less the radius.
func far(s outline.Shape, x, y float64) float64 {
	dx := math.Max(math.Max(float64(s.Low.X)-x, x-float64(s.High.X)), 0)
	dy := math.Max(math.Max(float64(s.Low.Y)-y, y-float64(s.High.Y)), 0)
	return math.Hypot(dx, dy) - float64(s.Radius)
}

func farFromAll(shapes []outline.Shape, x, y float64) float64 {
	d := math.Inf(1)
	for _, s := range shapes {
		d = math.Min(d, far(s, x, y))
	}
	return d
}

// keepsOff tells in whole numbers whether a place is no nearer to a shape than a
// length.
func keepsOff(s outline.Shape, p outline.Point, by measure.Length) bool {
	dx, dy := max(s.Low.X-p.X, p.X-s.High.X, 0), max(s.Low.Y-p.Y, p.Y-s.High.Y, 0)
	square := func(l measure.Length) *big.Int { b := big.NewInt(int64(l)); return b.Mul(b, b) }
	return new(big.Int).Add(square(dx), square(dy)).Cmp(square(s.Radius+by)) >= 0
}

// on is a place a part of the way along a piece, and the direction to its left.
func on(p outline.Piece, part float64) (x, y, leftX, leftY float64) {
	fx, fy, tx, ty := float64(p.From.X), float64(p.From.Y), float64(p.To.X), float64(p.To.Y)
	if p.Kind == outline.Line {
		l := math.Hypot(tx-fx, ty-fy)
		return fx + (tx-fx)*part, fy + (ty-fy)*part, -(ty - fy) / l, (tx - fx) / l
	}
	cx, cy := float64(p.Centre.X), float64(p.Centre.Y)
	start, end := math.Atan2(fy-cy, fx-cx), math.Atan2(ty-cy, tx-cx)
	if end <= start {
		end += 2 * math.Pi
	}
	// As a controller goes it: the radius may differ at its ends.
	r0, r1 := math.Hypot(fx-cx, fy-cy), math.Hypot(tx-cx, ty-cy)
	a, r := start+(end-start)*part, r0+(r1-r0)*part
	return cx + r*math.Cos(a), cy + r*math.Sin(a), -math.Cos(a), -math.Sin(a)
}

// drawPart is a boss with up to six rectangles that stand out from it, on whole
// millimetres as often as on any tenth of a nanometre. All but the boss overlap it.
func drawPart(t *rapid.T) []outline.Shape {
	step := rapid.SampledFrom([]measure.Length{measure.Millimetre, 254_000, 1}).Draw(t, "step")
	length := func(name string, low, high float64) measure.Length {
		mm := float64(measure.Millimetre)
		return step * measure.Length(rapid.Int64Range(int64(math.Ceil(low*mm/float64(step))), int64(high*mm/float64(step))).Draw(t, name))
	}
	at := outline.Point{X: length("x", -9, 9), Y: length("y", -9, 9)}
	r := length("radius", 5, 14)
	shapes := []outline.Shape{outline.Disc(at, r)}
	for range rapid.IntRange(0, 6).Draw(t, "more") {
		side := rapid.SampledFrom(Sides[:]).Draw(t, "side")
		aside, reach, half := length("aside", -4, 4), length("reach", 5, 30), length("half", 1, 8)
		end := side.Moved(at, reach)
		low := outline.Point{X: min(at.X, end.X), Y: min(at.Y, end.Y)}
		high := outline.Point{X: max(at.X, end.X), Y: max(at.Y, end.Y)}
		if side.X == 0 {
			low.X, high.X = at.X+aside-half, at.X+aside+half
		} else {
			low.Y, high.Y = at.Y+aside-half, at.Y+aside+half
		}
		shapes = append(shapes, outline.Rect(low, high))
	}
	return shapes
}

func drawGrid(t *rapid.T) Grid {
	return forName(t, rapid.SampledFrom([]string{"stepper-mill-mm", "stepper-mill-inch"}).Draw(t, "machine"))
}

// The contours of random parts on both grids: closed, every end and centre on the
// grid, no end nearer to any shape than the growth in whole numbers, no place
// between the ends nearer by more than a fiftieth of a step, and all of them
// within a few steps of where the growth is. The part is on the left all the way
// round, round the outside and round the holes.
func TestContoursKeepOutsideWithThePartOnTheLeft(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, shapes := drawGrid(t), drawPart(t)
		by := measure.Length(rapid.Int64Range(3_000_000, 60_000_000).Draw(t, "growth"))
		c, err := g.Contours(shapes, by)
		if err != nil {
			t.Fatal(err)
		}
		step := float64(g.Step(solid.X))
		onGrid := func(what string, l measure.Length) {
			if g.Round(solid.X, l, measure.Nearest) != l {
				t.Errorf("%s of %s is not on the grid", what, l)
			}
		}
		if c.Outer.Area() <= 0 {
			t.Errorf("the outer loop runs the wrong way")
		}
		for _, l := range c.Inner {
			if l.Area() >= 0 {
				t.Errorf("an inner loop runs the wrong way")
			}
		}
		for _, l := range c.Loops() {
			for i, p := range l {
				if next := l[(i+1)%len(l)]; p.To != next.From || p.From == p.To {
					t.Errorf("%v and %v do not join", p, next)
				}
				onGrid("an end", p.From.X)
				onGrid("an end", p.From.Y)
				for _, s := range shapes {
					if !keepsOff(s, p.From, by) {
						t.Errorf("%v begins nearer than %s to %v", p, by, s)
					}
				}
				if p.Kind == outline.Arc {
					onGrid("a centre", p.Centre.X)
					onGrid("a centre", p.Centre.Y)
					onGrid("a radius", p.Radius)
				}
				for _, part := range []float64{0, 0.03, 0.29, 0.5, 0.77, 0.99} {
					x, y, leftX, leftY := on(p, part)
					d := farFromAll(shapes, x, y)
					if d < float64(by)-step/50-1 {
						t.Errorf("%v at %v: %v tenths from the part, not %v", p, part, d, by)
					}
					if d > float64(by)+5*step {
						t.Errorf("%v at %v: %v tenths from the part, %v steps too far", p, part, d, (d-float64(by))/step)
					}
					if aside := farFromAll(shapes, x+20*step*leftX, y+20*step*leftY); aside > float64(by)-14*step {
						t.Errorf("%v at %v: the part is not on the left: %v tenths off, %v aside", p, part, d, aside)
					}
				}
			}
		}
	})
}

func forName(t *rapid.T, name string) Grid {
	m, err := machines.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return ForMachine(m)
}
