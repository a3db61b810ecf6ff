package plan

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
	"stopshort/toolpath/solid"
)

// A lug to the right of a boss and a pad behind it, grown by 3 mm: the sides are
// worked out by hand. A loop that has the metal on its left goes up on the right,
// to the left behind, down on the left and to the right in front.
func TestFromExtreme(t *testing.T) {
	const mm = measure.Millimetre
	p := func(x, y measure.Length) outline.Point { return outline.Point{X: x * mm, Y: y * mm} }
	g := machine(t, "stepper-mill-mm")
	c, err := g.Contours([]outline.Shape{
		outline.Disc(p(0, 0), 12*mm), outline.Rect(p(0, -6), p(21, 6)), outline.Rect(p(-8, 0), p(8, 16)),
	}, 3*mm)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []struct {
		side Side
		at   outline.Point
	}{
		{Side{1, 0}, p(24, -6)}, // the lug's end, from its lower corner on
		{Side{0, 1}, p(8, 19)},  // the pad's end, from its right corner on
		{Side{-1, 0}, p(-15, 0)},
		{Side{0, -1}, p(0, -15)},
	} {
		begun, ok := FromExtreme(c.Outer, want.side)
		if !ok || begun[0].From != want.at {
			t.Errorf("to %v: begins at %v, %v, want %v", want.side, begun[0].From, ok, want.at)
		}
	}
}

// Of two lugs that come equally far the first on the way counts.
func TestFromExtremeOfTwo(t *testing.T) {
	const mm = measure.Millimetre
	p := func(x, y measure.Length) outline.Point { return outline.Point{X: x * mm, Y: y * mm} }
	c, err := machine(t, "stepper-mill-mm").Contours([]outline.Shape{
		outline.Disc(p(0, 0), 12*mm), outline.Rect(p(0, 5), p(20, 9)), outline.Rect(p(0, -9), p(20, -5)),
	}, 2*mm)
	if err != nil {
		t.Fatal(err)
	}
	for side, at := range map[Side]outline.Point{{1, 0}: p(22, -9), {-1, 0}: p(-14, 0), {0, 1}: p(0, 14)} {
		if begun, ok := FromExtreme(c.Outer, side); !ok || begun[0].From != at {
			t.Errorf("to %v: begins at %v, %v, want %v", side, begun[0].From, ok, at)
		}
	}
}

// Three quarters of a plate whose right side is not straight ahead: at a corner
// there is no tangent to come in on.
func TestFromExtremeAtACorner(t *testing.T) {
	p := func(x, y measure.Length) outline.Point { return outline.Point{X: x, Y: y} }
	l := outline.Loop{
		{From: p(0, 0), To: p(100, 50), Joint: outline.Left},
		{From: p(100, 50), To: p(0, 100), Joint: outline.Left},
		{From: p(0, 100), To: p(0, 0), Joint: outline.Left},
	}
	if _, ok := FromExtreme(l, Side{1, 0}); ok {
		t.Error("a tangent was found at a corner")
	}
}

// Round random parts: the loop is the same, closed; it begins as far to the side
// as it ever comes, and runs straight ahead there, so that a circle which touches
// it from outside has nothing of the part in its way.
func TestFromExtremeBegins(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, shapes := drawGrid(t), drawPart(t)
		by := measure.Length(rapid.Int64Range(5_000_000, 60_000_000).Draw(t, "growth"))
		c := contoursOf(t, g, shapes, by)
		found := 0
		for _, side := range Sides {
			begun, ok := FromExtreme(c.Outer, side)
			if !ok { // a boss that is tangent to a lug's side, but for the grid
				continue
			}
			found++
			most := math.Inf(-1)
			for i, q := range begun {
				if next := begun[(i+1)%len(begun)]; q.To != next.From || q.From == q.To {
					t.Fatalf("%v and %v do not join", q, next)
				}
				for _, part := range []float64{0, 0.1, 0.35, 0.5, 0.65, 0.9} {
					x, y, _, _ := on(q, part)
					most = math.Max(most, float64(side.X)*x+float64(side.Y)*y)
				}
			}
			at := begun[0].From
			// An arc's ends are on the grid, less than a step outside its circle.
			if float64(side.Along(at)) < most-float64(g.Step(solid.X)) {
				t.Errorf("begins at %v to the side %v, and it comes to %v", at, side, most)
			}
			_, _, leftX, leftY := on(begun[0], 1e-9)
			if ahead := float64(-side.X)*leftX + float64(-side.Y)*leftY; ahead < 0.999 {
				t.Errorf("begins at %v with its left to (%v, %v), not away from the side %v", at, leftX, leftY, side)
			}
			if a, b := area(begun), area(c.Outer); math.Abs(a-b) > 1e-6*b {
				t.Errorf("begun at the side %v it holds %v mm², not %v", side, a, b)
			}
		}
		if found == 0 {
			t.Error("no side has a tangent")
		}
	})
}
