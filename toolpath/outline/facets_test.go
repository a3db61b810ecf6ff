package outline_test

import (
	"math"
	"testing"

	"github.com/peterstace/simplefeatures/geom"

	"stopshort/toolpath/measure"
	. "stopshort/toolpath/outline"
)

// facets is the number of sides that a whole circle is given for the geometry
// library, which knows straight lines only.
const facets = 128

// fit is how a polygon lies to the circle that it stands for.
type fit bool

const (
	within  fit = false // its corners on the circle
	without fit = true  // its sides touch the circle
)

// direction is the unit vector at so many halves of a facet. Those along the
// axes are exact.
func direction(halves int) geom.XY {
	const quarter = facets / 2
	sin, cos := math.Sincos(float64(halves%quarter) * math.Pi / facets)
	d := geom.XY{X: cos, Y: sin}
	for range halves / quarter % 4 {
		d = geom.XY{X: -d.Y, Y: d.X}
	}
	return d
}

// faceted is the grown shape as a polygon, within it or round it: in tenths of a
// nanometre, which float64 holds without rounding up to 2^53.
func faceted(s Shape, by measure.Length, f fit) geom.Geometry {
	r := float64(s.Radius + by)
	var ring []geom.XY
	put := func(c Point, d geom.XY, r float64) {
		p := geom.XY{X: float64(c.X) + float64(d.X*r), Y: float64(c.Y) + float64(d.Y*r)}
		if len(ring) == 0 || ring[len(ring)-1] != p {
			ring = append(ring, p)
		}
	}
	for q, c := range []Point{s.High, {s.Low.X, s.High.Y}, s.Low, {s.High.X, s.Low.Y}} {
		for k := 0; k <= facets/2; k++ {
			end := k == 0 || k == facets/2 // where a straight side begins or ends
			switch odd := k%2 == 1; {
			case f == within && !odd, f == without && end:
				put(c, direction(q*facets/2+k), r)
			case f == without && odd:
				put(c, direction(q*facets/2+k), r/math.Cos(math.Pi/facets))
			}
		}
	}
	return polygon(ring)
}

// polygon is the library's polygon of a ring that is closed here.
func polygon(ring []geom.XY) geom.Geometry {
	if ring[0] != ring[len(ring)-1] {
		ring = append(ring, ring[0])
	}
	flat := make([]float64, 0, 2*len(ring))
	for _, p := range ring {
		flat = append(flat, p.X, p.Y)
	}
	line := geom.NewLineString(geom.NewSequence(flat, geom.DimXY))
	return geom.NewPolygon([]geom.LineString{line}).AsGeometry()
}

// facetedUnion is the library's union of the shapes as polygons.
func facetedUnion(t testing.TB, shapes []Shape, by measure.Length, f fit) geom.Geometry {
	t.Helper()
	var all []geom.Geometry
	for _, s := range shapes {
		all = append(all, faceted(s, by, f))
	}
	return libraryUnion(t, all)
}

// libraryUnion joins one after the other: told all at once, this version of the
// library leaves a hole where four bars in a ring lie on a plate.
func libraryUnion(t testing.TB, all []geom.Geometry) geom.Geometry {
	t.Helper()
	u := all[0]
	for _, g := range all[1:] {
		var err error
		if u, err = geom.Union(u, g); err != nil {
			t.Fatalf("the library has no union: %v", err)
		}
	}
	return u
}

// polygons are the separate pieces of a library's union, with the material on
// the left of each ring.
func polygons(t testing.TB, g geom.Geometry) []geom.Polygon {
	t.Helper()
	switch {
	case g.IsPolygon():
		return []geom.Polygon{g.MustAsPolygon().ForceCCW()}
	case g.IsMultiPolygon():
		return g.MustAsMultiPolygon().ForceCCW().Dump()
	}
	t.Fatalf("the library's union is a %s", g.Type())
	return nil
}

// pieces are how many separate pieces and holes there are.
type pieces struct{ separate, holes int }

func libraryPieces(t testing.TB, g geom.Geometry) pieces {
	t.Helper()
	var n pieces
	for _, p := range polygons(t, g) {
		n.separate++
		n.holes += p.NumInteriorRings()
	}
	return n
}

func outlinePieces(o Outlines) pieces { return pieces{1 + len(o.Loose), len(o.Inner)} }

// squareMM is an area in square millimetres from one in square tenths of a
// nanometre.
func squareMM(a float64) float64 { return a / float64(mm) / float64(mm) }

func areaOf(o Outlines) float64 {
	sum := 0.0
	for _, l := range o.Loops() {
		sum += l.Area()
	}
	return sum
}

// slop is what rounding may take from an area or add to it, in mm²: a tenth of
// a nanometre all along both boundaries. The outline's ends are rounded by 0.71
// of a tenth at most. The library merges points that are nearer than three
// times 512 steps of the last place each way, three times over: of coordinates
// below 2^31 tenths that is less than 2^-9.
func slop(o Outlines, g geom.Geometry) float64 {
	long := g.Boundary().Length()
	for _, l := range o.Loops() {
		long += float64(l.Length())
	}
	return squareMM(long)
}
