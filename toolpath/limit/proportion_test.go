package limit

import (
	"testing"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// A drill cuts wider than it is: of 0.1 half falls on each side of a wall, from both
// holes. The wall of 1 between two holes of 4 that are 5 apart is then 0.9 at worst.
// A thread's outside is what the tap makes it.
func TestDrillsCutWide(t *testing.T) {
	one, two := drilled(0, 0, -5000), drilled(5000, 0, -5000)
	for _, c := range []struct {
		thread, worst measure.Length
	}{{0, -mm / 10}, {4*mm + mm/5, -mm/20 - mm/10}} {
		two.Thread, two.ThreadTo = c.thread, -3*mm
		b := driller(t, one, two)
		for i := range b.setup.Features {
			b.setup.Features[i].Wider = mm / 10
			b.setup.Features[i].Threaded = i == 1 && c.thread > 0
		}
		b.book.Oversize.Value = mm / 10
		b.plunge(one.At, -5*mm)
		b.plunge(two.At, -5*mm)
		if v := b.verdict("wall between the holes"); v.MarginWorst != int64(c.worst) {
			t.Errorf("thread %s: %s at worst, want %s: %v", c.thread, measure.Length(v.MarginWorst), c.worst, v.Shares)
		}
	}
	b := driller(t, one)
	b.book.Oversize.Value = mm / 10
	b.plunge(one.At, -5*mm)
	edge := b.verdict("metal to the edge") // 10 - 2 - 1, and half of 0.1
	if edge.Margin != int64(7*mm) || edge.MarginWorst != int64(7*mm-mm/20) {
		t.Errorf("to the edge: margin %s, %s at worst", measure.Length(edge.Margin), measure.Length(edge.MarginWorst))
	}
}

// Heads of 6 with keys of 8: beside one another they want 7 from axis to axis, and
// the key 4 from metal that stands beside it.
func TestHeadsAndKeys(t *testing.T) {
	for _, c := range []struct {
		apart, left measure.Length
		state       State
	}{{7000, 0, OK}, {6999, -um, Refused}, {6000, -mm, Refused}} {
		b := driller(t, drilled(0, 0, -5000), drilled(c.apart, 0, -5000))
		b.screw = &toolpath.Screw{Name: "x", Head: 6 * mm, Room: 8 * mm, High: 3 * mm, HeadOnTop: true}
		b.plunge(at(0, 0, 0), -5*mm)
		b.plunge(inUm(c.apart, 0, 0), -5*mm)
		b.want("room for the key between the heads", c.left, c.state, 3)
		b.none("room for the head")
	}
	b := driller(t, drilled(0, 0, -5000))
	b.setup.Metal = append(b.setup.Metal, solid.Box{Low: inUm(3500, -10_000, -10_000), High: at(20, 10, 2)})
	b.setup.Metal[0] = solid.Box{Low: at(-20, -10, -10), High: inUm(3500, 10_000, 0)}
	b.screw = &toolpath.Screw{Name: "x", Head: 6 * mm, Room: 8 * mm, High: 3 * mm, HeadOnTop: true}
	b.plunge(at(0, 0, 0), -5*mm)
	b.want("room for the head", -500*um, Refused, 3)
	b.screw.HeadAt, b.screw.HeadOnTop = 2*mm, false // on a washer as high as what stands beside
	b.none("room for the head")
}

// A slot of 4 may be 16 deep and is told past 8.
func TestDeepSlot(t *testing.T) {
	for _, c := range []struct {
		deep, left measure.Length
		state      State
	}{{8 * mm, 8 * mm, OK}, {8*mm + 1, 8*mm - 1, Warned}, {16 * mm, 0, Warned}, {16*mm + 1, -1, Refused}} {
		b := newBoard(t)
		b.setup.Metal = []solid.Body{solid.Box{Low: at(-20, -10, -30), High: at(20, 10, 0)}}
		b.book.SlotWarn.Value, b.book.SlotStop.Value = 8*mm, 16*mm
		b.slot(c.deep)
		b.want("slot depth, short of 4 cutters", c.left, c.state, 4)
	}
}
