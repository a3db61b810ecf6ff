package plan

import (
	"fmt"
	"golang.org/x/exp/slices"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
	"stopshort/toolpath/solid"
)

// Clearing is what a profile is cut from and with what, seen from above.
type Clearing struct {
	Shapes []outline.Shape // the finished part: their union
	Radius measure.Length  // of the cutter
	Allow  measure.Length  // what roughing leaves on
	Step   measure.Length  // widest side step
	Stock  []outline.Shape // their union
	Off    []outline.Shape // where the cutter's centre cannot go, but where the outline asks it
	Clear  measure.Length  // how far from the stock a way begins
}

// Ring is one offset of the outline as far as there is stock: one closed way, or
// open ones that begin outside the stock.
type Ring struct {
	Growth  measure.Length // of the shapes, at the least
	Closed  bool
	Ways    [][]Stretch
	Blocked *outline.Point // where stock is left for what holds the part
	Dropped bool           // a whole way is left out there: what it would have cut hangs on nothing
}

// Stretch is a piece of a way. On a slow one more than the side step is cut, on an
// idle one nothing.
type Stretch struct {
	outline.Piece
	Slow, Idle bool
}

// maxRings is the most offsets that stock is cleared with: more is a block that
// wants sawing first (own choice).
const maxRings = 100

// TooFar tells that the stock reaches too far beyond the outline.
type TooFar struct{ Rings int }

func (e TooFar) Error() string {
	return fmt.Sprintf("more than %d rings of side steps: saw the stock nearer to its outline, or take a larger cutter", e.Rings)
}

// LoosePocket tells that metal in a bay would come loose: the bay is wider inside
// than its mouth lets the offsets through.
type LoosePocket struct{ At outline.Point }

func (e LoosePocket) Error() string {
	return fmt.Sprintf("metal in the bay at X %s, Y %s would come loose", e.At.X.MM(), e.At.Y.MM())
}

// Rings are the offsets that clear the stock about an outline, the outermost
// first; the last is the outline with the allowance on. The side step is the same
// all over, and no more than asked: there is no metal further out than one step
// beyond the first ring's inner edge. Every way has the metal on its left.
func (c Clearing) Rings(g Grid) ([]Ring, error) {
	least := c.Radius + c.Allow
	near, err := g.Contours(c.Shapes, least)
	if err != nil {
		return nil, err
	}
	n, far, err := c.reach(g, least)
	if err != nil {
		return nil, err
	}
	if n == 0 {
		return nil, nil
	}
	// With n rings at least beyond the outline's own, a step of
	// (far-least)/n each is enough, where far is as far out as a ring would
	// still meet stock.
	step := min(g.Round(solid.X, (far-least).MulDiv(1, int64(n), measure.Ceil), measure.Ceil), c.Step)
	all := make([]Contours, n+1) // the last is cut by nothing: there is no metal
	for k := range all {
		if all[k], err = g.Contours(c.Shapes, least+measure.Length(k)*step); err != nil {
			return nil, err
		}
	}
	if err := c.loose(g, near, all[:n], least, step); err != nil {
		return nil, err
	}
	var out []Ring
	blocked := false // ways of the ring outside were left out: nobody knows where
	for k := n - 1; k >= 0; k-- {
		r := c.ring(g, least+measure.Length(k)*step, step, all[k], c.fresh(all[k+1].Outer), blocked)
		out = append(out, r)
		blocked = r.Blocked != nil
	}
	return out, nil
}

// reach is how many rings it takes, and how far out the last one's outer edge must
// come: a radius beyond the metal that is furthest from the outline, rounded up.
//
// There is metal further from the outline than a growth where the boundary of the
// grown outline passes through the stock. That a cutter on it meets the stock would
// not do: in a bay the middle is further from the boundary than from the outline.
func (c Clearing) reach(g Grid, least measure.Length) (n int, far measure.Length, err error) {
	m := 0
	for ; ; m++ {
		if m > maxRings {
			return 0, 0, TooFar{maxRings}
		}
		through, err := c.through(g, c.Allow+measure.Length(m)*c.Step)
		if err != nil {
			return 0, 0, err
		}
		if !through {
			break
		}
	}
	if m == 0 {
		return 0, least, nil
	}
	low, high := c.Allow+measure.Length(m-1)*c.Step, c.Allow+measure.Length(m)*c.Step
	for range 8 {
		mid := g.Round(solid.X, (low+high)/2, measure.Ceil)
		if mid >= high {
			break
		}
		through, err := c.through(g, mid)
		if err != nil {
			return 0, 0, err
		}
		if through {
			low = mid
		} else {
			high = mid
		}
	}
	far = high + c.Radius
	return int((far - least + c.Step - 1) / c.Step), far, nil
}

// through tells whether the boundary of the grown outline passes through stock.
func (c Clearing) through(g Grid, growth measure.Length) (bool, error) {
	loops, err := g.Contours(c.Shapes, growth)
	if err != nil {
		return false, err
	}
	for _, l := range loops.Loops() {
		for _, p := range l {
			if c.touches(p, 0) {
				return true, nil
			}
		}
	}
	return false, nil
}

