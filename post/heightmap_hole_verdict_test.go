package post_test

import (
	"fmt"
	"math"
	"strings"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/limit"
)

// harmless are limits that these jobs have room for; the map knows nothing of
// them, so that none may refuse.
var harmless = []string{
	"rapids sideways over the clearance plane", "rapids to metal and holding", "spindle speed", "feed", "feed down",
	"touching place", "flutes over the depth", "shank to the metal", "holder to the metal", "hole, each side",
	"hole depth, to the tip", "hole comes to its depth", "travel of X", "travel of Y", "travel of Z",
	"slot width, each side", "slot end", "slot depth", "slot depth, short of 4 cutters", "stick-out, short of 15 diameters", "no metal under the cutter's centre",
}

// least is the least wall where the job gives none: 1 mm or half the smaller
// diameter, the less.
func (c *holeCut) least(d float64) float64 {
	if c.wall.text != "" {
		return c.wall.mm
	}
	return min(1, d/2)
}

// left is what the maps leave for a verdict on a cut, and the least that may be
// left by its words; known is false where they know nothing of it. Of a slot no
// more is counted than its metal, of a hole all that its drill takes.
func (j *holeJob) leftAt(all []*made, n int, name string) (left, never float64, known bool) {
	c, d := j.cuts[n], all[n]
	for _, b := range j.bores {
		if name == "thread to bore "+b.name {
			return d.thread.web(b), c.least(c.screw.major), true
		}
	}
	if left, known = j.part.left(&d.metal, name); known {
		w := c.screw.major
		if c.recipe != "bolt holes" {
			w = c.tool.d.mm
			if c.recipe == "spot face" {
				w = c.diameter.mm
			}
		}
		if c.wall.text != "" {
			return left, c.wall.mm, true
		}
		return left, min(1, w/2), true
	}
	switch name {
	case "wall between the holes":
		left = math.Inf(1)
		for i := range d.at {
			for k := range i {
				left = min(left, apart(j.rimOf(d, c, i), d.metal.high[2], j.rimOf(d, c, k), d.metal.high[2]))
			}
		}
		return left, c.least(c.across()), true
	case "floor under the hole":
		left = j.lowest(d, c) - j.low[2]
		r := c.across() / 2
		if c.through && c.hole != "split" {
			r = c.wideMark()
		}
		if j.room(d, r) < 0 { // some of the floor is missing
			left = min(left, -r)
		}
		return left, c.least(c.across()), true
	case "metal to the edge":
		return min(j.rimRoom(&d.metal), j.rimRoom(&d.thread)), c.least(c.across()), true
	case "edge distance":
		left = math.Inf(1)
		for _, p := range d.at {
			left = min(left, p[0]-j.low[0], j.high[0]-p[0], p[1]-j.low[1], j.high[1]-p[1])
		}
		never = c.screw.major // 1 D: chosen by "Tapped-hole edge distance"
		if c.hole != "clearance" {
			never = max(never, c.screw.major/2+3*c.screw.pitch) // "Design book, thread reliefs"
		}
		return left, never, true
	case "room for the key between the heads":
		left = math.Inf(1)
		for i, p := range d.at {
			for _, q := range d.at[:i] {
				left = min(left, math.Hypot(p[0]-q[0], p[1]-q[1])-c.screw.head)
			}
		}
		return left, 0, true
	case "metal under the head":
		under := j.topOf(c) - max(j.topOf(c)-c.depth.mm, j.low[2])
		if c.through {
			under = j.topOf(c) - j.low[2]
		}
		if c.hole == "split" {
			under = j.topOf(c) - c.splitAt.mm - c.kerf.mm/2
		}
		return under, c.screw.major / 2, true
	}
	for k, other := range j.cuts {
		if name == "wall to "+other.name && k < n {
			w := c.across()
			if c.recipe == "slot" {
				w = 2 * c.tool.cutter.r
			}
			return j.between(all, n, k), c.least(min(w, other.across())), true
		}
	}
	return 0, 0, false
}

