package trade

import (
	"testing"

	"stopshort/toolpath/measure"
)

func TestPointOfKind(t *testing.T) {
	for kind, want := range map[string]measure.Angle{"drill": 118 * measure.Degree, "Spot-Drill": 90 * measure.Degree} {
		if p, err := Point(kind); err != nil || p.Value != want || p.From != measure.Handbook {
			t.Errorf("%q: %+v %v", kind, p, err)
		}
	}
	if _, err := Point("end mill"); err == nil || err.Error() != `"end mill" has no point in the handbook: it knows that of a drill and a spot drill; write the angle` {
		t.Error(err)
	}
}
