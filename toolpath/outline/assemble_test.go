package outline

import (
	"testing"

	"stopshort/toolpath/measure"
)

// A piece that is rounded away leaves its corner to the next one.
func TestSpecks(t *testing.T) {
	p := func(x1, y1, x2, y2 measure.Length, j Joint) Piece {
		return Piece{From: Point{x1, y1}, To: Point{x2, y2}, Joint: j}
	}
	l := Loop{p(5, 5, 5, 5, Left), p(5, 5, 0, 5, Smooth), p(0, 5, 0, 5, Right), p(0, 5, 0, 0, Smooth), p(0, 0, 5, 5, Left), p(5, 5, 5, 5, Right)}
	got := l.withoutSpecks()
	want := []Joint{Right, Right, Left}
	if len(got) != len(want) {
		t.Fatalf("%v", got)
	}
	for i, j := range want {
		if got[i].Joint != j {
			t.Errorf("piece %d: %v, not %v", i, got[i].Joint, j)
		}
	}
	if l := (Loop{p(1, 1, 1, 1, Right), p(1, 1, 1, 1, Right)}).withoutSpecks(); len(l) != 0 {
		t.Errorf("specks alone are %v", l)
	}
}
