package outline_test

import (
	"math"
	"testing"

	"github.com/peterstace/simplefeatures/geom"

	"stopshort/toolpath/measure"
	. "stopshort/toolpath/outline"
)

// bracket is an outline with two unions that the library made: the least lies
// within it, the most round it.
type bracket struct {
	o           Outlines
	least, most geom.Geometry
}

// check holds the outline's area between the other two. Where these have the
// same number of pieces and holes, so that the facets decide nothing, and no
// boundaries touch, the outline must have that number too.
func (b bracket) check(t *testing.T) (compared bool) {
	t.Helper()
	area, least, most := areaOf(b.o), squareMM(b.least.Area()), squareMM(b.most.Area())
	if area < least-slop(b.o, b.least) || area > most+slop(b.o, b.most) {
		t.Errorf("%v mm², not from %v to %v", area, least, most)
	}
	n := libraryPieces(t, b.least)
	if n != libraryPieces(t, b.most) || len(b.o.Touches) > 0 {
		return false
	}
	if got := outlinePieces(b.o); got != n {
		t.Errorf("%+v, not %+v", got, n)
	}
	return true
}

// tally is what a run has met, so that it cannot pass on plain parts alone.
type tally struct {
	cases, compared, holes, loose, touches int
	widest                                 float64
}

func (s *tally) add(b bracket, compared bool) {
	s.cases++
	s.holes += len(b.o.Inner)
	s.loose += len(b.o.Loose)
	s.touches += len(b.o.Touches)
	s.widest = math.Max(s.widest, b.most.Area()/b.least.Area()-1)
	if compared {
		s.compared++
	}
}

// Each shape as a polygon within it, and as one round it: what these cover
// together lies within the union and round it, so that its area is between
// theirs. That is the whole bound. It is no wider than what the facets of the single
// shapes come to: n r² (tan a - sin a cos a), of n facets of half angle a.
func TestUnionsAgainstTheLibrarys(t *testing.T) {
	t.Parallel()
	const a = math.Pi / facets
	var seen tally
	for seed := range int64(300) {
		pick := randomPick(seed)
		shapes := drawPart(pick)
		grown := []measure.Length{len4(3.175), measure.Length(pick("by", 1, int(8*mm)))}[seed%2]
		for _, by := range []measure.Length{0, grown} {
			b := bracket{union(t, by, shapes...), facetedUnion(t, shapes, by, within), facetedUnion(t, shapes, by, without)}
			seen.add(b, b.check(t))
			bound := 0.0
			for _, s := range shapes {
				r := float64(s.Radius + by)
				bound += facets * r * r * (math.Tan(a) - math.Sin(a)*math.Cos(a))
			}
			if wide := squareMM(b.most.Area() - b.least.Area()); wide > squareMM(bound)+slop(b.o, b.most) {
				t.Errorf("the library's unions are %v mm² apart, not %v at most", wide, squareMM(bound))
			}
			if t.Failed() {
				t.Fatalf("part %d: %v grown by %v", seed, shapes, by)
			}
		}
	}
	t.Logf("%+v", seen)
	if seen.compared < seen.cases*9/10 || seen.holes < 100 || seen.loose < 100 || seen.touches < 50 {
		t.Errorf("too little was met: %+v", seen)
	}
}

// The whole union grown by the library, not its shapes: the outline lies between
// what the library makes of the polygons within and of those round it, by 3 tenths
// less and by 3 more so that rounding does not matter. A place on the outline is
// no further from the inner one than the facets are off: of the largest circle
// before it is grown and of the growth, r (1 - cos a) each.
func TestGrownOutlinesAgainstTheLibrarys(t *testing.T) {
	t.Parallel()
	const off = measure.Length(3)
	var seen tally
	furthest := 0.0
	for seed := range int64(60) {
		pick := randomPick(1000 + seed)
		shapes := drawPart(pick)
		by := []measure.Length{len4(3.175), len4(0.2), len4(1.5875), measure.Length(pick("by", int(mm/10), int(8*mm)))}[seed%4]
		b := bracket{
			union(t, by, shapes...),
			buffered(t, facetedUnion(t, shapes, 0, within), float64(by-off), within),
			buffered(t, facetedUnion(t, shapes, 0, without), float64(by+off), without),
		}
		seen.add(b, b.check(t))
		largest := measure.Length(0)
		for _, s := range shapes {
			largest = max(largest, s.Radius)
		}
		most := float64(largest+by)*(1-math.Cos(math.Pi/facets)) + float64(off) + 1
		inner := b.least.Boundary()
		for _, l := range b.o.Loops() {
			for _, p := range l {
				for _, part := range []float64{0, 0.29, 0.5} {
					x, y, _, _ := on(p, part, 0)
					d, ok := geom.Distance(geom.XY{X: x, Y: y}.AsPoint().AsGeometry(), inner)
					if !ok || d > most {
						t.Errorf("%v, %v of the way: %v tenths off, not %v at most", p, part, d, most)
					}
					furthest = math.Max(furthest, d/most)
				}
			}
		}
		for _, p := range corners(b.least) {
			if !holds(b.o, p) {
				t.Errorf("(%v, %v) is not material", p.X, p.Y)
			}
		}
		for _, p := range corners(b.most) {
			if holds(b.o, p) {
				t.Errorf("(%v, %v) is material", p.X, p.Y)
			}
		}
		if t.Failed() {
			t.Fatalf("part %d: %v grown by %v", seed, shapes, by)
		}
	}
	t.Logf("%+v, at most %.3f of the distance allowed", seen, furthest)
	if seen.compared < seen.cases*9/10 || seen.holes < 5 || seen.loose < 5 {
		t.Errorf("too little was met: %+v", seen)
	}
}

func corners(g geom.Geometry) (all []Point) {
	seq := g.DumpCoordinates()
	for i := range seq.Length() {
		p := seq.GetXY(i)
		all = append(all, Point{measure.Length(math.Round(p.X)), measure.Length(math.Round(p.Y))})
	}
	return all
}
