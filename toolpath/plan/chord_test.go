package plan

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// drawArc is an arc on a grid whose ends lie on no common circle but nearly.
func drawArc(t *rapid.T) (g Grid, from solid.Point, arc toolpath.Move, off measure.Length) {
	m := &machines.Machine{Units: rapid.SampledFrom([]measure.Unit{measure.MM, measure.In}).Draw(t, "unit"),
		Controller: &machines.Controller{Places: rapid.IntRange(2, 5).Draw(t, "places")}}
	g = ForMachine(m)
	s := g.Step(solid.X)
	r := math.Pow(10, rapid.Float64Range(0, 6).Draw(t, "radius, power of ten of steps"))
	r = min(r, 1e11/float64(s))
	a := rapid.Float64Range(0, 2*math.Pi).Draw(t, "start")
	sweep := rapid.Float64Range(0.01, 2*math.Pi-0.01).Draw(t, "sweep")
	arc = toolpath.Move{Kind: toolpath.Arc, Feed: 1, Hollow: rapid.Bool().Draw(t, "metal outside"),
		Sense: rapid.SampledFrom([]toolpath.Sense{toolpath.Clockwise, toolpath.Anticlockwise}).Draw(t, "sense")}
	if arc.Sense == toolpath.Clockwise {
		sweep = -sweep
	}
	step := func(n float64) measure.Length { return measure.Length(math.Round(n)) * s }
	arc.Centre = solid.Point{X: step(rapid.Float64Range(-1000, 1000).Draw(t, "x")), Y: step(rapid.Float64Range(-1000, 1000).Draw(t, "y"))}
	at := func(a float64, z measure.Length) solid.Point {
		return solid.Point{X: arc.Centre.X + step(r*math.Cos(a)), Y: arc.Centre.Y + step(r*math.Sin(a)), Z: z}
	}
	from = at(a, 0)
	arc.To = at(a+sweep, step(float64(rapid.IntRange(-1, 1).Draw(t, "helix"))*rapid.Float64Range(1, 1000).Draw(t, "depth")))
	off = s.MulDiv(rapid.Int64Range(400, 20000).Draw(t, "tolerance, hundredths of a step"), 100, measure.Ceil)
	apart := from.Minus(arc.To)
	if from == arc.Centre || arc.To == arc.Centre || max(apart.X.Abs(), apart.Y.Abs()) < 2*s {
		t.Skip("no arc")
	}
	return g, from, arc, off
}

// Chords are on the grid and join the arc's ends; no point of them is on the metal's
// side of the arc, further from it than the tolerance, nor deeper than the arc is at
// that angle; and they go round just as far. Points along the chords are looked at by
// their distance and angle from the centre.
func TestChords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, from, arc, off := drawArc(t)
		chords, err := g.Chords(from, arc, off)
		if err != nil {
			t.Fatal(err)
		}
		dist := func(p solid.Point) float64 { return math.Hypot(float64(p.X-arc.Centre.X), float64(p.Y-arc.Centre.Y)) }
		angle := func(p solid.Point) float64 { return math.Atan2(float64(p.Y-arc.Centre.Y), float64(p.X-arc.Centre.X)) }
		ra, rb := dist(from), dist(arc.To)
		low, high := min(ra, rb), max(ra, rb)
		eps := 1 + high*1e-12
		turn := func(a, b float64) float64 { // the way from one angle to the next, as the arc goes
			d := b - a
			if arc.Sense == toolpath.Clockwise {
				d = -d
			}
			for d < -math.Pi {
				d += 2 * math.Pi
			}
			for d > math.Pi {
				d -= 2 * math.Pi
			}
			return d
		}
		whole := turn(angle(from), angle(arc.To))
		if whole < 0 {
			whole += 2 * math.Pi
		}
		at, gone := from, 0.0
		step := g.Step(solid.X)
		for i, c := range chords {
			if c.Kind != toolpath.Line || c.To == at || c.Feed != arc.Feed {
				t.Fatalf("chord %d: %+v from %v", i, c, at)
			}
			if c.To.X%step != 0 || c.To.Y%step != 0 || c.To.Z%step != 0 {
				t.Fatalf("chord %d ends off the grid, at %v", i, c.To)
			}
			const parts = 16
			for k := 0; k <= parts; k++ {
				f := float64(k) / parts
				x := float64(at.X-arc.Centre.X) + f*float64(c.To.X-at.X)
				y := float64(at.Y-arc.Centre.Y) + f*float64(c.To.Y-at.Y)
				z := float64(at.Z) + f*float64(c.To.Z-at.Z)
				r := math.Hypot(x, y)
				if arc.Hollow && (r > high+eps || r < low-float64(off)-eps) || !arc.Hollow && (r < low-eps || r > high+float64(off)+eps) {
					t.Fatalf("chord %d of %d is %.1f from the centre, the ends %.1f and %.1f, tolerance %d", i, len(chords), r, ra, rb, off)
				}
				if low < 20*float64(step) {
					continue // its angles are the grid's
				}
				share := (gone + turn(angle(at), math.Atan2(y, x))) / whole
				slip := 2 * float64(step) / (low * whole) // what rounding turns a corner by
				deep := float64(arc.To.Z-from.Z) * share
				if share < -slip || share > 1+slip || z < deep-math.Abs(float64(arc.To.Z-from.Z))*slip-eps {
					t.Fatalf("chord %d of %d: at %.6f of the way %.1f high, and the arc %.1f", i, len(chords), share, z, deep)
				}
			}
			gone += turn(angle(at), angle(c.To))
			at = c.To
		}
		if at != arc.To {
			t.Fatalf("they end at %v and the arc at %v", at, arc.To)
		}
		if low >= 20*float64(step) && math.Abs(gone-whole) > 1e-6 {
			t.Fatalf("they go round by %v and the arc by %v", gone, whole)
		}
	})
}

