package limit

import (
	"testing"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// The metal under a slot of 4 along X, from X -10 to 10, in blanks of pieces.
func TestFloorUnder(t *testing.T) {
	box := func(x, y, z, x2, y2, z2 measure.Length) solid.Body {
		return solid.Box{Low: at(x, y, z), High: at(x2, y2, z2)}
	}
	lying := solid.Cylinder{From: at(-20, 0, -10), To: at(20, 0, -10), Radius: 10 * mm}
	standing := solid.Cylinder{From: at(0, 0, -20), To: at(0, 0, 0), Radius: 15 * mm}
	far := box(30, 30, -20, 31, 31, 0)
	for _, c := range []struct {
		what    string
		metal   []solid.Body
		y, z    measure.Length
		atLeast measure.Length
		atMost  measure.Length
	}{
		{"a block", []solid.Body{box(-20, -10, -20, 20, 10, 0), far}, 0, -6, 14, 14},
		{"a plate on a block, all of it", []solid.Body{box(-20, -10, -20, 20, 10, -4), box(-20, -10, -4, 20, 10, 0)}, 0, -3, 17, 17},
		{"a plate that sticks out over a block", []solid.Body{box(-20, -10, -20, 0, 10, 0), box(-20, -10, -4, 20, 10, 0)}, 0, -3, 1, 1},
		{"through that plate", []solid.Body{box(-20, -10, -20, 0, 10, 0), box(-20, -10, -4, 20, 10, 0)}, 0, -6, -2, -2},
		{"two blocks side by side", []solid.Body{box(-20, -10, -20, 0, 10, 0), box(0, -10, -20, 20, 10, 0)}, 0, -6, 14, 14},
		{"air under the blank", []solid.Body{box(-20, -10, -5, 20, 10, 0), box(-20, -10, -20, 20, 10, -8)}, 0, -3, 2, 2},
		// Beside a lying bar's axis by 4, its far side by 6: the underside there is at -18.
		{"a lying bar", []solid.Body{lying, far}, 4, -8, 10, 10},
		// Its far side beyond the bar: it must not go below the bar's middle.
		{"a lying bar's flank", []solid.Body{lying, far}, 9, -8, 2, 2},
		{"out through a lying bar's flank", []solid.Body{lying, far}, 9, -12, -2, -2},
		{"a standing bar", []solid.Body{standing, far}, 0, -6, 14, 14},
		{"beside all metal", []solid.Body{far, far}, 0, -6, solid.Far / mm, solid.Far / mm},
	} {
		b := newBoard(t)
		b.setup.Metal = c.metal
		j := New(&b.setup, b.machine)
		got := j.floorUnder(piece{from: at(-10, c.y, c.z), to: at(10, c.y, c.z)}, 2*mm)
		if got < c.atLeast*mm || got > c.atMost*mm {
			t.Errorf("%s: %s under it, want %s to %s", c.what, got, c.atLeast*mm, c.atMost*mm)
		}
	}
}
