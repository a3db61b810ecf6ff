package recipe

import (
	"fmt"
	"math"
	"sort"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
	"stopshort/toolpath/solid"
)

// turn is an arc of the boss cut by turning a rotary table: the cutter stands to the
// right of the table's axis, is fed in along X at the angle where the arc starts, and
// out again where it ends.
type turn struct {
	radius     measure.Length // from the table's axis to the cutter's
	out        measure.Length // where it is clear of the stock at every angle
	start, end measure.Angle
	name       string
}

// byRotary tells whether a rotary table turns the work round the boss.
func (p *profile) byRotary() bool {
	if !p.byHand() {
		return false
	}
	by := p.machine.ProfileBy
	if p.node.Set("profile_by") {
		by = p.node.Word("profile_by")
	}
	return by == "rotary table"
}

// rotaryStands asks that there is a rotary table, and that the bore stands over its
// axis. A fault is noted where not.
func (p *profile) rotaryStands() bool {
	switch at := p.bore.solid.From; {
	case !p.byRotary():
	case p.machine.Rotary == nil:
		p.node.Fault("profile_by", "%s has no rotary table: add [rotary_table] to the machine's file, or write nibbling", p.machine.Name)
		return false
	case at.X != 0 || at.Y != 0:
		p.node.Fault("bore", "a rotary table turns about the set-up's zero, and bore %s stands at X %s, Y %s: set zero over the bore's centre", p.bore.Name, at.X, at.Y)
		return false
	}
	return true
}

// blockedRay tells that a shape stands on the straight way in to an arc's end.
type blockedRay struct{ at measure.Angle }

func (e blockedRay) Error() string {
	return fmt.Sprintf("another part of the outline, straight out from the arc's end at %s", e.at)
}

// turns are the arcs round the boss for the table, in thin passes: the start rounded
// up and the end down to what its dial can be set to, so that the cutter stops short of a
// lug.
func (t *trips) turns(l outline.Loop) (out []turn, err error) {
	r, a, g := t.radius(), t.allow.Value, t.grid
	n := t.finishes()
	least := t.machine.Rotary.Least
	clear := measure.Length(0)
	for _, m := range t.now {
		b := solid.Bounds(m)
		for _, x := range []measure.Length{b.Low.X, b.High.X} {
			for _, y := range []measure.Length{b.Low.Y, b.High.Y} {
				d, _ := solid.Hypot(x, y)
				clear = max(clear, d+1)
			}
		}
	}
	clear = g.Round(solid.X, clear+r+approach, measure.Ceil)
	count := 0
	for _, span := range t.spans(l) {
		from, to := span[0], span[1]
		count++
		start, end := upTo(from, least), -upTo(-to, least)
		if start < 0 {
			start, end = start+measure.FullTurn, end+measure.FullTurn
		}
		last := g.Round(solid.X, t.boss.Radius+r, measure.Ceil)
		start, end = t.openRay(start, least, last, clear, r), t.openRay(end, -least, last, clear, r)
		if end <= start {
			continue
		}
		for k := int64(1); k <= n; k++ {
			on := a - a.MulDiv(k, n, measure.Nearest)
			x := turn{radius: g.Round(solid.X, t.boss.Radius+r+on, measure.Ceil), out: clear, start: start, end: end,
				name: fmt.Sprintf("rotary table, arc %d, pass %d of %d", count, k, n)}
			for _, at := range []measure.Angle{start, end} {
				if t.rayBlocked(at, x.radius, clear, r) {
					return nil, blockedRay{at}
				}
			}
			out = append(out, x)
		}
	}
	return out, nil
}

// spans are the arcs about the boss as angles, the second no less than the first: those
// that follow each other as one, unless that is a whole turn.
func (t *trips) spans(l outline.Loop) (out [][2]measure.Angle) {
	joined := false
	for i, q := range l {
		if q.Kind != outline.Arc || q.Centre != t.boss.Low || q.Radius != t.boss.Radius+t.radius() {
			joined = false
			continue
		}
		from, to := q.Angles()
		if to <= from {
			to += measure.FullTurn
		}
		if n := len(out) - 1; joined && out[n][1]-out[n][0]+to-from < measure.FullTurn {
			out[n][1] += to - from
		} else {
			out = append(out, [2]measure.Angle{from, to})
		}
		joined = true
		if n := len(out) - 1; i == len(l)-1 && n > 0 && l[0].Kind == outline.Arc && l[0].Centre == q.Centre && l[0].Radius == q.Radius &&
			out[n][1]-out[n][0]+out[0][1]-out[0][0] < measure.FullTurn {
			out[n][1] += out[0][1] - out[0][0]
			out = out[1:]
		}
	}
	return out
}

// upTo is an angle rounded up to a step.
func upTo(a, step measure.Angle) measure.Angle {
	return a + ((-a)%step+step)%step
}

