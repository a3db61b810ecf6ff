package recipe

import (
	"fmt"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// levels are the heights of an outline's passes. One that goes through is not measured: no
// limit of the part lies under it.
func (p *profile) levels(top measure.Length) ([]measure.Length, error) {
	z, err := p.grid.Levels(top, p.floor, p.cutting.step.Value)
	if err != nil {
		return nil, err
	}
	p.wallLook = p.options.Beside[[2]int{p.setup.Number, p.cut.Number}] && !(p.node.Set("measure") && !p.node.Flag("measure"))
	limit := p.looksFor(p.cut.Number, p.node)
	if limit == "" || p.through {
		return z, nil
	}
	z = p.halved(top, z)
	if p.look = p.bench.look(p.cut.Number, limit, z, nil); p.look != nil {
		p.look.What = "from the touched face down to the floor on two sides of the boss, and give the most"
	}
	return z, nil
}

// level begins a pass at one of the heights. Where it is measured there, the first stops
// to be looked at, and the last begins anew, with what comes after it.
func (t *trip) level(k int, z []measure.Length) {
	if t.look != nil && k == 1 && len(z) > 2 {
		t.lookedAt(z[0])
	}
	if t.look != nil && k == len(z)-1 {
		t.lift()
		t.finish = len(t.passes)
	}
	t.begin(fmt.Sprintf("pass %d of %d", k+1, len(z)), -z[k])
}

// lookedAt ends a pass with a stop.
func (t *trip) lookedAt(z measure.Length) {
	t.lift()
	t.add(t.firstLook("cut", t.here.With(solid.Z, z), t.tool)[1:]...)
}

// wallLookedAt stops before the last finishing pass: the wall is measured while there is
// as much on it as that pass takes. It is a go or no-go, since no single figure mends a
// boss that stands to one side.
func (t *trip) wallLookedAt() {
	t.lift()
	note := fmt.Sprintf("look: before the last pass the wall is to be %s thick all round; if it is not, stop here", t.withUnit(t.wall.Value+t.lastBite()))
	t.add(t.bench.lookedAt(note, t.here, t.tool)[1:]...)
}

// lastBite is what the last finishing pass takes; nought is none.
func (p *profile) lastBite() measure.Length {
	a, n := p.allow.Value, p.finishes()
	return a - a.MulDiv(n-1, n, measure.Nearest)
}
