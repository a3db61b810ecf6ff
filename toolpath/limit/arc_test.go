package limit

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// profiled is the demo part's profile: boss, pad and two lugs are kept from by
// no more than a grid step of 0.1 micrometre under nought, and the bore by 3 mm;
// washer and nut stand on it, packing under it. The cutter is 6.35 across.
func profiled(t testing.TB) *board {
	b := newBoard(t)
	b.machine.Errors = machines.Errors{}
	b.tool = toolpath.Cutter{
		Number: 1, Kind: toolpath.EndMill, MadeOf: "HSS", Diameter: 6350 * um, Measured: 6350 * um, Flutes: 4,
		FluteLength: 15875 * um, StickOut: 26 * mm, Shank: 9525 * um, Holder: 30 * mm, HolderLength: 40 * mm,
	}
	b.setup.Clearance = 12 * mm
	b.setup.Metal = []solid.Body{solid.Box{Low: inUm(-22225, -13970, -12700), High: inUm(22225, 17780, 0)}}
	b.setup.Touch = [2]measure.Length{16 * mm, 0}
	const step = um / 10
	b.keepOut("boss", toolpath.Wall, solid.Cylinder{From: inUm(0, 0, -12700), To: at(0, 0, 0), Radius: 12700 * um}, -step)
	b.keepOut("pad", toolpath.Wall, solid.Box{Low: inUm(-8000, 0, -12700), High: inUm(8000, 16500, 0)}, -step)
	b.keepOut("right lug", toolpath.Wall, solid.Box{Low: inUm(0, -6350, -12700), High: inUm(21500, 6350, 0)}, -step)
	b.keepOut("left lug", toolpath.Wall, solid.Box{Low: inUm(-21500, -6350, -12700), High: inUm(0, 6350, 0)}, -step)
	b.keepOut("bore", toolpath.Wall, solid.Cylinder{From: at(0, 0, -20), To: at(0, 0, 10), Radius: 9525 * um}, 3*mm)
	b.keepOut("packing", toolpath.Packing, solid.Box{Low: at(-50, -50, -23), High: inUm(50000, 50000, -12700)}, -mm)
	b.keepOut("washer", toolpath.Holding, solid.Cylinder{From: at(0, 0, 0), To: at(0, 0, 2), Radius: 11 * mm}, 0)
	b.keepOut("nut", toolpath.Holding, solid.Cylinder{From: at(0, 0, 2), To: at(0, 0, 9), Radius: 8 * mm}, 0)
	return b
}

// joint is where the pad's side, grown by the cutter, meets the boss, grown by
// it: the root of 15.875^2 - 11.175^2 is 11.27541575 mm, here taken a hair long.
var joint = solid.Point{X: 11175 * um, Y: 112754158}

// round draws the cutter's path round the finished part at a height.
func (b *board) round(z measure.Length) {
	to := func(x, y measure.Length) solid.Point { return inUm(x, y, 0).With(solid.Z, z) }
	b.rapid(inUm(-30000, 19675, 12000))
	b.line(to(-30000, 19675))
	b.line(to(8000, 19675))
	b.clockwise(to(11175, 16500), inUm(8000, 16500, 0))
	b.line(joint.With(solid.Z, z))
	b.clockwise(to(12700, 9525), solid.Point{})
	b.line(to(21500, 9525))
	b.clockwise(to(24675, 6350), inUm(21500, 6350, 0))
	b.line(to(24675, -6350))
	b.clockwise(to(21500, -9525), inUm(21500, -6350, 0))
	b.line(to(12700, -9525))
	b.clockwise(to(-12700, -9525), solid.Point{})
	b.line(to(-21500, -9525))
	b.clockwise(to(-24675, -6350), inUm(-21500, -6350, 0))
	b.line(to(-24675, 6350))
	b.clockwise(to(-21500, 9525), inUm(-21500, 6350, 0))
	b.line(to(-12700, 9525))
	b.clockwise(joint.With(solid.X, -joint.X).With(solid.Z, z), solid.Point{})
	b.line(to(-11175, 16500))
	b.clockwise(to(-8000, 19675), inUm(-8000, 16500, 0))
	b.line(to(-8000, 30000))
	b.rapid(inUm(-8000, 30000, 12000))
}

