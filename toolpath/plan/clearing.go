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
