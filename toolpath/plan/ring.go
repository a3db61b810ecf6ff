package plan

import (
	"golang.org/x/exp/slices"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
	"stopshort/toolpath/solid"
)

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
// cut; one that is in the air for no longer than that goes on. Where something that holds
// the part is in the way of an offset, a way ends before it, and one that would have to
// begin there is left out.
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
