package recipe

import (
	"fmt"

	"stopshort/toolpath"
	"stopshort/toolpath/job"
	"stopshort/toolpath/measure"
)

// facts tells where the set-up's own figures come from: its zero, its touching place,
// its clearance plane.
func (b *bench) facts() {
	n, zero := b.setup.Node, b.setup.Frame.Zero
	add := func(name, value string, from measure.Origin, source string) {
		b.out.Facts = append(b.out.Facts, toolpath.Fact{Name: name, Value: value, From: from, Source: source})
	}
	add("zero", fmt.Sprintf("%s %s %s in the part", b.number(zero.X), b.number(zero.Y), b.number(zero.Z)), measure.Given, n.At("zero").String())
	add("touch", fmt.Sprintf("X %s, Y %s", b.number(b.setup.Touch[0]), b.number(b.setup.Touch[1])), measure.Given, n.At("touch_at").String())
	add("face", "at "+b.number(b.out.Top), measure.Derived, "the metal's top where it is touched")
	kinds := map[job.HeldKind]string{job.HeldJaw: "jaws", job.HeldClamp: "clamp", job.HeldWasher: "stud", job.HeldNut: "stud"}
	for _, h := range b.setup.Holding {
		if name := h.Name; h.Kind != job.HeldJaw || h.Jaw.High {
			if h.Kind == job.HeldJaw {
				name = "jaws"
			}
			add("holding", name+" top at "+b.number(h.Top), measure.Given, n.At(kinds[h.Kind]).String())
		}
	}
	if p := b.setup.Packing; p != nil {
		add("holding", "packing top at "+b.number(p.Top), measure.Given, n.At("packing").String())
	}
	if b.setup.Clearance != nil {
		add("clear", "at "+b.number(b.out.Clearance), measure.Given, n.At("clearance").String())
		return
	}
	add("clear", "at "+b.number(b.out.Clearance), measure.Derived,
		fmt.Sprintf("%s over the highest of metal and holding, up to the next half millimetre", overTop))
}

// unit is what a person reads this job's lengths in: the job's own, else the machine's.
func (b *bench) unit() measure.Unit { return b.job.Units(b.machine.Units) }

// both is a length in both units, the job's first.
func (b *bench) both(l measure.Length) string { return l.BothFrom(b.unit()) }
