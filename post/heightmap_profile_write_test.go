package post_test

import (
	"fmt"
	"math"
	"strings"
)

// hold draws what the part is held by and stands on.
func (j *profileJob) hold() {
	big := j.bore.mm/2 + j.wall.mm
	if j.through && j.chance(70) || j.chance(15) {
		j.stud(big)
	}
	if j.chance(map[bool]int{true: 15, false: 30}[j.through]) {
		j.clampOn()
	}
	if j.chance(map[bool]int{true: 5, false: 30}[j.through]) {
		j.clampBeside()
	}
	if j.chance(map[bool]int{true: 8, false: 30}[j.through]) {
		j.jaws()
	}
	if j.through && j.chance(70) || j.chance(10) {
		may := j.length(max(0, -j.under+0.1-j.random(-0.5, 0.3)+j.depth.mm+j.under))
		if j.through && j.chance(90) {
			may = j.length(j.depth.mm + j.under + j.random(0.05, 0.5))
		}
		top := exact(j.under)
		j.packing = top.mm - may.mm
		j.packText = fmt.Sprintf("packing = { top = %s, may_cut = %s }", top.text, may.text)
	}
}

// stud stands in the bore; its nut is wider than it.
func (j *profileJob) stud(big float64) {
	nut := j.figures.size(j.bore.mm + (2*big-j.bore.mm)*j.random(0.1, 0.9))
	if j.chance(10) {
		nut = j.figures.size(2 * big * j.random(0.9, 1.3)) // perhaps in the way
	}
	at := [2]figure{exact(j.centre[0]), exact(j.centre[1])}
	post := func(kind string, r, low, high float64) {
		j.held = append(j.held, obstacle{area{name: kind + " 1", disc: true, c: j.centre, r: r}, kind, low, high})
	}
	text := fmt.Sprintf("[[setup.stud]]\nat = %s\nnut = %s\n", list(at[:]...), nut.text)
	from := j.top
	if j.chance(50) {
		washer := j.figures.size(max(nut.mm, 2*big*j.random(0.7, 1)))
		top := j.length(j.top + j.random(0.5, 2))
		text += fmt.Sprintf("washer = %s\nwasher_top = %s\n", washer.text, top.text)
		post("washer", washer.mm/2, from, top.mm)
		from = top.mm
	}
	top := j.length(from + j.random(2, 8))
	post("nut", nut.mm/2, from, top.mm)
	j.holding = append(j.holding, text+"top = "+top.text)
}

// clamp writes a clamp over a rectangle of the stock's top.
func (j *profileJob) clamp(lo, hi [2]float64) {
	var low, size [3]figure
	a := area{name: fmt.Sprintf("clamp %d", 1+strings.Count(strings.Join(j.holding, " "), "setup.clamp"))}
	for i := range lo {
		low[i], size[i] = j.length(lo[i]), j.length(hi[i]-lo[i])
		a.lo[i], a.hi[i] = low[i].mm, low[i].mm+size[i].mm
	}
	low[2], size[2] = exact(j.top), j.length(j.random(2, 8))
	j.held = append(j.held, obstacle{a, "clamp", j.top, j.top + size[2].mm})
	j.holding = append(j.holding, fmt.Sprintf("[[setup.clamp]]\nlow = %s\nsize = %s", list(low[:]...), list(size[:]...)))
}

// clampOn stands on the part, as a rule without reaching over its sides.
func (j *profileJob) clampOn() {
	a := j.shape[j.IntN(len(j.shape))]
	lo, hi := a.bounds()
	if a.disc {
		for i := range lo {
			lo[i], hi[i] = a.c[i]-0.65*a.r, a.c[i]+0.65*a.r
		}
	}
	for i := range lo {
		w := hi[i] - lo[i]
		lo[i], hi[i] = lo[i]+w*j.random(0.1, 0.4), hi[i]-w*j.random(0.1, 0.4)
		if j.chance(10) {
			hi[i] += w * j.random(0.2, 0.6)
		}
		if hi[i]-lo[i] < 0.5 {
			return
		}
	}
	j.clamp(lo, hi)
}

