package post_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
)

// slotJob is a random job of one slot: its text, and the same figures in
// millimetres in the set-up's frame, for the map.
type slotJob struct {
	part
	channel
	cutter figure

	// What the slot is asked to keep; a figure without text is not said.
	depth, wall, leave, never, floorAt figure
	shortOf                            string // a bore's name

	text string
}

// channel is a slot's shape seen from above.
type channel struct {
	from, to [2]figure
	open     [2]bool
	width    figure
}

// newSlotJob draws one until its slot and its bore are near each other as
// asked, and writes its text.
func newSlotJob(r *rand.Rand, m *heightMap) *slotJob {
	for {
		j := &slotJob{part: part{figures: figures{r, []string{"mm", "in"}[r.IntN(2)]}}}
		j.turned()
		bottom := j.slot()
		j.bore(bottom)
		if j.chance(30) {
			j.bore(bottom)
		}
		j.stock(bottom)
		if j.asks(bottom, m) {
			j.write()
			return j
		}
	}
}

// slot draws centre line, ends, width and cutter. It gives the floor aimed at.
func (j *slotJob) slot() float64 {
	at := [2]figure{j.length(j.random(-3, 3)), j.length(j.random(-3, 3))}
	long := j.random(3, 14)
	j.from, j.to = at, at
	switch j.IntN(3) {
	case 0:
		j.to[0] = j.length(at[0].mm + long)
	case 1:
		j.to[1] = j.length(at[1].mm + long)
	default:
		sin, cos := math.Sincos(j.random(0, 2*math.Pi))
		j.to = [2]figure{j.length(at[0].mm + long*cos), j.length(at[1].mm + long*sin)}
	}
	if j.chance(50) {
		j.from, j.to = j.to, j.from
	}
	j.open = [2]bool{j.chance(50), j.chance(50)}
	j.width = j.figures.size(j.random(2, 8))
	small := j.chance(65)
	if j.chance(20) { // a wide mouth with a small cutter
		j.width, small = j.figures.size(j.random(8, 18)), true
	}
	j.cutter = j.width
	if small {
		j.cutter = j.figures.size(max(1.5, j.width.mm*j.random(0.15, 0.99)))
		if j.cutter.mm > j.width.mm {
			j.cutter = j.width
		}
	}
	return -j.random(0.8, 8)
}

