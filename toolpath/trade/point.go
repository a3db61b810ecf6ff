package trade

import (
	"fmt"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
)

// Point is the included angle that the point of a tool of the kind ("drill",
// "spot drill") has where nothing else is said. An unknown kind is an error that
// lists the known ones.
func Point(kind string) (measure.Figure[measure.Angle], error) {
	var known []string
	for _, r := range drills().points {
		if r.kind == plain(kind) {
			return measure.Figure[measure.Angle]{Value: r.included, From: measure.Handbook,
				Source: fmt.Sprintf("%s, point: %s (%s)", r.kind, r.included, r.rests())}, nil
		}
		known = append(known, r.kind)
	}
	return measure.Figure[measure.Angle]{}, fmt.Errorf("%q has no point in the handbook: it knows that of a %s; write the angle", kind, form.Listed(known, "and a"))
}
