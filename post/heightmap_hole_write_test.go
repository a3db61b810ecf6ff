package post_test

import (
	"fmt"
	"math"
	"strings"
)

// touching finds a place to touch off that nothing comes near; ok is false where
// there is none.
func (j *holeJob) touching() (ok bool) {
	most := 0.3
	for i := range 7 {
		for k := range 7 {
			p := [2]float64{
				j.low[0] + 0.5 + float64(i)/6*(j.high[0]-j.low[0]-1),
				j.low[1] + 0.5 + float64(k)/6*(j.high[1]-j.low[1]-1),
			}
			room := math.Inf(1)
			for _, c := range j.cuts {
				if c.recipe == "slot" {
					a, b := c.ends()
					room = min(room, fromLine(a, b, p)-c.width.mm/2)
				}
				r := c.across() / 2
				if c.spot != nil {
					r = max(r, c.spot.cutter.r)
				}
				for _, at := range c.at {
					room = min(room, math.Hypot(at[0]-p[0], at[1]-p[1])-r)
				}
			}
			for _, b := range j.bores {
				if b.along[2] != 0 {
					room = min(room, math.Hypot(b.at[0]-p[0], b.at[1]-p[1])-b.r)
				}
			}
			if room > most {
				most, ok = room, true
				j.touch = [2]figure{j.length(p[0]), j.length(p[1])}
			}
		}
	}
	return ok
}

// asks chooses the least wall of each cut, most often near what there is; ok is
// false where the job does not serve.
func (j *holeJob) asks() (ok bool) {
	poor := j.chance(12) // anything goes
	for i, c := range j.cuts {
		if c.recipe != "slot" {
			from := 0.05
			if !poor {
				from = c.screw.major * 1.01
			}
			for _, p := range c.at {
				for a := range p {
					if p[a] < j.low[a]+from || p[a] > j.high[a]-from {
						return false
					}
				}
			}
		}
		if c.splitAt.text != "" && (c.splitAt.mm < j.low[2]+0.2 || c.splitAt.mm > j.topOf(c)-0.2) {
			return false
		}
		left := j.about(i)
		if left < 0.12 && !poor {
			return false
		}
		if c.recipe != "slot" && len(j.bores) > 0 && j.chance(3) {
			c.enters = j.bores[0].name
		}
		if c.recipe == "spot face" {
			c.enters = ""
		}
		switch kind := j.IntN(100); {
		case kind < 45 && left > 0.05:
			c.wall = j.length(max(left+j.random(-2*cell, 2*cell), 0))
		case kind < 80 && left > 0.05:
			c.wall = j.length(left * j.random(0.2, 0.9))
		case kind < 85:
			c.wall = j.length(j.random(0, 1.5))
		}
	}
	return true
}

// about is roughly what a cut leaves of everything: places about its holes are
// tried.
func (j *holeJob) about(i int) float64 {
	c := j.cuts[i]
	least, r, top := math.Inf(1), c.across()/2, j.topOf(c)
	if c.recipe == "slot" {
		a, b := [2]float64{c.from[0].mm, c.from[1].mm}, [2]float64{c.to[0].mm, c.to[1].mm}
		least = -c.depth.mm - j.low[2]
		for k := range 25 {
			for _, s := range []float64{-r, 0, r} {
				f := float64(k) / 24
				l := math.Hypot(b[0]-a[0], b[1]-a[1])
				x, y := a[0]+f*(b[0]-a[0])-s*(b[1]-a[1])/l, a[1]+f*(b[1]-a[1])+s*(b[0]-a[0])/l
				for _, bore := range j.bores {
					for _, z := range []float64{-c.depth.mm, (-c.depth.mm + top) / 2, top} {
						least = min(least, bore.from(x, y, z))
					}
				}
			}
		}
	} else {
		low, shoulder := j.floors(c)
		for n, p := range c.at {
			if !c.through {
				least = min(least, low-j.low[2])
			}
			least = min(least, p[0]-j.low[0]-r, j.high[0]-p[0]-r, p[1]-j.low[1]-r, j.high[1]-p[1]-r)
			for _, q := range c.at[:n] {
				least = min(least, math.Hypot(p[0]-q[0], p[1]-q[1])-2*r)
			}
			for _, b := range j.bores {
				least = min(least, b.from(p[0], p[1], low))
				for k := range 24 {
					sin, cos := math.Sincos(float64(k) / 12 * math.Pi)
					for h := range 9 {
						least = min(least, b.from(p[0]+r*cos, p[1]+r*sin, shoulder+float64(h)/8*(top-shoulder)))
					}
				}
			}
		}
	}
	for k, d := range j.cuts[:i] {
		if c.recipe == "slot" || d.recipe == "slot" || d.top.text != "" || c.top.text != "" && k == i-1 {
			continue
		}
		for _, p := range c.at {
			for _, q := range d.at {
				least = min(least, math.Hypot(p[0]-q[0], p[1]-q[1])-r-d.across()/2)
			}
		}
	}
	return least
}

