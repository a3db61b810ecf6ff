package trade

import (
	"embed"
	"fmt"
	"strings"
	"sync"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
)

// threadFiles are read every one, in the order of their names, so that a series
// is added by adding a file.
//
//go:embed threads/*.toml
var threadFiles embed.FS

type seriesRow struct {
	Row
	name  string
	angle measure.Angle
	minor measure.Ratio // pitches
	full  measure.Ratio // pitches
}

type threadRow struct {
	Row
	name, series string
	lead         measure.Ratio
	pitch, major measure.Length // the pitch rounded up
	known        []string       // every name, as it is looked up
	short        []string       // names that others may have too
	node         *form.Node
}

// holeRow is a drill for a thread; the fit of a tapping drill is "", of a printed
// one what the hole is for.
type holeRow struct {
	Row
	thread, fit string
	drill       DrillSize
	why         string // of a printed one
}

// headRow is a figure of the heads of a shape: a length, or a share of the
// major diameter where that is set.
type headRow struct {
	Row
	whose  []string // threads and series
	shape  string
	size   measure.Length
	share  measure.Ratio
	turned string         // by what, of a key
	below  measure.Length // of a counterbore
}

// threadBook is every row about threads, read, and the threads they make.
type threadBook struct {
	series                   []seriesRow
	rows                     []threadRow
	taps, tough              []holeRow
	clears, printed          []holeRow
	heads, heights, keys, sp []headRow
	counterbores             []headRow
	threads                  []Thread // one for each row of rows
}

// threads reads the embedded rows once; as with [book], a fault in them is a
// fault of the program.
var threads = sync.OnceValue(func() threadBook {
	var all threadBook
	files, err := threadFiles.ReadDir("threads")
	for i := 0; err == nil && i < len(files); i++ {
		var data []byte
		var b threadBook
		name := "threads/" + files[i].Name()
		if data, err = threadFiles.ReadFile(name); err != nil {
			break
		}
		if b, err = readThreads(name, data); err == nil {
			err = all.add(b)
		}
	}
	if err != nil {
		panic("trade: " + err.Error())
	}
	return all
})

// add puts the rows of another file behind these. A name that both have is an
// error.
func (b *threadBook) add(more threadBook) error {
	for _, r := range more.rows {
		for _, other := range b.rows {
			for _, name := range r.known {
				if slices.Contains(other.known, name) {
					return fmt.Errorf("%s: %q is a name of %s already: a name means one thread", r.node.Pos(), name, other.name)
				}
			}
		}
	}
	b.series = append(b.series, more.series...)
	b.rows = append(b.rows, more.rows...)
	b.taps = append(b.taps, more.taps...)
	b.tough = append(b.tough, more.tough...)
	b.clears = append(b.clears, more.clears...)
	b.printed = append(b.printed, more.printed...)
	b.heads = append(b.heads, more.heads...)
	b.heights = append(b.heights, more.heights...)
	b.keys = append(b.keys, more.keys...)
	b.sp = append(b.sp, more.sp...)
	b.counterbores = append(b.counterbores, more.counterbores...)
	b.threads = append(b.threads, more.threads...)
	return nil
}

// readThreads reads rows and refuses those that leave a hole or cannot be: a
// tapping drill that is not between the minor and the major diameter, clearance
// that the screw does not pass.
func readThreads(file string, data []byte) (threadBook, error) {
	n, err := form.Read(file, data, threadTable)
	if err != nil {
		return threadBook{}, err
	}
	var b threadBook
	for _, s := range n.Subs("series") {
		row := seriesRow{name: s.Text("name"), angle: s.Angle("angle"), minor: s.Number("minor_pitches"), full: s.Number("full_pitches")}
		row.Row = readRow("series", row.name, s)
		if _, ok := b.seriesOf(row.name); ok {
			s.Fault("name", "%q is given already: a series has one row", row.name)
		}
		b.series = append(b.series, row)
	}
	for _, t := range n.Subs("thread") {
		b.readThread(t)
	}
	b.taps = b.readHoles("tap", n.Subs("tap"))
	b.tough = b.readHoles("tough", n.Subs("tough"))
	b.clears = b.readHoles("clear", n.Subs("clear"))
	b.printed = b.readHoles("printed", n.Subs("printed"))
	b.heads = b.readHeads("head", "across", n.Subs("head"))
	b.heights = b.readHeads("height", "high", n.Subs("height"))
	b.keys = b.readHeads("key", "wall", n.Subs("key"))
	b.sp = b.readHeads("spot", "over", n.Subs("spot"))
	b.counterbores = b.readHeads("counterbore", "across", n.Subs("counterbore"))
	for _, r := range b.rows {
		b.threads = append(b.threads, b.thread(r))
	}
	return b, n.Faults()
}

