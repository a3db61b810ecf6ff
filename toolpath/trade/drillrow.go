package trade

import (
	_ "embed"
	"sync"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
)

//go:embed drilling.toml
var drillingFile []byte

type pointRow struct {
	Row
	kind     string
	included measure.Angle
}

// bandRow is what is printed for drills under a diameter.
type bandRow struct {
	Row
	under, low, high measure.Length
}

type drillSpeedRow struct {
	Row
	material  string
	low, high measure.SurfaceSpeed
}

// peckRow counts in diameters.
type peckRow struct {
	Row
	material                          string
	noneTo, first, then, thenTo, last measure.Ratio
}

type engagementRow struct {
	Row
	material string
	share    measure.Ratio
}

type gapRow struct {
	Row
	gap measure.Length
}

type edgeRow struct {
	Row
	warn, stop measure.Ratio
}

type tappedRow struct {
	Row
	pitches measure.Ratio
}

type throughRow struct {
	Row
	least measure.Length
	share measure.Ratio
}

// drillBook is every row about drilling, read.
type drillBook struct {
	points      []pointRow
	feeds       []fractionRow
	bands       []bandRow
	surfaces    []drillSpeedRow
	pecks       []peckRow
	engagements []engagementRow
	runOuts     []RunOut
	gap         gapRow
	edge        edgeRow
	tapped      tappedRow
	through     throughRow
}

// drills reads the embedded rows once; as with [book], a fault in them is a
// fault of the program.
var drills = sync.OnceValue(func() drillBook {
	cutting := book()
	b, err := readDrills("drilling.toml", drillingFile, &cutting)
	if err != nil {
		panic("trade: " + err.Error())
	}
	return b
})

// readDrills reads rows and refuses those that leave a hole: a material of
// cutting.toml that has no row in one of the tables.
func readDrills(file string, data []byte, cutting *handbook) (drillBook, error) {
	n, err := form.Read(file, data, drillTable)
	if err != nil {
		return drillBook{}, err
	}
	var b drillBook
	for _, p := range n.Subs("point") {
		row := pointRow{kind: plain(p.Text("kind")), included: p.Angle("included")}
		row.Row = readRow("point", row.kind, p)
		for _, other := range b.points {
			if other.kind == row.kind {
				p.Fault("kind", "%q is given already: a kind has one point", row.kind)
			}
		}
		b.points = append(b.points, row)
	}
	b.feeds = cutting.readFractions("feed", n.Subs("feed"))
	b.readBands(n.Subs("band"))
	has := map[string]bool{} // table and material
	for _, table := range []string{"surface", "peck", "engagement"} {
		for _, s := range n.Subs(table) {
			material := s.Text("material")
			cutting.knows(s, material)
			if has[table+" "+material] {
				s.Fault("material", "%q is given already: it has one row", material)
			}
			has[table+" "+material] = true
			b.readOfMaterial(table, material, s)
		}
	}
	for _, r := range n.Subs("run_out") {
		b.readRunOut(r)
	}
	for i, g := range n.Subs("re_entry") {
		if i > 0 {
			g.Fault("gap", "is given already: there is one rule")
		}
		b.gap = gapRow{readRow("re_entry", "any drill", g), g.Length("gap")}
	}
	for i, e := range n.Subs("edge") {
		if i > 0 {
			e.Fault("warn", "is given already: there is one rule")
		}
		b.edge = edgeRow{readRow("edge", "any hole", e), e.Number("warn"), e.Number("stop")}
		if less(b.edge.warn, b.edge.stop) {
			e.Fault("warn", "is less than stop: what is refused need not be told")
		}
	}
	for i, t := range n.Subs("tapped_edge") {
		if i > 0 {
			t.Fault("pitches", "is given already: there is one rule")
		}
		b.tapped = tappedRow{readRow("tapped_edge", "any thread", t), t.Number("pitches")}
	}
	for i, t := range n.Subs("break_through") {
		if i > 0 {
			t.Fault("least", "is given already: there is one rule")
		}
		b.through = throughRow{readRow("break_through", "any drill", t), t.Length("least"), t.Number("of_drill")}
	}
	for _, m := range cutting.materials {
		for _, table := range []string{"surface", "peck", "engagement"} {
			if !has[table+" "+m.Name] {
				n.Fault(table, "%s has no row", m.Name)
			}
		}
		if _, ok := fraction(b.feeds, m.Name, measure.MaxLength); !ok {
			n.Fault("feed", "%s has no row for every diameter", m.Name)
		}
	}
	return b, n.Faults()
}

func (b *drillBook) readBands(nodes []*form.Node) {
	for i, n := range nodes {
		row := bandRow{under: n.Length("under"), low: n.Length("low"), high: n.Length("high")}
		row.Row = readRow("band", "under "+row.under.String(), n)
		if row.low > row.high {
			n.Fault("low", "is above high: write the lesser first")
		}
		if i > 0 && row.under <= b.bands[i-1].under {
			n.Fault("under", "comes after a row that takes its diameters already: write the smaller diameters first")
		}
		b.bands = append(b.bands, row)
	}
}

func (b *drillBook) readOfMaterial(table, material string, n *form.Node) {
	row := readRow(table, material, n)
	switch table {
	case "surface":
		s := drillSpeedRow{row, material, n.Surface("low"), n.Surface("high")}
		if s.low > s.high {
			n.Fault("low", "is above high: write the lesser first")
		}
		b.surfaces = append(b.surfaces, s)
	case "peck":
		p := peckRow{row, material, n.Number("none_to"), n.Number("first"), n.Number("then"), n.Number("then_to"), n.Number("last")}
		if less(p.noneTo, p.first) {
			n.Fault("first", "is more than none_to: a hole that deep would go without")
		}
		if less(p.thenTo, p.first) {
			n.Fault("then_to", "is less than first: write as much at least")
		}
		b.pecks = append(b.pecks, p)
	case "engagement":
		b.engagements = append(b.engagements, engagementRow{row, material, n.Number("of_major")})
	}
}

func (b *drillBook) readRunOut(n *form.Node) {
	r := RunOut{Tap: plain(n.Text("tap")), Least: n.Number("least"), Usual: n.Number("usual")}
	r.Row = readRow("run_out", r.Tap, n)
	if less(r.Usual, r.Least) {
		n.Fault("usual", "is less than least: write as much at least")
	}
	for _, other := range b.runOuts {
		if other.Tap == r.Tap {
			n.Fault("tap", "%q is given already: a tap has one row", r.Tap)
		}
	}
	b.runOuts = append(b.runOuts, r)
}

// less tells whether a is less than b, for numbers that were read, whose
// products fit (see [measure.ParseNumber]).
func less(a, b measure.Ratio) bool { return a.Num*b.Den < b.Num*a.Den }

func (b *drillBook) all() (rows []Row) {
	for _, r := range b.points {
		rows = append(rows, r.Row)
	}
	for _, r := range b.feeds {
		rows = append(rows, r.Row)
	}
	for _, r := range b.bands {
		rows = append(rows, r.Row)
	}
	for _, r := range b.surfaces {
		rows = append(rows, r.Row)
	}
	for _, r := range b.pecks {
		rows = append(rows, r.Row)
	}
	for _, r := range b.engagements {
		rows = append(rows, r.Row)
	}
	for _, r := range b.runOuts {
		rows = append(rows, r.Row)
	}
	return append(rows, b.gap.Row, b.edge.Row, b.tapped.Row, b.through.Row)
}
