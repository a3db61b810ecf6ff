package machines

import (
	"testing"

	"stopshort/toolpath/measure"
)

func TestSpindleAtMost(t *testing.T) {
	list := Spindle{Speeds: []measure.Speed{180_000, 320_000, 560_000}}
	span := Spindle{Low: 100_000, High: 3_000_000}
	for _, c := range []struct {
		name       string
		spindle    Spindle
		want, got  measure.Speed
		ok, hasOne bool
	}{
		{"just one of the list", list, 320_000, 320_000, true, true},
		{"between two of the list", list, 559_999, 320_000, true, false},
		{"above the list", list, 900_000, 560_000, true, false},
		{"below the list", list, 179_999, 180_000, false, false},
		{"slowest of the list", list, 180_000, 180_000, true, true},
		{"inside the range", span, 1_989_437, 1_989_437, true, true},
		{"above the range", span, 4_583_662, 3_000_000, true, false},
		{"fastest of the range", span, 3_000_000, 3_000_000, true, true},
		{"below the range", span, 99_999, 100_000, false, false},
	} {
		got, ok := c.spindle.AtMost(c.want)
		if got != c.got || ok != c.ok {
			t.Errorf("%s: %d %v, want %d %v", c.name, got, ok, c.got, c.ok)
		}
		if has := c.spindle.Has(c.want); has != c.hasOne {
			t.Errorf("%s: has %d: %v", c.name, c.want, has)
		}
	}
}
