package trade

import (
	"fmt"
	"strings"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
)

// Thread is what the handbook says of one thread and its screws. Diameters are
// even numbers of tenths of a nanometre.
type Thread struct {
	Name   string // "M3", "8BA"
	Series string // "ISO metric coarse"
	Angle  measure.Angle
	Pitch  measure.Length
	Major  measure.Length // the thread's outside
	Minor  measure.Length // basic, rounded down
	Source string         // of pitch and diameter

	Tap   measure.Figure[measure.Length] // the usual tapping drill
	Clear measure.Figure[measure.Length] // the usual clearance drill: medium

	// The closer and the freer clearance drill, nil where none is known.
	ClearClose, ClearFree *measure.Figure[measure.Length]

	Head  Head   // the usual one
	Heads []Head // every one, the usual one first
}

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
	Source   string
}

// ThreadNamed finds a thread by its name: "M3", "m3", "8BA", "8 BA", "BA 8".
// Small and large letters, spaces and hyphens do not matter. An unknown name is
// an error that lists the known ones, and the nearest of those with the same
// number.
func ThreadNamed(name string) (Thread, error) {
	b := threads()
	as := squeezed(name)
	var known, near []string
	for i, r := range b.rows {
		if slices.Contains(r.known, as) {
			return b.threads[i].own(), nil
		}
		known = append(known, r.name)
		if figures(r.name) == figures(as) {
			near = append(near, r.name)
		}
	}
	hint := ""
	if near := form.Nearest(as, near); near != "" {
		hint = "; did you mean " + near + "?"
	}
	if r := []rune(name); len(r) > longestName {
		name = string(r[:longestName]) + "..."
	}
	return Thread{}, fmt.Errorf("%q is no thread that the handbook knows: it knows %s%s", name, form.Listed(known, "and"), hint)
}

const longestName = 40 // that a message repeats whole

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

// own is the thread with nothing that another reader holds too.
func (t Thread) own() Thread {
	t.Heads = slices.Clone(t.Heads)
	for _, f := range []**measure.Figure[measure.Length]{&t.ClearClose, &t.ClearFree} {
		if *f != nil {
			figure := **f
			*f = &figure
		}
	}
	return t
}

// squeezed is a thread's name as it is looked up: small letters, without spaces,
// hyphens and underscores.
func squeezed(name string) string { return strings.ReplaceAll(plain(name), " ", "") }

// figures is the digits of a name.
func figures(name string) string {
	return strings.Map(func(r rune) rune {
		if r < '0' || r > '9' {
			return -1
		}
		return r
	}, name)
}

// thread puts a thread together from its rows, and faults what is missing.
func (b *threadBook) thread(r threadRow) Thread {
	t := Thread{Name: r.name, Series: r.series, Pitch: r.pitch, Major: r.major, Source: r.Source}
	if s, ok := b.seriesOf(r.series); ok {
		t.Angle = s.angle
		t.Minor = (r.major - s.minor.Of(r.pitch, measure.Ceil)).Round(2, measure.Floor)
	}
	tap, ok := drillFor(b.taps, r.name, "")
	if !ok {
		r.node.Fault("name", "%s has no row in tap", r.name)
	}
	t.Tap = tap.figure("tapping drill")
	fits := map[string]*measure.Figure[measure.Length]{}
	for _, fit := range []string{closeFit, mediumFit, freeFit} {
		if c, ok := drillFor(b.clears, r.name, fit); ok {
			f := c.figure(fit + " clearance drill")
			fits[fit] = &f
		}
	}
	t.ClearClose, t.ClearFree = fits[closeFit], fits[freeFit]
	if usual := fits[mediumFit]; usual == nil {
		r.node.Fault("name", "%s has no row in clear for the %s fit", r.name, mediumFit)
	} else {
		t.Clear = *usual
		if t.ClearClose != nil && t.ClearClose.Value > usual.Value || t.ClearFree != nil && t.ClearFree.Value < usual.Value {
			r.node.Fault("name", "%s has clearance drills in the wrong order: close, medium, free grow", r.name)
		}
	}
	b.addHeads(&t, r)
	return t
}

// figure is the row's drill with its source.
func (r holeRow) figure(what string) measure.Figure[measure.Length] {
	return measure.Figure[measure.Length]{
		Value: r.drill, From: measure.Handbook,
		Source: fmt.Sprintf("%s, %s: %s (%s)", r.thread, what, r.drill, r.Source),
	}
}

func drillFor(rows []holeRow, thread, fit string) (holeRow, bool) {
	for _, r := range rows {
		if r.thread == thread && r.fit == fit {
			return r, true
		}
	}
	return holeRow{}, false
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

// rests is the row's source, and that its figure was chosen where it was.
func (r Row) rests() string {
	if r.Basis == Chosen {
		return "chosen by " + r.Source
	}
	return r.Source
}

// acrossCorners is the width across the corners of a hexagon from that across
// its flats: twice over the root of 3, which is 1.154700538379..., rounded up to
// an even number. 1.154700539 is above it by less than 10^-9.
func acrossCorners(flats measure.Length) measure.Length {
	return flats.MulDiv(1_154_700_539, 1_000_000_000, measure.Ceil).Round(2, measure.Ceil)
}