func (b *board) clockwise(p, centre solid.Point) {
	s := b.step(toolpath.Arc, p)
	s.Centre, s.Sense = centre, toolpath.Clockwise
}

// The path that is planned to touch the finished part touches it, and is not
// refused for the judge's own rounding: 15.875 less 12.7 and 9.525 less 6.35 are the
// cutter's 3.175; to the bore it is 15.875 - 9.525 - 3.175.
func TestProfileOnATangent(t *testing.T) {
	b := profiled(t)
	b.round(-13 * mm)
	for _, c := range []struct {
		name        string
		left, short measure.Length
	}{
		{"boss", 0, 0}, {"right lug", 0, 0}, {"left lug", 0, 0},
		{"pad", 0, 1}, // the joint's own radius is a hair more than the boss's
		{"bore", 3175 * um, 0},
		{"packing", -300 * um, 0},
		// The teeth reach up to 2.875, past the washer and beside the nut, where the
		// shank begins, which is wider: 15.875 - 8 - 4.7625.
		{"nut", 31125 * um / 10, 0},
	} {
		v := b.verdict(c.name)
		left := measure.Length(v.Planned)
		if left > c.left || left < c.left-c.short || v.State != OK || v.High < v.Planned || v.High-v.Planned > 1 {
			t.Errorf("%s: %s to %s left, %s; want %s", c.name, left, measure.Length(v.High), v.State, c.left)
		}
	}
}

// A tenth of a nanometre too near is seen as such.
func TestProfileTooNear(t *testing.T) {
	for _, name := range []string{"boss", "pad", "right lug", "left lug"} {
		b := profiled(t)
		for i := range b.setup.Limits {
			if l := &b.setup.Limits[i]; l.Name == name {
				l.NeverLess.Value = 1
			}
		}
		b.round(-13 * mm)
		if v := b.verdict(name); v.State != Refused {
			t.Errorf("%s: %d to %d left of 1 asked is %s", name, v.Planned, v.High, v.State)
		}
	}
}

