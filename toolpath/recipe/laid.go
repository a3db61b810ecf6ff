package recipe

import (
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// laid is passes as they are laid out, and where the cutter stands at their end.
type laid struct {
	passes []toolpath.Pass
	here   solid.Point
}

func (l *laid) begin(name string, depth measure.Length) {
	l.passes = append(l.passes, toolpath.Pass{Name: name, Depth: depth})
}

func (l *laid) add(moves ...toolpath.Move) {
	p := &l.passes[len(l.passes)-1]
	for _, m := range moves {
		p.Moves = append(p.Moves, m)
		l.here = m.To
	}
}
