package plan

import (
	"fmt"
	"math"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
	"stopshort/toolpath/solid"
)

// Nibbling is positions of a cutter round discs that are part of an outline.
type Nibbling struct {
	Shapes []outline.Shape // the finished part: their union
	Radius measure.Length  // of the cutter
	Off    measure.Length  // the highest cusp that may be left
	// Short is how far short of a place a wheel may leave the cutter that is fed to
	// it from each side.
	Short func(Side) measure.Length
}

// Nib is one position: it is fed to from its side.
type Nib struct {
	Side Side
	U, T measure.Length
}

// At is the cutter's centre.
func (n Nib) At() outline.Point { return n.Side.At(n.U, n.T) }

// HiddenArc tells that no straight way leads to a stretch of an arc from outside.
type HiddenArc struct{ At outline.Point }

func (e HiddenArc) Error() string {
	return fmt.Sprintf("the arc by X %s, Y %s, which no straight way along X or Y leads to from outside", e.At.X, e.At.Y)
}

// TooCoarse tells that the dials have no places near enough to each other. High is
// nought where the cutter's circles do not even meet.
type TooCoarse struct{ High, Off measure.Length }

func (e TooCoarse) Error() string {
	if e.High == 0 {
		return fmt.Sprintf("metal is left whole between two places on the dials' lines, no cusp: file_off is %s", e.Off)
	}
	return fmt.Sprintf("%s is the highest cusp between two places on the dials' lines: file_off is %s", e.High, e.Off)
}

// Along are the positions round an anticlockwise arc of the outline grown by the
// cutter's radius, in runs: in each the wheel that steps goes one way, towards the
// middle of the side, so that a place that is met short lies outside. high is the
// highest cusp.
func (n Nibbling) Along(g Grid, arc outline.Piece, disc int) (runs [][]Nib, high measure.Length, err error) {
	c := n.Shapes[disc].Low
	from := math.Atan2(float64(arc.From.Y-c.Y), float64(arc.From.X-c.X))
	sweep := math.Atan2(float64(arc.To.Y-c.Y), float64(arc.To.X-c.X)) - from
	for sweep <= 0 {
		sweep += 2 * math.Pi
	}
	const eighth = math.Pi / 4
	first := math.Floor(from / eighth)
	for k := first; k*eighth < from+sweep; k++ {
		a, b := math.Max(k*eighth, from), math.Min((k+1)*eighth, from+sweep)
		run, h, err := n.eighth(g, disc, a, b, int64(k))
		if err != nil {
			return nil, 0, err
		}
		if len(run) > 0 {
			runs = append(runs, run)
		}
		high = max(high, h)
	}
	return runs, high, nil
}

// quarters are the sides in the order of their angles.
var quarters = [4]Side{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}

// eighth is the positions on an eighth of a circle or less, from the side that its
// normal is nearest to, else from the other side of its quarter.
func (n Nibbling) eighth(g Grid, disc int, a, b float64, k int64) ([]Nib, measure.Length, error) {
	k = ((k % 8) + 8) % 8
	near, other := quarters[(k+1)/2%4], quarters[k/2%4]
	if k%2 == 0 { // the eighth begins on an axis
		near, other = quarters[k/2%4], quarters[(k/2+1)%4]
	}
	run, high, err := n.from(g, near, disc, a, b)
	if err != nil {
		if r, h, e := n.from(g, other, disc, a, b); e == nil {
			return r, h, nil
		}
	}
	return run, high, err
}