// rimOf is the rim of one hole, with its thread, or of a slot.
func (j *holeJob) rimOf(d *made, c *holeCut, i int) [][3]float64 {
	for len(d.rims) <= i {
		d.rims = append(d.rims, nil)
	}
	if d.rims[i] == nil {
		if c.recipe == "slot" {
			d.rims[i] = rim(&d.metal, [2]float64{}, math.Inf(1))
		} else {
			r := max(c.across()/2, c.reach())
			cells := append(rim(&d.metal, d.at[i], r+0.02), rim(&d.thread, d.at[i], r+0.02)...)
			// A wide spot drill reaches over the next place: its cells are that one's.
			d.rims[i] = slices.DeleteFunc(cells, func(p [3]float64) bool {
				return slices.ContainsFunc(d.at, func(q [2]float64) bool {
					return math.Hypot(p[0]-q[0], p[1]-q[1]) < math.Hypot(p[0]-d.at[i][0], p[1]-d.at[i][1])
				})
			})
		}
	}
	return d.rims[i]
}

// between is the least metal between two cuts, over what is not on one axis.
func (j *holeJob) between(all []*made, n, k int) float64 {
	one, two := j.cuts[n], j.cuts[k]
	a, b := all[n], all[k]
	places := func(c *holeCut, d *made) int {
		if c.recipe == "slot" {
			return 1
		}
		return len(d.at)
	}
	least := math.Inf(1)
	for i := range places(one, a) {
		for l := range places(two, b) {
			if one.recipe != "slot" && two.recipe != "slot" && math.Hypot(a.at[i][0]-b.at[l][0], a.at[i][1]-b.at[l][1]) < 1e-6 {
				continue
			}
			if standsIn(one, a, i, two, b, l) || standsIn(two, b, l, one, a, i) {
				continue
			}
			p, q := j.rimOf(a, one, i), j.rimOf(b, two, l)
			if a.holds(one, i, q, b.metal.high[2]) || b.holds(two, l, p, a.metal.high[2]) {
				return 0
			}
			least = min(least, apart(p, a.metal.high[2], q, b.metal.high[2]))
		}
	}
	return least
}

// standsIn tells whether a hole begins on the floor of a face, where there is no wall.
func standsIn(hole *holeCut, d *made, i int, face *holeCut, f *made, l int) bool {
	if hole.recipe != "bolt holes" || face.recipe != "spot face" {
		return false
	}
	return math.Abs(d.metal.high[2]-f.tips[face.tool.number][l]) < 0.01 && math.Hypot(d.at[i][0]-f.at[l][0], d.at[i][1]-f.at[l][1]) < face.across()/2
}

// film tells whether a limit speaks of a hole and of a face that is not its own, with the
// hole's top and the face's floor nearer to each other than the cells tell apart.
func (j *holeJob) film(all []*made, n int, name string) bool {
	for k, other := range j.cuts {
		if name != "wall to "+other.name {
			continue
		}
		for i := range all[n].at {
			for l := range all[k].at {
				apart := math.Hypot(all[n].at[i][0]-all[k].at[l][0], all[n].at[i][1]-all[k].at[l][1]) > 1e-6
				if apart && (standsIn(j.cuts[n], all[n], i, other, all[k], l) || standsIn(other, all[k], l, j.cuts[n], all[n], i)) {
					return true
				}
			}
		}
	}
	return false
}

// holds tells whether a column over a rim goes through what a cut has made at one
// of its places.
func (d *made) holds(c *holeCut, n int, rim [][3]float64, top float64) bool {
	for _, m := range []*heightMap{&d.metal, &d.thread} {
		for _, p := range rim {
			if c.recipe != "slot" && math.Hypot(p[0]-d.at[n][0], p[1]-d.at[n][1]) > max(c.across()/2, c.reach()) {
				continue
			}
			i, k := int(math.Round((p[0]-m.low[0])/m.dx)), int(math.Round((p[1]-m.low[1])/m.dy))
			if z := m.at(i, k); !math.IsInf(z, -1) && z < m.high[2] && max(z, p[2]) < min(m.high[2], top) {
				return true
			}
		}
	}
	return false
}

