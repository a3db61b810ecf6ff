package outline_test

import (
	"math/rand"

	"stopshort/toolpath/measure"
	. "stopshort/toolpath/outline"
)

// pick gives a whole number from low to high.
type pick func(name string, low, high int) int

// randomPick gives the same numbers for the same seed.
func randomPick(seed int64) pick {
	r := rand.New(rand.NewSource(seed))
	return func(_ string, low, high int) int { return low + r.Intn(high-low+1) }
}

// drawPart is a boss and one to four lugs and pads, of the sizes that are met in
// a small workshop. Their sides lie on a grid and are chosen to be flush with the
// boss or with each other, to touch it at a point, to stand off or to bridge
// a hole as often as to be none of this.
func drawPart(pick pick) []Shape {
	step := []measure.Length{mm, mm / 10, 254_000, 3_968_750}[pick("step", 0, 3)]
	length := func(name string, low, high measure.Length) measure.Length {
		most := max(int(high/step), int((low+step-1)/step))
		return step * measure.Length(pick(name, int((low+step-1)/step), most))
	}
	boss := length("boss", 3*mm, 13*mm)
	shapes := []Shape{Disc(Point{}, boss)}
	// add puts in a rectangle as drawn to the right of the boss, turned.
	add := func(turns int, x1, y1, x2, y2 measure.Length) {
		low, high := Point{x1, y1}, Point{x2, y2}
		for range turns {
			low, high = Point{-high.Y, low.X}, Point{-low.Y, high.X}
		}
		shapes = append(shapes, Rect(low, high))
	}
	for range pick("lugs", 1, 4) {
		turns, last := pick("turns", 0, 3), shapes[len(shapes)-1]
		half := length("half", mm, boss)
		switch pick("kind", 0, 6) {
		case 0: // a lug
			add(turns, 0, -half, length("reach", boss/2, 2*boss), half)
		case 1: // its sides flush with the boss
			add(turns, 0, -boss, length("reach", boss/2, 2*boss), boss)
		case 2: // its end flush with the boss
			add(turns, 0, -half, boss, half)
		case 3: // touching the boss at a point, or standing off
			off := step * measure.Length(pick("off", 0, 1)*pick("steps", 0, 50))
			add(turns, boss+off, -half, boss+off+length("long", mm, boss), half)
		case 4: // against the last one's side, or a corner of it
			high := last.High.Y - last.Low.Y
			y := last.Low.Y + high*measure.Length(pick("up", -1, 1))
			add(0, last.High.X, y, last.High.X+length("long", mm, boss), y+max(high, step))
		case 5: // a bow over a hole, or a frame that stands off
			thick, hole := length("thick", mm, 2*mm), length("hole", mm, boss)
			foot, top := measure.Length(0), boss+hole
			if pick("frame", 0, 2) == 0 {
				foot = boss + length("off", 2*mm, 20*mm)
				top = foot + thick + hole
				add(turns, foot, -half-thick, foot+thick, half+thick)
			}
			add(turns, foot, -half-thick, top+thick, -half)
			add(turns, foot, half, top+thick, half+thick)
			add(turns, top, -half-thick, top+thick, half+thick)
			return shapes
		default: // anywhere
			x, y := length("x", -2*boss, boss), length("y", -2*boss, boss)
			add(0, x, y, x+length("wide", mm, 2*boss), y+length("high", mm, 2*boss))
		}
	}
	return shapes
}
