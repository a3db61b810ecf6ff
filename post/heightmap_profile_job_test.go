package post_test

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// profileJob is a random outline round a bore: what its words say, and the same
// figures in millimetres in the set-up's frame.
type profileJob struct {
	part
	shape      outline // the boss first
	bore, wall figure
	centre     [2]float64
	boreAt     [3]figure
	lugs       []lugWords
	stock      area
	top, under float64 // of the stock
	depth      figure
	through    bool

	tool                         string // its table
	r, flutes, out, shank, noses float64

	side, allow, step, corner, never figure

	held     []obstacle
	holding  []string // their tables
	packing  float64  // how low a cutter may go; -Inf where there is none
	packText string
	after    *capsule // a cut that follows
	extra    string
	touch    [2]float64
	touchAt  [2]figure
	text     string
	grid     float64 // step of the program's coordinates
}

// lugWords is a lug or a pad as the job says it.
type lugWords struct {
	kind, towards        string
	reach, across, aside figure
}

// capsule is what a slot or a face takes, seen from above.
type capsule struct {
	a, b     [2]float64
	r, floor float64
}

// exact is a length to the tenth of a nanometre.
func exact(v float64) figure {
	v = math.Round(v*1e7) / 1e7
	return figure{fmt.Sprintf("\"%.7f mm\"", v), v}
}

var ways = map[string][2]float64{"+x": {1, 0}, "-x": {-1, 0}, "+y": {0, 1}, "-y": {0, -1}}

// newProfileJob draws one and writes its text.
func newProfileJob(r *rand.Rand) *profileJob {
	for {
		j := &profileJob{part: part{figures: figures{r, []string{"mm", "in"}[r.IntN(2)]}}, packing: math.Inf(-1)}
		j.turned()
		j.outside()
		j.cutter()
		j.metal()
		j.hold()
		j.asks()
		if j.touching() {
			j.write()
			return j
		}
	}
}

// outside draws the bore, the boss, the lugs and the pads.
func (j *profileJob) outside() {
	j.bore, j.wall = j.figures.size(j.random(4, 30)), j.length(j.random(1, 6))
	var at [3]float64
	j.boreAt, at = j.place([3]float64{j.random(-6, 6), j.random(-6, 6), 0})
	j.centre = [2]float64{at[0], at[1]}
	big := j.bore.mm/2 + j.wall.mm
	j.shape = outline{{name: "boss", disc: true, c: j.centre, r: big}}
	for n := []int{0, 1, 1, 2, 2, 2, 3, 3, 4, 4}[j.IntN(10)]; len(j.lugs) < n; {
		if n-len(j.lugs) > 1 && j.chance(30) {
			j.fork(big)
		} else {
			j.lug(big)
		}
	}
	count := map[string]int{}
	for _, l := range j.lugs {
		count[l.kind]++
		a, w := area{name: fmt.Sprintf("%s %d", l.kind, count[l.kind])}, ways[l.towards]
		for k := range 2 {
			end := j.centre[k] + w[k]*l.reach.mm
			a.lo[k], a.hi[k] = min(j.centre[k], end), max(j.centre[k], end)
			if w[k] == 0 {
				a.lo[k], a.hi[k] = j.centre[k]+l.aside.mm-l.across.mm/2, j.centre[k]+l.aside.mm+l.across.mm/2
			}
		}
		j.shape = append(j.shape, a)
	}
}

// towards is a direction, seldom one that is taken.
func (j *profileJob) towards() string {
	for {
		w := []string{"+x", "-x", "+y", "-y"}[j.IntN(4)]
		taken := false
		for _, l := range j.lugs {
			taken = taken || l.towards == w
		}
		if !taken || j.chance(15) {
			return w
		}
	}
}

func (j *profileJob) kind() string {
	if j.chance(30) {
		return "pad"
	}
	return "lug"
}

// lug draws one, now and then flush with the boss or aside of it.
func (j *profileJob) lug(big float64) {
	l := lugWords{j.kind(), j.towards(), j.length(big * j.random(1, 2)), j.figures.size(big * j.random(0.3, 2)), figure{}}
	switch j.IntN(20) {
	case 0: // its sides on the boss's own
		l.across = exact(2 * big)
	case 1: // its end no further than the boss
		l.reach = exact(big)
	case 2: // hardly further
		l.reach = j.length(big + j.random(0.001, 0.3))
	case 3: // with one side on the boss's
		l.across = j.figures.size(big * j.random(0.3, 1))
		l.aside = exact(big - l.across.mm/2)
	case 4, 5, 6: // aside, perhaps so far that it is a piece of its own
		l.aside = j.length(big * j.random(-1.2, 1.2))
	case 7: // long
		l.reach = j.length(big * j.random(2, 3))
	case 8: // wide
		l.across = j.figures.size(big * j.random(2, 3))
	}
	j.lugs = append(j.lugs, l)
}

// fork draws two lugs on the same side, with a gap or touching.
func (j *profileJob) fork(big float64) {
	gap := j.random(0.2, 10)
	switch j.IntN(8) {
	case 0:
		gap = 0
	case 1:
		gap = j.random(0.001, 0.05)
	case 2:
		gap = -j.random(0.01, 1) // they overlap
	}
	way := j.towards()
	middle := 0.0
	if j.chance(40) {
		middle = j.random(-0.5, 0.5) * big
	}
	one := lugWords{j.kind(), way, j.length(big * j.random(1.1, 2)), j.figures.size(big * j.random(0.2, 0.8)), figure{}}
	two := lugWords{j.kind(), way, one.reach, j.figures.size(big * j.random(0.2, 0.8)), figure{}}
	if j.chance(50) {
		two.reach = j.length(big * j.random(1.1, 2))
	}
	one.aside = j.length(middle - gap/2 - one.across.mm/2)
	two.aside = exact(one.aside.mm + one.across.mm/2 + gap + two.across.mm/2)
	j.lugs = append(j.lugs, one, two)
}

