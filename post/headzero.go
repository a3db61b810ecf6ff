package post

import (
	"bytes"
	"cmp"
	"strings"

	"golang.org/x/exp/slices"

	"stopshort/post/rs274/write"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// aside is a length that a head tells with its side of zero: left, in front and below
// are less than nought. It is told to some places, and may be off by half of the last.
type aside struct {
	at, off measure.Length
	height  bool // above or below zero: the last that is told of a thing
	deep    bool // how deep that thing may be cut
}

func (a aside) tells(l measure.Length) bool { return (a.at - l).Abs() <= a.off }

// asides are the lengths of a text with their sides.
func asides(text string, u measure.Unit) (out []aside) {
	words := strings.Fields(text)
	for i := 0; i+1 < len(words); i++ {
		l, off, ok := figure(words[i], u)
		if !ok {
			continue
		}
		switch side := words[i+1]; side {
		case "LEFT", "IN":
			out = append(out, aside{at: -l, off: off})
		case "RIGHT", "BEHIND", "ACROSS":
			out = append(out, aside{at: l, off: off})
		case "BELOW":
			out = append(out, aside{at: -l, off: off, height: true})
		case "ABOVE":
			out = append(out, aside{at: l, off: off, height: true})
		case "DEEP":
			out = append(out, aside{at: l, off: off, deep: true})
		}
	}
	return out
}

// tell tells whether lengths are told one after the other at the end of some.
func tell(told []aside, want ...measure.Length) bool {
	if len(told) < len(want) {
		return false
	}
	for i, a := range told[len(told)-len(want):] {
		if !a.tells(want[i]) {
			return false
		}
	}
	return true
}

// headOf is the remarks of a text in front of its first words.
func headOf(text []byte) string {
	if i := bytes.Index(text, []byte("G17 ")); i >= 0 {
		text = text[:i]
	}
	return strings.Join(remarks(text), " ")
}

// figuresOf is a head without what the job names and gives reasons for: that may be any
// text, with figures of its own.
func figuresOf(head string, s *toolpath.Setup) string {
	any := slices.Clone(s.Accepted)
	for _, l := range s.Limits {
		if l.Kind == toolpath.Holding {
			any = append(any, l.Name)
		}
	}
	slices.SortFunc(any, func(a, b string) int { return cmp.Compare(len(b), len(a)) }) // one name may be in another
	for _, text := range any {
		head = strings.ReplaceAll(head, write.Clean(text), "")
	}
	return head
}

// unheld is the first of what holds the part that a head does not tell of with its place
// and its top, since each margin beside it rests on them; empty is none.
func unheld(head string, s *toolpath.Setup, u measure.Unit) string {
	var things [][]aside // each ends with a height
	floors := map[int]aside{}
	from := 0
	all := asides(head, u)
	for i, a := range all {
		switch {
		case a.height:
			things, from = append(things, all[from:i+1]), i+1
		case a.deep && i == from && i > 0: // of the thing before
			top := all[i-1]
			floors[len(things)-1] = aside{at: top.at - a.at, off: top.off + a.off}
			from = i + 1
		}
	}
	for _, l := range s.Limits {
		want := []measure.Length{solid.Bounds(l.Solid).High.Z}
		floor := l.Kind == toolpath.Packing
		switch {
		case floor:
		case l.Kind == toolpath.Holding:
			want = append(placeOf(l.Solid), want...)
		default:
			continue
		}
		told := false
		for i, t := range things {
			f, cut := floors[i]
			if floor && cut {
				t = []aside{f}
			}
			told = told || tell(t, want...)
		}
		if !told {
			return l.Name
		}
	}
	return ""
}

// placeOf is what a head tells of a thing besides its top: of a jaw nothing, since it
// stands against the metal; of a washer its size, and its place where that is not zero;
// of a clamp from where to where it reaches.
func placeOf(b solid.Body) []measure.Length {
	switch b := b.(type) {
	case solid.Cylinder:
		if b.From.X == 0 && b.From.Y == 0 {
			return []measure.Length{2 * b.Radius}
		}
		return []measure.Length{2 * b.Radius, b.From.X, b.From.Y}
	case solid.Box:
		if b.Low.Z > -solid.Far {
			return []measure.Length{b.Low.X, b.High.X, b.Low.Y, b.High.Y}
		}
	}
	return nil
}

// unzeroed is what of a set-up's zero a head does not tell: where it lies on the metal
// and where it is touched off, or of a finish that goes by the zero of its rough that
// nothing is touched again. Empty is nothing.
func unzeroed(head string, p toolpath.Program, u measure.Unit) string {
	const touch, zero = "TOUCH OFF ON METAL ", "ZERO IS "
	if op := p.Operations[0]; op.Part == toolpath.Finish && !op.Waits() {
		if strings.Contains(head, touch) || !strings.Contains(head, "DO NOT TOUCH OFF AGAIN") {
			return "that its zero is that of the rough"
		}
		return ""
	}
	told := func(begins string, at [2]measure.Length) bool {
		for rest := head; ; {
			_, after, ok := strings.Cut(rest, begins)
			if !ok {
				return false
			}
			rest = after
			if a := asides(after, u); len(a) >= 2 && tell(a[:2], at[:]...) || at == [2]measure.Length{} && strings.HasPrefix(after, "ZERO ") {
				return true
			}
		}
	}
	if !told(touch, p.Setup.Touch) {
		return "where to touch off"
	}
	if p.Setup.Over != "" {
		if !strings.Contains(head, zero+"THE CENTRE OF BORE ") { // which one is among the plan's facts
			return "that zero is the centre of bore " + p.Setup.Over
		}
		return ""
	}
	low := [2]measure.Length{solid.Far, solid.Far}
	for _, m := range p.Setup.Metal {
		b := solid.Bounds(m)
		low[0], low[1] = min(low[0], b.Low.X), min(low[1], b.Low.Y)
	}
	if !told(zero, [2]measure.Length{-low[0], -low[1]}) {
		return "where zero lies on the metal"
	}
	return ""
}
