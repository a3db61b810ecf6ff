package trade

import (
	_ "embed"
	"strings"
	"sync"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
)

//go:embed tooth.toml
var toothFile []byte

// anyMaterial is what a row says that is printed for all of them.
const anyMaterial = "any material"

var toothTable = &form.Table{
	Help: "Feeds a tooth as they are printed",
	Keys: []form.Key{
		{Name: "tooth_printed", Kind: form.Subs, Required: true, Help: "feeds a tooth", Table: &form.Table{
			Help: "A feed a tooth that is printed", Keys: rests(
				form.Key{Name: "for", Kind: form.Text, Required: true, Help: "the materials' names, commas between them, or " + anyMaterial},
				form.Key{Name: "at", Kind: form.Length, Required: true, Above: "0 mm", Help: "the cutter's diameter"},
				form.Key{Name: "low", Kind: form.Length, Required: true, Above: "0 mm", Help: "the least"},
				form.Key{Name: "high", Kind: form.Length, Required: true, Above: "0 mm", Help: "the most"},
			)}},
	},
}

type toothRow struct {
	Row
	table         string // of one source: what it is printed for
	materials     []string
	at, low, high measure.Length
}

// toothRows reads the embedded rows once; as with [book], a fault in them is a fault of
// the program.
var toothRows = sync.OnceValue(func() []toothRow {
	cutting := book()
	rows, err := readTeeth("tooth.toml", toothFile, &cutting)
	if err != nil {
		panic("trade: " + err.Error())
	}
	return rows
})

func readTeeth(file string, data []byte, cutting *handbook) (rows []toothRow, err error) {
	n, err := form.Read(file, data, toothTable)
	if err != nil {
		return nil, err
	}
	for _, s := range n.Subs("tooth_printed") {
		r := toothRow{table: s.Text("source") + ": " + s.Text("for"), at: s.Length("at"), low: s.Length("low"), high: s.Length("high")}
		r.Row = readRow("tooth_printed", s.Text("for")+", "+r.at.String(), s)
		if r.low > r.high {
			s.Fault("low", "is above high: write the lesser first")
		}
		if s.Text("for") != anyMaterial {
			for _, name := range strings.Split(s.Text("for"), ",") {
				name = plain(name)
				if m, ok := cutting.material(name); !ok || m.Name != name {
					s.Fault("for", "%q has no row in cutting.toml: write the name of one, or %s", name, anyMaterial)
				}
				r.materials = append(r.materials, name)
			}
		}
		rows = append(rows, r)
	}
	return rows, n.Faults()
}

// ToothPrinted is the least and the most that is printed for one tooth of a cutter of a
// diameter in a material, and the rows: of each table the one for that diameter, or for
// the next below. Where nothing is printed there are no rows.
func ToothPrinted(material string, d measure.Length) (low, high measure.Length, rows []Row) {
	m, err := Material(material)
	if err != nil {
		return 0, 0, nil
	}
	best := map[string]toothRow{}
	var tables []string
	for _, r := range toothRows() {
		if r.at > d || r.materials != nil && !slices.Contains(r.materials, m.Name) {
			continue
		}
		before, met := best[r.table]
		if !met {
			tables = append(tables, r.table)
		}
		if !met || r.at > before.at {
			best[r.table] = r
		}
	}
	for _, t := range tables {
		r := best[t]
		if rows == nil || r.low < low {
			low = r.low
		}
		high = max(high, r.high)
		rows = append(rows, r.Row)
	}
	return low, high, rows
}

// ToothSpan is what is printed for one tooth, in words: "0.012 to 0.054 mm"; empty where
// nothing is.
func ToothSpan(low, high measure.Length) string {
	switch {
	case high == 0:
		return ""
	case low == high:
		return low.String()
	}
	return strings.TrimSuffix(low.String(), " mm") + " to " + high.String()
}