// A quarter of 10 mm to 0.06 mm at 3 places. Metal inside: by hand, a corner over the
// middle of n equal parts stands at 10.001/cos(45/n deg): of 8 parts, at
// 10.001/cos(5.625 deg) = 10.0494 mm; of 4 it would be 10.197. Metal outside: of 8 parts
// a chord's middle is at 9.99928*cos(5.625 deg) = 9.9511 mm; of 4 it would be at 9.807.
func TestQuarterInChords(t *testing.T) {
	m := &machines.Machine{Units: measure.MM, Controller: &machines.Controller{Places: 3}}
	g := ForMachine(m)
	mm := measure.Millimetre
	arc := toolpath.Move{Kind: toolpath.Arc, To: solid.Point{Y: 10 * mm}, Sense: toolpath.Anticlockwise, Feed: 1}
	for _, c := range []struct {
		hollow bool
		n      int
		first  solid.Point
	}{
		// at 5.625 deg: 10.0494 times 0.995185 and 0.098017
		{false, 9, solid.Point{X: 100_010_000, Y: 9_850_000}},
		// at 11.25 deg: 9.99928 times 0.980785 and 0.195090
		{true, 8, solid.Point{X: 98_070_000, Y: 19_510_000}},
	} {
		arc.Hollow = c.hollow
		chords, err := g.Chords(solid.Point{X: 10 * mm}, arc, 6*mm/100)
		if err != nil {
			t.Fatal(err)
		}
		if len(chords) != c.n || chords[0].To != c.first {
			t.Errorf("metal outside %v: %d chords, the first to %v; want %d, %v", c.hollow, len(chords), chords[0].To, c.n, c.first)
		}
	}
}

// Where a controller takes arcs, those that close on its grid stay, and an arc whose
// radii differ by more than readers allow is put in chords.
func TestArcsThatDoNotClose(t *testing.T) {
	mm := measure.Millimetre
	m := &machines.Machine{Units: measure.MM, Controller: &machines.Controller{Places: 3, Arcs: "centre"}}
	for _, c := range []struct {
		end  measure.Length
		arcs bool
	}{{10*mm + 20_000, true}, {10*mm - 20_000, true}, {10*mm + 30_000, false}, {10*mm - 30_000, false}} {
		op := toolpath.Operation{Passes: []toolpath.Pass{{Moves: []toolpath.Move{
			{Kind: toolpath.Rapid, To: solid.Point{X: 10 * mm}},
			{Kind: toolpath.Arc, To: solid.Point{Y: c.end}, Sense: toolpath.Anticlockwise, Feed: 1},
		}}}}
		got, err := Chorded(op, m)
		if err != nil {
			t.Fatal(err)
		}
		moves := got.Passes[0].Moves
		if is := moves[1].Kind == toolpath.Arc; is != c.arcs || len(got.Facts) > 0 == c.arcs || moves[len(moves)-1].To != op.Passes[0].Moves[1].To {
			t.Errorf("radii 10 mm and %s: %d moves, arc %v", c.end, len(moves), is)
		}
		if len(op.Passes[0].Moves) != 2 {
			t.Error("the operation itself was changed")
		}
	}
}
