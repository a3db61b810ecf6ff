package post

import (
	"golang.org/x/exp/slices"

	"stopshort/machines"
	"stopshort/post/rs274/read"
)

// MeantFor is the classes of reader that a program for a machine is meant for, and
// no line of it may be refused by. In its plainest form that is all but C, which has
// rules of its own on comments and on codes to a line. What a controller asks for
// beyond it leaves a class out: the reference interpreter, R, knows no semicolon and
// no G73; the small streamed controllers, A, know no percent lines, cycles, tools,
// tables of lengths, mist, overrides and G61.1 (NISTIR 6556; public source and manual
// of class A). The unit of a dwell is no rule of the line: it is told to the reader.
func MeantFor(m *machines.Machine) read.Class {
	c := m.Controller
	all := read.R | read.A | read.B | read.D | read.E
	if c.Comments == "semicolon" || c.Cycle(73) {
		all &^= read.R
	}
	if c.Percent || len(c.Cycles) > 0 || c.ToolChange == "code" {
		all &^= read.A
	}
	for _, w := range append(slices.Clone(c.HeadWords), c.EndWords...) {
		if slices.Contains([]string{"M7", "M48", "M49", "G61.1"}, w) {
			all &^= read.A
		}
	}
	return all
}

// against is the first thing that speaks against a text for a machine: a move left
// open, a finding of a class that it is meant for, or something assumed but the
// lengths of tools, which [Assumes] tells. It is nil where nothing does.
func against(r *read.Reading, m *machines.Machine) *read.Note {
	meant := MeantFor(m)
	for i := range r.Notes {
		n := &r.Notes[i]
		switch {
		case n.Kind() == read.Assumed && m.Controller.ToolChange == "code" &&
			(n.Rule == read.ToolAssumed || n.Rule == read.OffsetAssumed && m.Controller.ToolLengths):
		case n.Kind() != read.Finding || n.Classes()&meant != 0:
			return n
		}
	}
	return nil
}

// Assumes is what a program must find true beyond its own text on a machine that
// changes tools by code; empty where there is nothing.
func Assumes(p *Proven, m *machines.Machine) string {
	first := p.Program.Tool().Number
	several := false
	for _, op := range p.Program.Operations {
		several = several || op.Tool.Number != first
	}
	switch {
	case m.Controller.ToolChange != "code":
		return ""
	case m.Controller.ToolLengths:
		return "the controller's table must hold the length of every tool: it is taken as right"
	case several:
		return "all tools must be set to one length: it is taken as right"
	}
	return ""
}
