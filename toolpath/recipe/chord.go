package recipe

import (
	"stopshort/toolpath"
	"stopshort/toolpath/plan"
)

// chorded puts arcs in chords where the controller takes none, or not these.
func (b *bench) chorded() error {
	for i, op := range b.out.Operations {
		c, err := plan.Chorded(op, b.machine)
		if err != nil {
			return toolpath.Refusal{Setup: b.setup.Name, Cut: op.Of, Limit: "arcs in chords", Planned: err.Error(), Allowed: "none",
				Do: "a wider chord_tolerance or more places in the machine's file, or arcs by their centre"}
		}
		b.out.Operations[i] = c
	}
	return nil
}