func (b *threadBook) readThread(t *form.Node) {
	row := threadRow{name: t.Text("name"), series: t.Text("series"), lead: t.Lead("pitch"), major: t.Length("major"), node: t}
	switch {
	case !t.Has("number"):
		for _, key := range []string{"pitch", "major"} {
			if !t.Has(key) {
				t.Fault(key, "is missing: write it, or the number of a BA thread")
			}
		}
	case t.Has("pitch") || t.Has("major"):
		t.Fault("number", "gives pitch and major already: leave out the one or the others")
	default:
		row.pitch, row.major = baRule(int(t.Count("number")))
		row.lead = measure.NewRatio(int64(row.pitch), 1)
	}
	row.pitch = row.lead.Times(1, measure.Ceil)
	row.Row = readRow("thread", row.name, t)
	series, ok := b.seriesOf(row.series)
	if !ok {
		t.Fault("series", "%q has no row of its own: add one, or write the name of one", row.series)
	} else if series.minor.Of(row.pitch, measure.Ceil) >= row.major {
		t.Fault("pitch", "%s leaves nothing inside the thread of %s: write less", row.pitch, row.major)
	}
	for _, name := range append([]string{row.name}, strings.Split(t.Text("also"), ",")...) {
		name = squeezed(name)
		if name == "" {
			continue
		}
		for _, other := range b.rows {
			if slices.Contains(other.known, name) {
				t.Fault("name", "%q is a name of %s already: a name means one thread", name, other.name)
			}
		}
		row.known = append(row.known, name)
	}
	for _, name := range strings.Split(t.Text("short"), ",") {
		if name = squeezed(name); name != "" {
			row.short = append(row.short, name)
		}
	}
	if len(row.known) == 0 {
		t.Fault("name", "is empty: write the thread's name")
	}
	b.rows = append(b.rows, row)
}

func (b *threadBook) readHoles(table string, nodes []*form.Node) (rows []holeRow) {
	for _, n := range nodes {
		r := holeRow{thread: n.Text("thread")}
		of := r.thread
		switch table {
		case "clear":
			r.fit = n.Word("fit")
			of += ", " + r.fit
		case "printed":
			r.fit, r.why = n.Word("hole"), n.Text("why")
			of += ", " + r.fit
		}
		r.Row = readRow(table, of, n)
		var err error
		if r.drill, err = DrillNamed(n.Text("drill")); err != nil {
			n.Fault("drill", "%s", err)
			continue
		}
		t, ok := b.row(r.thread)
		if !ok {
			n.Fault("thread", "%q has no row of its own: add one, or write the name of one", r.thread)
			continue
		}
		if table != "printed" { // what others print may be wrong
			b.fits(table, r, t, rows, n)
		}
		rows = append(rows, r)
	}
	return rows
}

// fits faults a hole that cannot be the thread's, and a second one.
func (b *threadBook) fits(table string, r holeRow, t threadRow, rows []holeRow, n *form.Node) {
	d := r.drill.Diameter
	if series, ok := b.seriesOf(t.series); ok && table != "clear" {
		if least := t.major - series.minor.Of(t.pitch, measure.Floor); d < least || d >= t.major {
			n.Fault("drill", "%s is not between the minor diameter %s and the major %s: write one that is", d, least, t.major)
		}
	}
	if table == "clear" && d <= t.major {
		n.Fault("drill", "%s does not let %s through: write more", d, t.major)
	}
	for _, before := range rows {
		if before.thread == r.thread && before.fit == r.fit {
			n.Fault("thread", "%s has such a drill already: write one", r.thread)
		}
	}
}

func (b *threadBook) readHeads(table, length string, nodes []*form.Node) (rows []headRow) {
	for _, n := range nodes {
		r := headRow{shape: n.Word("shape"), size: n.Length(length)}
		switch table {
		case "key":
			r.turned = n.Text("with")
		case "counterbore":
			r.below = n.Length("below")
		case "head", "height":
			r.share = n.Number("of_major")
			if n.Has(length) == n.Has("of_major") {
				n.Fault(length, "or of_major gives the figure: write one of them")
			}
		}
		for _, name := range strings.Split(n.Text("for"), ",") {
			name = strings.TrimSpace(name)
			_, series := b.seriesOf(name)
			if _, thread := b.row(name); !thread && !series {
				n.Fault("for", "%q is neither a thread nor a series: add its row, or write the name of one", name)
			}
			for _, before := range rows {
				if before.shape == r.shape && slices.Contains(before.whose, name) {
					n.Fault("for", "%s has a row for its %s head already: write one", name, r.shape)
				}
			}
			r.whose = append(r.whose, name)
		}
		r.Row = readRow(table, n.Text("for")+", "+r.shape, n)
		rows = append(rows, r)
	}
	return rows
}

func (b *threadBook) seriesOf(name string) (seriesRow, bool) {
	for _, s := range b.series {
		if s.name == name {
			return s, true
		}
	}
	return seriesRow{}, false
}

func (b *threadBook) row(name string) (threadRow, bool) {
	for _, t := range b.rows {
		if t.name == name {
			return t, true
		}
	}
	return threadRow{}, false
}

// headOf is the thread's row for the shape, or else that of its series.
func headOf(rows []headRow, t threadRow, shape string) (headRow, bool) {
	for _, whose := range []string{t.name, t.series} {
		for _, r := range rows {
			if r.shape == shape && slices.Contains(r.whose, whose) {
				return r, true
			}
		}
	}
	return headRow{}, false
}

// of is the row's figure for a thread of that major diameter, rounded up to an
// even number of tenths of a nanometre.
func (r headRow) of(major measure.Length) measure.Length {
	l := r.size
	if !r.share.IsZero() {
		l = r.share.Of(major, measure.Ceil)
	}
	return l.Round(2, measure.Ceil)
}

func (b *threadBook) all() (rows []Row) {
	for _, r := range b.series {
		rows = append(rows, r.Row)
	}
	for _, r := range b.rows {
		rows = append(rows, r.Row)
	}
	for _, list := range [][]holeRow{b.taps, b.tough, b.clears, b.printed} {
		for _, r := range list {
			rows = append(rows, r.Row)
		}
	}
	for _, list := range [][]headRow{b.heads, b.heights, b.keys, b.sp, b.counterbores} {
		for _, r := range list {
			rows = append(rows, r.Row)
		}
	}
	return rows
}
