package solid

import (
	"math/big"
	"testing"

	"stopshort/toolpath/measure"
)

// The line from 0, 0 to 8, 6 (10 long): the place 4 to its left and half way is
// 4 away; beyond an end the end counts.
func TestNearALine(t *testing.T) {
	const mm = measure.Millimetre
	pt := func(x, y measure.Length) Point { return Point{X: x * mm, Y: y * mm} }
	a, b := pt(0, 0), pt(8, 6)
	for _, c := range []struct {
		what string
		at   Point
		away measure.Length // millimetres
	}{
		{"on it", pt(4, 3), 0},
		{"beside it, to the left", pt(1, 7), 5}, // 4, 3 and 5 along -3/5, 4/5
		{"beside it, to the right", pt(7, -1), 5},
		{"before its start", pt(-3, -4), 5},
		{"beyond its end", pt(11, 10), 5},
		{"at its end", b, 0},
	} {
		c.at.Z = 77 * mm // the height does not count
		n, d := SquareApart(a, b, c.at)
		want := new(big.Int).Mul(square(c.away*mm), d)
		if n.Cmp(want) != 0 {
			t.Errorf("%s: the square is %v/%v, want that of %d mm", c.what, n, d, c.away)
		}
		if !Near(a, b, c.at, c.away*mm) {
			t.Errorf("%s: not within %d mm", c.what, c.away)
		}
		if c.away > 0 && Near(a, b, c.at, c.away*mm-1) {
			t.Errorf("%s: within a tenth of a nanometre less than %d mm", c.what, c.away)
		}
	}
	// A line without a length is a place.
	if !Near(a, a, pt(3, 4), 5*mm) || Near(a, a, pt(3, 4), 5*mm-1) {
		t.Error("3, 4 is not 5 from a place")
	}
}
