package trade

import (
	"fmt"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
)

// Head is the head of a screw and the room that it wants. Sizes are diameters,
// rounded up to an even number of tenths of a nanometre.
type Head struct {
	Shape    string         // SocketCap, Round, Hexagon
	Across   measure.Length // of a hexagon across its flats
	Corners  measure.Length // of a hexagon; nought for a round one
	High     measure.Length
	Key      string         // what turns it: "box spanner"
	KeyRoom  measure.Length // what the key takes, never less than the head
	SpotBare measure.Length // the least spot face for the head alone
	SpotFace measure.Length // the least spot face where the key goes down to it

	// The counterbore that sinks it, and how deep; nought where none is known.
	Counterbore, CounterboreDeep measure.Length

	Source string
	Rows   []Row // across, high, key, spot face and, where there is one, counterbore
}

// HeadShaped is the thread's head of that shape: "socket cap", "round" or
// "hexagon". One that the handbook does not have is an error that lists those
// it has.
func (t Thread) HeadShaped(shape string) (Head, error) {
	var known []string
	for _, h := range t.Heads {
		if h.Shape == plain(shape) {
			return h, nil
		}
		known = append(known, h.Shape)
	}
	return Head{}, fmt.Errorf("%q is no head of %s that the handbook knows: write %s", shape, t.Name, form.Listed(known, "or"))
}

func (b *threadBook) addHeads(t *Thread, r threadRow) {
	for _, any := range b.heads {
		across, ok := headOf(b.heads, r, any.shape)
		if !ok || slices.IndexFunc(t.Heads, func(h Head) bool { return h.Shape == any.shape }) >= 0 {
			continue
		}
		high, hasHigh := headOf(b.heights, r, any.shape)
		key, hasKey := headOf(b.keys, r, any.shape)
		spot, hasSpot := headOf(b.sp, r, any.shape)
		for _, of := range []struct {
			table string
			has   bool
		}{{"height", hasHigh}, {"key", hasKey}, {"spot", hasSpot}} {
			if !of.has {
				r.node.Fault("name", "%s has no row in %s for its %s head", r.name, of.table, any.shape)
			}
		}
		h := Head{Shape: any.shape, Across: across.of(r.major), High: high.of(r.major), Key: key.turned}
		widest := h.Across
		if any.shape == Hexagon {
			h.Corners = acrossCorners(h.Across)
			widest = h.Corners
		}
		h.KeyRoom = widest + 2*key.size
		h.SpotBare = (widest + spot.size).Round(2, measure.Ceil)
		h.SpotFace = (h.KeyRoom + spot.size).Round(2, measure.Ceil)
		h.Rows = []Row{across.Row, high.Row, key.Row, spot.Row}
		if c, ok := headOf(b.counterbores, r, any.shape); ok {
			h.Counterbore, h.CounterboreDeep = c.size, h.High+c.below
			h.Rows = append(h.Rows, c.Row)
			if h.Counterbore <= h.Across {
				r.node.Fault("name", "%s has a counterbore of %s, which its head of %s does not enter", r.name, h.Counterbore, h.Across)
			}
		}
		h.Source = fmt.Sprintf("%s, %s head: across %s; high %s; key %s; spot face %s",
			r.name, any.shape, across.rests(), high.rests(), key.rests(), spot.rests())
		t.Heads = append(t.Heads, h)
	}
	if len(t.Heads) == 0 {
		r.node.Fault("name", "%s has no row in head", r.name)
		return
	}
	t.Head = t.Heads[0]
}

// acrossCorners is the width across the corners of a hexagon from that across
// its flats: twice over the root of 3, which is 1.154700538379..., rounded up to
// an even number. 1.154700539 is above it by less than 10^-9.
func acrossCorners(flats measure.Length) measure.Length {
	return flats.MulDiv(1_154_700_539, 1_000_000_000, measure.Ceil).Round(2, measure.Ceil)
}
