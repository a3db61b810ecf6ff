package addup

import (
	"strings"
	"testing"

	"stopshort/machines"
)

const seed = columns + `
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
