package plan

import (
	"math"
	"testing"

	"golang.org/x/exp/slices"
	"pgregory.net/rapid"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
	"stopshort/toolpath/solid"
)

// Crossings by hand, by the triangles 3-4-5 and 5-12-13.
func TestCrossings(t *testing.T) {
	p := func(x, y measure.Length) outline.Point { return outline.Point{X: x * 1000, Y: y * 1000} }
	line := outline.Piece{Kind: outline.Line, From: p(0, 0), To: p(10, 0)}
	// A quarter of the circle of radius 5 about nought, from the right to the top.
	arc := outline.Piece{Kind: outline.Arc, From: p(5, 0), To: p(0, 5), Radius: 5000}
	quarter := func(y, x float64) float64 { return math.Atan2(y, x) / (math.Pi / 2) }
	for _, c := range []struct {
		what  string
		piece outline.Piece
		shape outline.Shape
		more  float64
		aside float64
		want  []float64
	}{
		{"a line through a disc", line, outline.Disc(p(5, 3), 5000), 0, 0, []float64{0, 0.1, 0.9, 1}},
		{"a line through a grown disc", line, outline.Disc(p(5, 3), 2000), 3000, 0, []float64{0, 0.1, 0.9, 1}},
		{"a line beside a disc", line, outline.Disc(p(5, 6), 5000), 0, 0, []float64{0, 1}},
		{"a line moved out of a disc", line, outline.Disc(p(5, 3), 5000), 0, 2500, []float64{0, 1}},
		{"an arc through a side", arc, outline.Rect(p(3, -20), p(20, 20)), 0, 0, []float64{0, quarter(4, 3), 1}},
		{"an arc through two sides", arc, outline.Rect(p(-20, -20), p(4, 4)), 0, 0, []float64{0, quarter(3, 4), quarter(4, 3), 1}},
		// The circle of radius 13 meets the one of radius 5 moved out by 8 at 12, 5.
		{"an arc moved to the right", arc, outline.Rect(p(-20, -20), p(12, 20)), 0, 8000, []float64{0, quarter(5, 12), 1}},
	} {
		got := trackOn(c.piece).crossings(curvesOf(c.shape, c.more), c.aside)
		if len(got) != len(c.want) {
			t.Errorf("%s: %v, want %v", c.what, got, c.want)
			continue
		}
		for i := range got {
			if math.Abs(got[i]-c.want[i]) > 1e-12 {
				t.Errorf("%s: %v, want %v", c.what, got, c.want)
			}
		}
	}
}

// A place in a rectangle is in it, on its boundary it is not, and a growth below
// nought counts from the nearest side.
func TestWithin(t *testing.T) {
	p := func(x, y measure.Length) outline.Point { return outline.Point{X: x, Y: y} }
	plate, bar := outline.Rect(p(0, 0), p(100, 50)), outline.Disc(p(0, 0), 50)
	for _, c := range []struct {
		s       outline.Shape
		more    float64
		x, y    float64
		want    bool
		comment string
	}{
		{plate, 0, 50, 25, true, "the middle"},
		{plate, 0, 0, 25, false, "on a side"},
		{plate, 5, -3, -4, false, "5 from a corner"},
		{plate, 5.1, -3, -4, true, "less than 5.1 from a corner"},
		{plate, -10, 50, 10, false, "10 inside"},
		{plate, -10, 50, 11, true, "11 inside"},
		{bar, 0, 30, 40, false, "on the skin"},
		{bar, 0, 30, 39, true, "under the skin"},
	} {
		if got := within(c.s, c.more, c.x, c.y); got != c.want {
			t.Errorf("%s: %v", c.comment, got)
		}
	}
}

// Whatever a piece of a contour is cut at: the parts join, begin and end where it
// does, every cut is on the grid, none is nearer to the part than the piece, and
// no part is so short that an arc could turn about.
func TestSplit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, shapes := drawGrid(t), drawPart(t)
		by := measure.Length(rapid.Int64Range(5_000_000, 60_000_000).Draw(t, "growth"))
		c := contoursOf(t, g, shapes, by)
		parts := rapid.SliceOfN(rapid.Float64Range(-0.1, 1.1), 0, 6).Draw(t, "parts")
		parts = append([]float64{0}, append(parts, 1)...)
		for _, p := range c.Outer {
			at := p.From
			out := g.split(p, sorted(parts))
			for i, q := range out {
				if q.From != at {
					t.Fatalf("%v is cut into %v", p, out)
				}
				at = q.To
				if q.Kind != p.Kind || q.Centre != p.Centre || q.Radius != p.Radius {
					t.Fatalf("%v is cut into %v", p, q)
				}
				if i > 0 {
					if g.Round(solid.X, q.From.X, measure.Nearest) != q.From.X || g.Round(solid.Y, q.From.Y, measure.Nearest) != q.From.Y {
						t.Fatalf("%v is cut at %v, which is not on the grid", p, q.From)
					}
					if q.Joint != outline.Smooth {
						t.Fatalf("a cut of %v is called a corner", p)
					}
					for _, s := range shapes {
						if !keepsOff(s, q.From, by) {
							t.Fatalf("%v is cut at %v, nearer than %v to %v", p, q.From, by, s)
						}
					}
				}
				if len(out) > 1 {
					if chord, _ := solid.Hypot(q.To.X-q.From.X, q.To.Y-q.From.Y); chord < tinyArc*g.Step(solid.X) {
						t.Fatalf("%v has a part of %v", p, chord)
					}
				}
			}
			if at != p.To {
				t.Fatalf("%v is cut into %v", p, out)
			}
		}
	})
}

func sorted(in []float64) []float64 {
	slices.Sort(in)
	return in
}
