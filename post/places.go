package post

import (
	"fmt"

	"stopshort/machines"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/measure"
)

// namePlaces adds to a refusal what the controller's places may have to do with it:
// rounding moves a position by less than a step, so that where less than two steps
// are lacking, more places may do.
func namePlaces(verdicts []limit.Verdict, m *machines.Machine) {
	if m.Controller == nil {
		return
	}
	step := m.Controller.Step(m.Units)
	for i := range verdicts {
		v := &verdicts[i]
		lacks := -min(v.Margin, v.MarginWorst)
		if !v.Stops() || v.Unit != limit.Length || lacks <= 0 || lacks >= int64(2*step) {
			continue
		}
		places := fmt.Sprintf("%d places round by up to %s: more may do", m.Controller.Places, step.ShownBoth(m.Units, measure.Ceil))
		if v.Do != "" {
			places = v.Do + "; " + places
		}
		v.Do = places
	}
}