// from is the positions between two angles from one side.
func (n Nibbling) from(g Grid, s Side, disc int, a, b float64) (out []Nib, high measure.Length, err error) {
	o := n.Shapes[disc]
	c, ahead := o.Low, s.Ahead()
	reach := float64(o.Radius + n.Radius)
	along := func(angle float64) float64 {
		return float64(ahead.Along(c)) + float64(reach*(float64(math.Cos(angle)*float64(ahead.X))+float64(math.Sin(angle)*float64(ahead.Y))))
	}
	// From the place further from the side's middle to the nearer one, and beyond
	// both to the next line.
	start, end := along(a), along(b)
	mid := float64(ahead.Along(c))
	if math.Abs(end-mid) > math.Abs(start-mid) {
		start, end = end, start
	}
	step := g.Step(ahead.Axis())
	inward := measure.Length(-1)
	if start+end < 2*mid {
		inward = 1
	}
	line := func(t measure.Length) measure.Length { return ahead.Round(g, t, measure.Nearest) }
	first := line(measure.Length(math.Round(start)) - inward*step)
	last := line(measure.Length(math.Round(end)) + inward*step)
	if inward*(last-first) <= 0 {
		return nil, 0, nil
	}
	full := o.Radius + n.Radius
	// The first place of a run is met exactly; to the others both wheels may come short.
	aside := n.Short(Side{X: -inward * ahead.X, Y: -inward * ahead.Y})
	at := func(t measure.Length) (Nib, bool, bool) {
		u, by, hit := n.stopWithin(s, t-inward*aside, t)
		if !hit {
			return Nib{}, false, false
		}
		return Nib{s, s.Round(g, u, measure.Ceil), t}, by == disc, true
	}
	short := n.Short(s)
	away := func(x Nib) outline.Point {
		if x.T == out[0].T {
			return s.At(x.U+short, x.T)
		}
		return s.At(x.U+short, x.T-inward*aside)
	}
	add := func(x Nib) { out = append(out, x) }
	t := first
	for inward*(t-last) <= 0 {
		cur, own, hit := at(t)
		next := line(t + inward*step)
		inside := inward*(float64toLength(start)-t) < 0 && inward*(float64toLength(end)-t) > 0
		if !hit || !own {
			if inside && hit { // another shape stands before the arc
				off, _ := solid.Hypot(cur.At().X-c.X, cur.At().Y-c.Y)
				if off > full+2*step {
					return nil, 0, HiddenArc{s.At(cur.U, t)}
				}
			}
			if hit && !own && n.byAnEnd(cur.At(), c, full, a, b, 3*max(step, g.Step(s.Axis()))) {
				add(cur)
			}
			t = next
			continue
		}
		add(cur)
		// The furthest line that keeps the cusp.
		best := t
		for k := int64(1); ; k++ {
			to := line(t + inward*measure.Length(k)*step)
			if inward*(to-last) > 0 {
				break
			}
			x, mine, met := at(to)
			if !met || !mine {
				break
			}
			h, ok := Cusp(c, away(cur), away(x), n.Radius, o.Radius)
			if !ok || h > n.Off {
				if best == t {
					return nil, 0, TooCoarse{h, n.Off}
				}
				break
			}
			best = to
		}
		if best == t {
			t = next
			continue
		}
		x, _, _ := at(best)
		h, _ := Cusp(c, away(cur), away(x), n.Radius, o.Radius)
		high = max(high, h)
		t = best
	}
	return out, high, nil
}

// stopWithin is [Stop] for a cutter that may stand anywhere between two places aside:
// where it is halted first. Beyond the middle of a shape the one short of a place is
// halted before that is.
func (n Nibbling) stopWithin(s Side, a, b measure.Length) (u measure.Length, by int, hit bool) {
	places := []measure.Length{a, b}
	for _, o := range n.Shapes {
		for _, c := range []outline.Point{o.Low, o.High} {
			if v := s.Ahead().Along(c); min(a, b) < v && v < max(a, b) {
				places = append(places, v)
			}
		}
	}
	for _, t := range places {
		if v, k, h := Stop(s, t, n.Shapes, n.Radius); h && (!hit || v > u) {
			u, by, hit = v, k, true
		}
	}
	return u, by, hit
}

func float64toLength(f float64) measure.Length { return measure.Length(math.Round(f)) }

// byAnEnd tells whether a place lies by one of the ends of a stretch of a circle.
func (n Nibbling) byAnEnd(at, c outline.Point, r measure.Length, a, b float64, within measure.Length) bool {
	for _, angle := range []float64{a, b} {
		dx := float64(at.X-c.X) - float64(float64(r)*math.Cos(angle))
		dy := float64(at.Y-c.Y) - float64(float64(r)*math.Sin(angle))
		if math.Hypot(dx, dy) <= float64(within) {
			return true
		}
	}
	return false
}