// room is the least distance from discs about a cut's places to a side of the
// block.
func (j *holeJob) room(d *made, r float64) float64 {
	left := math.Inf(1)
	for _, p := range d.at {
		left = min(left, p[0]-r-j.low[0], j.high[0]-p[0]-r, p[1]-r-j.low[1], j.high[1]-p[1]-r)
	}
	return left
}

// lowest is the lowest tip of what does not go through, as the texts say.
func (j *holeJob) lowest(d *made, c *holeCut) float64 {
	low := math.Inf(1)
	for _, t := range []*holeTool{c.spot, c.drill, c.wide, c.tool} {
		if t == nil || c.through && t != c.spot && !(t == c.wide && c.hole == "split") {
			continue
		}
		for _, z := range d.tips[t.number] {
			low = min(low, z)
		}
	}
	return low
}

// rimRoom is the least distance from what is cut to a side of the block, below
// nought where it hangs over.
func (j *holeJob) rimRoom(m *heightMap) float64 {
	left := math.Inf(1)
	m.each(func(i, k int, _ float64) {
		x, y := m.x(i), m.y(k)
		left = min(left, x-j.low[0], j.high[0]-x, y-j.low[1], j.high[1]-y)
	})
	return left
}

// judged holds the verdicts against the maps.
func (j *holeJob) judged(all []*made, verdicts []limit.Verdict, grid float64) (out []finding, near []string) {
	add := func(format string, args ...any) { out = append(out, finding{text: fmt.Sprintf(format, args...)}) }
	for n, c := range j.cuts {
		for _, b := range j.bores {
			webs, threads := 0, 0
			for _, v := range verdicts {
				if v.Cut == c.name && strings.HasSuffix(v.Limit, " to bore "+b.name) {
					if strings.HasPrefix(v.Limit, "thread") {
						threads++
					} else {
						webs++
					}
				}
			}
			want := 0
			if c.drill != nil {
				want = 1
			}
			if webs != 1 || threads != want {
				add("%s: bore %s has %d verdicts and %d for the thread", c.name, b.name, webs, threads)
			}
		}
		for k, other := range j.cuts[:n] {
			if between := j.between(all, n, k); between < 15 && !slices.ContainsFunc(verdicts, func(v limit.Verdict) bool {
				return v.Cut == c.name && v.Limit == "wall to "+other.name
			}) {
				add("%s: %.4f to %s, and no verdict", c.name, between, other.name)
			}
		}
		if left, _, _ := j.leftAt(all, n, "wall between the holes"); len(all[n].at) > 1 && left < 15 && !slices.ContainsFunc(verdicts, func(v limit.Verdict) bool {
			return v.Cut == c.name && v.Limit == "wall between the holes"
		}) {
			add("%s: nothing is said of the wall between its holes", c.name)
		}
	}
	for _, v := range verdicts {
		n := slices.IndexFunc(j.cuts, func(c *holeCut) bool { return c.name == v.Cut })
		if n < 0 { // travel
			if v.Stops() {
				add("refused by %s, which has room", v.Limit)
			}
			continue
		}
		c := j.cuts[n]
		left, never, known := j.leftAt(all, n, v.Limit)
		if !known {
			if text := j.without(all, n, v); text != "" {
				add("%s, %s: %s", v.Cut, v.Limit, text)
			}
			continue
		}
		mark := never
		if c.spot != nil && c.wall.text == "" { // of a mark a little wider than its drill half of that is meant
			mark = max(never, min(1, c.wideMark()))
		}
		if judged := inMM(v.NeverLess); (judged < never-1e-6 || judged > mark+1e-6) && !strings.HasPrefix(v.Limit, "floor") {
			add("%s, %s: never less than %.4f is asked and %.4f is judged", v.Cut, v.Limit, never, inMM(v.NeverLess))
		}
		if strings.HasPrefix(v.Limit, "wall to") && slices.ContainsFunc(verdicts, func(o limit.Verdict) bool {
			return o.Cut == v.Cut && o.Limit == "hole, each side" && o.Stops()
		}) {
			continue // refused as wider than it is to be: walls are told of the hole as it is to be
		}
		if v.Stops() && j.film(all, n, v.Limit) {
			continue
		}
		if v.Limit == "floor under the hole" && left < 0 && v.Planned < 0 {
			left = inMM(v.Planned) // there is none: how much less than none is the judge's own way
		}
		entered := c.enters != "" && strings.HasSuffix(v.Limit, " to bore "+c.enters)
		over := cell + tiny + 2*grid
		if strings.HasPrefix(v.Limit, "wall to ") && !strings.HasPrefix(v.Limit, "wall to bore ") || v.Limit == "wall between the holes" {
			over += cell // on both sides of the wall a cell may be short
		}
		for _, f := range agree(v, left, over, c.top.text != "" || j.sticksOut(c, v.Limit), !entered) {
			f.text = v.Cut + ", " + f.text
			out = append(out, f)
		}
		if d := left - inMM(v.NeverLess); -2*cell < d && d < 2*cell {
			near = append(near, v.Limit)
		}
	}
	return out, near
}

