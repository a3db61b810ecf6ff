package limit

import (
	"testing"

	"golang.org/x/exp/slices"
	"pgregory.net/rapid"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// The index finds every feature that stands within 20 mm of a box, seen from
// above, each once; looking at all of them one by one is the second way.
func TestIndexFindsAllThatIsNear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coordinate := rapid.Int64Range(-300, 300)
		box := func(name string, most int64) solid.Box {
			low := at(measure.Length(coordinate.Draw(t, name)), measure.Length(coordinate.Draw(t, name)), -5)
			size := rapid.Int64Range(0, most)
			return solid.Box{Low: low, High: low.Plus(at(measure.Length(size.Draw(t, name)), measure.Length(size.Draw(t, name)), 5))}
		}
		var fs []toolpath.Feature
		for range rapid.IntRange(0, 30).Draw(t, "features") {
			most := int64(12)
			if rapid.Bool().Draw(t, "wide") {
				most = 400
			}
			f := toolpath.Feature{Bodies: []solid.Body{box("body", most)}}
			if rapid.Bool().Draw(t, "two bodies") {
				f.Bodies = append(f.Bodies, box("body", most))
			}
			fs = append(fs, f)
		}
		cut := box("cut", 60)
		var found []int
		newIndex(fs).about(cut, func(i int) { found = append(found, i) })
		for i, f := range fs {
			n := 0
			for _, k := range found {
				if k == i {
					n++
				}
			}
			if n > 1 {
				t.Fatalf("feature %d was found %d times", i, n)
			}
			near := slices.ContainsFunc(f.Bodies, func(b solid.Body) bool {
				o := b.(solid.Box)
				const near = 20 * mm
				return o.Low.X-cut.High.X <= near && cut.Low.X-o.High.X <= near &&
					o.Low.Y-cut.High.Y <= near && cut.Low.Y-o.High.Y <= near
			})
			if near && n == 0 {
				t.Fatalf("feature %d at %v was not found about %v", i, f.Bodies, cut)
			}
		}
	})
}

// A slot of 4 along X keeps a wall to a hole of an earlier set-up: the hole's
// edge stands 5 - 2 = 3 from the middle line and 1 from the slot. What the same
// cut or a later one makes is not its business.
func TestWallOfASlot(t *testing.T) {
	name := "wall to old"
	hole := func(cut int, y measure.Length) toolpath.Feature {
		return toolpath.Feature{Name: "old", Cut: cut, Diameter: 4 * mm,
			Bodies: []solid.Body{solid.Cylinder{From: at(0, y, -10), To: at(0, y, 0), Radius: 2 * mm}}}
	}
	b := newBoard(t)
	b.machine.Errors = noErrors
	b.setup.Features = []toolpath.Feature{hole(0, 5)}
	b.slot(3 * mm)
	b.want(name, mm, OK, 4)
	b.setup.Features = []toolpath.Feature{hole(0, 4)}
	b.want(name, 0, Refused, 4)
	b.setup.Features = []toolpath.Feature{hole(1, 4), hole(2, 4)}
	b.none(name)
	// It asks for what the job asks for.
	b.setup.Features = []toolpath.Feature{hole(0, 5)}
	b.wall = &measure.Figure[measure.Length]{Value: mm + 1}
	b.want(name, mm, Refused, 4)
}

// What another set-up made may stand aside by the place's error; what this one
// made, by each one's setting only.
func TestSharesOfAWall(t *testing.T) {
	b := newBoard(t)
	b.machine.Errors = noErrors
	b.machine.Errors.Place, b.machine.Errors.Setting = 40*um, 10*um
	f := toolpath.Feature{Name: "old", Diameter: 4 * mm, Bodies: []solid.Body{solid.Box{Low: at(-20, 4, -10), High: at(20, 6, 0)}}}
	b.setup.Features = []toolpath.Feature{f}
	b.slot(3 * mm)
	if v := b.want("wall to old", 2*mm, OK, 4); v.Margin-v.MarginWorst != int64(50*um) {
		t.Errorf("shares of another set-up's: %v, want 50 um", v.Shares)
	}
	b.setup.Features[0].Cut, b.op = 1, 2
	if v := b.want("wall to old", 2*mm, OK, 4); v.Margin-v.MarginWorst != int64(20*um) {
		t.Errorf("shares of this set-up's: %v, want 20 um", v.Shares)
	}
}