// touches tells whether a cutter on the piece comes nearer to stock than more.
func (c Clearing) touches(p outline.Piece, more float64) bool {
	return meets(p, c.Stock, more)
}

func meets(p outline.Piece, shapes []outline.Shape, more float64) bool {
	t := trackOn(p)
	var curves []curve
	for _, s := range shapes {
		curves = append(curves, curvesOf(s, more)...)
	}
	parts := t.crossings(curves, 0)
	for i := 1; i < len(parts); i++ {
		x, y := t.at((parts[i-1]+parts[i])/2, 0)
		if anyWithin(shapes, more, x, y) {
			return true
		}
	}
	return false
}

func anyWithin(shapes []outline.Shape, more, x, y float64) bool {
	return slices.ContainsFunc(shapes, func(s outline.Shape) bool { return within(s, more, x, y) })
}

// loose looks for a bay with a middle that would come loose: the cutter goes into
// it on one ring and not on the next one out, whose loop there is closed, and what is
// further in than the outer edge of the cut has metal.
func (c Clearing) loose(g Grid, near Contours, all []Contours, least, step measure.Length) error {
	for k := range all[:len(all)-1] {
		if len(all[k+1].Inner) == 0 {
			continue
		}
		edge, err := g.Contours(c.Shapes, least+measure.Length(k)*step+c.Radius)
		if err != nil {
			return err
		}
		for _, l := range edge.Inner {
			at := l[0].From
			holds := func(o outline.Loop) bool { return o.Contains(at) }
			if slices.ContainsFunc(all[k+1].Inner, holds) && !slices.ContainsFunc(near.Inner, holds) &&
				slices.ContainsFunc(l, func(p outline.Piece) bool { return c.touches(p, 0) }) {
				return LoosePocket{at}
			}
		}
	}
	return nil
}

// Deep tells whether a finishing pass would go in where roughing stays out: a gap
// that is wider than the cutter and narrower than the cutter with the allowance on
// both sides, or a bay behind one. There it would cut on its whole width at full
// depth. at is where.
func (c Clearing) Deep(g Grid) (at outline.Point, deep bool, err error) {
	if c.Allow == 0 {
		return at, false, nil
	}
	loops, err := g.Contours(c.Shapes, c.Radius)
	if err != nil {
		return at, false, err
	}
	run, begun := 0.0, outline.Point{}
	for range 2 { // a stretch may run over the loop's first end
		for _, p := range loops.Outer {
			for _, s := range c.narrow(g, p, c.Radius+c.Allow, c.Allow) {
				if !s.Slow {
					run = 0
					continue
				}
				if run == 0 {
					begun = s.From
				}
				if run += trackOn(s.Piece).length(); run > cornerRun*float64(c.Allow) {
					return begun, true, nil
				}
			}
		}
	}
	return at, false, nil
}

// cornerRun is how many allowances long the two sides of an inside corner are, on
// which a finishing pass cuts more than its allowance: 2/tan(a/2) for walls that
// meet at an angle of a, so that walls at 28 degrees or more are a corner and
// steeper ones a gap.
const cornerRun = 8

// ring is one offset, clipped and with its slow stretches. Its inner loops are
// left out: they are the outline's own, which no cutter comes into, or a bay's
// middle that the next ring cuts, slowly.
func (c Clearing) ring(g Grid, growth, step measure.Length, loops Contours, f fresh, blocked bool) Ring {
	r := Ring{Growth: growth}
	own := c
	if growth == c.Radius+c.Allow { // the outline itself is not bent for what holds the part
		own.Off = nil
	}
	ways := own.clip(g, loops.Outer, &r, step, f, blocked)
	for _, w := range ways {
		var out []Stretch
		for _, p := range w {
			for _, s := range c.slowed(g, p.Piece, step, f, blocked) {
				s.Idle = !p.bites
				out = append(out, s)
			}
		}
		r.Ways = append(r.Ways, rejoined(out))
	}
	return r
}

// rejoined puts stretches of one line or circle and one feed together again, an arc
// as long as it goes no more than half way round.
func rejoined(in []Stretch) []Stretch { return joined(in, false) }

// Joined puts stretches together like that, idle ones and others too.
func Joined(in []Stretch) []Stretch { return joined(in, true) }

func joined(in []Stretch, idle bool) (out []Stretch) {
	for _, s := range in {
		n := len(out) - 1
		if n >= 0 && out[n].Slow == s.Slow && (idle || out[n].Idle == s.Idle) && oneCurve(out[n].Piece, s.Piece) {
			out[n].To = s.To
			continue
		}
		out = append(out, s)
	}
	return out
}

func oneCurve(a, b outline.Piece) bool {
	if a.Kind != b.Kind || b.Joint != outline.Smooth {
		return false
	}
	if a.Kind == outline.Line {
		return a.From.X == a.To.X && b.From.X == b.To.X || a.From.Y == a.To.Y && b.From.Y == b.To.Y
	}
	return a.Centre == b.Centre && a.Radius == b.Radius && trackOn(a).sweep+trackOn(b).sweep < 3
}