// sticksOut tells whether a limit speaks of a slot with an open end and of a bore
// that goes on outside the metal, or comes to its side where the slot runs out
// at an angle: the judge counts what is outside too, so that
// less may be told than is left, never more. (A hole on the floor of a face is
// likewise told with what the face has taken over it.)
func (j *holeJob) sticksOut(c *holeCut, limit string) bool {
	for _, b := range j.bores {
		if !strings.HasSuffix(limit, " to bore "+b.name) || c.recipe != "slot" || !c.open[0] && !c.open[1] {
			continue
		}
		beyond := 1e-6
		if c.from[0].mm != c.to[0].mm && c.from[1].mm != c.to[1].mm {
			beyond = -1e-6
		}
		for a, w := range b.along {
			for _, end := range []float64{b.low, b.high} {
				if v := b.at[a] + w*end; w != 0 && (v < j.low[a]-beyond || v > j.high[a]+beyond) {
					return true
				}
			}
		}
	}
	return false
}

// without holds the verdicts that are no distance of the maps.
func (j *holeJob) without(all []*made, n int, v limit.Verdict) string {
	c, d := j.cuts[n], all[n]
	switch v.Limit {
	case "face cleans up":
		over := j.rimRoom(&d.metal) < -1e-6
		if over == v.Stops() || !over && j.rimRoom(&d.metal) < cell {
			return ""
		}
		return fmt.Sprintf("%s, and the map has %.4f to the edge", v.State, j.rimRoom(&d.metal))
	case "flat metal where the drill starts":
		room := j.room(d, max(c.wideMark(), c.screw.major/2))
		if f := j.face(n); f != nil { // it starts on the floor of a face
			room = f.diameter.mm/2 - c.reach() // the point widens up to the block's top
		}
		if (room < 0) == v.Stops() || math.Abs(room) < 0.001 {
			return ""
		}
		return fmt.Sprintf("%s, and its mark has %.4f to the edge", v.State, room)
	case "hole, each side", "slot width, each side", "slot end":
		if v.Stops() && c.tool != nil && c.tool.cutter.r > c.across()/2 {
			return ""
		}
	}
	if !slices.Contains(harmless, v.Limit) {
		return "is not known to the test"
	}
	if v.Stops() {
		return "refuses, and has room"
	}
	return ""
}
