package solid

import (
	"math"
	"math/rand/v2"
	"testing"

	"stopshort/toolpath/measure"
)

// bandPlaces is places of a band: at both radii and half way between them, in
// directions from the first end to the last.
func bandPlaces(from, to, c Point, clockwise bool, n int) (at [][2]float64) {
	d, e := from.Minus(c).vector(), to.Minus(c).vector()
	if clockwise {
		d, e = e, d
	}
	a, b := math.Atan2(d[1], d[0]), math.Atan2(e[1], e[0])
	if b <= a {
		b += 2 * math.Pi
	}
	r, s := math.Hypot(d[0], d[1]), math.Hypot(e[0], e[1])
	for k := range n + 1 {
		t := a + (b-a)*float64(k)/float64(n)
		for _, q := range []float64{r, s, (r + s) / 2} {
			at = append(at, [2]float64{float64(c.X) + q*math.Cos(t), float64(c.Y) + q*math.Sin(t)})
		}
	}
	return at
}

// apart is the distance of a place from a box or an upright cylinder seen from
// above; inside, the way out.
func apart(at [2]float64, b Body) float64 {
	if c, ok := b.(Cylinder); ok {
		return math.Hypot(at[0]-float64(c.From.X), at[1]-float64(c.From.Y)) - float64(c.Radius)
	}
	k := b.(Box)
	gx := math.Max(float64(k.Low.X)-at[0], at[0]-float64(k.High.X))
	gy := math.Max(float64(k.Low.Y)-at[1], at[1]-float64(k.High.Y))
	if gx > 0 && gy > 0 {
		return math.Hypot(gx, gy)
	}
	return math.Max(gx, gy)
}

func randomArc(r *rand.Rand) (from, to, c Point, clockwise bool) {
	c = randomPoint(r, 10*mm).With(Z, 0)
	size, start := float64(upTo(r, 30*mm)+1000), 2*math.Pi*r.Float64()
	turn := 2 * math.Pi * r.Float64()
	if r.IntN(3) == 0 {
		turn /= 1000
	}
	grid := float64([]measure.Length{1, 2540, 10_000}[r.IntN(3)])
	at := func(a float64) Point {
		return c.Plus(Point{
			X: measure.Length(grid * math.Round(size*math.Cos(a)/grid)),
			Y: measure.Length(grid * math.Round(size*math.Sin(a)/grid)),
		})
	}
	return at(start), at(start + turn), c, r.IntN(2) == 0
}

// The bounds of a whole arc and of each of its pieces hold, by a second way: no
// place is nearer than Low, and none is needed to be nearer than the nearest of
// many. The pieces together are the arc.
func TestBesideHolds(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 1))
	for n := range 1500 {
		from, to, c, clockwise := randomArc(r)
		a, ok := NewArc(from, to, c, clockwise)
		if !ok {
			t.Fatalf("%d: %v to %v about %v is refused", n, from, to, c)
		}
		var b Body
		if p, q := randomPoint(r, 30*mm), randomPoint(r, 30*mm); r.IntN(2) == 0 {
			l, h := corners(p, q)
			b = Box{l, h}
		} else {
			b = Cylinder{p, p.With(Z, p.Z+mm), upTo(r, 12*mm)}
		}
		least := math.Inf(1)
		box := a.Bounds()
		for _, at := range bandPlaces(from, to, c, clockwise, 1000) {
			least = math.Min(least, apart(at, b))
			if at[0] < float64(box.Low.X)-0.01 || at[0] > float64(box.High.X)+0.01 || at[1] < float64(box.Low.Y)-0.01 || at[1] > float64(box.High.Y)+0.01 {
				t.Fatalf("%d: %v is outside %v", n, at, box)
			}
		}
		// Between two of the places there is no more than this.
		step := math.Pi / 1000 * math.Sqrt(a.outer.square.float())
		pieces := []Arc{a}
		for range 4 {
			low, high, reach := measure.Length(beyond), measure.Length(beyond), measure.Length(beyond)
			var next []Arc
			for _, p := range pieces {
				w := p.Beside(b)
				low, high, reach = min(low, w.Low), min(high, w.High), min(reach, w.Reach)
				if l := math.Hypot(w.Dir[0], w.Dir[1]); math.Abs(l-1) > 1e-9 {
					t.Fatalf("%d: the direction %v has length %f", n, w.Dir, l)
				}
				next = append(next, p.Split(b)...)
			}
			if float64(low) > least+0.01 || float64(reach) < least-step-0.01 || high < reach {
				t.Fatalf("%d: %v to %v about %v, clockwise %v, and %v, in %d pieces: %d to %d, %d; the nearest place seen is %f",
					n, from, to, c, clockwise, b, len(pieces), low, high, reach, least)
			}
			pieces = next
		}
	}
}

// Where an end lies on the centre nothing is known but the greater radius.
func TestArcFromItsCentre(t *testing.T) {
	a, ok := NewArc(mmPoint(0, 0, 0), mmPoint(3, 4, 0), mmPoint(0, 0, 0), false)
	w := a.Beside(Box{Low: mmPoint(-9, -9, -1), High: mmPoint(-6, 9, 1)})
	if !ok || w.Low != mm || w.High < mm {
		t.Errorf("%d to %d off, want 6 - 5", w.Low, w.High)
	}
}