// The arc alone, without the lines that end it: centre, ends and a limit drawn
// by hand; what is left is what is left of the cutter's 2 mm of radius.
func TestArcKeepsOffExactly(t *testing.T) {
	box := func(x, y, x2, y2 measure.Length) solid.Body {
		return solid.Box{Low: inUm(x, y, -10_000), High: inUm(x2, y2, 0)}
	}
	post := func(x, y, r measure.Length) solid.Body {
		return solid.Cylinder{From: inUm(x, y, -10_000), To: inUm(x, y, 0), Radius: r * um}
	}
	for _, c := range []struct {
		what             string
		from, to, centre solid.Point
		body             solid.Body
		left             measure.Length // of the distance, the cutter's radius not taken off
	}{
		{"about a corner", inUm(-3000, 5000, 0), inUm(0, 2000, 0), inUm(-3000, 2000, 0), box(-9000, -5000, -3000, 2000), 3000 * um},
		{"about a corner, off by a tenth of a nanometre", inUm(-3000, 5000, 0), inUm(0, 2000, 0), inUm(-3000, 2000, 0),
			solid.Box{Low: inUm(-9000, -5000, -10_000), High: inUm(-3000, 2000, 0).Minus(solid.Point{X: 1})}, 3000 * um},
		{"about a bore", inUm(-3000, 4000, 0), inUm(5000, 0, 0), inUm(0, 0, 0), post(0, 0, 1500), 3500 * um},
		{"towards a corner inside it, at 3, 4", inUm(0, 10_000, 0), inUm(10_000, 0, 0), inUm(0, 0, 0), box(-1000, -1000, 3000, 4000), 5000 * um},
		{"towards a corner outside it, at 3, 4", inUm(0, 5000, 0), inUm(5000, 0, 0), inUm(0, 0, 0), box(6000, 8000, 9000, 9500), 5000 * um},
		{"towards a post outside it, at 3, 4", inUm(0, 5000, 0), inUm(5000, 0, 0), inUm(0, 0, 0), post(6000, 8000, 1000), 4000 * um},
		{"towards a post inside it, at 3, 4", inUm(0, 10_000, 0), inUm(10_000, 0, 0), inUm(0, 0, 0), post(3000, 4000, 1000), 4000 * um},
		{"towards a flat", inUm(-3000, 4000, 0), inUm(3000, 4000, 0), inUm(0, 0, 0), box(-9000, 7000, 9000, 9000), 2000 * um},
		{"a post at an end", inUm(0, 5000, 0), inUm(4000, 3000, 0), inUm(0, 0, 0), post(8000, 0, 2000), 3000 * um},
		{"away from a corner at its start", inUm(3000, 4000, 0), inUm(5000, 0, 0), inUm(0, 0, 0), box(-9000, 7000, 0, 9000), 42426406},    // the root of 3^2 + 3^2
		{"through a post", inUm(-3000, 4000, 0), inUm(5000, 0, 0), inUm(0, 0, 0), post(0, 5000, 1500), -1500 * um},                        // over its axis
		{"into a plate", inUm(-3000, 4000, 0), inUm(5000, 0, 0), inUm(0, 0, 0), box(-9000, 3000, 9000, 9000), -2000 * um},                 // at 0, 5
		{"the long way round", inUm(3000, 4000, 0), inUm(-3000, 4000, 0), inUm(0, 0, 0), box(-1000, -9000, 1000, -6000), 1000 * um},       // from -5 to -6
		{"a whole circle", inUm(5000, 0, 0), inUm(5000, 0, 0), inUm(0, 0, 0), box(-9000, -9000, -6000, 9000), 1000 * um},                  // from -5 to -6
		{"between radii of 5 and a step more", inUm(-3000, 4000, 0), inUm(5001, 0, 0), inUm(0, 0, 0), post(0, 0, 1500), 3500 * um},        // the less
		{"within radii of 5 and a step more", inUm(-3000, 4000, 0), inUm(5001, 0, 0), inUm(0, 0, 0), box(0, 7000, 1000, 8000), 1999 * um}, // the more
	} {
		for _, back := range []bool{false, true} {
			b := newBoard(t)
			b.machine.Errors = machines.Errors{}
			b.setup.Metal = []solid.Body{solid.Box{Low: at(-50, -50, -20), High: at(50, 50, 0)}}
			b.keepOut("wall", toolpath.Wall, c.body, -9*mm)
			deep := func(p solid.Point) solid.Point { return p.With(solid.Z, -5*mm) }
			from, to, sense := c.from, c.to, toolpath.Clockwise
			if back {
				from, to, sense = to, from, toolpath.Anticlockwise
			}
			b.at = toolpath.Place{Point: deep(from), Known: [3]bool{true, true, true}}
			s := b.step(toolpath.Arc, deep(to))
			s.Centre, s.Sense = c.centre, sense
			v := b.verdict("wall")
			// A root that is not whole is rounded once each way.
			if got := measure.Length(v.Planned) + 2*mm; got > c.left || got < c.left-1 {
				t.Errorf("%s, back %v: %s left, want %s", c.what, back, got, c.left)
			}
			if got := measure.Length(v.High) + 2*mm; got < c.left || got > c.left+um+2 || c.centre.X+to.X != 5001*um && got > c.left+2 && from.X != 5001*um {
				t.Errorf("%s, back %v: at the most %s left, want %s", c.what, back, got, c.left)
			}
		}
	}
}

