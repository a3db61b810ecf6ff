package recipe

import (
	"golang.org/x/exp/slices"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/job"
	"stopshort/toolpath/plan"
)

// inSlots adds a fault for each tool that a program must name by its number, and whose
// number the controller's tool table does not go up to.
func inSlots(j *job.Job, m *machines.Machine, p *toolpath.Plan) {
	if m.Controller == nil || m.Controller.Slots == 0 {
		return
	}
	var named []int
	for _, pr := range plan.Programs(p, m) {
		for i, op := range pr.Operations {
			in := pr.Change == toolpath.ByPause && op.Tool.Number == pr.Operations[max(i-1, 0)].Tool.Number // already
			if pr.Change != toolpath.ByFile && !in {
				named = append(named, op.Tool.Number)
			}
		}
	}
	for i, t := range j.Tools {
		if t.Number > m.Controller.Slots && slices.Contains(named, t.Number) {
			j.Node.Subs("tool")[i].Fault("number", "tool %d is over the tool table of %s, which goes up to %d: give the tool a number up to that, or correct the machine's slots",
				t.Number, m.Name, m.Controller.Slots)
		}
	}
}
