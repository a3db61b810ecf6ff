package solid

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"stopshort/toolpath/measure"
)

// The second method: the distance of one point from a body by the plainest
// formula, and the least of it over points all over the sweep.

func outside(p vector, b Body) float64 {
	switch b := b.(type) {
	case Box:
		l, h := b.Low.vector(), b.High.vector()
		var s float64
		for i := range p {
			e := max(l[i]-p[i], p[i]-h[i], 0)
			s += e * e
		}
		return math.Sqrt(s)
	case Cylinder:
		a, q := b.To.vector().minus(b.From.vector()), p.minus(b.From.vector())
		along := q.dot(a) / a.length()
		off := math.Sqrt(max(q.dot(q)-along*along, 0))
		return math.Hypot(max(-along, along-a.length(), 0), max(off-float64(b.Radius), 0))
	case Sweep:
		// convex in the part of the move that is done: halve in on it
		f, m := b.From.vector(), b.To.vector().minus(b.From.vector())
		at := func(t float64) float64 { return outsidePart(p.minus(f.plus(m.times(t))), b.Part) }
		lo, hi := 0.0, 1.0
		for range 60 {
			s, t := lo+(hi-lo)*0.382, lo+(hi-lo)*0.618
			if at(s) < at(t) {
				hi = t
			} else {
				lo = s
			}
		}
		return min(at(0), at(1), at((lo+hi)/2))
	}
	return math.NaN()
}

// outsidePart is the distance from a part, by its outline in the half plane
// through its axis.
func outsidePart(p vector, k Part) float64 {
	r, z := math.Hypot(p[0], p[1]), p[2]
	l, h := float64(k.Low), float64(k.High)
	a, b := float64(k.LowRadius), float64(k.HighRadius)
	if z >= l && z <= h && (h == l || r <= a+(b-a)*(z-l)/(h-l)) && r <= max(a, b) {
		return 0
	}
	edge := func(r0, z0, r1, z1 float64) float64 {
		dr, dz := r1-r0, z1-z0
		t := 0.0
		if n := dr*dr + dz*dz; n > 0 {
			t = min(max(((r-r0)*dr+(z-z0)*dz)/n, 0), 1)
		}
		return math.Hypot(r-r0-t*dr, z-z0-t*dz)
	}
	return min(edge(0, l, a, l), edge(a, l, b, h), edge(0, h, b, h))
}

// place is a point of a sweep by four figures: part of the move, part of the
// height, place in the unit disc.
type place [4]float64

func (s Sweep) point(k place) vector {
	f, m := s.From.vector(), s.To.vector().minus(s.From.vector())
	p := f.plus(m.times(k[0]))
	a, b := float64(s.Part.LowRadius), float64(s.Part.HighRadius)
	r := a + (b-a)*k[1]
	l := max(1, math.Hypot(k[2], k[3]))
	return p.plus(vector{r * k[2] / l, r * k[3] / l, float64(s.Part.Low) + float64(s.Part.High-s.Part.Low)*k[1]})
}

// sampled is the least distance over points of the sweep: a coarse grid, then
// random steps from the best of it, ever shorter.
func sampled(r *rand.Rand, s Sweep, b Body) float64 {
	best, at := math.Inf(1), place{}
	try := func(k place) {
		if d := outside(s.point(k), b); d < best {
			best, at = d, k
		}
	}
	for i := range 5 {
		for j := range 5 {
			t, h := float64(i)/4, float64(j)/4
			try(place{t, h, 0, 0})
			for k := range 12 {
				sin, cos := math.Sincos(float64(k) * math.Pi / 6)
				try(place{t, h, cos, sin})
			}
		}
	}
	for step := 0.5; step > 1e-7; step *= 0.98 {
		for range 4 {
			k := at
			for i := range k {
				if r.IntN(2) == 0 {
					k[i] += step * (2*r.Float64() - 1)
				}
			}
			k[0], k[1] = min(max(k[0], 0), 1), min(max(k[1], 0), 1)
			if l := math.Hypot(k[2], k[3]); l > 1 {
				k[2], k[3] = k[2]/l, k[3]/l
			}
			try(k)
		}
	}
	return best
}

