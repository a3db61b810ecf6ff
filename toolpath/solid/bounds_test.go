package solid

import (
	"math/rand/v2"
	"testing"
)

func TestBoundsByHand(t *testing.T) {
	for _, c := range []struct {
		name string
		b    Body
		want Box
	}{
		{"rod along Y", Cylinder{mmPoint(1, 9, 2), mmPoint(1, -9, 2), um(3000)}, Box{mmPoint(-2, -9, -1), mmPoint(4, 9, 5)}},
		// rising 3 to 4: the end's disc reaches 4/5 of the radius sideways, 3/5 up
		{"rod at an angle", Cylinder{mmPoint(0, 0, 0), mmPoint(30, 0, 40), um(5000)}, Box{mmPoint(-4, -5, -3), mmPoint(34, 5, 43)}},
		{"cone on a move", Sweep{Part{um(1000), um(3000), 0, um(2000)}, mmPoint(0, 0, 0), mmPoint(9, -4, -1)},
			Box{mmPoint(-2, -6, 0), mmPoint(11, 2, 3)}},
	} {
		if got := Bounds(c.b); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// Every point of a body lies in its bounds, and some point on each face.
func TestBoundsHold(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	for range 5000 {
		b := randomBody(r)
		k := Bounds(b)
		for i := range 3 {
			var d vector
			d[i] = 1
			high, low := reach(b, d), -reach(b, d.neg())
			h, l := float64(k.High.Along(Axis(i))), float64(k.Low.Along(Axis(i)))
			if h < high-0.01 || h > high+2 || l > low+0.01 || l < low-2 {
				t.Fatalf("%T %+v: %v to %v along %v, want %v to %v", b, b, l, h, Axis(i), low, high)
			}
		}
	}
}

func TestBoxPoints(t *testing.T) {
	b := Box{mmPoint(0, 0, 0), mmPoint(2, 3, 4)}
	for _, c := range []struct {
		p    Point
		want bool
	}{
		{mmPoint(1, 1, 1), true},
		{mmPoint(2, 3, 4), true},
		{mmPoint(2, 3, 4).Plus(Point{Z: 1}), false},
		{Point{X: -1}, false},
		{mmPoint(1, 3, 1).Plus(Point{Y: 1}), false},
	} {
		if got := b.Contains(c.p); got != c.want {
			t.Errorf("Contains(%v) = %v", c.p, got)
		}
	}
	touching := Box{mmPoint(2, 3, 4), mmPoint(5, 5, 5)}
	if !b.Overlaps(touching) || !touching.Overlaps(b) {
		t.Error("boxes that touch at a corner overlap")
	}
	touching.Low.Y++
	if b.Overlaps(touching) || touching.Overlaps(b) {
		t.Error("boxes 0.1 nm apart do not overlap")
	}
}

func TestAxis(t *testing.T) {
	for _, c := range []struct {
		to   Point
		want Axis
		ok   bool
	}{
		{mmPoint(-3, 0, 0), X, true},
		{mmPoint(0, 3, 0), Y, true},
		{mmPoint(0, 0, 3), Z, true},
		{Point{1, 0, 100}, X, false},
		{Point{}, X, false},
	} {
		if got, ok := (Cylinder{To: c.to}).Axis(); got != c.want || ok != c.ok {
			t.Errorf("to %v: %v, %v", c.to, got, ok)
		}
	}
}
