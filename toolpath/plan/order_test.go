package plan

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// over is an operation of one pass at X, in millimetres, with a cutter of 2 mm.
// Its name is the tool's number and its cut.
func over(cut, tool int, kind toolpath.CutterKind, x measure.Length) toolpath.Operation {
	const mm = measure.Millimetre
	return toolpath.Operation{
		Cut: cut, Name: fmt.Sprintf("%d:%d", cut, tool), Tool: toolpath.Cutter{Number: tool, Kind: kind, Measured: 2 * mm},
		Passes: []toolpath.Pass{{Moves: []toolpath.Move{{To: solid.Point{X: x * mm}}}}},
	}
}

func names(ops []toolpath.Operation) string {
	var s []string
	for _, op := range ops {
		s = append(s, op.Name)
	}
	return strings.Join(s, " ")
}

func TestOrder(t *testing.T) {
	const spot, drill, mill = toolpath.SpotDrill, toolpath.Drill, toolpath.SlotDrill
	for _, c := range []struct {
		what, want string
		ops        []toolpath.Operation
	}{
		{"two cuts of holes share the spot drill and the drill", "1:1 2:1 1:2 2:2", []toolpath.Operation{
			over(1, 1, spot, 0), over(1, 2, drill, 0), over(2, 1, spot, 10), over(2, 2, drill, 10)}},
		{"on one place the cuts keep the job's order", "1:1 1:2 2:1 2:2", []toolpath.Operation{
			over(1, 1, spot, 0), over(1, 2, drill, 0), over(2, 1, spot, 0), over(2, 2, drill, 0)}},
		{"touching seen from above is one place", "1:3 2:1", []toolpath.Operation{over(1, 3, mill, 0), over(2, 1, spot, 2)}},
		{"a hair apart is not", "2:1 1:3", []toolpath.Operation{over(1, 3, mill, 0), over(2, 1, spot, 3)}},
		{"drills before mills", "2:2 1:3", []toolpath.Operation{over(1, 3, mill, 0), over(2, 2, drill, 10)}},
		// A face, then a hole on it; and a hole elsewhere: 3 tools need no more than
		// two changes, if the face goes first.
		{"a mill whose holes come after it", "1:3 2:1 3:1 2:2 3:2", []toolpath.Operation{
			over(1, 3, mill, 0), over(2, 1, spot, 0), over(2, 2, drill, 0), over(3, 1, spot, 10), over(3, 2, drill, 10)}},
		{"one cut's own order stands though the tool comes back", "1:1 1:2 1:1", []toolpath.Operation{
			over(1, 1, spot, 0), over(1, 2, drill, 20), over(1, 1, spot, 40)}},
		{"nothing", "", nil},
	} {
		if got := names(Order(c.ops)); got != c.want {
			t.Errorf("%s: %s, want %s", c.what, got, c.want)
		}
	}
}

// Two passes far apart leave a place between them that is free.
func TestOrderLooksAtEachPass(t *testing.T) {
	a := over(1, 3, toolpath.SlotDrill, 0)
	a.Passes = append(a.Passes, over(1, 3, toolpath.SlotDrill, 20).Passes...)
	if got := names(Order([]toolpath.Operation{a, over(2, 1, toolpath.SpotDrill, 10)})); got != "2:1 1:3" {
		t.Errorf("a mark between two holes: %s", got)
	}
	if got := names(Order([]toolpath.Operation{a, over(2, 1, toolpath.SpotDrill, 19)})); got != "1:3 2:1" {
		t.Errorf("a mark over the second hole: %s", got)
	}
}

// Whatever the operations: each comes once, those of a cut and those of one place
// keep their order, and tools are changed no more often than in the job itself.
func TestOrderKeeps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var ops []toolpath.Operation
		x := map[string]measure.Length{}
		cut := 1
		for i := range rapid.IntRange(1, 12).Draw(t, "operations") {
			if rapid.Bool().Draw(t, "next cut") {
				cut++
			}
			tool := rapid.IntRange(1, 4).Draw(t, "tool")
			place := measure.Length(rapid.IntRange(0, 3).Draw(t, "place")) * 10
			op := over(cut, tool, []toolpath.CutterKind{toolpath.SpotDrill, toolpath.Drill, toolpath.SlotDrill, toolpath.EndMill}[tool-1], place)
			op.Name = fmt.Sprint(i)
			x[op.Name] = place
			ops = append(ops, op)
		}
		runs := func(ops []toolpath.Operation) (n int) {
			last := 0
			for _, op := range ops {
				if op.Tool.Number != last {
					n++
				}
				last = op.Tool.Number
			}
			return n
		}
		if was, is := runs(ops), runs(Order(ops)); is > was {
			t.Fatalf("%d tools are taken up, and %d in the job's own order", is, was)
		}
		at := map[string]int{}
		got := Order(ops)
		for i, op := range got {
			at[op.Name] = i
		}
		if len(got) != len(ops) || len(at) != len(ops) {
			t.Fatalf("%d operations, want %d: %s", len(got), len(ops), names(got))
		}
		for i := range ops {
			for k := range i {
				if (ops[i].Cut == ops[k].Cut || x[ops[i].Name] == x[ops[k].Name]) && at[ops[i].Name] < at[ops[k].Name] {
					t.Fatalf("%d goes before %d: %s", i, k, names(got))
				}
			}
		}
	})
}