// Low is never above a distance that was found by trying points, High hardly
// ever: only as far as the trying falls short.
func TestBetweenAgainstSampling(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	n, short := 120, 0
	for range n {
		a, b := randomSweep(r), randomBody(r)
		g := Between(a, b, Far)
		d := sampled(r, a, b)
		if float64(g.Low) > d+1 {
			t.Fatalf("%+v\n%T %+v\n%+v, but points are at %v", a, b, b, g, d)
		}
		if g.Low > 0 && g.High-g.Low > fine {
			t.Errorf("%+v\n%T %+v\n%+v is wider than 0.1 micrometre", a, b, b, g)
		}
		if d-float64(g.High) > float64(100*measure.Micrometre) && g.High >= 0 {
			short++
		}
	}
	if short > n/50 {
		t.Errorf("of %d distances %d are more than 0.1 mm below the best by sampling", n, short)
	}
}

// reach is the greatest d.x of a body by the plainest formula.
func reach(b Body, d vector) float64 {
	switch b := b.(type) {
	case Box:
		var s float64
		for i := range d {
			s += max(d[i]*b.Low.vector()[i], d[i]*b.High.vector()[i])
		}
		return s
	case Cylinder:
		u := b.along().vector().unit()
		return max(d.dot(b.From.vector()), d.dot(b.To.vector())) +
			float64(b.Radius)*math.Sqrt(max(0, 1-d.dot(u)*d.dot(u)))
	case Sweep:
		k, flat := b.Part, math.Hypot(d[0], d[1])
		return max(d.dot(b.From.vector()), d.dot(b.To.vector())) +
			max(d[2]*float64(k.Low)+flat*float64(k.LowRadius), d[2]*float64(k.High)+flat*float64(k.HighRadius))
	}
	return math.NaN()
}

// Of overlapping solids, Low is about the greatest gap over directions all over
// the sphere, or better, and High not below it.
func TestOverlapAgainstDirections(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	sphere := make([]vector, 20_000) // a spiral, evenly spread
	for i := range sphere {
		z := 1 - (2*float64(i)+1)/float64(len(sphere))
		s, c := math.Sincos(float64(i) * math.Pi * (3 - math.Sqrt(5)))
		k := math.Sqrt(1 - z*z)
		sphere[i] = vector{k * c, k * s, z}
	}
	n := 0
	for n < 200 {
		a, b := randomSweep(r), randomBody(r)
		g := Between(a, b, Far)
		if g.Low >= 0 {
			continue
		}
		n++
		most := math.Inf(-1)
		for _, d := range sphere {
			most = max(most, -reach(a, d.neg())-reach(b, d))
		}
		if most > float64(g.High)+1 {
			t.Fatalf("%+v\n%T %+v\n%+v, but a direction gives %v", a, b, b, g, most)
		}
		if most > float64(g.Low)+float64(measure.Micrometre) {
			t.Errorf("%+v\n%T %+v\n%+v, but a direction gives %v", a, b, b, g, most)
		}
	}
}

// Figures by hand where the search has to find them.
func TestBetweenByHand(t *testing.T) {
	floor := Box{Point{-Far, -Far, -Far}, mmPoint(0, 0, -29.2)}
	floor.High.X, floor.High.Y = Far, Far
	at := mmPoint(16.25, 0, -24.10)
	drill := Part{0, um(751), 0, um(1250)}
	for _, c := range []struct {
		name string
		a    Sweep
		b    Body
		want measure.Length
		slop measure.Length
	}{
		{"drill's tip over the packing, in the demo part", Sweep{drill, mmPoint(16.25, 0, 5), at}, floor, um(5100), 0},
		{"cutter in the floor", Sweep{flatPart(3, 9), mmPoint(0, 0, -29.5), mmPoint(40, 2, -29.5)}, floor, um(-300), 0},
		{"jaw beside the cutter", Sweep{flatPart(2, 8), mmPoint(0, 0, -15), mmPoint(7, 0, -15)},
			Box{mmPoint(10, -20, -40), mmPoint(60, 20, -12)}, um(1000), 1},
		// corner of a box 3 across and 4 along from the end of the move
		{"corner of a clamp", Sweep{flatPart(1, 8), mmPoint(-9, 0, 0), mmPoint(0, 0, 0)},
			Box{mmPoint(3, 4, -1), mmPoint(9, 9, 9)}, um(4000), 1},
		// a cone 3 wide and 4 high, its point down on the middle; the rod's middle
		// is 5 beside the axis, level with the point: 5 * 4/5 from the cone's side
		{"cone beside a rod", Sweep{Part{0, um(4000), 0, um(3000)}, Point{}, Point{}},
			Cylinder{mmPoint(-9, 5, 0), mmPoint(9, 5, 0), um(1000)}, um(3000), fine},
		// a rod falling 3 to 4; a point 5 over the middle is 4 away from its axis
		{"rod at an angle", Sweep{Part{0, um(10_000), 0, 0}, mmPoint(0, 0, 5), mmPoint(0, 0, 9)},
			Cylinder{mmPoint(-40, 0, 30), mmPoint(40, 0, -30), um(1500)}, um(2500), fine},
		// two crossing moves of equal cutters, one 2 above the other
		{"cutter over a cutter's cut", Sweep{flatPart(3, 9), mmPoint(-9, -9, 2), mmPoint(9, 9, 2)},
			Sweep{Part{um(-5000), 0, um(3000), um(3000)}, mmPoint(9, -9, 0), mmPoint(-9, 9, 0)}, um(2000), 1},
		{"in front of a bore's end face", Sweep{flatPart(3, 9), mmPoint(0, 0, 0), mmPoint(0, 9, 0)},
			Cylinder{mmPoint(5, 0, 0), mmPoint(20, 0, 0), um(6000)}, um(2000), 1},
	} {
		g := Between(c.a, c.b, Far)
		if g.Low > c.want || g.High < c.want || c.want-g.Low > c.slop || g.High-c.want > max(c.slop, 0) && c.want >= 0 {
			t.Errorf("%s: %d to %d, want %d within %d", c.name, g.Low, g.High, c.want, c.slop)
		}
	}
}

