package handwheel

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// A rotary table of 90 to 1 with a play of 15 minutes stands at nought and was left to
// hands, which may have brought it back from the other side: it lies up to 15 minutes on.
// A place at 10 minutes is then met by going past it, by the play and a quarter turn of
// the wheel, 1 degree, to 1:05:00 back of nought; one at 16 minutes lies beyond the play.
func TestRotaryTableLeftWithinItsPlay(t *testing.T) {
	const minute = measure.Degree / 60
	for _, c := range []struct {
		to    measure.Angle
		loose bool
		rows  []string
	}{
		{10 * minute, true, []string{"0 + 1:05:00 back", "0 + 0:10:00"}},
		{16 * minute, true, []string{"0 + 0:16:00"}},
		{10 * minute, false, []string{"0 + 0:10:00"}},
		{0, true, []string{"0 + 1:15:00 back", "0 + 0:00:00"}},
		{0, false, nil},
	} {
		b := &bench{table: &Table{}, machine: &machines.Machine{}, setup: &toolpath.Setup{Number: 1}, op: &toolpath.Operation{}, locked: map[string]bool{},
			rot: &rotor{Rotary: machines.Rotary{Ratio: 90, Least: minute / 6, Backlash: 15 * minute, Words: [2]string{"clockwise", "anticlockwise"}}, met: true}}
		if c.loose {
			b.rot.met, b.rot.loose = false, true
		}
		b.rotate(c.to)
		var got []string
		for _, r := range b.table.Rows {
			got = append(got, r.Total)
		}
		if d := cmp.Diff(c.rows, got); d != "" {
			t.Errorf("to %s, left to hands %v (-want +rows):\n%s", c.to, c.loose, d)
		}
	}
}