// clampBeside stands on the rim of the stock, near the outline or not.
func (j *profileJob) clampBeside() {
	lo, hi := j.stock.bounds()
	wide, long := j.random(3, 10), j.random(2, 8)
	k := j.IntN(2)
	at := j.random(lo[1-k], hi[1-k])
	var l, h [2]float64
	l[1-k], h[1-k] = at-wide/2, at+wide/2
	if j.chance(50) {
		l[k], h[k] = lo[k]-6, lo[k]+long
	} else {
		l[k], h[k] = hi[k]-long, hi[k]+6
	}
	if !j.chance(25) { // off the part by so much that the cutter comes by
		by := 2*j.r + j.random(0.5, 4)
		for range 20 {
			if (j.clear(l, h)) > by {
				break
			}
			if h[k] > hi[k] {
				l[k] += 0.5
			} else {
				h[k] -= 0.5
			}
		}
		if h[k]-l[k] < 1 {
			return
		}
	}
	j.clamp(l, h)
}

// clear is about how far a rectangle is from the outline.
func (j *profileJob) clear(lo, hi [2]float64) float64 {
	least := math.Inf(1)
	for a := range 17 {
		for b := range 17 {
			least = min(least, j.shape.from(lo[0]+float64(a)/16*(hi[0]-lo[0]), lo[1]+float64(b)/16*(hi[1]-lo[1])))
		}
	}
	return least
}

func (j *profileJob) jaws() {
	k := j.IntN(2)
	top := -j.depth.mm - j.random(0.3, 1.5)
	if j.chance(15) {
		top = -j.depth.mm + j.random(0, 1)
	}
	t := j.length(min(top, j.top))
	lo, hi := j.stock.bounds()
	low, high := area{}, area{}
	for i := range 2 {
		low.lo[i], low.hi[i], high.lo[i], high.hi[i] = -500, 500, -500, 500
	}
	low.hi[k], high.lo[k] = lo[k], hi[k]
	names := [2][2]string{{"left jaw", "right jaw"}, {"front jaw", "back jaw"}}[k]
	low.name, high.name = names[0], names[1]
	j.held = append(j.held, obstacle{low, "jaw", -500, t.mm}, obstacle{high, "jaw", -500, t.mm})
	j.holding = append([]string{fmt.Sprintf("jaws = { along = %q, top = %s }", []string{"x", "y"}[k], t.text)}, j.holding...)
}

// asks chooses side step, allowance, step, corner and what follows.
func (j *profileJob) asks() {
	if j.chance(50) {
		j.side = j.length(j.r * j.random(0.15, 1))
		if j.r < 1 {
			j.side = j.length(j.r * j.random(0.5, 1))
		}
	}
	if j.chance(50) {
		j.allow = j.length(j.r * j.random(0.01, 0.2))
		if j.chance(20) {
			j.allow = j.length(0)
		}
	}
	if j.chance(90) { // few levels: each is the same seen from above
		j.step = j.length((j.top - j.under) / j.random(0.8, 2.4))
	}
	if j.chance(10) {
		j.corner = j.length(j.r * j.random(0.7, 2))
	}
	if j.chance(20) {
		j.never = j.length(j.wall.mm * j.random(0.5, 0.99))
	}
	if j.chance(8) {
		j.next()
	}
}

