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

// contoursOf are the contours.
func contoursOf(t *rapid.T, g Grid, shapes []outline.Shape, by measure.Length) Contours {
	c, err := g.Contours(shapes, by)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func drawGrid(t *rapid.T) Grid {
	return forName(t, rapid.SampledFrom([]string{"stepper-mill-mm", "stepper-mill-inch"}).Draw(t, "machine"))
}

// The path of the demo part's last finishing pass in its first set-up, by hand, in the
// machine's own units: on the 3-4-5 triangle and the straights it is exact; where
// arc and pad meet, at Y 11.2754 mm, the end is put outward.
func TestDemoPartsPath(t *testing.T) {
	const um = measure.Micrometre
	p := func(x, y measure.Length) outline.Point { return outline.Point{X: x * um, Y: y * um} }
	shapes := []outline.Shape{
		outline.Disc(p(0, 0), 12700*um), outline.Rect(p(-21500, -6350), p(21500, 6350)), outline.Rect(p(-8000, 0), p(8000, 16500)),
	}
	for _, c := range []struct {
		machine string
		unit    measure.Length // of the figures
		right   [][2]int64     // from the right lug's lower corner to the pad's right one
	}{
		{"stepper-mill-mm", um / 10, [][2]int64{
			{246750, -63500}, {246750, 63500}, {215000, 95250}, {127000, 95250}, {111750, 112755}, {111750, 165000}, {80000, 196750},
		}},
		// 21.5, 24.675, 11.175, 16.5, 19.675 and 8 mm are 0.84646, 0.97146, 0.43996,
		// 0.64961, 0.77461 and 0.31496 in; on the circle of 0.625 in about the bore
		// X 0.4400 has Y 0.44388.
		{"stepper-mill-inch", measure.Inch / 10_000, [][2]int64{
			{9715, -2500}, {9715, 2500}, {8465, 3750}, {5000, 3750}, {4400, 4439}, {4400, 6497}, {3150, 7747},
		}},
	} {
		got, err := machine(t, c.machine).Contours(shapes, 3175*um)
		if err != nil || len(got.Inner) > 0 {
			t.Fatal(err, got.Inner)
		}
		begun, ok := FromExtreme(got.Outer, Side{1, 0})
		if !ok || len(begun) != 18 {
			t.Fatalf("%s: %v", c.machine, begun)
		}
		for i, w := range c.right {
			want := outline.Point{X: measure.Length(w[0]) * c.unit, Y: measure.Length(w[1]) * c.unit}
			if begun[i].From != want {
				t.Errorf("%s: end %d is %v, want %v", c.machine, i, begun[i].From, want)
			}
			if got := begun[13-i].From; got != (outline.Point{X: -want.X, Y: want.Y}) {
				t.Errorf("%s: %v on the left is not the mirror image of %v", c.machine, got, want)
			}
		}
	}
}

// A bay that the growth closes is a loop of its own, with the part on its left,
// until the growth fills it.
func TestContoursOfABay(t *testing.T) {
	const mm = measure.Millimetre
	p := func(x, y measure.Length) outline.Point { return outline.Point{X: x * mm, Y: y * mm} }
	hook := []outline.Shape{ // 14 wide inside, 8 at its mouth
		outline.Disc(p(0, 0), 12*mm), outline.Rect(p(0, -6), p(50, 6)), outline.Rect(p(-8, 0), p(8, 24)),
		outline.Rect(p(0, 20), p(50, 24)), outline.Rect(p(46, 0), p(50, 12)),
	}
	g := machine(t, "stepper-mill-mm")
	for _, c := range []struct {
		growth measure.Length
		inner  int
	}{{3, 0}, {5, 1}, {7, 0}} {
		got, err := g.Contours(hook, c.growth*mm)
		if err != nil {
			t.Fatal(err)
		}
		if len(got.Inner) != c.inner {
			t.Fatalf("grown by %d mm it has %d loops inside, want %d", c.growth, len(got.Inner), c.inner)
		}
		for _, l := range got.Inner {
			if !l.Contains(p(30, 13)) || area(l) >= 0 {
				t.Errorf("%v does not run clockwise about the bay's middle", l)
			}
		}
	}
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
		c := contoursOf(t, g, shapes, by)
		step := float64(g.Step(solid.X))
		onGrid := func(what string, l measure.Length) {
			if g.Round(solid.X, l, measure.Nearest) != l {
				t.Errorf("%s of %s is not on the grid", what, l)
			}
		}
		if area(c.Outer) <= 0 {
			t.Errorf("the outer loop runs the wrong way")
		}
		for _, l := range c.Inner {
			if area(l) >= 0 {
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