// bore draws a bore about 0.2 to 3 mm away from the slot.
func (j *slotJob) bore(bottom float64) {
	name := []string{"pivot", "oil way"}[len(j.bores)]
	d := j.figures.size(j.random(1.5, 16))
	b := rod{name: name, r: d.mm / 2}
	gap, along := j.random(0.2, 3), j.Float64()
	fx, fy, tx, ty := j.from[0].mm, j.from[1].mm, j.to[0].mm, j.to[1].mm
	length := math.Hypot(tx-fx, ty-fy)
	ux, uy := (tx-fx)/length, (ty-fy)/length
	p := [3]float64{fx + along*(tx-fx), fy + along*(ty-fy), bottom - gap - b.r}
	// Over the bore most often, else with it more and more aside.
	aside := 0.0
	if j.chance(60) {
		aside = j.random(-1, 1) * (j.width.mm/2 + b.r + gap)
		p[0], p[1] = p[0]-aside*uy, p[1]+aside*ux
		p[2] = j.random(p[2], bottom)
	}
	axis, angle, lean := j.IntN(4), 0.0, [3]float64{} // 3: a bore at an angle
	blind := j.chance(30)
	if axis == 3 {
		axis = j.IntN(3)
		angle = math.Round(j.random(0.5, 70)*100) / 100
	} else if axis == 2 && !(blind && j.chance(50)) { // upright, beside a side or past an end
		far := j.width.mm/2 + b.r + gap
		side := []float64{-1, 1}[j.IntN(2)]
		p = [3]float64{fx + along*(tx-fx) - side*far*uy, fy + along*(ty-fy) + side*far*ux, 0}
		if j.chance(50) {
			sin, cos := math.Sincos(j.random(-1.2, 1.2))
			p = [3]float64{tx + far*(ux*cos-uy*sin), ty + far*(uy*cos+ux*sin), 0}
		}
	}
	text, said := j.place(p)
	b.at = said
	// The axis as the part calls it.
	k := 0
	for j.turn[axis][k] == 0 {
		k++
	}
	letter := string(rune('x' + k))
	way := axisWord("+" + letter)
	lines := []string{"[[bore]]", fmt.Sprintf("name = %q", name), "diameter = " + d.text, fmt.Sprintf("along = %q", letter)}
	if angle > 0 {
		t := (k + 1 + j.IntN(2)) % 3
		towards := []string{"+", "-"}[j.IntN(2)] + string(rune('x'+t))
		lean = axisWord(towards)
		sin, cos := math.Sincos(angle * math.Pi / 180)
		for i := range way {
			way[i] = cos*way[i] + sin*lean[i]
		}
		lines = append(lines, "at = "+list(text[:]...), fmt.Sprintf("angle = \"%.2f deg\"", angle), fmt.Sprintf("towards = %q", towards))
		b.low, b.high = -500, 500
	} else {
		var two []figure
		for i, f := range text {
			if i != k {
				two = append(two, f)
			}
		}
		lines = append(lines, "at = "+list(two...))
	}
	for a := range b.along {
		for i := range way {
			b.along[a] += j.turn[a][i] * way[i]
		}
	}
	if blind {
		// From the part's nought along its axis; at an angle from the point.
		base := text[k].mm
		if angle > 0 {
			base = 0
		}
		lo, hi := j.length(base-j.random(2, 12)), j.length(base+j.random(2, 12))
		if angle == 0 && axis == 2 && math.Abs(b.at[0]-p[0]) < 1 { // one end up to just under the floor
			mid := j.zero[k].mm + j.turn[2][k]*(bottom-gap)
			if j.turn[2][k] > 0 {
				lo, hi = j.length(mid-j.random(3, 8)), j.length(mid)
			} else {
				lo, hi = j.length(mid), j.length(mid+j.random(3, 8))
			}
		}
		lines = append(lines, "ends = "+list(lo, hi))
		b.low, b.high = lo.mm, hi.mm
		if angle == 0 {
			b.low, b.high = lo.mm-text[k].mm, hi.mm-text[k].mm
		}
	} else if angle == 0 {
		b.low, b.high = math.NaN(), math.NaN() // through the stock
	}
	j.bores = append(j.bores, b)
	j.boreText = append(j.boreText, strings.Join(lines, "\n"))
}

// stock puts metal about slot and bores.
func (j *slotJob) stock(bottom float64) {
	low := [3]float64{math.Inf(1), math.Inf(1), bottom - j.random(4, 9)}
	high := [3]float64{math.Inf(-1), math.Inf(-1), 0}
	if j.chance(30) {
		high[2] = j.random(-0.3, 3)
	}
	reach := func(a int, p, r float64) { low[a], high[a] = min(low[a], p-r), max(high[a], p+r) }
	for a := range 2 {
		for i, e := range [2]float64{j.from[a].mm, j.to[a].mm} {
			if j.open[i] {
				reach(a, e, j.random(0, 3))
			} else {
				reach(a, e, j.width.mm/2+j.random(3, 6))
			}
			reach(a, e, j.width.mm/2+j.random(2.5, 6))
		}
		if j.chance(25) { // much longer one way, so that a mouth lies far from the corners
			low[a], high[a] = low[a]-j.random(0, 12), high[a]+j.random(0, 12)
		}
	}
	for _, b := range j.bores {
		for a := range 3 {
			if math.Abs(b.along[a]) < 0.5 {
				r := b.r + j.random(1, 4)
				low[a] = min(low[a], b.at[a]-r)
				if a < 2 {
					high[a] = max(high[a], b.at[a]+r)
				}
			}
		}
	}
	j.block(low, high)
}