// Two corners of a part, grown by the cutter's 2 mm, meet in a concave joint: the
// corners are 2.4 and 1.8 apart, 3 as the crow flies, so that the joint is the root
// of 2^2 - 1.5^2 off the middle between them. Rounded to tenths of a nanometre it is
// no more than one off both, on either arc.
func TestJointOfTwoCornerArcs(t *testing.T) {
	one, two := inUm(0, 0, 0), inUm(2400, 1800, 0)
	// 1.2, 0.9 and 1.322875656 along -0.6, 0.8, rounded away from both corners.
	j := solid.Point{X: 4062746, Y: 19583006, Z: -5 * mm}
	b := newBoard(t)
	b.machine.Errors = machines.Errors{}
	b.setup.Metal = []solid.Body{solid.Box{Low: at(-50, -50, -20), High: at(50, 50, 0)}}
	b.keepOut("one", toolpath.Wall, solid.Box{Low: at(-9, -9, -10), High: one}, -um)
	b.keepOut("two", toolpath.Wall, solid.Box{Low: two.With(solid.Y, -9*mm).With(solid.Z, -10*mm), High: two.With(solid.X, 9*mm)}, -um)
	b.at = toolpath.Place{Point: at(0, 2, -5), Known: [3]bool{true, true, true}}
	b.clockwise(j, one)
	b.clockwise(at(0, 0, -5).Plus(solid.Point{X: 2400 * um, Y: 3800 * um}), two)
	for _, name := range []string{"one", "two"} {
		if v := b.verdict(name); v.Planned < -2 || v.High > 2 || v.State != OK {
			t.Errorf("%s: %d to %d tenths of a nanometre left, %s; want none", name, v.Planned, v.High, v.State)
		}
	}
}

// What stands above or below the part that passes: from the holder's nose 14
// above the tip to a block under it, and to a post beside and below it, 3 and 4
// apart.
func TestArcAboveAndBeside(t *testing.T) {
	for _, c := range []struct {
		what string
		body solid.Box
		left measure.Length
	}{
		// The arc runs 10 about the zero at Z -3; the teeth reach Y 12, the holder
		// from 11 up to 20 aside.
		{"under the holder", solid.Box{Low: at(-1, 13, -3), High: at(1, 40, 9)}, mm}, // 13 to the teeth's 12
		{"under the holder, nearer in height", solid.Box{Low: at(-1, 15, -3), High: inUm(1000, 40_000, 10_500)}, mm / 2},
		{"3 beside and 4 below the holder", solid.Box{Low: at(-1, 23, -3), High: at(1, 40, 7)}, 5 * mm},
		{"in the holder's way", solid.Box{Low: at(-1, 18, -3), High: at(1, 40, 30)}, -2 * mm},
	} {
		b := newBoard(t)
		b.keepOut("clamp", toolpath.Holding, c.body, -9*mm)
		b.at = toolpath.Place{Point: at(-10, 0, -3), Known: [3]bool{true, true, true}}
		b.clockwise(at(10, 0, -3), solid.Point{})
		if v := b.verdict("clamp"); v.Planned != int64(c.left) || v.High != v.Planned {
			t.Errorf("%s: %s to %s left, want %s", c.what, measure.Length(v.Planned), measure.Length(v.High), c.left)
		}
	}
}

// A point of 90 degrees, 2 long, passes a post of 6 about the zero, 10 off its
// axis, its tip 1 above the post's top. Seen from the side the post's rim is 5
// level from the line of the point's side, and at 45 degrees 5 by the root of 1/2.
func TestArcWithAPoint(t *testing.T) {
	b := newBoard(t)
	b.machine.Errors = machines.Errors{}
	b.tool.Kind, b.tool.Point = toolpath.SpotDrill, 2*mm
	b.setup.Metal = []solid.Body{solid.Box{Low: at(-50, -50, -20), High: at(50, 50, 0)}}
	b.keepOut("post", toolpath.Wall, solid.Cylinder{From: at(0, 0, -10), To: at(0, 0, -6), Radius: 6 * mm}, 0)
	b.at = toolpath.Place{Point: at(-10, 0, -5), Known: [3]bool{true, true, true}}
	b.clockwise(at(10, 0, -5), solid.Point{})
	const want = 35355339 * measure.TenthNanometre
	if v := b.verdict("post"); measure.Length(v.Planned) > want || measure.Length(v.Planned) < want-um/10 || measure.Length(v.High) < want {
		t.Errorf("%s to %s left, want %s", measure.Length(v.Planned), measure.Length(v.High), want)
	}
}

