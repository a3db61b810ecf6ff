package trade

import (
	"fmt"
	"regexp"
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
	Lead   measure.Ratio  // the pitch, exact: tenths of a nanometre for a turn
	Pitch  measure.Length // the same, rounded up
	Major  measure.Length // the thread's outside
	Minor  measure.Length // basic, rounded down
	Base   measure.Ratio  // pitches that are a hundred per cent of the thread
	Source string         // of pitch and diameter
	Rests  Row            // the row that has them
	Form   Row            // the row that has angle and base

	Tap   measure.Figure[measure.Length] // the usual tapping drill
	Clear measure.Figure[measure.Length] // the usual clearance drill: medium, or free where no medium one is known

	// The tapping drill for tough metal, the close, medium and free clearance
	// drill; nil where none is known.
	TapTough, ClearClose, ClearMedium, ClearFree *measure.Figure[measure.Length]

	Holes   []ThreadHole // each drill of the handbook for the thread, in the order above
	Printed []ThreadHole // what else is printed

	Head  Head   // the usual one
	Heads []Head // every one, the usual one first
}

// ThreadHole is a drill for a hole of a thread, with the row that has it.
type ThreadHole struct {
	Row
	Hole  string // TappingHole, ClearanceHole
	For   string // "", "tough metal"; "close", "medium", "free"
	Drill DrillSize
	Why   string // of a printed one: why it is not taken, may be empty
}

// ThreadNamed finds a thread by its name: "M3", "m3", "8BA", "8 BA", "BA 8",
// "4-40", "1/4 x 40". Small and large letters, spaces, hyphens and the unit of an
// inch size do not matter. A name that fits threads of two pitches, as "1/4 in",
// is an error that lists them. An unknown name is an error that lists what is
// known, and the nearest of those with the same number.
func ThreadNamed(name string) (Thread, error) {
	b := threads()
	as := squeezed(name)
	var near, fits []string
	var fit Thread
	for i, r := range b.rows {
		switch {
		case slices.Contains(r.known, as):
			return b.threads[i].own(), nil
		case slices.Contains(r.short, as):
			fits, fit = append(fits, r.name), b.threads[i]
		}
		if figures(r.name) == figures(as) {
			near = append(near, r.name)
		}
	}
	if len(fits) == 1 {
		return fit.own(), nil
	}
	if r := []rune(name); len(r) > longestName {
		name = string(r[:longestName]) + "..."
	}
	if len(fits) > 1 {
		return Thread{}, fmt.Errorf("%q fits %s: write one of them", name, form.Listed(fits, "and"))
	}
	hint := ""
	if near := form.Nearest(as, near); near != "" {
		hint = "; did you mean " + near + "?"
	}
	return Thread{}, fmt.Errorf("%q is no thread that the handbook knows: it knows %s%s", name, b.reach(), hint)
}

// reach is the first and the last thread of each series.
func (b *threadBook) reach() string {
	var all []string
	for _, s := range b.series {
		first, last := "", ""
		for _, r := range b.rows {
			if r.series == s.name {
				if first == "" {
					first = r.name
				}
				last = r.name
			}
		}
		if first != "" {
			all = append(all, first+" to "+last)
		}
	}
	return form.Listed(all, "and")
}

const longestName = 40 // that a message repeats whole

// own is the thread with nothing that another reader holds too.
func (t Thread) own() Thread {
	t.Heads = slices.Clone(t.Heads)
	for i := range t.Heads {
		t.Heads[i].Rows = slices.Clone(t.Heads[i].Rows)
	}
	t.Head.Rows = slices.Clone(t.Head.Rows)
	t.Holes, t.Printed = slices.Clone(t.Holes), slices.Clone(t.Printed)
	for _, f := range []**measure.Figure[measure.Length]{&t.TapTough, &t.ClearClose, &t.ClearMedium, &t.ClearFree} {
		if *f != nil {
			figure := **f
			*f = &figure
		}
	}
	return t
}

// squeezed is a thread's name as it is looked up: small letters, without spaces,
// hyphens, underscores and units behind a number.
func squeezed(name string) string {
	name = strings.ReplaceAll(strings.ReplaceAll(plain(name), " ", ""), "×", "x")
	return unitBehind.ReplaceAllString(name, "$1")
}