// ends is the slot's centre line; where it is open it runs on out of the metal.
func (j *channel) ends() (a, b [2]float64) {
	a, b = [2]float64{j.from[0].mm, j.from[1].mm}, [2]float64{j.to[0].mm, j.to[1].mm}
	l := math.Hypot(b[0]-a[0], b[1]-a[1])
	for i := range a {
		u := 300 * (b[i] - a[i]) / l
		if j.open[0] {
			a[i] -= u
		}
		if j.open[1] {
			b[i] += u
		}
	}
	return a, b
}

// shape lays a block and cuts the finished slot out of it, down to a floor.
func (j *slotJob) shape(m *heightMap, floor float64) {
	m.lay(j.low, j.high)
	a, b := j.ends()
	m.cut(a, b, j.width.mm/2, floor)
}

// nearest is the bore that a slot down to a floor leaves least of, and how
// much that is.
func (j *slotJob) nearest(m *heightMap, floor float64) (b rod, web float64) {
	j.shape(m, floor)
	web = math.Inf(1)
	for _, x := range j.bores {
		if w := m.web(x); w < web {
			b, web = x, w
		}
	}
	return b, web
}

// asks chooses what the slot is told to keep; ok is false where this slot and
// its bore do not serve.
func (j *slotJob) asks(bottom float64, m *heightMap) (ok bool) {
	if bottom > j.high[2]-0.4 {
		return false
	}
	depth := j.length(-bottom)
	b, web := j.nearest(m, -depth.mm)
	near := j.random(-2*cell, 2*cell)
	upright := math.Abs(b.along[2]) > 1-1e-9
	switch kind := j.IntN(100); {
	case kind < 42: // a depth, and a never-less near what it leaves
		j.depth, j.wall = depth, j.length(web+near)
		return web > 0.15 && web < 2.4
	case kind < 56: // a depth near the one that leaves as much as is asked
		j.depth, j.shortOf = depth, b.name
		j.leave = j.length(web + near)
		j.never = figure{j.leave.text, j.leave.mm}
		if j.chance(50) {
			j.never = j.length(j.leave.mm - j.random(0, 2*cell) - 0.003)
		}
		j.wall = j.length(0.1)
		return web > 0.25 && web < 2.4
	case kind < 80: // short of a bore, the depth to be found
		j.shortOf, j.leave = b.name, j.length(j.random(0.3, 2.4))
		if j.chance(4) {
			j.leave = j.length(-bottom + web + near) // none or hardly any depth is left
		}
		if j.chance(60) {
			j.never = j.length(j.leave.mm - j.random(0, 2*cell) - 0.003)
		}
		j.wall = j.length(j.random(0.1, 0.3))
		if upright && b.at[2]+b.along[2]*b.high > j.high[2]-0.01 || b.at[2]+b.along[2]*b.low > j.high[2]-0.01 && upright {
			j.depth = depth
		} else {
			j.shape(m, j.low[2]-5)
			if m.web(b) > j.leave.mm-0.2 {
				j.depth = depth
			}
		}
		return web < 5
	case kind < 90: // short of a floor, which is the stock's or above it
		j.floorAt, j.leave = j.length(bottom-j.random(0.2, 2)), j.length(j.random(0.2, 1.5))
		if j.chance(50) {
			j.depth = j.length(-j.floorAt.mm - j.leave.mm + near)
		}
		j.wall = j.length(j.random(0.1, 1))
		return j.depth.text == "" || j.depth.mm > 0.3
	}
	j.depth = depth
	if j.chance(70) {
		j.wall = j.length(j.random(0.2, 1.8))
	}
	return true
}

