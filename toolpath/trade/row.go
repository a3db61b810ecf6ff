package trade

import (
	_ "embed"
	"strings"
	"sync"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
)

// Basis says what a row's figure rests on.
type Basis string

const (
	Published      Basis = "published"       // printed in the sources named
	Chosen         Basis = "chosen"          // chosen here by the published figures of the sources named; nobody printed it
	Memory         Basis = "memory"          // no page was seen
	CommonPractice Basis = "common practice" // the trade's habit, without a source
)

// Row is what every row of the handbook has beside its figures.
type Row struct {
	Table  string // "speed"
	Of     string // "bronze, HSS"
	Basis  Basis
	Source string // titles of the sources; what was remembered or is habit
	Note   string // may be empty
}

//go:embed cutting.toml
var cuttingFile []byte

// Rests is the row's source, and that its figure was chosen where it was.
func (r Row) Rests() string { return r.rests() }

func (r Row) rests() string {
	if r.Basis == Chosen {
		return "chosen by " + r.Source
	}
	return r.Source
}

// MaterialRow is a material that the handbook knows.
type MaterialRow struct {
	Row
	Name string
	Also []string // other names, each as it is looked up
	// Tough is whether a tap bears no more than 75 per cent of the thread in it.
	Tough bool
}

type speedRow struct {
	Row
	material, madeOf string
	speed, low, high measure.SurfaceSpeed
}

// fractionRow is a fraction of the diameter; a bound of nought is none.
type fractionRow struct {
	Row
	material    string
	upTo, under measure.Length
	of          measure.Ratio
}

type sideRow struct {
	Row
	material   string
	wide, deep measure.Ratio
}

type stiffRow struct {
	Row
	machine string
	times   measure.Ratio
}

// boundsRow is what a figure is kept within, as shares of another.
type boundsRow struct {
	Row
	least, most measure.Ratio
}

type plungeRow struct {
	Row
	share measure.Ratio
}

// handbook is every row, read.
type handbook struct {
	materials   []MaterialRow
	speeds      []speedRow
	tooth, step []fractionRow
	sides       []sideRow
	stiff       []stiffRow
	bite, arc   boundsRow
	plunge      plungeRow
}

// book reads the embedded rows once. They are part of the program, so that a
// fault in them is a fault of the program; a test reads them all.
var book = sync.OnceValue(func() handbook {
	b, err := readBook("cutting.toml", cuttingFile)
	if err != nil {
		panic("trade: " + err.Error())
	}
	return b
})

// readBook reads rows and refuses those that leave a hole: a material without a
// speed for each sort of cutter, or without a last fraction that takes every
// diameter.
func readBook(file string, data []byte) (handbook, error) {
	n, err := form.Read(file, data, cuttingTable)
	if err != nil {
		return handbook{}, err
	}
	var b handbook
	for _, m := range n.Subs("material") {
		row := MaterialRow{Name: plain(m.Text("name")), Tough: m.Flag("tough")}
		row.Row = readRow("material", row.Name, m)
		for _, also := range strings.Split(m.Text("also"), ",") {
			if also = plain(also); also != "" {
				row.Also = append(row.Also, also)
			}
		}
		for _, name := range append([]string{row.Name}, row.Also...) {
			if _, ok := b.material(name); ok {
				m.Fault("name", "%q is given already: a name means one material", name)
			}
		}
		b.materials = append(b.materials, row)
	}
	for _, s := range n.Subs("speed") {
		row := speedRow{material: s.Text("material"), madeOf: s.Word("made_of"),
			speed: s.Surface("speed"), low: s.Surface("low"), high: s.Surface("high")}
		row.Row = readRow("speed", row.material+", "+row.madeOf, s)
		b.knows(s, row.material)
		if row.low > row.high {
			s.Fault("low", "is above high: write the lesser first")
		}
		if row.Basis == Published && (row.speed < row.low || row.speed > row.high) {
			s.Fault("speed", "lies outside low and high, so nobody printed it: its basis is %q", Chosen)
		}
		b.speeds = append(b.speeds, row)
	}
	b.tooth = b.readFractions("tooth", n.Subs("tooth"))
	b.step = b.readFractions("step", n.Subs("step"))
	b.readSides(n)
	b.bite, b.arc = readBounds("bite", n), readBounds("arc", n)
	for i, p := range n.Subs("plunge") {
		if i > 0 {
			p.Fault("share", "is given already: there is one rule")
		}
		b.plunge = plungeRow{readRow("plunge", "any material", p), p.Number("share")}
	}
	b.holes(n)
	return b, n.Faults()
}

// readSides reads side cuts and stiffnesses, and faults what is missing.
func (b *handbook) readSides(n *form.Node) {
	for _, s := range n.Subs("side") {
		row := sideRow{material: s.Text("material"), wide: s.Number("wide"), deep: s.Number("deep")}
		row.Row = readRow("side", row.material, s)
		b.knows(s, row.material)
		if _, ok := b.side(row.material); ok {
			s.Fault("material", "%q is given already: it has one row", row.material)
		}
		b.sides = append(b.sides, row)
	}
	for _, m := range b.materials {
		if _, ok := b.side(m.Name); !ok {
			n.Fault("side", "%s has no row", m.Name)
		}
	}
	for _, s := range n.Subs("stiffness") {
		row := stiffRow{machine: s.Word("machine"), times: s.Number("times")}
		row.Row = readRow("stiffness", row.machine, s)
		if _, ok := b.stiffness(row.machine); ok {
			s.Fault("machine", "%q is given already: it has one row", row.machine)
		}
		b.stiff = append(b.stiff, row)
	}
	for _, name := range stiffnesses {
		if _, ok := b.stiffness(name); !ok {
			n.Fault("stiffness", "%s has no row", name)
		}
	}
}