// unitBehind is a unit that says nothing more where it stands in the name of a
// thread: 1/4 in x 40 TPI, M6 x 1 mm.
var unitBehind = regexp.MustCompile(`([0-9])(?:inch|in|"|tpi|mm)`)

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
	t := Thread{Name: r.name, Series: r.series, Lead: r.lead, Pitch: r.pitch, Major: r.major, Source: r.Source, Rests: r.Row}
	if s, ok := b.seriesOf(r.series); ok {
		t.Angle, t.Base, t.Form = s.angle, s.full, s.Row
		t.Minor = (r.major - s.minor.Of(r.pitch, measure.Ceil)).Round(2, measure.Floor)
	}
	take := func(rows []holeRow, fit, hole, whose, what string) *measure.Figure[measure.Length] {
		d, ok := drillFor(rows, r.name, fit)
		if !ok {
			return nil
		}
		t.Holes = append(t.Holes, ThreadHole{Row: d.Row, Hole: hole, For: whose, Drill: d.drill})
		f := d.figure(what)
		return &f
	}
	if tap := take(b.taps, "", TappingHole, "", "tapping drill"); tap != nil {
		t.Tap = *tap
	} else {
		r.node.Fault("name", "%s has no row in tap", r.name)
	}
	t.TapTough = take(b.tough, "", TappingHole, ToughMetal, "tapping drill for tough metal")
	if t.TapTough != nil && t.TapTough.Value < t.Tap.Value {
		r.node.Fault("name", "%s has a smaller tapping drill for tough metal: write a larger one", r.name)
	}
	clear := func(fit string) *measure.Figure[measure.Length] {
		return take(b.clears, fit, ClearanceHole, fit, fit+" clearance drill")
	}
	t.ClearClose, t.ClearMedium, t.ClearFree = clear(closeFit), clear(mediumFit), clear(freeFit)
	usual := t.ClearMedium
	if usual == nil {
		usual = t.ClearFree
	}
	if usual == nil {
		r.node.Fault("name", "%s has no row in clear for the %s or the %s fit", r.name, mediumFit, freeFit)
	} else {
		t.Clear = *usual
		if t.ClearClose != nil && t.ClearClose.Value > usual.Value || t.ClearFree != nil && t.ClearFree.Value < usual.Value {
			r.node.Fault("name", "%s has clearance drills in the wrong order: close, medium, free grow", r.name)
		}
	}
	for _, p := range b.printed {
		if p.thread == r.name {
			t.Printed = append(t.Printed, ThreadHole{Row: p.Row, Hole: p.fit, Drill: p.drill, Why: p.why})
		}
	}
	b.addHeads(&t, r)
	return t
}

// ToughMetal is what a larger tapping drill is for.
const ToughMetal = "tough metal"

// figure is the row's drill with its source.
func (r holeRow) figure(what string) measure.Figure[measure.Length] {
	name := r.drill.Diameter.String()
	if r.drill.Sort == NumberDrill || r.drill.Sort == LetterDrill {
		name = r.drill.Name + ", " + name
	}
	return measure.Figure[measure.Length]{
		Value: r.drill.Diameter, From: measure.Handbook,
		Source: fmt.Sprintf("%s, %s: %s (%s)", r.thread, what, name, r.Source),
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

// ToTheInch is how many threads go to an inch, where that is a whole number.
func (t Thread) ToTheInch() (n int64, ok bool) {
	of := t.Lead.Den * int64(measure.Inch) // below the line at most 10 000
	if t.Lead.Num == 0 || of%t.Lead.Num != 0 {
		return 0, false
	}
	return of / t.Lead.Num, true
}

// ThreadUse is a thread with one of its holes.
type ThreadUse struct {
	Thread Thread
	Hole   ThreadHole
}

// UsesOf is every hole for which the handbook takes a drill of just that
// diameter, in the order of the threads.
func UsesOf(d measure.Length) (uses []ThreadUse) {
	for _, t := range threads().threads {
		for _, h := range t.Holes {
			if h.Drill.Diameter == d {
				uses = append(uses, ThreadUse{t.own(), h})
			}
		}
	}
	return uses
}

// SameOutside is the names of the other threads with the same major diameter: a
// screw of one goes into a hole of another, and jams.
func (t Thread) SameOutside() (names []string) {
	for _, r := range threads().rows {
		if r.major == t.Major && r.name != t.Name {
			names = append(names, r.name)
		}
	}
	return names
}
