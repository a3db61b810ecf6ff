package recipe

import (
	"errors"
	"fmt"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/plan"
)

// byHand tells whether the wheels are turned by hand.
func (p *profile) byHand() bool { return p.machine.Controller == nil }

// byHandRefused is the refusal for what wheels cannot come to; nil is none.
func (p *profile) byHandRefused(err error) error {
	var hidden plan.HiddenArc
	var blocked blockedLane
	var out unreached
	var ray blockedRay
	switch {
	case errors.As(err, &ray):
		return p.refusal("a way in by the rotary table", ray.Error(), "nothing", "write profile_by = \"nibbling\", or take a smaller cutter")
	case errors.As(err, &hidden), errors.As(err, &out):
		return p.refusal("a way in by one wheel", err.Error(), "every place open to a side",
			"take a smaller cutter, leave the bay to a file and a saw, or cut it on a machine with a controller")
	case errors.As(err, &blocked):
		return p.refusal("a way in by one wheel", err.Error(), "nothing before it", "move what holds the part, or hold it by a stud through it")
	}
	return nil
}

// handFacts are the figures of the way it is cut by hand.
func (p *profile) handFacts() []toolpath.Fact {
	if p.byRotary() {
		return p.rotaryFacts()
	}
	return []toolpath.Fact{{Name: "by hand", Value: fmt.Sprintf("nibbling, %d places", p.nibs), From: measure.Derived,
		Source: fmt.Sprintf("the highest cusp between two is %s; file_off is %s", p.both(p.cusp), p.both(p.fileOff()))}}
}

// fileNotes tell what is left for the file, and what to file to.
func (p *profile) fileNotes() []string {
	if p.byRotary() {
		return []string{"the boss comes from the rotary table: only its burrs are filed, and what the table stopped short of in the corners"}
	}
	d, r := p.boss.Radius*2, p.boss.Radius
	out := []string{fmt.Sprintf("file the boss smooth, cusps derived: at most %s, from %d places", p.both(p.cusp), p.nibs)}
	if p.nibs == 0 {
		return nil
	}
	return append(out,
		fmt.Sprintf("filing buttons, derived: two hard discs of %s, a close fit on a pin that fits bore %s, one each side; file until the file skates", p.both(d), p.bore.Name),
		fmt.Sprintf("or blue the face and scribe, derived: a radius of %s about the bore, from a button in it; file to split the line", p.both(r)))
}
