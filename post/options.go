package post

import (
	"stopshort/machines"
	"stopshort/post/rs274/read"
)

// ReadOptions is what a machine's controller says of programs that they do not say
// themselves; nothing where it has none.
func ReadOptions(m *machines.Machine) read.Options {
	c := m.Controller
	if c == nil {
		return read.Options{}
	}
	return read.Options{
		DwellMilliseconds: c.Dwell == "milliseconds",
		Slots:             c.Slots,
		ChangeAtStop:      c.ToolChange == "pause",
		PeckLift:          c.PeckLift,
	}
}