// floors is the height of a cut's lowest tip as its words ask for it, and where
// its widest part ends.
func (j *holeJob) floors(c *holeCut) (tip, shoulder float64) {
	if c.recipe == "spot face" {
		f := j.high[2] - c.deep.mm
		return f, f
	}
	tip = math.Inf(1)
	for _, d := range j.drilled(c)[1:] {
		tip = min(tip, d.tip)
		shoulder = d.tip + d.tool.cutter.r*d.tool.cutter.slope
	}
	if c.hole == "tapped" {
		shoulder = j.low[2]
		if !c.through {
			shoulder = j.topOf(c) - c.depth.mm
		}
	}
	return tip, shoulder
}

// write puts the job into words.
func (j *holeJob) write() {
	var s strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&s, format+"\n", args...) }
	say := func(key string, f figure) {
		if f.text != "" {
			line("%s = %s", key, f.text)
		}
	}
	line("title = \"Clamp, holes\"")
	line("units = %q", j.units)
	line("material = %q", []string{"bronze", "brass", "mild steel", "aluminium"}[j.IntN(4)])
	line("stock = { low = %s, size = %s }", list(j.lo[:]...), list(j.size[:]...))
	for _, b := range j.boreText {
		line("%s", b)
	}
	for _, t := range j.tools {
		line("%s", t.text)
	}
	line("[[setup]]")
	line("up = %q\nright = %q", j.up, j.right)
	line("zero = %s", list(j.zero[:]...))
	line("touch_at = %s", list(j.touch[:]...))
	for _, c := range j.cuts {
		line("[[setup.cut]]\nrecipe = %q\nname = %q", c.recipe, c.name)
		say("wall_never_less", c.wall)
		for _, t := range c.atText {
			line("%s", t)
		}
		switch c.recipe {
		case "spot face":
			line("tool = %d", c.tool.number)
			say("diameter", c.diameter)
			say("deep", c.deep)
		case "slot":
			line("tool = %d", c.tool.number)
			line("from = %s\nto = %s", list(c.from[:]...), list(c.to[:]...))
			ends := map[[2]bool]string{{true, true}: "open", {}: "closed", {true, false}: "open at from", {false, true}: "open at to"}
			line("ends = %q", ends[c.open])
			say("width", c.width)
			say("depth", c.depth)
		default:
			line("screw = %q\nhole = %q\nspot = %d", c.screw.name, c.hole, c.spot.number)
			if c.through {
				line("through = true")
			}
			if c.tap != "bottoming" {
				line("tap = %q", c.tap)
			}
			if c.enters != "" {
				line("enters = %q", c.enters)
			}
			if c.drill != nil {
				line("drill = %d", c.drill.number)
			}
			if c.wide != nil {
				line("clear = %d", c.wide.number)
			}
			say("depth", c.depth)
			say("shoulder", c.shoulder)
			say("split_at", c.splitAt)
			say("kerf", c.kerf)
			say("top", c.top)
		}
	}
	j.text = s.String()
}