// At worst the errors of X and Y fall along the direction of the bound: on a
// tangent along an axis once, about a corner where they count the most, which is
// half way round.
func TestArcAtWorst(t *testing.T) {
	worst := func(body solid.Body) measure.Length {
		b := newBoard(t)
		b.machine.Errors = machines.Errors{TouchXY: 100 * um}
		b.setup.Metal = []solid.Body{solid.Box{Low: at(-50, -50, -20), High: at(50, 50, 0)}}
		b.keepOut("wall", toolpath.Wall, body, 0)
		b.at = toolpath.Place{Point: at(0, 5, -5), Known: [3]bool{true, true, true}}
		b.clockwise(at(5, 0, -5), solid.Point{})
		v := b.verdict("wall")
		return measure.Length(v.Planned - v.MarginWorst)
	}
	for _, c := range []struct {
		what string
		body solid.Body
		want measure.Length
	}{
		{"off a flat", solid.Box{Low: at(-9, 8, -10), High: at(9, 9, 0)}, 100 * um},
		{"about a corner", solid.Box{Low: at(-9, -9, -10), High: at(0, 0, 0)}, 1_414_214},
		{"about a bore", solid.Cylinder{From: at(0, 0, -10), To: at(0, 0, 0), Radius: mm}, 1_414_214},
		// Nearest at 0, 5, straight down, 4 off. Moved by 0.1 both ways the circle is
		// 5 less the root of 0.1^2 + 1.1^2 off the corner.
		{"over a corner inside it", solid.Box{Low: at(-9, -9, -10), High: at(0, 1, 0)}, 1_045_361},
	} {
		if got := worst(c.body); got < c.want || got > c.want+um {
			t.Errorf("%s: the shares add up to %d, want %d", c.what, got, c.want)
		}
	}
}

// An arc goes further than its ends: half round from -5 to 5 it goes up to 5 of Y.
func TestArcTravels(t *testing.T) {
	b := newBoard(t)
	b.machine.Axes[1].Travel = 5*mm - 1
	b.at = toolpath.Place{Point: at(-5, 0, 2), Known: [3]bool{true, true, true}}
	b.clockwise(at(5, 0, 2), solid.Point{})
	b.want("travel of Y", -1, Refused, 0)
	b.want("travel of X", b.machine.Axes[0].Travel-10*mm, OK, 0)
}

// A second way: the least distance of many places of the band, closer together
// about the nearest.
func TestArcAgainstManyPlaces(t *testing.T) {
	j := New(&newBoard(t).setup, &machines.Machine{})
	rapid.Check(t, func(t *rapid.T) {
		for range 5 { // 40 000 of 20 were looked at once
			againstManyPlaces(t, j)
		}
	})
}

