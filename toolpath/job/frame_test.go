package job

import (
	"testing"

	"pgregory.net/rapid"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

const mm = measure.Millimetre

// The demo part, by hand: B.Z = A.Y - 16.5 and B.Y = -A.Z - 6.35, X as before.
func TestDemoFrame(t *testing.T) {
	f, err := NewFrame("+y", "+x", solid.Point{Y: 165 * mm / 10, Z: -635 * mm / 100})
	if err != nil {
		t.Fatal(err)
	}
	got := f.Point(solid.Point{X: 7 * mm, Y: 20 * mm, Z: -2 * mm})
	want := solid.Point{X: 7 * mm, Y: 2*mm - 635*mm/100, Z: 20*mm - 165*mm/10}
	if got != want {
		t.Errorf("got %v, want %v", got, want)
	}
	// A's top face comes to the front: from the bar's middle it lies towards -Y.
	top := f.Turn(solid.Point{Z: mm})
	if top != (solid.Point{Y: -mm}) {
		t.Errorf("A's up turns to %v, want the front", top)
	}
	// The bore along A's Z lies along B's Y, and half way along it is 16.5 down.
	c := f.Cylinder(solid.Cylinder{From: solid.Point{Z: -127 * mm / 10}, To: solid.Point{}, Radius: 9525 * mm / 1000})
	if c.From.Z != -165*mm/10 || c.To.Z != -165*mm/10 || c.From.X != 0 {
		t.Errorf("the bore turns to %v", c)
	}
}

// The six words give 24 turns, each a turn and not a mirror: X cross Y is Z.
func TestTwentyFourTurns(t *testing.T) {
	seen := map[[3]solid.Point]bool{}
	for _, up := range directions {
		for _, right := range directions {
			f, err := NewFrame(up, right, solid.Point{})
			if up[1] == right[1] {
				if err == nil {
					t.Errorf("up %s, right %s was taken", up, right)
				}
				continue
			}
			if err != nil {
				t.Fatal(err)
			}
			x, y, z := f.Turn(solid.Point{X: 1}), f.Turn(solid.Point{Y: 1}), f.Turn(solid.Point{Z: 1})
			det := x.X*(y.Y*z.Z-y.Z*z.Y) - x.Y*(y.X*z.Z-y.Z*z.X) + x.Z*(y.X*z.Y-y.Y*z.X)
			if det != 1 {
				t.Errorf("up %s, right %s: determinant %d, a mirror", up, right, det)
			}
			a, s := direction(up)
			if got := f.Turn(solid.Point{}.With(a, s)); got != (solid.Point{Z: 1}) {
				t.Errorf("up %s points to %v", up, got)
			}
			a, s = direction(right)
			if got := f.Turn(solid.Point{}.With(a, s)); got != (solid.Point{X: 1}) {
				t.Errorf("right %s points to %v", right, got)
			}
			if f.Word(solid.Z, 1) != up || f.Word(solid.X, 1) != right {
				t.Errorf("up %s, right %s is spoken of as %s, %s", up, right, f.Word(solid.Z, 1), f.Word(solid.X, 1))
			}
			seen[[3]solid.Point{x, y, z}] = true
		}
	}
	if len(seen) != 24 {
		t.Errorf("%d different turns, want 24", len(seen))
	}
}

// Whatever the turn, the zero and the place: there and back again is the place,
// both ways.
func TestBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		place := func(name string) solid.Point {
			l := rapid.Int64Range(-int64(measure.MaxLength), int64(measure.MaxLength))
			return solid.Point{X: measure.Length(l.Draw(t, name)), Y: measure.Length(l.Draw(t, name)), Z: measure.Length(l.Draw(t, name))}
		}
		up := rapid.SampledFrom(directions).Draw(t, "up")
		right := rapid.SampledFrom(directions).Draw(t, "right")
		f, err := NewFrame(up, right, place("zero"))
		if err != nil {
			t.Skip(err)
		}
		p := place("place")
		if got := f.Back(f.Point(p)); got != p {
			t.Fatalf("up %s, right %s: %v comes back as %v", up, right, p, got)
		}
		if got := f.Point(f.Back(p)); got != p {
			t.Fatalf("up %s, right %s: %v of the set-up comes back as %v", up, right, p, got)
		}
	})
}
