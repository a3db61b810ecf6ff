package solid

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"stopshort/toolpath/measure"
)

func TestChannelByHand(t *testing.T) {
	// the demo part's slot, 3/16 in wide, and its cutter of 4
	slot := Channel{mmPoint(0, -6.35, -5.959), mmPoint(0, 6.35, -5.959), um(4762.5), true, true}
	closed := Channel{mmPoint(0, 0, -3), mmPoint(20, 0, -3), um(6000), false, false}
	// rising 3 in 4
	slant := Channel{mmPoint(0, 0, -3), mmPoint(40, 30, -3), um(6000), false, true}
	odd := Channel{Point{}, Point{X: 1000}, 41, false, true}
	p := flatPart(2, 8)
	for _, c := range []struct {
		name     string
		c        Channel
		part     Part
		from, to Point
		want     ChannelRoom
	}{
		{"down the middle", slot, p, mmPoint(0, -9.35, -5.959), mmPoint(0, 9.35, -5.959), ChannelRoom{um(381.25), NoEnd, 0}},
		{"finishing pass", slot, p, mmPoint(0.38125, 9.35, -5), mmPoint(0.38125, -9.35, -5), ChannelRoom{0, NoEnd, um(959)}},
		{"one tenth too far", slot, p, mmPoint(0.38125, 9.35, -5).Plus(Point{X: 1}), mmPoint(0, -9.35, -6), ChannelRoom{-1, NoEnd, um(-41)}},
		{"full width to the end's point", closed, flatPart(3, 8), mmPoint(0, 0, 0), mmPoint(20, 0, 0), ChannelRoom{0, 0, um(3000)}},
		{"full width, 2 before the end", closed, flatPart(3, 8), mmPoint(5, 0, 0), mmPoint(18, 0, 0), ChannelRoom{0, um(2000), um(3000)}},
		{"full width, past the end", closed, flatPart(3, 8), mmPoint(5, 0, 0), mmPoint(20.001, 0, 0), ChannelRoom{0, um(-1), um(3000)}},
		// 0.3 past and 0.4 aside: 0.5 from the point
		{"smaller cutter in the round end", closed, p, mmPoint(10, 0, -3), mmPoint(20.3, -0.4, -3), ChannelRoom{um(600), um(500), 0}},
		{"before the first end", closed, p, mmPoint(-0.8, 0.6, -3), mmPoint(9, 0, -3), ChannelRoom{um(400), 0, 0}},
		// 5 across the middle line of the slant is (-3, 4)
		{"aside on a slant", slant, p, mmPoint(8-0.3, 6+0.4, -2), mmPoint(40, 30, -2), ChannelRoom{um(500), um(10_000 + 500 - 100), um(1000)}},
		{"before a slant", slant, p, mmPoint(-0.4, -0.3, -3), mmPoint(44, 33, -3), ChannelRoom{um(1000), um(500), 0}},
		// half of 41 less 10 is 10.5
		{"odd width", odd, Part{0, 9, 10, 10}, Point{X: 500}, Point{X: 500}, ChannelRoom{10, 510, 0}},
	} {
		got := c.c.Inside(c.part, c.from, c.to)
		if c.name == "aside on a slant" { // (7.7, 6.4) is 10 along, 0.5 aside
			c.want.End = um(10_000 + 500)
		}
		if got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// The signs against points on the cutter's rim, tried one by one.
func TestChannelAgainstRim(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	in, out := 0, 0
	for range 4000 {
		c := Channel{randomPoint(r, 9*mm), randomPoint(r, 9*mm), 2*mm + upTo(r, 9*mm), r.IntN(2) == 0, r.IntN(2) == 0}
		c.To.Z = c.From.Z
		p := Part{LowRadius: upTo(r, 3*mm)}
		p.HighRadius = p.LowRadius
		at := func() Point {
			k, e := r.Float64()*1.2-0.1, randomPoint(r, mm)
			m := c.To.Minus(c.From)
			return c.From.Plus(Point{measure.Length(k * float64(m.X)), measure.Length(k * float64(m.Y)), 0}).Plus(e)
		}
		from, to := at(), at()
		got := c.Inside(p, from, to)
		worst := math.Inf(1)
		for _, q := range []Point{from, to} {
			for i := range 720 {
				s, k := math.Sincos(float64(i) * math.Pi / 360)
				x := q.vector().plus(vector{k * float64(p.LowRadius), s * float64(p.LowRadius)})
				worst = min(worst, float64(c.Width)/2-fromLine(c, x))
			}
		}
		room := float64(min(got.Side, got.End))
		// 720 points miss the worst of the rim by less than r/100000
		slack := float64(p.LowRadius)/50_000 + 2
		if room >= 0 {
			in++
			if worst < -slack {
				t.Fatalf("%+v %+v %v %v: room %v, but the rim is out by %v", c, p, from, to, got, worst)
			}
		} else {
			out++
			if worst > slack || worst < room-slack {
				t.Fatalf("%+v %+v %v %v: room %v, the rim says %v", c, p, from, to, got, worst)
			}
		}
	}
	if in < 300 || out < 300 {
		t.Errorf("too few cases: %d in, %d out", in, out)
	}
}

// Side is decided to the tenth: one more would be too much. By squares, in whole
// numbers of any size.
func TestChannelSideToTheTenth(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 18))
	square := func(a, b *big.Int) *big.Int { return new(big.Int).Mul(a, b) }
	for range 20_000 {
		c := Channel{randomPoint(r, 9*mm), randomPoint(r, 9*mm), upTo(r, 9*mm), true, true}
		q, p := randomPoint(r, 9*mm), Part{LowRadius: upTo(r, mm)}
		side := c.Inside(p, q, q).Side
		m, d := c.To.Minus(c.From), q.Minus(c.From)
		cross := big.NewInt(int64(m.X)*int64(d.Y) - int64(m.Y)*int64(d.X)) // below 2^57
		long := big.NewInt(int64(m.X)*int64(m.X) + int64(m.Y)*int64(m.Y))
		off := square(cross, cross)
		off.Lsh(off, 2) // (twice the distance off the line, times m)^2
		fits := func(k measure.Length) bool {
			left := big.NewInt(int64(c.Width - 2*p.LowRadius - 2*k))
			return left.Sign() >= 0 && square(square(left, left), long).Cmp(off) >= 0
		}
		if !fits(side) || fits(side+1) {
			t.Fatalf("%+v %+v at %v: room %d: fits %v, one more fits %v", c, p, q, side, fits(side), fits(side+1))
		}
	}
}

// fromLine is the distance of a point from the channel's middle line.
func fromLine(c Channel, x vector) float64 {
	a, b := c.From.vector(), c.To.vector()
	m, q := b.minus(a), x.minus(a)
	t := (q[0]*m[0] + q[1]*m[1]) / (m[0]*m[0] + m[1]*m[1])
	if !c.OpenFrom {
		t = max(t, 0)
	}
	if !c.OpenTo {
		t = min(t, 1)
	}
	return math.Hypot(q[0]-t*m[0], q[1]-t*m[1])
}