// openRay is the first angle from one on, by a step, from where the way straight out is
// free: beside a lug's corner the arc can end where the way out still grazes it. Where a
// degree does not do, the angle is left as it is.
func (t *trips) openRay(at, step measure.Angle, from, to, r measure.Length) measure.Angle {
	most := measure.Degree / max(step, -step)
	blocked := func(k measure.Angle) bool { return t.rayBlocked(at+k*step, from, to, r) }
	if !blocked(0) || blocked(most) {
		return at
	}
	free := sort.Search(int(most), func(k int) bool { return !blocked(measure.Angle(k)) })
	return at + measure.Angle(free)*step
}

// rayBlocked looks along the way in whether it comes nearer to a shape than the
// cutter's radius: at places on it, and where it passes a corner. It only picks the
// angle and the words of a refusal: the judge decides.
func (t *trips) rayBlocked(at measure.Angle, from, to, r measure.Length) bool {
	const looks = 400
	for k := 1; k <= looks; k++ {
		p := toolpath.Polar{Radius: from + (to-from).MulDiv(int64(k), looks, measure.Nearest), Angle: at}.Place(0)
		for _, s := range t.shapes() {
			x := float64(max(s.Low.X-p.X, p.X-s.High.X, 0))
			y := float64(max(s.Low.Y-p.Y, p.Y-s.High.Y, 0))
			if math.Hypot(x, y) < float64(s.Radius+r) {
				return true
			}
		}
	}
	a, b := toolpath.Polar{Radius: from, Angle: at}.Place(0), toolpath.Polar{Radius: to, Angle: at}.Place(0)
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	long := math.Hypot(dx, dy)
	for _, s := range t.shapes() {
		for _, cx := range []measure.Length{s.Low.X, s.High.X} {
			for _, cy := range []measure.Length{s.Low.Y, s.High.Y} {
				x, y := float64(cx-a.X), float64(cy-a.Y)
				foot := (float64(x*dx) + float64(y*dy)) / long
				if foot > 1 && foot < long && math.Abs(float64(x*dy)-float64(y*dx))/long < float64(s.Radius+r)+2 {
					return true
				}
			}
		}
	}
	return false
}

// turned lays out arcs on the table at a height.
func (t *trip) turned(all []turn, z measure.Length) {
	quick := t.machine.Feeds.High
	polar := func(kind toolpath.Motion, radius measure.Length, angle measure.Angle, z measure.Length, f measure.Feed) {
		p := toolpath.Polar{On: true, Radius: radius, Angle: angle}
		m := toolpath.Move{Kind: kind, To: p.Place(z), Feed: f, Polar: p}
		if kind == toolpath.Arc {
			m.Sense = toolpath.Anticlockwise
		}
		t.add(m)
	}
	for _, x := range all {
		t.lift()
		t.begin(x.name, -z)
		polar(toolpath.Rapid, x.out, x.start, t.plane(), 0)
		low := t.lowest(t.here.With(solid.Z, z))
		if low < t.plane() {
			polar(toolpath.Rapid, x.out, x.start, low, 0)
		}
		t.down = true
		if low > z {
			polar(toolpath.Line, x.out, x.start, z, t.cutting.plunge.Value)
		}
		polar(toolpath.Line, x.radius, x.start, z, t.cutting.feed.Value)
		polar(toolpath.Arc, x.radius, x.end, z, t.cutting.feed.Value)
		polar(toolpath.Line, x.out, x.end, z, quick)
		polar(toolpath.Rapid, x.out, x.end, t.plane(), 0)
		t.down = false
	}
}

// wallLegs are those of the finish along the straight walls alone.
func wallLegs(all []leg) (out []leg) {
	for _, l := range all {
		if l.wall {
			out = append(out, l)
		}
	}
	return out
}

// takesArcs notes what the arcs take of the stock, as straight ways of a degree each.
func (t *trips) takesArcs(all []turn) {
	for _, x := range all {
		for a := x.start; a < x.end; a += measure.Degree {
			p := toolpath.Polar{Radius: x.radius, Angle: a}.Place(0)
			at := outline.Point{X: p.X, Y: p.Y}
			t.waste.Take(at, at, t.radius())
		}
		p := toolpath.Polar{Radius: x.radius, Angle: x.end}.Place(0)
		at := outline.Point{X: p.X, Y: p.Y}
		t.waste.Take(at, at, t.radius())
	}
}

// rotaryFacts are the figures of the arcs: turns of the wheel from zero.
func (p *profile) rotaryFacts() (out []toolpath.Fact) {
	r := p.machine.Rotary
	for i, x := range p.arcsTurned {
		if i > 0 && x.start == p.arcsTurned[i-1].start {
			continue
		}
		told := func(a measure.Angle) string {
			n, rest := r.Turns(a)
			return fmt.Sprintf("%s = %d turns and %s", a, n, rest)
		}
		out = append(out, toolpath.Fact{Name: "by hand", Value: "rotary table", From: measure.Derived,
			Source: fmt.Sprintf("an arc from %s to %s, the last pass %s from the table's axis", told(x.start), told(x.end), p.lastRadius().Both())})
	}
	return out
}

func (p *profile) lastRadius() measure.Length {
	return p.arcsTurned[len(p.arcsTurned)-1].radius
}
