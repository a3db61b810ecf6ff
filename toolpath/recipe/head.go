package recipe

import (
	"fmt"

	"stopshort/toolpath/job"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// head is what the operator must know before a program of this set-up starts: how the
// part lies, what holds it, and how its zero is picked up. A comment must not read like
// the language, so no letter of an axis stands before a number.
func (b *bench) head() {
	zero, f, sides := b.setup.Frame.Zero, b.setup.Frame, b.machine.Sides()
	b.out.Head = append(b.out.Head,
		fmt.Sprintf("part turned with %s %s and %s %s", turned(f.Word(solid.Z, 1)), sides[2][1], turned(f.Word(solid.X, 1)), sides[0][1]),
		fmt.Sprintf("zero in the part, xyz order: %s %s %s", b.number(zero.X), b.number(zero.Y), b.number(zero.Z)),
	)
	b.out.Head = append(b.out.Head, b.held()...)
	if b.machine.Controller != nil { // a table tells it wheel by wheel
		b.out.Zero = append(b.out.Zero, b.zeroOnMetal())
	}
	b.out.Zero = append(b.out.Zero, "touch off on metal "+b.place(b.setup.Touch[0], b.setup.Touch[1]))
	if top := b.out.Top; top == 0 {
		b.out.Zero = append(b.out.Zero, "the touched face is height zero")
	} else {
		b.out.Zero = append(b.out.Zero, fmt.Sprintf("the touched face is not zero: set height %s there", b.number(top)))
	}
}

// held is what holds the part, a thing a line: every margin beside it rests on its
// standing so.
func (b *bench) held() (out []string) {
	for _, h := range b.setup.Holding {
		top := b.aside(solid.Z, h.Top) + " zero"
		switch body := h.Body.(type) {
		case solid.Cylinder:
			also := ""
			if h.Kind == job.HeldNut {
				also = ", its stud no higher"
			}
			out = append(out, fmt.Sprintf("%s is %s across, at %s, its top %s%s", h.Name, b.number(2*body.Radius), b.place(body.From.X, body.From.Y), top, also))
		case solid.Box:
			if h.Kind != job.HeldJaw {
				out = append(out, fmt.Sprintf("%s reaches from %s and from %s", h.Name, b.span(solid.X, body), b.span(solid.Y, body)),
					fmt.Sprintf("%s has its top %s", h.Name, top))
			} else if h.Jaw.High { // the two come together
				out = append(out, fmt.Sprintf("%s have their tops %s", b.jaws(h.Jaw.Along), top))
			}
		}
	}
	if p := b.setup.Packing; p != nil {
		s := "packing has its top " + b.aside(solid.Z, p.Top) + " zero"
		if p.MayCut > 0 {
			s += fmt.Sprintf(", and may be cut %s deep", b.number(p.MayCut))
		}
		out = append(out, s)
	}
	if len(out) == 0 {
		out = append(out, "the job names nothing that holds the part: keep it clear of the cutter")
	}
	return out
}

// jaws are the two jaws of a vice as a person at the machine calls them.
func (b *bench) jaws(along solid.Axis) string {
	side := b.machine.Sides()[along]
	if b.byLathe() {
		return fmt.Sprintf("the jaws on the %s and the %s side", side[0], side[1])
	}
	return fmt.Sprintf("%s jaw and %s jaw", side[0], side[1])
}

// byLathe tells whether a table in a lathe's words is written.
func (b *bench) byLathe() bool { return b.machine.Kind == "lathe" && b.machine.Controller == nil }

// span is how far a box reaches along an axis.
func (b *bench) span(a solid.Axis, x solid.Box) string {
	return fmt.Sprintf("%s zero to %s zero", b.aside(a, x.Low.Along(a)), b.aside(a, x.High.Along(a)))
}

// zeroOnMetal is where the zero of X and Y lies: the bore that it is the centre of, else
// from the edges of the metal.
func (b *bench) zeroOnMetal() string {
	if b.out.Over != "" {
		return "zero is the centre of bore " + b.out.Over
	}
	return fmt.Sprintf("zero is %s the metal's %s edge and %s its %s edge",
		b.aside(solid.X, -b.metal.Low.X), b.machine.Sides()[0][0], b.aside(solid.Y, -b.metal.Low.Y), b.machine.Sides()[1][0])
}

// number is a length in the program's own unit, with a point.
func (b *bench) number(l measure.Length) string {
	return l.Number(b.machine.Units, measure.Nearest)
}

// aside is a distance along an axis and which side it lies on, in the machine's words:
// "7.000 right of", for what it is measured from to follow.
func (b *bench) aside(a solid.Axis, l measure.Length) string {
	words := [3][2]string{{"left of", "right of"}, {"in front of", "behind"}, {"below", "above"}}[a]
	if side := b.machine.Sides()[a]; b.byLathe() {
		words = [2]string{"on the " + side[0] + " side of", "on the " + side[1] + " side of"}
	}
	if l < 0 {
		return b.number(-l) + " " + words[0]
	}
	return b.number(l) + " " + words[1]
}

// place is a place seen from above, from zero.
func (b *bench) place(x, y measure.Length) string {
	if x == 0 && y == 0 {
		return "zero"
	}
	return b.aside(solid.X, x) + " zero and " + b.aside(solid.Y, y) + " it"
}

// turned spells a direction of the part: Y-PLUS.
func turned(direction string) string {
	if direction[0] == '-' {
		return direction[1:] + "-minus"
	}
	return direction[1:] + "-plus"
}
