package plan

import (
	"stopshort/machines"
	"stopshort/toolpath"
)

// changeOn is how a machine's programs change the tool.
func changeOn(m *machines.Machine) toolpath.Change {
	if m.Controller == nil {
		return toolpath.ByFile
	}
	switch m.Controller.ToolChange {
	case "pause":
		return toolpath.ByPause
	case "code":
		return toolpath.ByCode
	}
	return toolpath.ByFile
}
