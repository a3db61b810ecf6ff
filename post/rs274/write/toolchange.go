package write

import (
	"fmt"
	"strconv"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// tools is the cutters of a program as they are to be mounted, each once, and what
// must be true of their lengths.
func (w *writer) tools(p toolpath.Program) (out []string) {
	seen := map[int]bool{}
	for _, op := range p.Operations {
		if !seen[op.Tool.Number] {
			seen[op.Tool.Number] = true
			out = append(out, w.cutter(op.Tool)...)
		}
	}
	switch {
	case p.Change == toolpath.ByCode && w.lengths:
		return append(out, "THE TABLE OF LENGTHS MUST HOLD EVERY TOOL")
	case p.Change == toolpath.ByCode && len(seen) > 1:
		return append(out, "ALL TOOLS MUST BE SET TO ONE LENGTH")
	case p.Change == toolpath.ByPause && len(seen) > 1:
		return append(out, "BEGIN WITH TOOL "+strconv.Itoa(p.Tool().Number)+". THE PROGRAM WAITS FOR EACH CHANGE")
	}
	return out
}

// firstTool is the lines that put the first tool in.
func (w *writer) firstTool(p toolpath.Program) []string {
	if p.Change != toolpath.ByCode {
		return nil
	}
	return w.takes(p.Tool().Number)
}

// takes is the lines that change a tool by code.
func (w *writer) takes(n int) []string {
	t := strconv.Itoa(n)
	lines := []string{"T" + t + " M6"}
	if w.lengths {
		w.lengthsOn = true
		lines = append(lines, "G43 H"+t)
	}
	return lines
}

// change puts in the tool of an operation, above the work and with the spindle off.
// Where the cutter stands afterwards is not known: the next moves say every axis
// anew, Z first.
func (w *writer) change(op toolpath.Operation, p toolpath.Program, m *machines.Machine) error {
	if err := w.putAll(w.stopped()...); err != nil {
		return err
	}
	var say []string
	lines := w.takes
	if p.Change == toolpath.ByPause {
		lines = func(n int) []string { return []string{"T" + strconv.Itoa(n), "M0"} }
		say = append([]string{"CHANGE THE TOOL AND TOUCH OFF HEIGHT AGAIN"}, w.cutter(op.Tool)...)
		say = append(say, w.startHeight(p.Setup.Clearance))
	}
	if !m.Controller.SetsSpindle {
		say = append(say, "SET THE SPINDLE BY HAND TO "+strconv.FormatInt(int64(op.Speed/measure.RPM), 10)+" RPM")
	}
	for _, s := range say {
		if err := w.comment(s); err != nil {
			return err
		}
	}
	if op.Tool.Number < 1 {
		return fmt.Errorf("tool %d: a tool that is changed has a number from 1", op.Tool.Number)
	}
	if err := w.putAll(lines(op.Tool.Number)...); err != nil {
		return err
	}
	rise, err := w.rise(p.Setup.Clearance)
	if err != nil {
		return err
	}
	if err := w.put(rise); err != nil {
		return err
	}
	w.known, w.feed = false, 0
	if err := w.putAll(w.coolants()...); err != nil {
		return err
	}
	return w.spindle(op.Speed, p.SpinUp, m)
}