// What lies too far out, or is neither upright nor a box, is not judged.
func TestArcIsNotJudged(t *testing.T) {
	far := mmPoint(0, 0, 0).With(X, Far+1)
	for k, p := range [][3]Point{{far, {}, {}}, {{}, far, {}}, {{}, {}, far}, {{Y: math.MinInt64}, {}, {}}} {
		if _, ok := NewArc(p[0], p[1], p[2], true); ok {
			t.Errorf("%d: %v is judged", k, p)
		}
	}
	a, _ := NewArc(mmPoint(5, 0, 0), mmPoint(0, 5, 0), mmPoint(0, 0, 0), false)
	for _, b := range []Body{
		Cylinder{mmPoint(0, 0, 0), mmPoint(5, 0, 0), mm}, Cylinder{mmPoint(0, 0, 0), mmPoint(1, 0, 9), mm},
		Cylinder{Radius: mm}, Box{Low: mmPoint(1, 0, 0)}, Sweep{}, nil,
	} {
		if w := a.Beside(b); Upright(b) || w.Low >= -Far || w.High <= Far || a.Split(b) != nil {
			t.Errorf("%v: %d to %d off", b, w.Low, w.High)
		}
	}
}

// A face that is out of reach swamps nothing: what lies beyond X 7 is 2 off.
func TestArcBesideAHalfSpace(t *testing.T) {
	a, _ := NewArc(mmPoint(3, 4, 0), mmPoint(3, -4, 0), mmPoint(0, 0, 0), true)
	w := a.Beside(Box{Low: Point{X: 7 * mm, Y: -Far, Z: -Far}, High: Point{Far, Far, Far}})
	if w.Low != 2*mm || w.High < w.Low {
		t.Errorf("%d to %d off, want 2 mm", w.Low, w.High)
	}
}

// Not all of a turn can be halved: an arc between two neighbouring places is left
// as it is in the end.
func TestArcTooShortToSplit(t *testing.T) {
	b := Box{Low: mmPoint(-9, -9, 0), High: mmPoint(-8, -8, 1)}
	a, _ := NewArc(Point{X: Far, Y: 7}, Point{X: Far, Y: 8}, Point{X: -Far}, false)
	n := 0
	for k := a.Split(b); len(k) > 0 && n < 200; k = a.Split(b) {
		a = k[0]
		n++
	}
	if n == 200 {
		t.Error("it is split for ever")
	}
}

// A part that stands 3 beside and 4 above is 5 off; a cone as far as its side is.
func TestGapOfAnArc(t *testing.T) {
	a, _ := NewArc(mmPoint(-10, 0, 6), mmPoint(10, 0, 6), mmPoint(0, 0, 0), true)
	post := Cylinder{mmPoint(0, 0, -5), mmPoint(0, 0, 2), 5 * mm}
	for _, c := range []struct {
		what string
		part Part
		want measure.Length
		fine measure.Length
	}{
		{"3 beside, 4 above", flatPart(2, 8), 5 * mm, 0},
		{"over its rim, 4 above", flatPart(7, 8), 4 * mm, 0},
		{"beside it, from below it to above", Part{Low: -20 * mm, High: 20 * mm, LowRadius: 2 * mm, HighRadius: 2 * mm}, 3 * mm, 0},
		{"in it", Part{Low: -20 * mm, High: 20 * mm, LowRadius: 6 * mm, HighRadius: 6 * mm}, -mm, 0},
		{"under it", Part{Low: -20 * mm, High: -15 * mm, LowRadius: 6 * mm, HighRadius: 6 * mm}, 4 * mm, 0},
		// Its tip 1 above the top and 5 beside the rim: 6 by the root of 1/2.
		{"a point at a slant", Part{Low: -3 * mm, High: 9 * mm, HighRadius: 12 * mm}, 42_426_406, fine},
		// Its tip 4 below the top, where it is 4 wide: 1 by the root of 1/2.
		{"a point beside it", Part{Low: -8 * mm, High: 9 * mm, HighRadius: 17 * mm}, 7_071_067, fine},
	} {
		g := a.Beside(post).Gap(a, c.part, post)
		if g.Low > c.want || g.Low < c.want-c.fine || g.High < c.want || g.High > c.want+c.fine {
			t.Errorf("%s: %d to %d, want %d", c.what, g.Low, g.High, c.want)
		}
		if l := vector(g.Dir).length(); math.Abs(l-1) > 1e-9 {
			t.Errorf("%s: the direction %v has length %f", c.what, g.Dir, l)
		}
	}
}

// BenchmarkBeside is a wide arc round a lug, which it touches at one end.
func BenchmarkBeside(b *testing.B) {
	a, _ := NewArc(mmPoint(12.7, -9.525, 0), mmPoint(-12.7, -9.525, 0), mmPoint(0, 0, 0), true)
	lug := Box{Low: mmPoint(0, -6.35, -13), High: mmPoint(21.5, 6.35, 0)}
	b.ReportAllocs()
	for b.Loop() {
		w := a.Beside(lug)
		sink.Low, sink.High = w.Low, w.High
	}
	b.ReportMetric(float64(sink.High-sink.Low), "0.1nm-wide")
}
