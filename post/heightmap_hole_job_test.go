package post_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
)

// screw is a thread in millimetres: M ones from "Metric tap drill list", BA ones
// from "BA thread specification"; drills as the handbook's tables of them; heads of
// "DIN 912/933/934 tables", of BA ones 1.75 diameters ("BS 57:1951 scan"). Its
// name is in no figure of the map, so that the table is written out here again.
type screw struct {
	name                           string
	pitch, major, tap, clear, head float64
}

var screws = []screw{
	{"M2", 0.4, 2, 1.6, 2.4, 3.8}, {"M2.5", 0.45, 2.5, 2.05, 2.9, 4.5}, {"M3", 0.5, 3, 2.5, 3.4, 5.5},
	{"M4", 0.7, 4, 3.3, 4.5, 7}, {"M5", 0.8, 5, 4.2, 5.5, 8.5}, {"M6", 1, 6, 5, 6.6, 10},
	{"0BA", 1, 6, 5.1, 6.2, 10.5}, {"2BA", 0.81, 4.7, 4, 4.9, 8.225}, {"4BA", 0.66, 3.6, 3, 3.7, 6.3},
	{"6BA", 0.53, 2.8, 2.3, 2.9, 4.9}, {"8BA", 0.43, 2.2, 1.8, 2.3, 3.85}, {"10BA", 0.35, 1.7, 1.4, 1.8, 2.975},
}

// runOut is what a tap leaves beyond the last full thread, in pitches (from
// memory).
var runOut = map[string]float64{"bottoming": 3, "plug": 5}

// holeTool is a tool of the job, by its number in the text.
type holeTool struct {
	number int
	kind   string
	d      figure
	text   string
	cutter cutter // as the text says it
}

// holeCut is one cut of the set-up: what its words say, and its places as they
// are asked for.
type holeCut struct {
	name, recipe      string
	screw             screw
	hole              string // tapped, clearance, split
	through           bool
	depth, shoulder   figure
	tap, enters       string
	splitAt, kerf     figure
	spot, drill, wide *holeTool // wide: of the clearance
	wall              figure
	at                [][2]float64
	atText            []string
	top               figure   // on the floor of a face that is sunk first
	under             *holeCut // the cut of those faces
	diameter, deep    figure   // of a face
	tool              *holeTool
	channel           // of a slot
}

// across is the finished hole's diameter, a tapped one's over its thread.
func (c *holeCut) across() float64 {
	switch {
	case c.recipe == "spot face":
		return c.diameter.mm
	case c.recipe == "slot":
		return c.width.mm
	case c.hole == "tapped":
		return c.screw.major
	}
	return max(c.screw.major, 2*c.wide.cutter.r)
}

// holeJob is a random job of holes, faces and perhaps a slot in one set-up.
type holeJob struct {
	part
	tools []*holeTool
	cuts  []*holeCut
	touch [2]figure
	text  string
}

// newHoleJob draws one whose holes are worth looking at, and writes its text.
func newHoleJob(r *rand.Rand) *holeJob {
	for {
		j := &holeJob{part: part{figures: figures{r, []string{"mm", "in"}[r.IntN(2)]}}}
		j.turned()
		j.metal()
		n := 1 + j.IntN(2)
		for range n {
			j.draw()
		}
		if j.chance(30) {
			j.slot()
		}
		if j.touching() && j.asks() {
			j.write()
			return j
		}
	}
}

// metal draws the block and its bores.
func (j *holeJob) metal() {
	size := [3]float64{j.random(16, 32), j.random(14, 24), j.random(6, 15)}
	low := [3]float64{-j.random(0, size[0]), -j.random(0, size[1]), -size[2]}
	high := [3]float64{low[0] + size[0], low[1] + size[1], 0}
	if j.chance(30) {
		up := j.random(-0.3, 3)
		low[2], high[2] = low[2]+up, up
	}
	for range 1 + j.IntN(2) {
		j.bore(low, high)
	}
	j.block(low, high)
}

// bore draws a bore in a box: lying along X or Y, or upright; through or blind.
func (j *holeJob) bore(low, high [3]float64) {
	name := []string{"pivot", "oil way"}[len(j.bores)]
	axis := j.IntN(3)
	d := j.figures.size(j.random(2, min(9, 0.6*(high[2]-low[2]))))
	b := rod{name: name, r: d.mm / 2, low: math.NaN(), high: math.NaN()}
	var p [3]float64
	for a := range p {
		p[a] = j.random(low[a]+b.r+0.4, high[a]-b.r-0.4)
	}
	text, said := j.place(p)
	b.at = said
	k := 0 // the axis as the part calls it
	for j.turn[axis][k] == 0 {
		k++
	}
	for a := range b.along {
		b.along[a] = j.turn[a][k]
	}
	var two []figure
	for i, f := range text {
		if i != k {
			two = append(two, f)
		}
	}
	lines := []string{"[[bore]]", fmt.Sprintf("name = %q", name), "diameter = " + d.text, fmt.Sprintf("along = %q", string(rune('x'+k))), "at = " + list(two...)}
	if j.chance(35) {
		long := high[axis] - low[axis]
		one, two := low[axis]-1, high[axis]+1
		if j.chance(50) {
			one = low[axis] + long*j.random(0.1, 0.5)
		} else {
			two = low[axis] + long*j.random(0.4, 0.9)
		}
		part := func(v float64) figure { return j.length(j.zero[k].mm + j.turn[axis][k]*v) }
		lo, hi := part(one), part(two)
		if lo.mm > hi.mm {
			lo, hi = hi, lo
		}
		lines = append(lines, "ends = "+list(lo, hi))
		b.low, b.high = lo.mm-text[k].mm, hi.mm-text[k].mm
	}
	j.bores = append(j.bores, b)
	j.boreText = append(j.boreText, strings.Join(lines, "\n"))
}