// clip cuts a loop down to where there is stock. A way begins with the cutter clear
// of it, and ends so unless that is further than the cutter's diameter beyond its last
// cut; one that is in the air for no longer than that goes on. Where something that holds the part is in the way of an
// offset, a way ends before it, and one that would have to begin there is left
// out.
func (c Clearing) clip(g Grid, l outline.Loop, r *Ring, step measure.Length, f fresh, blocked bool) (ways [][]clipped) {
	reach := float64(c.Radius + c.Clear + 2*g.Step(solid.X))
	var curves []curve
	for _, s := range c.Stock {
		curves = append(curves, curvesOf(s, reach)...)
		curves = append(curves, curvesOf(s, float64(c.Radius))...)
	}
	for _, s := range c.Off {
		curves = append(curves, curvesOf(s, 0)...)
	}
	var parts []clipped
	for _, p := range l {
		for _, q := range g.split(p, trackOn(p).crossings(curves, 0)) {
			x, y := trackOn(q).at(0.5, 0)
			k := clipped{
				Piece: q, off: anyWithin(c.Off, 0, x, y),
				by: anyWithin(c.Stock, reach, x, y), cuts: c.touches(q, float64(c.Radius)),
			}
			k.bites = k.cuts
			if !k.cuts || blocked { // nobody knows what was cut
				parts = append(parts, k)
				continue
			}
			bites := func(t trackOf, part float64) bool { return f.bites(t, part, float64(step)) }
			for _, u := range g.split(q, trackOn(q).changes(f.radius/8, func(part float64) bool { return bites(trackOn(q), part) })) {
				k.Piece = u
				k.bites = slices.ContainsFunc([]float64{0.25, 0.5, 0.75}, func(part float64) bool { return bites(trackOn(u), part) })
				parts = append(parts, k)
			}
		}
	}
	start := slices.IndexFunc(parts, func(p clipped) bool { return !p.by || p.off })
	if start < 0 {
		if !slices.ContainsFunc(parts, func(p clipped) bool { return p.cuts }) {
			return nil
		}
		r.Closed = true
		return [][]clipped{parts}
	}
	for _, p := range parts {
		if p.off && p.bites && r.Blocked == nil {
			at := p.From
			r.Blocked = &at
		}
	}
	parts = append(slices.Clone(parts[start:]), parts[:start]...)
	runs, left := c.runs(parts)
	if left != nil {
		r.Blocked, r.Dropped = left, true
	}
	if len(runs) == 1 && runs[0].wraps {
		r.Closed = true
		return [][]clipped{parts}
	}
	for _, r := range runs {
		ways = append(ways, r.pieces)
	}
	return ways
}

type clipped struct {
	outline.Piece
	off, by bool
	cuts    bool // it comes over stock, cut already or not
	bites   bool // it meets metal that is still there
}

// run is a way; wraps tells that it goes all round.
type run struct {
	pieces []clipped
	wraps  bool
}

// runs puts the parts of a loop that lie by the stock together. The first part
// is not by it. left is where one was left out.
func (c Clearing) runs(parts []clipped) (out []run, left *outline.Point) {
	type stretch struct {
		first, last int // of parts; the last that bites
		end         int // the last that is by the stock
		blocked     bool
		cuts, bites bool
	}
	var found []stretch
	for i := 0; i < len(parts); {
		if !parts[i].by || parts[i].off {
			i++
			continue
		}
		s := stretch{first: i, blocked: parts[(i+len(parts)-1)%len(parts)].off}
		for ; i < len(parts) && parts[i].by && !parts[i].off; i++ {
			s.cuts = s.cuts || parts[i].cuts
			if parts[i].bites {
				s.bites, s.last = true, i
			}
		}
		s.end = i - 1
		switch {
		case s.cuts && s.blocked:
			at := parts[s.first].From
			left = &at
		case s.bites:
			found = append(found, s)
		}
	}
	air := func(from, to int) (float64, bool) { // between two parts, round the loop
		sum := 0.0
		for i := from + 1; i%len(parts) != to; i++ {
			p := parts[i%len(parts)]
			if p.off {
				return 0, false
			}
			sum += trackOn(p.Piece).length()
		}
		return sum, true
	}
	short := func(from, to int) bool {
		a, free := air(from, to)
		return free && a <= float64(2*c.Radius)
	}
	for i := 0; i < len(found); {
		k := i
		for k+1 < len(found) && short(found[k].last, found[k+1].first) {
			k++
		}
		r, beyond := run{}, 0.0 // so far beyond the last cut
		for n := found[i].first; n <= found[k].end; n++ {
			if n > found[k].last {
				if beyond += trackOn(parts[n].Piece).length(); beyond > float64(2*c.Radius) {
					break
				}
			}
			r.pieces = append(r.pieces, parts[n])
		}
		if i == 0 && k == len(found)-1 && short(found[k].last, found[0].first) {
			r.wraps = true
		}
		out = append(out, r)
		i = k + 1
	}
	return out, left
}
