package post_test

import (
	"fmt"
	"math"
	"strings"

	"stopshort/post"
)

// drilling is one drill's work in each hole of a cut: how deep its tip is asked
// to go.
type drilling struct {
	tool *holeTool
	tip  float64
}

// drilled is what is asked of a cut's drills, the mark of the spot drill first:
// as wide as the finished hole (a tapped one's thread), or as the spot drill.
// Beyond the underside the full diameter goes 0.5 mm or a tenth of the diameter,
// the greater (from memory).
func (j *holeJob) drilled(c *holeCut) []drilling {
	top := j.topOf(c)
	wide := c.screw.major
	if c.hole != "tapped" {
		wide = c.screw.clear
	}
	point := func(t *holeTool) float64 { return t.cutter.r * t.cutter.slope }
	beyond := func(t *holeTool) float64 { return j.low[2] - max(0.5, t.d.mm/10) - point(t) }
	out := []drilling{{c.spot, top - min(c.spot.cutter.r, wide/2)*c.spot.cutter.slope}}
	if t := c.drill; t != nil {
		tip := beyond(t)
		if !c.through {
			full := c.depth.mm + c.screw.pitch*runOut[c.tap]
			if c.shoulder.text != "" {
				full = c.shoulder.mm
			}
			tip = top - full - point(t)
		}
		out = append(out, drilling{t, tip})
	}
	if t := c.wide; t != nil {
		tip := beyond(t)
		switch {
		case c.splitAt.text != "":
			tip = c.splitAt.mm - point(t)
		case !c.through:
			tip = top - c.depth.mm - point(t)
		}
		out = append(out, drilling{t, tip})
	}
	return out
}

// made is what the texts have cut for one cut of the job.
type made struct {
	metal  heightMap         // as cut; for holes with room about it for what hangs over
	thread heightMap         // the outsides of its threads alone
	at     [][2]float64      // places met, the first tool's order
	tips   map[int][]float64 // by tool: lowest height at each of at
	rims   [][][3]float64    // by place: cells at the rim, of holes and threads
}

// near is the place met within a grid's rounding of p; -1 is none.
func (d *made) near(p [2]float64) int {
	for i, q := range d.at {
		if math.Hypot(p[0]-q[0], p[1]-q[1]) < 0.01 {
			return i
		}
	}
	return -1
}

// over is how far a cut's holes hang over the block's sides.
func (j *holeJob) over(c *holeCut) float64 {
	r := max(c.across()/2, c.reach()) + 0.1
	over := 0.0
	for _, p := range c.at {
		for a := range p {
			over = max(over, j.low[a]-p[a]+r, p[a]+r-j.high[a])
		}
	}
	return over
}

// wideMark is the radius of the spot drill's mark.
func (c *holeCut) wideMark() float64 {
	if c.hole == "tapped" {
		return min(c.spot.cutter.r, c.screw.major/2)
	}
	return min(c.spot.cutter.r, c.wide.cutter.r)
}

// reach is how far the spot drill's cut goes out: of holes on the floor of a
// face, up to the block's top.
func (c *holeCut) reach() float64 {
	switch {
	case c.spot == nil:
		return 0
	case c.under != nil:
		return min(c.spot.cutter.r, c.wideMark()+c.under.deep.mm/c.spot.cutter.slope)
	}
	return c.wideMark()
}

// face is the cut of the faces on whose floors a cut's holes start.
func (j *holeJob) face(n int) *holeCut {
	if j.cuts[n].top.text == "" {
		return nil
	}
	return j.cuts[n].under
}

// lay puts a fresh block on the map for a cut, up to where its holes start; to
// the block's top where its drills are too wide for the faces that are there.
func (j *holeJob) lay(m *heightMap, c *holeCut) {
	high := j.high
	if c.under != nil {
		if max(c.reach(), c.across()/2) <= c.under.diameter.mm/2 {
			high[2] = c.top.mm
		}
	}
	m.lay(j.low, high)
	if c.recipe == "slot" {
		return
	}
	if over := j.over(c); over > 0 {
		n := math.Ceil(over/min(m.dx, m.dy)) + 2
		x, y := n*m.dx, n*m.dy
		m.lay([3]float64{j.low[0] - x, j.low[1] - y, j.low[2]}, [3]float64{high[0] + x, high[1] + y, high[2]})
	}
}

// cutAll cuts the maps of a job's cuts by the texts of all its programs. Which
// cut a move belongs to is told by its tool and by the last place that the
// cutter was brought to.
func (j *holeJob) cutAll(out []*made, programs []*post.Proven) error {
	for i, c := range j.cuts {
		d := out[i]
		j.lay(&d.metal, c)
		d.at, d.tips, d.rims = d.at[:0], map[int][]float64{}, nil
	}
	for _, p := range programs {
		name := strings.TrimSuffix(p.Name, ".ngc")
		number := strings.TrimLeft(name[strings.LastIndex(name, "-")+1:], "0")
		tool, err := cutterOf(j.text, number)
		if err != nil {
			return err
		}
		place := [2]float64{math.NaN()}
		err = strokes(string(p.Text), j.high[2], func(s stroke) error {
			if s.motion == 0 && (s.from[0] != s.to[0] || s.from[1] != s.to[1]) {
				if s.to[2] < j.high[2]+0.9 {
					return fmt.Errorf("a rapid sideways at %.4f", s.to[2])
				}
				place = [2]float64{s.to[0], s.to[1]}
				return nil
			}
			if math.IsNaN(place[0]) {
				place = [2]float64{s.from[0], s.from[1]}
			}
			i := j.owner(number, place)
			if i < 0 {
				return fmt.Errorf("tool %s cuts at X%.4f Y%.4f, where nothing is asked of it", number, place[0], place[1])
			}
			c, d := j.cuts[i], out[i]
			if c.recipe != "slot" {
				k := d.near(place)
				if k < 0 {
					k = len(d.at)
					d.at = append(d.at, place)
				}
				tips := d.tips[j.tool(number).number]
				for len(tips) <= k {
					tips = append(tips, j.high[2])
				}
				tips[k] = min(tips[k], s.to[2])
				d.tips[j.tool(number).number] = tips
			}
			return d.metal.stroke(s, tool)
		})
		if err != nil {
			return fmt.Errorf("%s: %w", p.Name, err)
		}
	}
	for i, c := range j.cuts {
		j.threads(out[i], c)
	}
	return nil
}