// aTool is a tool of about a diameter, an old one where there is one.
func (j *holeJob) aTool(kind string, d float64, exact *figure) *holeTool {
	f := j.figures.size(d)
	if exact != nil {
		f = *exact
	} else if math.Abs(f.mm-d) > 0.025*d {
		f = j.length(d)
	}
	for _, t := range j.tools {
		if t.kind == kind && (math.Abs(t.d.mm-f.mm) < 1e-9 || kind == "spot drill" && j.chance(60)) {
			return t
		}
	}
	t := &holeTool{number: 1 + j.IntN(4) + 5*len(j.tools), kind: kind, d: f}
	lines := []string{"[[tool]]", fmt.Sprintf("number = %d", t.number), fmt.Sprintf("kind = %q", kind), "diameter = " + f.text}
	if j.chance(20) {
		out := j.random(-0.02, 0)
		if j.chance(20) {
			out = 0.006 // a face's cutter of the diameter then cuts too wide
		}
		lines = append(lines, "measured = "+j.length(f.mm+out).text)
	}
	if kind == "drill" && j.chance(10) {
		lines = append(lines, fmt.Sprintf("tip = \"%d deg\"", 110+j.IntN(30)))
	}
	long := j.high[2] - j.low[2] + 12
	lines = append(lines, "flute_length = "+j.length(long).text, "stick_out = "+j.length(long+5).text)
	t.text = strings.Join(lines, "\n")
	var err error
	if t.cutter, err = cutterOf(fmt.Sprintf("units = %q\n%s", j.units, t.text), fmt.Sprint(t.number)); err != nil {
		panic(err)
	}
	j.tools = append(j.tools, t)
	return t
}

// draw draws a cut of holes, of faces, or of faces with holes on their floors.
func (j *holeJob) draw() {
	name := fmt.Sprintf("%s %c", []string{"lid", "foot", "cap"}[j.IntN(3)], 'A'+len(j.cuts))
	kind := j.IntN(100)
	if kind < 70 {
		c := &holeCut{name: name + " screws"}
		j.bolt(c)
		j.places(c)
		j.cuts = append(j.cuts, c)
		return
	}
	c := &holeCut{name: name + " faces", recipe: "spot face", deep: j.length(j.random(0.2, 2.5))}
	c.diameter = j.figures.size(j.random(3, 10))
	if c.tool = j.aTool("slot drill", c.diameter.mm, &c.diameter); j.chance(60) {
		c.tool = j.aTool("slot drill", max(1.5, c.diameter.mm*j.random(0.3, 0.95)), nil)
		if c.tool.d.mm > c.diameter.mm {
			c.tool = j.aTool("slot drill", c.diameter.mm, &c.diameter)
		}
	}
	j.places(c)
	j.cuts = append(j.cuts, c)
	if kind < 85 {
		return
	}
	s := &holeCut{name: name + " screws", at: c.at, atText: c.atText, under: c}
	s.top = figure{fmt.Sprintf("\"%.7f mm\"", j.high[2]-c.deep.mm), j.high[2] - c.deep.mm} // to the tenth of a nanometre
	j.bolt(s)
	j.cuts = append(j.cuts, s)
}

// bolt draws the screw, the drills and the depths of a cut of holes.
func (j *holeJob) bolt(c *holeCut) {
	c.recipe, c.screw, c.tap = "bolt holes", screws[j.IntN(len(screws))], "bottoming"
	if c.under != nil && j.chance(85) { // one that the face is wide enough for
		for c.screw.clear >= c.under.diameter.mm && c.screw.name != "10BA" {
			c.screw = screws[j.IntN(len(screws))]
		}
	}
	c.hole = []string{"tapped", "tapped", "clearance", "split"}[j.IntN(4)]
	c.spot = j.aTool("spot drill", []float64{1.5, 3, 4, 6, 8}[j.IntN(5)], nil)
	if c.hole != "clearance" {
		c.drill = j.aTool("drill", c.screw.tap, nil)
	}
	if c.hole != "tapped" {
		c.wide = j.aTool("drill", c.screw.clear, nil)
	}
	top := j.topOf(c)
	thick := top - j.low[2]
	if c.through = j.chance(40); !c.through {
		c.depth = j.length(thick * j.random(0.15, 0.75))
		if c.hole != "clearance" && j.chance(30) {
			c.tap = "plug"
		}
		if c.hole != "clearance" && j.chance(30) {
			c.shoulder = j.length(c.depth.mm + c.screw.pitch*runOut[c.tap] + j.random(0, 1))
		}
	}
	if c.hole == "split" {
		share := j.random(0.3, 0.8)
		if c.splitAt = j.length(top - share*thick); !c.through {
			c.splitAt = j.length(top - share*c.depth.mm)
		}
		if j.chance(30) {
			c.kerf = j.length(j.random(0.2, 1))
		}
	}
}

