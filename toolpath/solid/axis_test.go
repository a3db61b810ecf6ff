package solid

import (
	"math"
	"math/rand/v2"
	"testing"

	"stopshort/toolpath/measure"
)

// um is a length in micrometres and tenths of them, so that tables read.
func um(n float64) measure.Length { return measure.Length(math.Round(n * 10_000)) }

func mmPoint(x, y, z float64) Point { return Point{um(x * 1000), um(y * 1000), um(z * 1000)} }

func flatPart(r, height float64) Part {
	return Part{0, um(height * 1000), um(r * 1000), um(r * 1000)}
}

// The figures of the demo part were worked out by hand.
// The others are right triangles that come out whole.
func TestExactByHand(t *testing.T) {
	lying := Cylinder{mmPoint(0, -6.35, -16.5), mmPoint(0, 6.35, -16.5), um(9525)}
	upright := Cylinder{mmPoint(0, 0, 0), mmPoint(0, 0, -12.7), um(9525)}
	rod := Cylinder{mmPoint(-50, 0, 0), mmPoint(50, 0, 0), um(2000)}
	slot, end := flatPart(2, 8), flatPart(3.175, 15.875)
	for _, c := range []struct {
		name     string
		part     Part
		from, to Point
		rod      Cylinder
		want     measure.Length
	}{
		{"web under the slot", slot, mmPoint(0, -9.35, -5.959), mmPoint(0, 9.35, -5.959), lying, um(1016)},
		{"the same, along a wall", slot, mmPoint(0.301, -9.35, -5.959), mmPoint(0.301, 9.35, -5.959), lying, um(1016)},
		{"the same, across the bore", slot, mmPoint(-20, 0, -5.959), mmPoint(20, 3, -5.959), lying, um(1016)},
		{"the same, plunged", slot, mmPoint(0, 0, 5), mmPoint(0, 0, -5.959), lying, um(1016)},
		{"slot touches the bore", slot, mmPoint(0, -9.35, -6.975), mmPoint(0, 9.35, -6.975), lying, 0},
		{"slot in the bore", slot, mmPoint(0, 0, -6.995), mmPoint(0, 1, -6.995), lying, um(-20)},
		{"clearance hole beside the bore", flatPart(1.7, 30), mmPoint(16.25, 0, 5), mmPoint(16.25, 0, -16.5), lying, um(5025)},
		{"thread beside the bore", flatPart(1.5, 30), mmPoint(-16.25, 0, 5), mmPoint(-16.25, 0, -23.35), lying, um(5225)},
		{"even wall, at the triangle", end, mmPoint(12.7, 9.525, -13), mmPoint(21.5, 9.525, -13), upright, um(3175)},
		{"even wall, on the axis", end, mmPoint(0, 15.875, -13), mmPoint(0, 15.875, -13), upright, um(3175)},
		{"above the bore's face", end, mmPoint(0, 3, 2), mmPoint(5, 7, 2), upright, um(2000)},
		{"through the bore's wall", end, mmPoint(12.7, 0, -13), mmPoint(12.7, 3, -13), upright, 0},
		{"over the rim: 3 across, 4 up", flatPart(1, 5), mmPoint(13.525, 0, 4), mmPoint(13.525, 0, 9), upright, um(5000)},
		{"a line of 3 to 4 past an upright hole", flatPart(1, 5), mmPoint(10, 0, -3), mmPoint(0, 7.5, -3),
			Cylinder{mmPoint(0, 0, 0), mmPoint(0, 0, -9), um(2000)}, um(3000)},
		{"edge of the floor: 3 across, 4 up", flatPart(2, 5), mmPoint(0, 5, 4), mmPoint(30, 5, 4), rod, um(3000)},
		{"the same on the far side, below", flatPart(2, 5), mmPoint(0, -5, -9), mmPoint(30, -5, -9), rod, um(3000)},
		{"side of the cutter", flatPart(2, 5), mmPoint(0, 7, -2), mmPoint(3, 7, -2), rod, um(3000)},
		{"inside to the middle, floor nearer than sides", flatPart(4, 9), mmPoint(-9, 0, -1), mmPoint(9, 0, -1), rod, um(-3000)},
		// The lower edge runs from (y,z) = (8,0) to (0,6): 4.8 from the middle.
		{"ramp, its corner's path nearest", flatPart(1, 20), mmPoint(0, 9, 0), mmPoint(0, 1, 6), rod, um(2800)},
		// The same line 1.25 lower at the same slope: 1.0 nearer.
		{"the same, deeper", flatPart(1, 20), mmPoint(0, 9, -1.25), mmPoint(0, 1, 4.75), rod, um(1800)},
		// The lower edge falls 3 to 4 and passes the middle 1 above it or 1 below:
		// 0.8 away, outside and inside.
		{"ramp over the middle", flatPart(1, 20), mmPoint(0, 5, -2), mmPoint(0, -3, 4), rod, um(800 - 2000)},
		{"ramp past the middle", flatPart(1, 20), mmPoint(0, 5, -4), mmPoint(0, -3, 2), rod, um(-800 - 2000)},
	} {
		got := Between(Sweep{c.part, c.from, c.to}, c.rod, Far)
		if got.Low != c.want || got.High != c.want || !got.Exact {
			t.Errorf("%s: %d to %d, exact %v, want exactly %d", c.name, got.Low, got.High, got.Exact, c.want)
		}
	}
}

