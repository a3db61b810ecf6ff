package recipe

import (
	"fmt"

	"golang.org/x/exp/slices"

	"stopshort/toolpath"
	"stopshort/toolpath/job"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

type figure = measure.Figure[measure.Length]

// holding adds what every cut of the set-up must keep out of: jaws, clamps,
// washers, nuts, and what lies under the part.
func (b *bench) holding() {
	b.holds()
	touch := figure{From: measure.Default, Source: "nought for a clearance"}
	for _, h := range b.setup.Holding {
		b.out.Limits = append(b.out.Limits, toolpath.Limit{
			Name: h.Name, Kind: toolpath.Holding, Solid: h.Body, NeverLess: touch,
		})
	}
	if p := b.setup.Packing; p != nil {
		b.out.Limits = append(b.out.Limits, toolpath.Limit{
			Name: "packing", Kind: toolpath.Packing, NeverLess: touch,
			Solid: below(p.Top - p.MayCut),
		})
	}
}

// touches warns of each tool that meets what holds the part where it is to touch the face:
// it would set its zero too high.
func (b *bench) touches() {
	told := map[int]bool{}
	at := solid.Point{X: b.setup.Touch[0], Y: b.setup.Touch[1], Z: b.out.Top}
	for i := range b.out.Operations {
		op := &b.out.Operations[i]
		if told[op.Tool.Number] {
			continue
		}
		told[op.Tool.Number] = true
		for _, h := range b.setup.Holding {
			if slices.ContainsFunc(parts(op.Tool), func(p solid.Part) bool {
				return solid.Between(solid.Sweep{Part: p, From: at, To: at}, h.Body, 0).Low < 0
			}) {
				op.Warns = append(op.Warns, fmt.Sprintf("%s: at touch_at the cutter comes down on %s, given, not on the face: touch off before that is put on, or move touch_at", op.Name, h.Name))
				break
			}
		}
	}
}

// holds adds a fault for what cannot hold the part as it is given: jaws whose tops come no
// higher than its underside, and packing that stands inside it.
func (b *bench) holds() {
	under := b.metal.Low.Z
	if n := b.setup.Node.Sub("jaws"); n != nil && n.Length("top") <= under {
		n.Fault("top", "%s is no higher than the part's underside at %s: such jaws grip nothing; it is measured from the set-up's zero", n.Length("top"), under)
	}
	if n := b.setup.Node.Sub("packing"); n != nil && n.Length("top") > under {
		n.Fault("top", "%s is inside the part, whose underside is at %s: a part stands on its packing", n.Length("top"), under)
	}
}

// below is everything under a height.
func below(z measure.Length) solid.Box {
	return solid.Box{
		Low:  solid.Point{X: -solid.Far, Y: -solid.Far, Z: -solid.Far},
		High: solid.Point{X: solid.Far, Y: solid.Far, Z: z},
	}
}

// outside is everything beyond one face of a box: the low or the high one of an
// axis.
func outside(b solid.Box, a solid.Axis, high bool) solid.Box {
	o := below(solid.Far)
	if high {
		o.Low = o.Low.With(a, b.High.Along(a))
	} else {
		o.High = o.High.With(a, b.Low.Along(a))
	}
	return o
}

// sideNames are the faces of the metal by what the operator calls them.
var sideNames = [2][2]string{{"left edge", "right edge"}, {"front edge", "back edge"}}

// shortOf is the solid that a cut is said to stop short of, with its figures.
type shortOf struct {
	bore             string // "" is the floor
	leave, neverLess figure
}

// halfOfLeave is the never-less of a web where the job gives none (own choice: a person who
// leaves 20 thou means 10 at the least).
func halfOfLeave(leave figure) figure {
	return figure{Value: leave.Value.Half(measure.Ceil), From: measure.Default, Source: "half of the leave"}
}

// mostOfLeave is the never-less of a wall where the job gives none (own choice: a wall is
// seen, and is measured as it is cut).
func mostOfLeave(leave figure) figure {
	return figure{Value: leave.Value.MulDiv(9, 10, measure.Ceil), From: measure.Default, Source: "nine tenths of the leave"}
}

// webTo is the name of the limit of the web over a bore.
func webTo(bore string) string { return "web to bore " + bore }

// guardBores adds every bore as a limit of the cut: the one it stops short of
// with its own figures, the others with the least wall.
func (b *bench) guardBores(c job.Cut, short shortOf, wall figure) {
	for _, x := range b.bores {
		l := toolpath.Limit{
			Name: webTo(x.Name), Kind: toolpath.Web, Cut: c.Number,
			Solid: x.solid, NeverLess: wall, Uncertain: x.uncertain, Pin: x.solid.Radius * 2,
		}
		if x.upright() && !b.lidded(x) {
			l.Name, l.Kind = fmt.Sprintf("wall to bore %s", x.Name), toolpath.Wall
		}
		if x.Name == short.bore {
			l.Leave, l.NeverLess = short.leave, short.neverLess
		}
		b.out.Limits = append(b.out.Limits, l)
	}
}

// guardOutside adds the metal's faces as limits of the cut, but those that it
// opens through, and the floor. shape is the box about the cut. Where a blank
// is made of pieces, the faces of each that the cut goes through count, but
// those that another piece covers.
func (b *bench) guardOutside(c job.Cut, shape solid.Box, open [2][2]bool, wall, floor figure) {
	if b.stock.Round != nil {
		b.guardRound(c, open, wall, floor)
		return
	}
	b.guardSkins(c, shape, open, wall)
	for i, m := range b.now {
		piece, ok := m.(solid.Box)
		if !ok || !piece.Overlaps(shape) {
			continue
		}
		for _, a := range []solid.Axis{solid.X, solid.Y} {
			for k, high := range []bool{false, true} {
				if open[a][k] || b.coveredFace(i, a, high) {
					continue
				}
				b.out.Limits = append(b.out.Limits, toolpath.Limit{
					Name: sideNames[a][k], Kind: toolpath.Edge, Cut: c.Number,
					Solid: outside(piece, a, high), Within: &piece, NeverLess: wall,
				})
			}
		}
	}
	b.out.Limits = append(b.out.Limits, toolpath.Limit{
		Name: "floor", Kind: toolpath.Floor, Cut: c.Number,
		Solid: below(b.metal.Low.Z), NeverLess: floor,
	})
}

// guardSkins keeps a cut without open ends under the skin of each standing round
// piece that it goes through, unless one box of metal holds it whole. A cut that
// goes over from a round piece into another is refused too: that is the safe
// side.
func (b *bench) guardSkins(c job.Cut, shape solid.Box, open [2][2]bool, wall figure) {
	if open != ([2][2]bool{}) {
		return
	}
	for _, m := range b.now {
		if q, ok := m.(solid.Box); ok && q.Low.X <= shape.Low.X && shape.High.X <= q.High.X &&
			q.Low.Y <= shape.Low.Y && shape.High.Y <= q.High.Y {
			return
		}
	}
	for _, m := range b.now {
		bar, ok := m.(solid.Cylinder)
		if a, _ := bar.Axis(); !ok || a != solid.Z || !solid.Bounds(bar).Overlaps(shape) {
			continue
		}
		b.out.Limits = append(b.out.Limits, toolpath.Limit{
			Name: "skin of the bar", Kind: toolpath.Edge, Cut: c.Number,
			Side: toolpath.KeepIn, Bar: &bar, NeverLess: wall,
		})
	}
}

// coveredFace tells whether another piece of metal goes on beyond a face of one,
// over all of it.
func (b *bench) coveredFace(piece int, a solid.Axis, high bool) bool {
	p := solid.Bounds(b.now[piece])
	face := p.Low.Along(a)
	if high {
		face = p.High.Along(a)
	}
	other := solid.X + solid.Y - a
	for i, m := range b.now {
		q, ok := m.(solid.Box)
		if i == piece || !ok {
			continue
		}
		goesOn := q.Low.Along(a) <= face && face < q.High.Along(a)
		if !high {
			goesOn = q.Low.Along(a) < face && face <= q.High.Along(a)
		}
		if goesOn &&
			q.Low.Along(other) <= p.Low.Along(other) && p.High.Along(other) <= q.High.Along(other) &&
			q.Low.Z <= p.Low.Z && p.High.Z <= q.High.Z {
			return true
		}
	}
	return false
}

// guardRound keeps a cut inside a round bar: under its skin where the bar
// stands and the cut does not open through it; where it lies, above the skin
// that is left under the cut.
func (b *bench) guardRound(c job.Cut, open [2][2]bool, wall, floor figure) {
	bar := b.setup.Frame.Cylinder(*b.stock.Round)
	l := toolpath.Limit{Cut: c.Number}
	a, _ := bar.Axis()
	if a != solid.Z {
		l.Name, l.Kind, l.NeverLess = "floor", toolpath.Floor, floor
		l.Side, l.Bar = toolpath.KeepIn, &bar
		b.out.Limits = append(b.out.Limits, l)
		return
	}
	if open == ([2][2]bool{}) {
		skin := l
		skin.Name, skin.Kind, skin.NeverLess = "skin of the bar", toolpath.Edge, wall
		skin.Side, skin.Bar = toolpath.KeepIn, &bar
		b.out.Limits = append(b.out.Limits, skin)
	}
	l.Name, l.Kind, l.NeverLess = "floor", toolpath.Floor, floor
	l.Solid = below(b.metal.Low.Z)
	b.out.Limits = append(b.out.Limits, l)
}