// topOf is the height at which a cut's holes start.
func (j *holeJob) topOf(c *holeCut) float64 {
	if c.top.text != "" {
		return c.top.mm
	}
	return j.high[2]
}

// places draws where a cut's holes or faces are: a pair about a bore, a row, or
// points.
func (j *holeJob) places(c *holeCut) {
	inside := func(a int) float64 {
		from := c.screw.major * 1.1
		if c.recipe == "spot face" {
			from = c.across()/2 + 0.3
		}
		if j.chance(10) {
			from = 0.4 // near the edge, or over it
		}
		from = min(from, 0.45*(j.high[a]-j.low[a]))
		return j.random(j.low[a]+from, j.high[a]-from)
	}
	switch b := j.bores[j.IntN(len(j.bores))]; {
	case j.chance(40):
		axis := 0
		for b.along[axis] == 0 {
			axis++
		}
		along := 1 - axis
		if axis == 2 {
			along = j.IntN(2)
		}
		apart := j.length(2 * (b.r + c.across()/2 + j.random(0.1, 3)))
		if axis < 2 && j.chance(30) {
			apart = j.length(c.across() + j.random(0.2, 3)) // over the bore
		}
		aside := inside(1 - along)
		if axis == 2 {
			aside -= b.at[1-along]
			if j.chance(50) {
				aside = 0
			}
		}
		offset := j.length(aside)
		said := offset.mm
		if axis == 2 {
			said += b.at[1-along]
		}
		for _, side := range []float64{-1, 1} {
			var p [2]float64
			p[along], p[1-along] = b.at[along]+side*apart.mm/2, said
			c.at = append(c.at, p)
		}
		text := fmt.Sprintf("pair = { bore = %q, apart = %s, along = %q", b.name, apart.text, []string{"x", "y"}[along])
		if aside != 0 {
			text += ", offset = " + offset.text
		}
		c.atText = append(c.atText, text+" }")
	case j.chance(50):
		n := 2 + j.IntN(3)
		long := (c.across() + j.random(0.2, 3)) * float64(n-1)
		from := [2]float64{inside(0), inside(1)}
		sin, cos := 0.0, []float64{-1, 1}[j.IntN(2)]
		switch j.IntN(3) {
		case 0:
			sin, cos = cos, sin
		case 1:
			sin, cos = math.Sincos(j.random(0, 2*math.Pi))
		}
		f := []figure{j.length(from[0]), j.length(from[1])}
		t := []figure{j.length(from[0] + long*cos), j.length(from[1] + long*sin)}
		for k := range n {
			s := float64(k) / float64(n-1)
			c.at = append(c.at, [2]float64{f[0].mm + s*(t[0].mm-f[0].mm), f[1].mm + s*(t[1].mm-f[1].mm)})
		}
		c.atText = append(c.atText, fmt.Sprintf("row = [{ from = %s, to = %s, count = %d }]", list(f...), list(t...), n))
	default:
		var all []figure
		for range 1 + j.IntN(2) {
			x, y := j.length(inside(0)), j.length(inside(1))
			all = append(all, x, y)
			c.at = append(c.at, [2]float64{x.mm, y.mm})
		}
		c.atText = append(c.atText, "points = "+list(all...))
	}
}

// slot draws a slot in the same set-up, before or after the holes.
func (j *holeJob) slot() {
	c := &holeCut{name: "slot", recipe: "slot"}
	a := j.IntN(2)
	w := j.random(2, 6)
	c.width = j.figures.size(w)
	c.depth = j.length(max(0.5, j.random(0.8, 5)-j.high[2]))
	side := j.random(j.low[1-a]+w, j.high[1-a]-w)
	c.from[a], c.to[a] = j.length(j.low[a]+j.random(0, 6)), j.length(j.high[a]-j.random(0, 6))
	c.from[1-a] = j.length(side)
	c.to[1-a] = c.from[1-a]
	if j.chance(30) {
		c.to[1-a] = j.length(side + j.random(-5, 5))
	}
	c.open = [2]bool{j.chance(60), j.chance(60)}
	if c.tool = j.aTool("slot drill", c.width.mm, &c.width); j.chance(40) && w > 2.5 {
		if t := j.aTool("slot drill", w*j.random(0.5, 0.9), nil); t.d.mm <= c.width.mm {
			c.tool = t
		}
	}
	if j.chance(50) {
		j.cuts = append(j.cuts, c)
		return
	}
	j.cuts = append([]*holeCut{c}, j.cuts...)
}
