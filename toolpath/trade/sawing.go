package trade

import (
	_ "embed"
	"fmt"
	"sync"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
)

//go:embed sawing.toml
var sawFile []byte

// Saw is what the handbook says of one material and slitting saws of HSS.
type Saw struct {
	Surface             measure.Figure[measure.SurfaceSpeed]
	SpeedLow, SpeedHigh measure.SurfaceSpeed           // the range that is printed
	Tooth               measure.Figure[measure.Length] // feed for one tooth, any material
	ToothLow, ToothHigh measure.Length                 // what is usual
	TeethInWork         int64                          // at once, at least
	KerfLow, KerfHigh   measure.Length                 // what the slit is wider than the saw

	Speed, Feed, Teeth, Kerf Row
}

type sawRow struct {
	Row
	material         string
	speed, low, high measure.SurfaceSpeed
}

type spanRow struct {
	Row
	start, low, high measure.Length
}

type sawBook struct {
	saws        []sawRow
	tooth, kerf spanRow
	inWork      Row
	teeth       int64
}

// sawRows reads the embedded rows once; as with [book], a fault in them is a
// fault of the program.
var sawRows = sync.OnceValue(func() sawBook {
	cutting := book()
	b, err := readSaws("sawing.toml", sawFile, &cutting)
	if err != nil {
		panic("trade: " + err.Error())
	}
	return b
})

func readSaws(file string, data []byte, cutting *handbook) (sawBook, error) {
	n, err := form.Read(file, data, sawTable)
	if err != nil {
		return sawBook{}, err
	}
	var b sawBook
	for _, s := range n.Subs("saw") {
		row := sawRow{material: s.Text("material"), speed: s.Surface("speed"), low: s.Surface("low"), high: s.Surface("high")}
		row.Row = readRow("saw", row.material, s)
		cutting.knows(s, row.material)
		if row.low > row.high {
			s.Fault("low", "is above high: write the lesser first")
		}
		if _, ok := b.saw(row.material); ok {
			s.Fault("material", "%q is given already: it has one row", row.material)
		}
		b.saws = append(b.saws, row)
	}
	single := func(table, key string) *form.Node {
		for i, s := range n.Subs(table) {
			if i > 0 {
				s.Fault(key, "is given already: there is one rule")
			}
		}
		return n.Subs(table)[0]
	}
	t, k, w := single("tooth", "feed"), single("kerf", "low"), single("in_work", "teeth")
	b.tooth = spanRow{readRow("tooth", "saw", t), t.Length("feed"), t.Length("low"), t.Length("high")}
	if b.tooth.start < b.tooth.low || b.tooth.start > b.tooth.high {
		t.Fault("feed", "is not from low to high: write one that is")
	}
	b.kerf = spanRow{readRow("kerf", "saw", k), 0, k.Length("low"), k.Length("high")}
	if b.kerf.low > b.kerf.high {
		k.Fault("low", "is above high: write the lesser first")
	}
	b.inWork, b.teeth = readRow("in_work", "saw", w), w.Count("teeth")
	for _, m := range cutting.materials {
		if _, ok := b.saw(m.Name); !ok {
			n.Fault("saw", "%s has no row", m.Name)
		}
	}
	return b, n.Faults()
}

func (b *sawBook) saw(material string) (sawRow, bool) {
	for _, s := range b.saws {
		if s.material == material {
			return s, true
		}
	}
	return sawRow{}, false
}

func (b *sawBook) all() (rows []Row) {
	for _, s := range b.saws {
		rows = append(rows, s.Row)
	}
	return append(rows, b.tooth.Row, b.kerf.Row, b.inWork)
}

// Sawing is the handbook's figures for a slitting saw of HSS in a material. An
// unknown material is an error as [Material]'s.
func Sawing(material string) (Saw, error) {
	m, err := Material(material)
	if err != nil {
		return Saw{}, err
	}
	b := sawRows()
	r, _ := b.saw(m.Name) // readSaws has seen to it that it is there
	return Saw{
		Surface: measure.Figure[measure.SurfaceSpeed]{Value: r.speed, From: measure.Handbook,
			Source: fmt.Sprintf("%s, slitting saw: %s (%s)", m.Name, r.speed, r.rests())},
		SpeedLow: r.low, SpeedHigh: r.high,
		Tooth: measure.Figure[measure.Length]{Value: b.tooth.start, From: measure.Handbook,
			Source: fmt.Sprintf("slitting saw: %s a tooth (%s)", b.tooth.start, b.tooth.rests())},
		ToothLow: b.tooth.low, ToothHigh: b.tooth.high, TeethInWork: b.teeth,
		KerfLow: b.kerf.low, KerfHigh: b.kerf.high,
		Speed: r.Row, Feed: b.tooth.Row, Teeth: b.inWork, Kerf: b.kerf.Row,
	}, nil
}