// A distance that is no whole number lies between two: the rim of the spot face
// and the bore, 13.075 across and 5.969 up from its middle.
func TestRootIsBetweenTwoTenths(t *testing.T) {
	lying := Cylinder{mmPoint(0, -6.35, -16.5), mmPoint(0, 6.35, -16.5), um(9525)}
	at := mmPoint(16.25, 0, -10.531)
	g := Between(Sweep{flatPart(3.175, 16), at, at}, lying, Far)
	// 130 750 000^2 + 59 690 000^2 = 20 658 458 600 000 000 (twelve in, by hand:
	// 17 095 562 500 000 000 + 3 562 896 100 000 000), whose root is
	// 143 730 506.85, less 95 250 000
	if g.Low != 48_480_506 || g.High != 48_480_507 || !g.Exact {
		t.Errorf("%+v, want between 48480506 and 48480507", g)
	}
}

// bounded is what the search alone finds.
func bounded(a Sweep, b Body) Gap {
	p := pair{a: a, b: b, near: b, best: Gap{Low: -beyond, High: beyond}}
	p.search(Far)
	return p.best
}

// The whole-number answer and the search, which share nothing but the solids.
func TestExactAgainstSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(20, 26))
	var apart, into, ramps int
	for range 40_000 {
		a, c := randomSweep(r), randomRod(r)
		if !a.Part.flat() {
			a.Part.HighRadius = a.Part.LowRadius
		}
		axis, _ := c.Axis()
		g, high := alongAxis(a, c, axis)
		s := bounded(a, c)
		if g.Low > s.High {
			t.Fatalf("%+v\n%+v\nexact %+v\nsearch %+v", a, c, g, s)
		}
		if !high {
			continue
		}
		if s.Low > g.High {
			t.Fatalf("%+v\n%+v\nexact %+v\nsearch %+v", a, c, g, s)
		}
		switch {
		case g.Low >= 0:
			apart++
			if g.High-s.Low > fine+1 || s.High-g.Low > fine+1 {
				t.Fatalf("%+v\n%+v\nexact %+v\nsearch %+v", a, c, g, s)
			}
		default:
			into++
			if g.High-s.Low > fine+1 {
				t.Errorf("the search misses the least shift by %d:\n%+v\n%+v\nexact %+v\nsearch %+v", g.High-s.Low, a, c, g, s)
			}
		}
		if u := a.To.Minus(a.From); u.Z != 0 && (u.X != 0 || u.Y != 0) {
			ramps++
		}
	}
	t.Logf("%d apart, %d overlapping, %d of them on ramps", apart, into, ramps)
	if apart < 10_000 || into < 400 || ramps < 1000 {
		t.Errorf("too few cases: %d apart, %d overlapping, %d ramps", apart, into, ramps)
	}
}

func (p Point) turned() Point { return Point{p.Y, p.X, p.Z} }

// With X and Y changed over the answer is the same to the last tenth where it
// is exact, and its bounds overlap where not.
func TestExchangeOfXAndY(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 20_000 {
		a, c := randomSweep(r), randomRod(r)
		b := Sweep{a.Part, a.From.turned(), a.To.turned()}
		d := Cylinder{c.From.turned(), c.To.turned(), c.Radius}
		g, h := Between(a, c, Far), Between(b, d, Far)
		same := g.Low == h.Low && g.High == h.High
		if g.Exact && !same && h.Exact || g.Low > h.High || h.Low > g.High {
			t.Fatalf("%+v\n%+v\n%+v\n%+v", a, c, g, h)
		}
	}
}