// Dir keeps its word: the gap after a small shift of the sweep is no less than
// Low less the shift along Dir.
func TestShiftAlongDir(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range 5000 {
		a, b := randomSweep(r), randomBody(r)
		g := Between(a, b, Far)
		e := randomPoint(r, 2*mm)
		a.From, a.To = a.From.Plus(e), a.To.Plus(e)
		h := Between(a, b, Far)
		lost := math.Abs(g.Dir[0])*float64(e.X.Abs()) + math.Abs(g.Dir[1])*float64(e.Y.Abs()) + math.Abs(g.Dir[2])*float64(e.Z.Abs())
		if float64(h.High) < float64(g.Low)-lost-2 {
			t.Fatalf("%+v\n%T %+v\nshift %v: from %+v to %+v", a, b, b, e, g, h)
		}
		if l := vector(g.Dir).length(); math.Abs(l-1) > 1e-9 {
			t.Fatalf("Dir %v is %v long", g.Dir, l)
		}
	}
}

// A search that may stop early never says more, and does reach what it was
// asked where the full search does.
func TestNeed(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	for range 5000 {
		a, b := randomSweep(r), randomBody(r)
		full := Between(a, b, Far)
		need := full.Low - upTo(r, 2*mm)
		g := Between(a, b, need)
		if g.Low > full.High || g.High < full.Low || g.Low > g.High {
			t.Fatalf("%+v\n%T %+v\nneed %d: %+v, in full %+v", a, b, b, need, g, full)
		}
		if need+fine <= full.Low && full.Low > 0 && g.Low < need {
			t.Fatalf("%+v\n%T %+v\nneed %d: %+v, in full %+v", a, b, b, need, g, full)
		}
	}
}

// Any figures at all: no panic, and what is out of range claims nothing.
func TestBetweenTakesAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.OneOf(
			rapid.Int64(), rapid.Int64Range(-100, 100), rapid.Int64Range(-1e9, 1e9),
			rapid.Int64Range(-2e13, 2e13), rapid.SampledFrom([]int64{0, 1, math.MinInt64, math.MaxInt64, int64(Far), -int64(Far)}),
		)
		l := func() measure.Length { return measure.Length(n.Draw(t, "n")) }
		pt := func() Point { return Point{l(), l(), l()} }
		sweep := func() Sweep { return Sweep{Part{l(), l(), l(), l()}, pt(), pt()} }
		a := sweep()
		c := Cylinder{pt(), pt(), l()}
		if rapid.Bool().Draw(t, "along an axis") {
			c.To = c.From.With(Axis(rapid.IntRange(0, 2).Draw(t, "axis")), l())
			a.Part.HighRadius = a.Part.LowRadius
		}
		for _, b := range []Body{c, Box{pt(), pt()}, sweep(), nil} {
			g := Between(a, b, l())
			if g.Low > g.High {
				t.Fatalf("%+v\n%T %+v\n%+v", a, b, b, g)
			}
			Bounds(b)
		}
		Channel{pt(), pt(), l(), false, false}.Inside(a.Part, a.From, a.To)
	})
}
