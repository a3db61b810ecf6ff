package outline_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"stopshort/toolpath/measure"
	. "stopshort/toolpath/outline"
)

// beside are the places that lie off the middle of a piece, to its left and to
// its right. Half-way along an arc it runs as its chord does; it bulges to the
// right of the chord where it turns anticlockwise, else to the left.
func beside(p Piece, off float64) (left, right [2]float64) {
	dx, dy := float64(p.To.X-p.From.X), float64(p.To.Y-p.From.Y)
	long := math.Hypot(dx, dy)
	rightX, rightY := dy/long, -dx/long
	x, y := float64(p.From.X)+dx/2, float64(p.From.Y)+dy/2
	if p.Kind == Arc {
		r, cx, cy := float64(p.Radius), float64(p.Centre.X), float64(p.Centre.Y)
		if p.Sense == Clockwise {
			r = -r
		}
		// Of an arc that is short for its radius the chord's middle tells the
		// way from the centre better than the chord does: its ends are rounded.
		if d := math.Hypot(x-cx, y-cy); d > math.Abs(r)/2 {
			rightX, rightY = (x-cx)/math.Copysign(d, r), (y-cy)/math.Copysign(d, r)
		}
		x, y = cx+rightX*r, cy+rightY*r
	}
	return [2]float64{x - rightX*off, y - rightY*off}, [2]float64{x + rightX*off, y + rightY*off}
}

// hair is a step to the side, in tenths of a nanometre: far more than rounding
// takes from a piece (0.71), far less than any part is held to.
const hair = 64

// faces tells whether the metal of some shape comes nearer on the far side of
// the piece's middle from its own, across a gap of less than two hairs or none.
func faces(shapes []Shape, grow float64, own, away [2]float64) bool {
	for _, s := range shapes {
		x, y := (own[0]+away[0])/2, (own[1]+away[1])/2
		if math.Abs(far(s, x, y)-grow) < 2*hair && far(s, away[0], away[1]) < far(s, own[0], own[1]) {
			return true
		}
	}
	return false
}

// The metal is on the left all the way round, and on the right of a loop
// reversed: told by the distance to the shapes alone, a hair off the middle of
// each piece. Where shapes touch, or all but touch, there is metal on both sides.
func TestTheMetalIsOnTheLeft(t *testing.T) {
	check := func(t *rapid.T, shapes []Shape, by measure.Length) {
		o, err := Union(shapes, by)
		if err != nil {
			t.Fatal(err)
		}
		grow := float64(by)
		for _, l := range o.Loops() {
			for way, l := range []Loop{l, l.Reversed()} {
				for _, p := range l {
					metal, air := beside(p, hair)
					if way == 1 {
						metal, air = air, metal
					}
					if p.Length() < 4*hair {
						continue
					}
					// Where two shapes are flush it may lie on the side between them.
					if d := farFromAll(shapes, metal[0], metal[1]) - grow; d > 2 {
						t.Errorf("%v by %v, %v of loop %v: the metal is %v tenths off on its own side", shapes, by, p, l, d)
					}
					if d := farFromAll(shapes, air[0], air[1]) - grow; d <= 0 && !faces(shapes, grow, metal, air) {
						t.Errorf("%v by %v, %v of loop %v: %v tenths deep in metal on the other side", shapes, by, p, l, -d)
					}
				}
			}
		}
	}
	t.Run("parts", rapid.MakeCheck(func(t *rapid.T) {
		shapes := drawPart(func(name string, low, high int) int { return rapid.IntRange(low, high).Draw(t, name) })
		check(t, shapes, mm/1000*measure.Length(rapid.IntRange(0, 8000).Draw(t, "by")))
	}))
	t.Run("anything", rapid.MakeCheck(func(t *rapid.T) {
		shapes, by := drawShapes(t)
		check(t, shapes, by)
	}))
}
