package job

import (
	"strconv"

	"stopshort/toolpath"
	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

func (j *Job) readTools(nodes []*form.Node) {
	seen := map[int]form.Position{}
	for _, n := range nodes {
		c := toolpath.Cutter{
			Number:       int(n.Count("number")),
			Kind:         toolpath.CutterKind(n.Word("kind")),
			MadeOf:       n.Word("made_of"),
			Diameter:     n.Length("diameter"),
			Flutes:       int(n.Count("flutes")),
			FluteLength:  n.Length("flute_length"),
			StickOut:     n.Length("stick_out"),
			Shank:        n.Length("shank"),
			Holder:       n.Length("holder"),
			HolderLength: n.Length("holder_length"),
			Source:       n.At("number").String(),
		}
		if at, ok := seen[c.Number]; ok {
			n.Fault("number", "tool %d is given in line %d already: give each tool its own number", c.Number, at.Line)
		}
		seen[c.Number] = n.At("number")
		c.Measured = c.Diameter
		if n.Set("measured") {
			c.Measured = n.Length("measured")
			// A tenth: own choice; a cutter that was ground is out by far less.
			if off := (c.Measured - c.Diameter).Abs(); off > c.Diameter/10 {
				n.Fault("measured", "%s is not near %s: a cutter that far out is another cutter", c.Measured, c.Diameter)
			}
		}
		if !n.Set("shank") {
			c.Shank = c.Diameter
		}
		readPoint(n, &c)
		c.CentreCut = c.Kind != toolpath.EndMill
		if n.Set("centre_cutting") {
			c.CentreCut = n.Flag("centre_cutting")
		}
		if c.FluteLength > c.StickOut {
			n.Fault("flute_length", "%s of flutes do not fit %s of stick-out: measure both from the tip", c.FluteLength, c.StickOut)
		}
		if c.Holder < c.Shank {
			n.Fault("holder", "%s is less than the shank's %s: give the diameter of the nose that holds it", c.Holder, c.Shank)
		}
		j.Tools = append(j.Tools, c)
	}
}

// readPoint sets the point of a drill. The point must leave some flute above it.
func readPoint(n *form.Node, c *toolpath.Cutter) {
	pointed := c.Kind == toolpath.Drill || c.Kind == toolpath.SpotDrill
	if !pointed {
		if n.Has("tip") {
			n.Fault("tip", "a %s is flat: leave the tip out", c.Kind)
		}
		return
	}
	c.Tip = 118 * measure.Degree // common practice, no source
	if c.Kind == toolpath.SpotDrill {
		c.Tip = 90 * measure.Degree
	}
	if n.Set("tip") {
		c.Tip = n.Angle("tip")
	}
	if c.Tip < 60*measure.Degree || c.Tip > 160*measure.Degree {
		n.Fault("tip", "%s is no drill's point: 60 deg to 160 deg", c.Tip)
		return
	}
	c.Point = solid.PointLength(c.Measured, c.Tip, measure.Floor)
	if c.Point >= c.FluteLength {
		n.Fault("flute_length", "%s of flutes do not reach beyond the point, which is %s long", c.FluteLength, c.Point)
	}
}

// CutTool is the cutter that a cut names under a key. Where no such tool is
// given it adds a fault and ok is false.
func (j *Job) CutTool(n *form.Node, key string) (c toolpath.Cutter, ok bool) {
	number := int(n.Count(key))
	if c, ok = j.Tool(number); ok {
		return c, true
	}
	var known []string
	for _, t := range j.Tools {
		known = append(known, strconv.Itoa(t.Number))
	}
	n.Fault(key, "tool %d is not given: add a [[tool]] with that number (given: %s)", number, form.Listed(known, "and"))
	return c, false
}