func againstManyPlaces(t *rapid.T, j *Judge) {
	length := func(name string, most measure.Length) measure.Length {
		return measure.Length(rapid.Int64Range(-int64(most), int64(most)).Draw(t, name))
	}
	grid := rapid.SampledFrom([]measure.Length{1, 2540, 10_000}).Draw(t, "grid")
	on := func(v float64) measure.Length {
		return measure.Length(math.Round(v/float64(grid))) * grid
	}
	c := solid.Point{X: length("x", 3000) * grid, Y: length("y", 3000) * grid}
	r := math.Exp(rapid.Float64Range(math.Log(float64(10*um)), math.Log(float64(40*mm))).Draw(t, "radius"))
	start := rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "start")
	turn := rapid.Float64Range(0.02, 2*math.Pi-0.02).Draw(t, "turn")
	place := func(a float64) solid.Point {
		return solid.Point{X: c.X + on(r*math.Cos(a)), Y: c.Y + on(r*math.Sin(a))}
	}
	s := toolpath.Step{Kind: toolpath.Arc, Centre: c, Sense: toolpath.Anticlockwise}
	s.From.Point, s.To.Point = place(start), place(start+turn)
	arc, ok := arcOf(s)
	if !ok || s.From.Point == s.To.Point {
		return
	}
	about := func(name string) solid.Point {
		return c.Plus(solid.Point{X: length(name, measure.Length(1.6*r)), Y: length(name, measure.Length(1.6*r))})
	}
	var low, high solid.Point
	var grow measure.Length
	var body solid.Body
	tangent := rapid.IntRange(0, 3).Draw(t, "kind")
	switch tangent {
	case 0: // anywhere
		p, q := about("p"), about("q")
		k := solid.Corners(p, q)
		low, high = k.Low, k.High
	case 1: // a corner at the centre, behind the arc or not
		low, high = c.Minus(solid.Point{X: 5 * mm, Y: 7 * mm}), c
	case 2: // a flat that touches a band about the arc's end
		high = s.To.Point.Plus(solid.Point{X: 9 * mm, Y: -3 * mm})
		low = s.To.Point.Plus(solid.Point{X: -9 * mm, Y: -9 * mm})
	default:
		low = about("post")
		if rapid.Bool().Draw(t, "about its axis") {
			low = c
		}
		high, grow = low, 1+length("post's radius", measure.Length(r)).Abs()
	}
	if grow > 0 {
		body = solid.Cylinder{From: low, To: low.With(solid.Z, measure.Metre), Radius: grow}
	} else {
		body = solid.Box{Low: low, High: high.With(solid.Z, measure.Metre)}
	}
	tl := &tally{}
	tl.asked.Value = length("asked", 2*mm)
	part := solid.Part{High: measure.Metre}
	j.holdArc(tl, arc, part, body, j.errorsOver, 1)

	off := func(a, rad float64) float64 {
		x, y := float64(c.X)+rad*math.Cos(a), float64(c.Y)+rad*math.Sin(a)
		gx := math.Max(float64(low.X)-x, x-float64(high.X))
		gy := math.Max(float64(low.Y)-y, y-float64(high.Y))
		if gx > 0 && gy > 0 {
			return math.Hypot(gx, gy) - float64(grow)
		}
		return math.Max(gx, gy) - float64(grow)
	}
	d, e := s.From.Minus(c), s.To.Minus(c)
	r1, r2 := math.Hypot(float64(d.X), float64(d.Y)), math.Hypot(float64(e.X), float64(e.Y))
	a1, a2 := math.Atan2(float64(d.Y), float64(d.X)), math.Atan2(float64(e.Y), float64(e.X))
	if a2 <= a1 {
		a2 += 2 * math.Pi
	}
	// Closer and closer about each place that is lower than the two beside it: the
	// lowest need not be next to the lowest of the first 4000.
	least := func(of func(f float64) float64) float64 {
		const n = 4000
		first := make([]float64, n+1)
		for k := range first {
			first[k] = of(float64(k) / n)
		}
		best := math.Inf(1)
		for k, v := range first {
			if k > 0 && first[k-1] < v || k < n && first[k+1] < v {
				continue
			}
			at, w := float64(k)/n, 1.0/n
			for range 2 {
				from, to := math.Max(at-w, 0), math.Min(at+w, 1)
				for i := range 401 {
					f := from + (to-from)*float64(i)/400
					if u := of(f); u < v {
						v, at = u, f
					}
				}
				w = (to - from) / 400
			}
			best = math.Min(best, v)
		}
		return best
	}
	angle := func(f float64) float64 { return a1 + (a2-a1)*f }
	band := least(func(f float64) float64 { return math.Min(off(angle(f), r1), off(angle(f), r2)) })
	way := least(func(f float64) float64 { return off(angle(f), r1+(r2-r1)*f) })
	v := tl.close()
	const eps = 0.01
	if float64(v.Planned) > band+eps {
		t.Fatalf("%d left at the least, and a place is at %f", v.Planned, band)
	}
	if float64(v.High) < way-eps-1e-6*r {
		t.Fatalf("%d left at the most, and the way keeps off by %f", v.High, way)
	}
	// Between the two radii a place may be nearer, by half their difference at
	// the most.
	if short := band - float64(v.Planned); short > float64(um/10)+math.Abs(r1-r2)/2+2 {
		t.Fatalf("%d left at the least, %f short of what is left", v.Planned, short)
	}
	if wide := float64(v.High - v.Planned); wide > float64(um/10)+2*math.Abs(r1-r2)+4 {
		t.Fatalf("%d to %d left, radii %f and %f", v.Planned, v.High, r1, r2)
	}
}

// BenchmarkArcs is the judge on the demo part's profile at fourteen depths; for
// each step, its time.
func BenchmarkArcs(b *testing.B) {
	d := profiled(b)
	for k := range measure.Length(14) {
		d.round(-13 * mm * (k + 1) / 14)
	}
	for b.Loop() {
		if vs := d.verdicts(); len(vs) == 0 {
			b.Fatal("nothing was met")
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*len(d.steps)), "us/step")
}