// write puts the job into words.
func (j *slotJob) write() {
	var s strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&s, format+"\n", args...) }
	say := func(key string, f figure) {
		if f.text != "" {
			line("%s = %s", key, f.text)
		}
	}
	line("title = \"Clamp, slot\"")
	line("units = %q", j.units)
	line("material = %q", []string{"bronze", "brass", "mild steel", "aluminium"}[j.IntN(4)])
	line("stock = { low = %s, size = %s }", list(j.lo[:]...), list(j.size[:]...))
	for _, b := range j.boreText {
		line("%s", b)
	}
	number := 1 + j.IntN(9)
	if j.chance(30) { // another tool, which the slot does not use
		j.writeTool(&s, number+10, j.figures.size(9))
	}
	j.writeTool(&s, number, j.cutter)
	line("[[setup]]")
	line("up = %q\nright = %q", j.up, j.right)
	line("zero = %s", list(j.zero[:]...))
	line("touch_at = %s", list(j.touch()...))
	if j.chance(30) {
		line("jaws = { along = %q, top = %s }", []string{"x", "y"}[j.IntN(2)], j.length(j.low[2]+0.5).text)
	}
	if j.chance(20) {
		line("packing = { top = %s }", j.length(j.low[2]-0.01).text)
	}
	line("[[setup.cut]]")
	line("recipe = \"slot\"\ntool = %d", number)
	line("from = %s\nto = %s", list(j.from[:]...), list(j.to[:]...))
	ends := map[[2]bool]string{{true, true}: "open", {}: "closed", {true, false}: "open at from", {false, true}: "open at to"}
	line("ends = %q", ends[j.open])
	say("width", j.width)
	say("depth", j.depth)
	say("wall_never_less", j.wall)
	if j.chance(50) {
		say("step", j.length(j.random(0.5, 2)))
	}
	if j.leave.text != "" {
		of := fmt.Sprintf("bore = %q", j.shortOf)
		if j.shortOf == "" {
			of = "floor = " + j.floorAt.text
		}
		if j.never.text != "" {
			of += ", never_less = " + j.never.text
		}
		line("short_of = { %s, leave = %s }", of, j.leave.text)
	}
	j.text = s.String()
}

func (j *slotJob) writeTool(s *strings.Builder, number int, d figure) {
	kind := "slot drill"
	if j.chance(15) {
		kind = "end mill"
	}
	long := j.high[2] - j.low[2] + 1 // of teeth: deeper than any slot here
	if j.chance(2) {
		long = 2
	}
	fmt.Fprintf(s, "[[tool]]\nnumber = %d\nkind = %q\ndiameter = %s\nflutes = %d\nmade_of = %q\n",
		number, kind, d.text, 2+j.IntN(3), []string{"HSS", "carbide"}[j.IntN(2)])
	if j.chance(25) {
		out := j.random(-0.015, 0) // so little that the walls' passes are hardly beside the middle
		if j.chance(15) {
			out = 0.01 // a cutter as wide as the slot then cuts too wide
		}
		fmt.Fprintf(s, "measured = %s\n", j.length(d.mm+out).text)
	}
	fmt.Fprintf(s, "flute_length = %s\nstick_out = %s\n", j.length(long).text, j.length(long+5).text)
}

// touch is the place near a corner of the stock that is furthest from the slot.
func (j *slotJob) touch() []figure {
	var best [2]float64
	most := math.Inf(-1)
	a, b := j.ends()
	for i := range 4 {
		p := [2]float64{j.low[0] + 0.5, j.low[1] + 0.5}
		if i&1 > 0 {
			p[0] = j.high[0] - 0.5
		}
		if i&2 > 0 {
			p[1] = j.high[1] - 0.5
		}
		if d := fromLine(a, b, p); d > most {
			best, most = p, d
		}
	}
	return []figure{j.length(best[0]), j.length(best[1])}
}

// fromLine is the distance of p to the straight line from a to b.
func fromLine(a, b, p [2]float64) float64 {
	ux, uy := b[0]-a[0], b[1]-a[1]
	t := ((p[0]-a[0])*ux + (p[1]-a[1])*uy) / (ux*ux + uy*uy)
	t = min(max(t, 0), 1)
	x, y := p[0]-a[0]-t*ux, p[1]-a[1]-t*uy
	return math.Sqrt(x*x + y*y)
}
