package outline_test

import (
	"fmt"
	"math"
	"testing"

	"stopshort/toolpath/measure"
	. "stopshort/toolpath/outline"
)

func TestALoopReversed(t *testing.T) {
	o := union(t, 0, disc(0, 0, 5), rect(0, 0, 10, 10))
	l := o.Outer
	r := l.Reversed()
	if r.Area() != -l.Area() || r.Length() != l.Length() {
		t.Errorf("area %v and %v, length %v and %v", r.Area(), l.Area(), r.Length(), l.Length())
	}
	for i, p := range r {
		q := l[len(l)-1-i]
		if p.From != q.To || p.To != q.From || p.Centre != q.Centre {
			t.Errorf("%v of %v", p, q)
		}
		if p.To != r[(i+1)%len(r)].From {
			t.Errorf("open after %v", p)
		}
		if p.Kind == Arc && p.Sense != Clockwise {
			t.Errorf("%v", p)
		}
	}
	joints := map[Point]Joint{}
	for _, p := range l {
		joints[p.From] = p.Joint
	}
	// Square corners at three corners of the rectangle, and two where the circle
	// comes out of its sides at right angles.
	want := map[Point]Joint{at(10, 0): Left, at(10, 10): Left, at(0, 10): Left, at(0, 5): Right, at(5, 0): Right, at(0, -5): Smooth}
	for p, j := range want {
		if joints[p] != j {
			t.Errorf("at %v: %v, not %v", p, joints[p], j)
		}
	}
	turned := map[Joint]Joint{Left: Right, Right: Left, Smooth: Smooth}
	for _, p := range r {
		if want := turned[joints[p.From]]; p.Joint != want {
			t.Errorf("at %v the other way: %v, not %v", p.From, p.Joint, want)
		}
	}
	if b := l.From(2); b[0] != l[2] || b[len(b)-1] != l[1] || len(b) != len(l) {
		t.Errorf("from another piece: %v", b)
	}
	low, high := r.Bounds()
	if low != at(-5, -5) || high != at(10, 10) {
		t.Errorf("bounds %v %v", low, high)
	}
}

func TestContainsToTheTenth(t *testing.T) {
	o := union(t, 0, disc(0, 0, 5), rect(0, 0, 10, 10))
	for _, l := range []Loop{o.Outer, o.Outer.Reversed()} {
		for _, c := range []struct {
			p    Point
			want bool
		}{
			{at(0, 0), true}, {at(10, 10), true}, {at(10, 5), true}, {at(-5, 0), true},
			{Point{len4(10) + 1, len4(5)}, false},
			{Point{len4(10) - 1, len4(10)}, true},
			{Point{len4(10), len4(10) + 1}, false},
			{Point{-len4(5) - 1, 0}, false},
			{Point{-len4(5) + 1, 0}, true},
			{at(-3, 4), true},  // on the circle: 3-4-5
			{at(-3, -4), true}, // the same
			{Point{-len4(3) - 1, len4(4)}, false},
			{Point{-len4(3), -len4(4) - 1}, false},
			{at(3, -4), true},
			{at(0, 7.5), true},
			{Point{-1, len4(7.5)}, false},
			{at(-4, 4), false},
			{at(6, -1), false},
			{Point{len4(6), -1}, false},
			{at(100, 5), false}, {at(-100, 5), false}, {at(-100, 0), false}, {at(-100, 10), false}, {at(-100, -5), false},
		} {
			if got := l.Contains(c.p); got != c.want {
				t.Errorf("%v: %v", c.p, got)
			}
		}
	}
	if (Loop{}).Contains(Point{}) {
		t.Error("an empty loop contains a point")
	}
	hole := union(t, 0, rect(0, 0, 20, 5), rect(0, 15, 20, 20), rect(0, 0, 5, 20), rect(15, 0, 20, 20)).Inner[0]
	if !hole.Contains(at(10, 10)) || hole.Contains(at(2, 2)) || hole.Area() != -100 {
		t.Errorf("the hole %v of %v mm²", hole, hole.Area())
	}
}

func TestLengths(t *testing.T) {
	for _, c := range []struct {
		s    Shape
		want float64 // mm
	}{
		{disc(3, -2, 5), 10 * math.Pi},
		{rect(0, 0, 3, 4), 14},
		{rect(0, 0, 3, 4).Grow(len4(0.5)), 14 + math.Pi},
	} {
		l := union(t, 0, c.s).Outer
		if got := float64(l.Length()) / 1e7; math.Abs(got-c.want) > 2e-7 {
			t.Errorf("%v: %v mm, not %v", c.s, got, c.want)
		}
	}
}

func ExampleUnion() {
	boss := Disc(Point{}, 500*measure.Thou)
	lug := Rect(Point{0, -250 * measure.Thou}, Point{measure.Inch, 250 * measure.Thou})
	cutter := measure.Inch / 8

	o, err := Union([]Shape{boss, lug}, cutter)
	if err != nil {
		fmt.Println(err)
		return
	}
	if err := o.Certify([]Shape{boss, lug}, cutter); err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range o.Outer {
		fmt.Printf("%s to X %s Y %s\n", p.Kind, p.To.X.Inches(4), p.To.Y.Inches(4))
	}
	// Output:
	// line to X 1.1250 Y 0.2500
	// arc to X 1.0000 Y 0.3750
	// line to X 0.5000 Y 0.3750
	// arc to X -0.6250 Y 0.0000
	// arc to X 0.5000 Y -0.3750
	// line to X 1.0000 Y -0.3750
	// arc to X 1.1250 Y -0.2500
}

func BenchmarkUnion(b *testing.B) {
	shapes := []Shape{disc(0, 0, 12.7), rect(-8, 0, 8, 16.5), rect(-21.5, -6.35, 21.5, 6.35)}
	b.Run("clamp", func(b *testing.B) {
		for range b.N {
			if _, err := Union(shapes, len4(3.175)); err != nil {
				b.Fatal(err)
			}
		}
	})
	o := union(b, len4(3.175), shapes...)
	b.Run("certify", func(b *testing.B) {
		for range b.N {
			if err := o.Certify(shapes, len4(3.175)); err != nil {
				b.Fatal(err)
			}
		}
	})
}
