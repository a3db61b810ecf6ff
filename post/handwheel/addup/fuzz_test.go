package addup

import (
	"strings"
	"testing"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

const seed = columns + `
1,,,,,,,,,,,free X and Y and head
1,,,X table,,,,0,0,in,,touch the edge; dial set to 0 turns + 0
1,,,Y saddle,,,,0,0,in,,touch the edge; dial set to 0 turns + 0
1,slot,,,,,,,,,,"cut 1 of 1: tool 3, slot drill"
1,slot,,,,,,,,,,"spindle off, raise it: fit tool 3, and tighten it"
1,slot,,Z head,,,,0,0,in,,touch the face; dial set to 0 turns + 0
1,slot,,,,,,,,,,spindle on at 1500 rpm
1,slot,,X table,clockwise,2,34,34,0.234,in,,
1,slot,,,,,,,,,,lock X and Y
1,slot,pass 1,Z head,clockwise,0,20,20,-0.02,in,0,feed 2.5 s a turn
`

const turned = columns + `
1,,,,,,,,,,,free X and Y and head and rotary table
1,,,X table,,,,0,0,in,,touch the edge; dial set to 0 turns + 0
1,,,Y saddle,,,,0,0,in,,touch the edge; dial set to 0 turns + 0
1,,,C rotary,,,,0:00:00,0:00:00,deg,,"turn the wheel clockwise, up to nought; dial set to 0 turns + 0:00:00"
1,o,,,,,,,,,,"cut 1 of 1: tool 3, slot drill"
1,o,,,,,,,,,,"spindle off, raise it: fit tool 3, and tighten it"
1,o,,Z head,,,,0,0,in,,touch the face; dial set to 0 turns + 0
1,o,,,,,,,,,,spindle on at 1500 rpm
1,o,,X table,clockwise,10,0,0,1,in,,
1,o,,C rotary,clockwise,22,2:00:00,2:00:00,90:00:00,deg,,
1,o,,,,,,,,,,lock X and Y and head
1,o,,C rotary,clockwise,22,2:00:00,0:00:00,180:00:00,deg,,feed 2 s a turn
`

// Ninety degrees clockwise bring the cutter, an inch to the right of the axis, over the
// back of the work; ninety more, cut, over its left.
func TestRotaryTableAddsUp(t *testing.T) {
	m, err := machines.Find("dial-mill-inch")
	if err != nil {
		t.Fatal(err)
	}
	sets, err := Read([]byte(turned), m)
	if err != nil {
		t.Fatal(err)
	}
	steps := sets[0].Trace.Steps
	s := steps[len(steps)-1]
	if s.Kind != toolpath.Arc || s.Sense != toolpath.Anticlockwise || s.From.X != 0 || s.From.Y != measure.Inch || s.To.X != -measure.Inch || s.To.Y != 0 {
		t.Errorf("it goes from %v to %v", s.From, s.To)
	}
	// 2 pi in / 90 in two seconds: 53.2 mm/min.
	if f := float64(s.Feed) / float64(measure.Millimetre); f < 53.19 || f > 53.21 {
		t.Errorf("fed at %s", s.Feed)
	}
	for _, c := range [][2]string{
		{"22,2:00:00,2:00:00,90:00:00", "22,2:00:10,2:00:10,90:00:00"},
		{"22,2:00:00,2:00:00,90:00:00", "23,2:00:00,2:00:00,90:00:00"},
		{"22,2:00:00,2:00:00,90:00:00", "22,2:00:00,2:00:10,90:00:00"},
		{"22,2:00:00,2:00:00,90:00:00", "22,4:00:00,2:00:00,90:00:00"},
		{"22,2:00:00,2:00:00,90:00:00", "22,2:60:00,2:00:00,90:00:00"},
		{"lock X and Y and head", "lock X and Y"},
		{"lock X and Y and head", "lock X and Y and head and rotary table"},
		{"clockwise,22,2:00:00,0:00:00,180:00:00", "anticlockwise,22,2:00:00,0:00:00,180:00:00"},
		{"22,2:00:00,0:00:00,180:00:00", "112,2:00:00,0:00:00,540:00:00"},
		{"deg,,feed", "in,,feed"},
		{"turn the wheel clockwise", "turn the wheel anticlockwise"},
		{"feed 2 s", "feed 0 s"},
	} {
		if strings.Count(turned, c[0]) == 0 {
			t.Fatalf("%q is not in the table", c[0])
		}
		if _, err := Read([]byte(strings.Replace(turned, c[0], c[1], 1)), m); err == nil {
			t.Errorf("%q for %q passes", c[1], c[0])
		}
	}
}

// FuzzRead: whatever the text, an error and no panic; what is read has its places within
// what a length holds.
func FuzzRead(f *testing.F) {
	m, err := machines.Find("dial-mill-inch")
	if err != nil {
		f.Fatal(err)
	}
	sets, err := Read([]byte(seed), m)
	if err != nil || len(sets) != 1 || len(sets[0].Trace.Steps) != 2 || sets[0].Cuts[0].Tool != 3 {
		f.Fatalf("the seed does not read: %v %+v", err, sets)
	}
	f.Add([]byte(seed))
	f.Add([]byte(strings.Replace(seed, "2,34,34", "9223372036854775807,99 1/3,1/0", 1)))
	f.Add([]byte(strings.Replace(seed, "0,20,20,-0.02", "0,20,20,-99999999999", 1)))
	f.Add([]byte(columns + "\n"))
	f.Add([]byte(turned))
	f.Add([]byte(strings.Replace(turned, "22,2:00:00", "9223372036854775807,99999:59:59.999999", 1)))
	f.Fuzz(func(t *testing.T, text []byte) {
		sets, err := Read(text, m)
		if err != nil {
			return
		}
		for _, s := range sets {
			for _, st := range s.Trace.Steps {
				if st.Op >= len(s.Cuts) || st.Line < 1 {
					t.Fatalf("a step of cut %d, row %d, of %d cuts", st.Op, st.Line, len(s.Cuts))
				}
			}
		}
	})
}