// cutter draws the tool, now and then one that is as wide as a gap.
func (j *profileJob) cutter() {
	lo, hi := j.shape.bounds()
	most := min(16, 0.95*min(hi[0]-lo[0], hi[1]-lo[1]))
	if j.chance(5) {
		most = 16
	}
	d := j.figures.size(math.Exp(j.random(0, math.Log(16))))
	for d.mm > most {
		d = j.figures.size(math.Exp(j.random(0, math.Log(16))))
	}
	for i, l := range j.lugs {
		for _, k := range j.lugs[:i] {
			gap := math.Abs(l.aside.mm-k.aside.mm) - l.across.mm/2 - k.across.mm/2
			if l.towards == k.towards && gap > 1 && gap < most && j.chance(40) {
				d = j.figures.size(gap * j.random(0.6, 1.4))
				if j.chance(20) {
					d = exact(gap)
				}
			}
		}
	}
	j.r = d.mm / 2
	measured := ""
	if j.chance(20) {
		m := j.length(d.mm + j.random(-0.02, 0.01))
		if math.Abs(m.mm-d.mm) < d.mm/20 {
			measured, j.r = "measured = "+m.text+"\n", m.mm/2
		}
	}
	kind := []string{"end mill", "slot drill"}[j.IntN(2)]
	flutes, out := j.length(j.random(12, 25)), j.length(j.random(30, 50))
	shank, nose := d, j.figures.size(d.mm+j.random(4, 30))
	said := ""
	if j.chance(30) {
		if s := j.figures.size(max(d.mm*j.random(0.8, 1.3), 0.5)); s.mm <= nose.mm {
			shank, said = s, "shank = "+s.text+"\n"
		}
	}
	j.flutes, j.out, j.shank, j.noses = flutes.mm, out.mm, shank.mm/2, nose.mm/2
	j.tool = fmt.Sprintf("[[tool]]\nnumber = 1\nkind = %q\ndiameter = %s\n%sflutes = %d\nmade_of = %q\nflute_length = %s\nstick_out = %s\n%sholder = %s\n",
		kind, d.text, measured, 2+j.IntN(3), []string{"HSS", "carbide"}[j.IntN(2)], flutes.text, out.text, said, nose.text)
}

// metal draws a box or a standing bar about the outline, and how deep it is cut.
func (j *profileJob) metal() {
	thick := j.random(2, 10)
	if j.chance(30) {
		j.top = j.length(j.random(-0.3, 3)).mm
	}
	j.under = math.Round((j.top-thick)*1000) / 1000
	lo, hi := j.shape.bounds()
	most := min(15, 9*j.r)
	more := func() float64 {
		switch j.IntN(8) {
		case 0, 1:
			return 0
		case 2:
			return j.random(0, min(0.5, most))
		case 3:
			return j.random(0, most)
		case 4:
			if j.chance(20) {
				return -j.random(0.001, 0.5)
			}
		}
		return j.random(0, min(most, 5))
	}
	if j.chance(20) {
		at := j.centre
		if j.chance(50) {
			at = [2]float64{(lo[0] + hi[0]) / 2, (lo[1] + hi[1]) / 2}
		}
		for i := range at {
			at[i] = math.Round(at[i]*1e4) / 1e4
		}
		far := 0.0
		for _, a := range j.shape {
			if a.disc {
				far = max(far, math.Hypot(a.c[0]-at[0], a.c[1]-at[1])+a.r)
				continue
			}
			for _, x := range []float64{a.lo[0], a.hi[0]} {
				for _, y := range []float64{a.lo[1], a.hi[1]} {
					far = max(far, math.Hypot(x-at[0], y-at[1]))
				}
			}
		}
		j.stock = area{disc: true, c: at, r: exact(math.Ceil((far+more())*1e4) / 1e4).mm}
	} else {
		j.stock = area{}
		for i := range lo {
			a, b := more(), more()
			if a != 0 {
				a = math.Round(a*1e4) / 1e4
			}
			if b != 0 {
				b = math.Round(b*1e4) / 1e4
			}
			j.stock.lo[i], j.stock.hi[i] = lo[i]-a, hi[i]+b
		}
	}
	if j.through = j.chance(65); j.through {
		j.depth = j.length(-j.under + j.random(0.05, 0.8))
	} else {
		j.depth = j.length(max(-j.top+0.3, 0.05, -j.under-max(thick*j.random(0.05, 0.8), min(1.1, thick/2))))
	}
}

// inside draws a place inside the outline by so much, off the bore; ok is false
// where none was found.
func (j *profileJob) inside(by float64) (p [2]float64, ok bool) {
	lo, hi := j.shape.bounds()
	for range 60 {
		p = [2]float64{j.random(lo[0], hi[0]), j.random(lo[1], hi[1])}
		if j.shape.from(p[0], p[1]) < -by && math.Hypot(p[0]-j.centre[0], p[1]-j.centre[1]) > j.bore.mm/2+by {
			return p, true
		}
	}
	return p, false
}

// touching finds a place to touch off.
func (j *profileJob) touching() bool {
	by := 0.1
	if j.chance(2) {
		by = -0.2 // perhaps where it is cut away
	}
	p, ok := j.inside(by)
	if c := j.after; ok && c != nil && fromLine(c.a, c.b, p) < c.r+0.2 {
		return false
	}
	j.touchAt = [2]figure{exact(math.Round(p[0]*1e4) / 1e4), exact(math.Round(p[1]*1e4) / 1e4)}
	j.touch = [2]float64{j.touchAt[0].mm, j.touchAt[1].mm}
	return ok
}