func readBounds(table string, n *form.Node) (row boundsRow) {
	for i, s := range n.Subs(table) {
		if i > 0 {
			s.Fault("least", "is given already: there is one rule")
		}
		row = boundsRow{readRow(table, "any cutter", s), s.Number("least"), s.Number("most")}
	}
	return row
}

func (b *handbook) side(material string) (sideRow, bool) {
	for _, s := range b.sides {
		if s.material == material {
			return s, true
		}
	}
	return sideRow{}, false
}

func (b *handbook) stiffness(name string) (stiffRow, bool) {
	for _, s := range b.stiff {
		if s.machine == name {
			return s, true
		}
	}
	return stiffRow{}, false
}

func readRow(table, of string, n *form.Node) Row {
	r := Row{Table: table, Of: of, Basis: Basis(n.Word("basis")), Source: n.Text("source"), Note: n.Text("note")}
	if strings.TrimSpace(r.Source) == "" {
		n.Fault("source", "nothing is said: name what the row rests on")
	}
	return r
}

func (b *handbook) readFractions(table string, nodes []*form.Node) (rows []fractionRow) {
	for _, n := range nodes {
		r := fractionRow{material: n.Text("material"), of: n.Number("fraction")}
		if n.Set("up_to") {
			r.upTo = n.Length("up_to")
		}
		if n.Set("under") {
			r.under = n.Length("under")
		}
		r.Row = readRow(table, r.material, n)
		b.knows(n, r.material)
		if r.upTo != 0 && r.under != 0 {
			n.Fault("under", "stands beside up_to: give one of them")
		}
		for _, before := range rows {
			if before.material != r.material {
				continue
			}
			if end, mine := before.upTo+before.under, r.upTo+r.under; end == 0 || mine != 0 && mine <= end {
				n.Fault("fraction", "comes after a row that takes its diameters already: write the smaller diameters first")
			}
		}
		rows = append(rows, r)
	}
	return rows
}

func (b *handbook) knows(n *form.Node, material string) {
	if m, ok := b.material(material); !ok || m.Name != material {
		n.Fault("material", "%q has no row of its own: add one, or write the name of one", material)
	}
}

func (b *handbook) holes(n *form.Node) {
	for _, m := range b.materials {
		for _, stuff := range cutterStuffs {
			if _, ok := b.speed(m.Name, stuff); !ok {
				n.Fault("speed", "%s has no row for %s", m.Name, stuff)
			}
		}
		for _, t := range []struct {
			key  string
			rows []fractionRow
		}{{"tooth", b.tooth}, {"step", b.step}} {
			if _, ok := fraction(t.rows, m.Name, measure.MaxLength); !ok {
				n.Fault(t.key, "%s has no row for every diameter", m.Name)
			}
		}
	}
}

// material finds a material by any of its names, as [plain] makes them.
func (b *handbook) material(name string) (MaterialRow, bool) {
	for _, m := range b.materials {
		if m.Name == name {
			return m, true
		}
		for _, also := range m.Also {
			if also == name {
				return m, true
			}
		}
	}
	return MaterialRow{}, false
}

func (b *handbook) speed(material, madeOf string) (speedRow, bool) {
	for _, s := range b.speeds {
		if s.material == material && s.madeOf == madeOf {
			return s, true
		}
	}
	return speedRow{}, false
}

// fraction is the first row of the material that takes the diameter.
func fraction(rows []fractionRow, material string, d measure.Length) (fractionRow, bool) {
	for _, r := range rows {
		if r.material == material && (r.upTo == 0 || d <= r.upTo) && (r.under == 0 || d < r.under) {
			return r, true
		}
	}
	return fractionRow{}, false
}

// plain is a name as it is looked up: small letters, single spaces, a hyphen or
// an underscore taken for a space.
func plain(name string) string {
	name = strings.NewReplacer("-", " ", "_", " ").Replace(strings.ToLower(name))
	return strings.Join(strings.Fields(name), " ")
}

// Titles is the title of every source that a row of the handbook names, once each,
// the longest first, so that one that begins with another is found whole.
func Titles() (titles []string) {
	for _, r := range Rows() {
		if r.Basis != Published && r.Basis != Chosen {
			continue
		}
		for _, t := range strings.Split(r.Source, "; ") {
			if !slices.Contains(titles, t) {
				titles = append(titles, t)
			}
		}
	}
	slices.SortStableFunc(titles, func(a, b string) int { return len(b) - len(a) })
	return titles
}

// Rows is every row of the handbook, for a reader who wants to see the sources.
func Rows() []Row {
	b := book()
	var rows []Row
	for _, r := range b.materials {
		rows = append(rows, r.Row)
	}
	for _, r := range b.speeds {
		rows = append(rows, r.Row)
	}
	for _, r := range append(append([]fractionRow{}, b.tooth...), b.step...) {
		rows = append(rows, r.Row)
	}
	for _, r := range b.sides {
		rows = append(rows, r.Row)
	}
	for _, r := range b.stiff {
		rows = append(rows, r.Row)
	}
	rows = append(rows, b.bite.Row, b.arc.Row, b.plunge.Row)
	for _, r := range toothRows() {
		rows = append(rows, r.Row)
	}
	t, d, s, p := threads(), drills(), sawRows(), proportions()
	for _, more := range [][]Row{t.all(), d.all(), s.all(), p.all(), stock().rows} {
		rows = append(rows, more...)
	}
	return rows
}