// next draws a face or a short slot in the part, by the same cutter or another.
func (j *profileJob) next() {
	d := j.figures.size(j.random(1, 3))
	deep := j.length(j.random(0.2, (j.top-j.under)/2))
	by := d.mm/2 + 1.1
	p, ok := j.inside(by)
	if !ok {
		return
	}
	x, y := exact(math.Round(p[0]*1e4)/1e4), exact(math.Round(p[1]*1e4)/1e4)
	c := &capsule{a: [2]float64{x.mm, y.mm}, r: d.mm / 2, floor: j.top - deep.mm}
	c.b = c.a
	j.tool += fmt.Sprintf("[[tool]]\nnumber = 2\nkind = \"slot drill\"\ndiameter = %s\nflute_length = 15\nstick_out = 40\nholder = 20\n", d.text)
	if j.units == "in" {
		j.tool = strings.ReplaceAll(j.tool, "= 15\nstick_out = 40\nholder = 20\n", "= 0.6\nstick_out = 1.6\nholder = 0.8\n")
	}
	if j.chance(50) {
		j.extra = fmt.Sprintf("[[setup.cut]]\nrecipe = \"spot face\"\nname = \"face\"\ntool = 2\ndiameter = %s\ndeep = %s\npoints = %s\n", d.text, deep.text, list(x, y))
	} else {
		w := [2]figure{x, y}
		k := j.IntN(2)
		w[k] = exact(w[k].mm + j.random(-2, 2))
		if j.shape.from(w[0].mm, w[1].mm) > -by || math.Abs(w[k].mm-c.a[k]) < 0.3 {
			return
		}
		c.b = [2]float64{w[0].mm, w[1].mm}
		c.floor = -deep.mm
		if c.floor > j.top-0.1 {
			return
		}
		// A slot's ends are its centres' ends or its own: from and to are its ends.
		j.extra = fmt.Sprintf("[[setup.cut]]\nrecipe = \"slot\"\nname = \"way\"\ntool = 2\nfrom = %s\nto = %s\nends = \"closed\"\nwidth = %s\ndepth = %s\n", list(x, y), list(w[:]...), d.text, deep.text)
	}
	j.after = c
}

// write puts the job into words.
func (j *profileJob) write() {
	var s strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&s, format+"\n", args...) }
	say := func(key string, f figure) {
		if f.text != "" {
			line("%s = %s", key, f.text)
		}
	}
	line("title = \"Clamp, outline\"")
	line("units = %q", j.units)
	line("material = %q", []string{"bronze", "brass", "mild steel", "aluminium"}[j.IntN(4)])
	low, high := j.stock.bounds()
	one := j.words([3]float64{low[0], low[1], j.under})
	two := j.words([3]float64{high[0], high[1], j.top})
	k := 0 // the part's axis that stands upright
	for j.turn[2][k] == 0 {
		k++
	}
	letter := string(rune('x' + k))
	var size, flat []figure
	mid := j.words([3]float64{j.stock.c[0], j.stock.c[1], 0})
	for i := range one {
		if one[i].mm > two[i].mm {
			one[i], two[i] = two[i], one[i]
		}
		size = append(size, exact(two[i].mm-one[i].mm))
		if i != k {
			flat = append(flat, mid[i])
		}
	}
	if j.stock.disc {
		line("stock = { diameter = %s, along = %q, at = %s, ends = %s }", exact(2*j.stock.r).text, letter, list(flat...), list(one[k], two[k]))
	} else {
		line("stock = { low = %s, size = %s }", list(one[:]...), list(size...))
	}
	var at []figure
	for i, f := range j.boreAt {
		if i != k {
			at = append(at, f)
		}
	}
	line("[[bore]]\nname = \"pivot\"\ndiameter = %s\nalong = %q\nat = %s", j.bore.text, letter, list(at...))
	line("%s[[setup]]", j.tool)
	line("up = %q\nright = %q", j.up, j.right)
	line("zero = %s", list(j.zero[:]...))
	line("touch_at = %s", list(j.touchAt[:]...))
	if j.packText != "" {
		line("%s", j.packText)
	}
	for _, h := range j.holding {
		line("%s", h)
	}
	line("[[setup.cut]]\nrecipe = \"profile\"\nname = \"outline\"\ntool = 1\nbore = \"pivot\"")
	say("wall", j.wall)
	say("depth", j.depth)
	say("side_step", j.side)
	say("allowance", j.allow)
	say("step", j.step)
	say("corner", j.corner)
	say("never_less", j.never)
	for _, l := range j.lugs {
		line("[[setup.cut.%s]]\ntowards = %q", l.kind, l.towards)
		say("reach", l.reach)
		say("across", l.across)
		say("aside", l.aside)
	}
	s.WriteString(j.extra)
	j.text = s.String()
}

// words is a place of the set-up's frame in the part's, to the tenth of a
// nanometre.
func (j *profileJob) words(p [3]float64) (text [3]figure) {
	for i := range text {
		v := j.zero[i].mm
		for a := range j.turn {
			v += j.turn[a][i] * p[a]
		}
		text[i] = exact(v)
	}
	return text
}