func (j *holeJob) tool(number string) *holeTool {
	for _, t := range j.tools {
		if fmt.Sprint(t.number) == number {
			return t
		}
	}
	return nil
}

// owner is the cut that asks a tool to cut at a place; of several the first. A
// slot's place may be anywhere.
func (j *holeJob) owner(number string, p [2]float64) int {
	slot := -1
	for i, c := range j.cuts {
		for _, t := range []*holeTool{c.spot, c.drill, c.wide, c.tool} {
			if t == nil || fmt.Sprint(t.number) != number {
				continue
			}
			if c.recipe == "slot" {
				slot = i
			}
			for _, q := range c.at {
				if math.Hypot(p[0]-q[0], p[1]-q[1]) < 0.01 {
					return i
				}
			}
		}
	}
	return slot
}

// threads cuts the outsides of a cut's threads into a map of their own, where
// the text has drilled. Of a split hole the thread is taken up to the top, as
// the judge takes it: the clear half is wider, so that it tells nothing less
// than the truth.
func (j *holeJob) threads(d *made, c *holeCut) {
	j.lay(&d.thread, c)
	if c.recipe != "bolt holes" || c.hole == "clearance" {
		return
	}
	low := j.low[2]
	if !c.through {
		low = j.topOf(c) - c.depth.mm
	}
	for _, p := range d.at {
		d.thread.cut(p, p, c.screw.major/2, low)
	}
}

// rim is the cells of a map within a radius of a place that stand at the rim of
// what is cut there; of a slot, anywhere.
func rim(m *heightMap, p [2]float64, r float64) (out [][3]float64) {
	m.each(func(i, k int, z float64) {
		x, y := m.x(i), m.y(k)
		if math.Abs(x-p[0]) > r || math.Abs(y-p[1]) > r || math.Hypot(x-p[0], y-p[1]) > r {
			return
		}
		for _, n := range [4]float64{m.at(i-1, k), m.at(i+1, k), m.at(i, k-1), m.at(i, k+1)} {
			if n >= m.high[2] || math.IsInf(n, -1) {
				out = append(out, [3]float64{x, y, z})
				return
			}
		}
	})
	return out
}

// apart is the least distance between the columns over two rims, each up to a
// top.
func apart(a [][3]float64, aTop float64, b [][3]float64, bTop float64) float64 {
	least := math.Inf(1)
	for _, p := range a {
		for _, q := range b {
			x, y, z := p[0]-q[0], p[1]-q[1], max(0, p[2]-bTop, q[2]-aTop)
			if s := x*x + y*y + z*z; s < least {
				least = s
			}
		}
	}
	return math.Sqrt(least)
}

// asked cuts what a cut's words ask for out of a map, wider and deeper by so
// much: all of it lies outside of that, and all of it inside where grow is below
// nought.
func (j *holeJob) asked(m *heightMap, c *holeCut, grow float64) {
	j.lay(m, c)
	cone := func(p [2]float64, t *holeTool, tip float64) {
		m.cutPoint(p, cutter{t.cutter.r + grow, t.cutter.slope}, tip-grow*(1+t.cutter.slope))
	}
	switch c.recipe {
	case "slot":
		a, b := c.ends()
		m.cut(a, b, c.width.mm/2+grow, -c.depth.mm-grow)
	case "spot face":
		for _, p := range c.at {
			m.cut(p, p, c.diameter.mm/2+grow, j.high[2]-c.deep.mm-grow)
		}
	default:
		for _, p := range c.at {
			for i, d := range j.drilled(c) {
				t := *d.tool
				if i == 0 {
					t.cutter.r = c.wideMark()
				}
				cone(p, &t, d.tip)
			}
			if c.under != nil && grow > 0 {
				m.cut(p, p, c.under.diameter.mm/2+grow, c.top.mm)
			}
		}
	}
}

// shaped holds what the texts have cut for a cut against what it asks for.
func (j *holeJob) shaped(d *made, c *holeCut, scratch *heightMap, grid float64) (out []string) {
	m := &d.metal
	off := 0.0
	each := func(grow float64, wrong func(is, asked float64) bool, what string) {
		j.asked(scratch, c, grow)
		n, where := 0, ""
		for i, z := range m.z {
			if wrong(z, scratch.z[i]) {
				if n++; n == 1 {
					where = fmt.Sprintf("X%.3f Y%.3f: cut to %.4f, asked %.4f", m.x(i%m.nx), m.y(i/m.nx), z, scratch.z[i])
				}
			}
		}
		if n > 0 {
			out = append(out, fmt.Sprintf("%s: %d cells %s, first %s", c.name, n, what, where))
		}
	}
	off = grid + tiny
	if c.recipe != "bolt holes" {
		off += 3 * grid // circles and slants are put on the grid point by point
	}
	each(off, func(is, asked float64) bool { return is < asked-1e-9 }, "are cut that nothing asks for")
	each(-off, func(is, asked float64) bool { return is > asked+1e-9 }, "stand that are to go")
	return out
}
