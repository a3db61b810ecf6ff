package outline_test

import (
	"math"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
)

// buffered is everything that lies within the length of the library's polygons:
// these themselves and, for each of their sides, the convex hull of a strip
// beside it and of the sector at its far end, all joined by the library. Nothing
// is grown but the boundary of the whole.
func buffered(t testing.TB, g geom.Geometry, by float64, f fit) geom.Geometry {
	t.Helper()
	all := []geom.Geometry{g}
	for _, p := range polygons(t, g) {
		for _, ring := range p.DumpRings() {
			all = append(all, besideRing(ring.Coordinates(), by, f)...)
		}
	}
	return joinedByHalves(t, all)
}

func joinedByHalves(t testing.TB, all []geom.Geometry) geom.Geometry {
	t.Helper()
	if len(all) == 1 {
		return all[0]
	}
	m := len(all) / 2
	return libraryUnion(t, []geom.Geometry{joinedByHalves(t, all[:m]), joinedByHalves(t, all[m:])})
}

// besideRing are the hulls on the right of a closed ring. They go half as far to
// the left as well, and each a few degrees round the corner, so that they overlap:
// sides that they shared would leave slits as wide as the last place. All of that
// lies within the length of the side, too.
func besideRing(ring geom.Sequence, by float64, f fit) []geom.Geometry {
	n := ring.Length() - 1
	outward := func(i int) geom.XY {
		d := ring.GetXY(i%n + 1).Sub(ring.GetXY(i % n))
		return geom.XY{X: d.Y, Y: -d.X}.Scale(1 / d.Length())
	}
	var hulls []geom.Geometry
	for i := range n {
		a, b, out := ring.GetXY(i), ring.GetXY(i+1), outward(i)
		next := outward(i + 1)
		turn := math.Max(0, math.Atan2(out.Cross(next), out.Dot(next)))
		points := []geom.XY{a.Add(out.Scale(by)), a.Sub(out.Scale(by / 2)), b.Sub(out.Scale(by / 2)), b.Add(out.Scale(by))}
		if turn > 0 {
			points = append(points, arcPoints(b, out, turn, by, f)...)
			points = append(points, b.Add(next.Scale(by)))
		}
		points = append(points, b.Add(turned(out, turn+0.3).Scale(by)))
		hulls = append(hulls, polygon(points).ConvexHull())
	}
	return hulls
}

// arcPoints are the corners of the facets between the two ends of an arc.
func arcPoints(centre, start geom.XY, turn, radius float64, f fit) (between []geom.XY) {
	sides := math.Ceil(turn / (2 * math.Pi / facets))
	first := 1.0
	if f == without {
		first, radius = 0.5, radius/math.Cos(turn/sides/2)
	}
	for k := first; k < sides; k++ {
		between = append(between, centre.Add(turned(start, turn*k/sides).Scale(radius)))
	}
	return between
}

func turned(d geom.XY, by float64) geom.XY {
	sin, cos := math.Sincos(by)
	return geom.XY{X: d.X*cos - d.Y*sin, Y: d.X*sin + d.Y*cos}
}
