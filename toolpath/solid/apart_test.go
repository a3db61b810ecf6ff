package solid

import (
	"math/rand/v2"
	"testing"
)

func TestApart(t *testing.T) {
	b := Box{Point{0, 0, 0}, Point{10, 20, 30}}
	for _, c := range []struct {
		what string
		o    Box
		want int64
	}{
		{"to the right", Box{Point{13, 5, 5}, Point{20, 6, 6}}, 3},
		{"to the left", Box{Point{-20, 5, 5}, Point{-7, 6, 6}}, 7},
		{"behind", Box{Point{0, 24, 0}, Point{1, 25, 1}}, 4},
		{"in front", Box{Point{0, -9, 0}, Point{1, -8, 1}}, 8},
		{"above", Box{Point{0, 0, 35}, Point{1, 1, 36}}, 5},
		{"below", Box{Point{0, 0, -9}, Point{1, 1, -6}}, 6},
		{"aside two ways: the wider gap", Box{Point{13, 24, 0}, Point{20, 30, 1}}, 4},
		{"touching", Box{Point{10, 0, 0}, Point{11, 1, 1}}, 0},
		{"a corner in: 2, 3 and 4 deep", Box{Point{8, 17, 26}, Point{50, 50, 50}}, -2},
		{"all of it inside: 3 out to the left", Box{Point{1, 9, 9}, Point{3, 11, 11}}, -3},
	} {
		if got := b.Apart(c.o); int64(got) != c.want || c.o.Apart(b) != got {
			t.Errorf("%s: %d and back %d, want %d", c.what, got, c.o.Apart(b), c.want)
		}
	}
}

// The box about two holds both and has a face of one of them on every side, and
// corners may be given in any order.
func TestBoxAboutTwo(t *testing.T) {
	p, q := Point{5, -3, 9}, Point{-1, 7, 2}
	want := Box{Point{-1, -3, 2}, Point{5, 7, 9}}
	if got := Corners(p, q); got != want {
		t.Errorf("corners: %v, want %v", got, want)
	}
	if got := Corners(q, p); got != want {
		t.Errorf("corners the other way: %v, want %v", got, want)
	}
	a, b := Box{Point{0, 0, 0}, Point{1, 9, 1}}, Box{Point{-4, 2, 0}, Point{0, 3, 6}}
	if got := a.With(b); got != (Box{Point{-4, 0, 0}, Point{1, 9, 6}}) || b.With(a) != got {
		t.Errorf("with: %v", got)
	}
}

// Apart is no more than the distance, whose upper bound [Between] proves.
func TestApartIsNoMore(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		s, b := randomSweep(r), randomBody(r)
		g := Between(s, b, Far)
		if a := Bounds(s).Apart(Bounds(b)); a > 2 && a > g.High { // bounds may stand out by a tenth
			t.Fatalf("apart %d, distance at most %d: %v, %v", a, g.High, s, b)
		}
	}
}
