package trade

import (
	_ "embed"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
)

// DrillSize is a drill by its size. Sort and Source are empty where no stock
// drill has that diameter.
type DrillSize struct {
	Row
	Sort     string // NumberDrill, LetterDrill, FractionDrill, MetricDrill
	Name     string // "#29", "F", "7/64 in", "3.3 mm"
	Diameter measure.Length
}

//go:embed stock.toml
var stockFile []byte

// stockBook is every stock drill, smallest first; of one diameter in the order
// of the rows.
type stockBook struct {
	rows   []Row
	drills []DrillSize
}

// stock reads the embedded rows once; as with [book], a fault in them is a fault
// of the program.
var stock = sync.OnceValue(func() stockBook {
	b, err := readStock("stock.toml", stockFile)
	if err != nil {
		panic("trade: " + err.Error())
	}
	return b
})

const mostSteps = 1000 // of one rule

func readStock(file string, data []byte) (stockBook, error) {
	n, err := form.Read(file, data, stockTable)
	if err != nil {
		return stockBook{}, err
	}
	var b stockBook
	for _, s := range n.Subs("steps") {
		sort, from, to, step := s.Word("sort"), s.Length("from"), s.Length("to"), s.Length("step")
		row := readRow("steps", fmt.Sprintf("%s, %s to %s", sort, from, to), s)
		b.rows = append(b.rows, row)
		if from > to || (to-from)%step != 0 || (to-from)/step > mostSteps {
			s.Fault("to", "is not a whole number of steps above from, at most %d: write one that is", mostSteps)
			continue
		}
		for d := from; d <= to; d += step {
			b.drills = append(b.drills, DrillSize{Row: row, Sort: sort, Name: sizeName(sort, d), Diameter: d})
		}
	}
	for _, r := range n.Subs("drill") {
		d := DrillSize{Sort: r.Word("sort"), Name: strings.ToUpper(strings.TrimSpace(r.Text("name"))), Diameter: r.Length("diameter")}
		d.Row = readRow("drill", d.Name, r)
		if text, sort := drillName(d.Name); text != d.Name || sort != d.Sort {
			r.Fault("name", "%q is no name of a %s drill: write one as #29 or F", d.Name, d.Sort)
		}
		for _, other := range b.drills {
			if other.Name == d.Name {
				r.Fault("name", "%q is given already: a name means one drill", d.Name)
			}
		}
		b.rows = append(b.rows, d.Row)
		b.drills = append(b.drills, d)
	}
	slices.SortStableFunc(b.drills, func(x, y DrillSize) int {
		switch {
		case x.Diameter < y.Diameter:
			return -1
		case x.Diameter > y.Diameter:
			return 1
		}
		return 0
	})
	return b, n.Faults()
}

// sizeName is a diameter as drills of that sort are called.
func sizeName(sort string, d measure.Length) string {
	if f, ok := d.Fraction(); ok && sort == FractionDrill {
		return f
	}
	return d.MM() + " mm"
}

var (
	numberName = regexp.MustCompile(`^(?:#|NO\.? ?|NUMBER ?|NR\.? ?|№ ?) ?([0-9]{1,4})$`)
	letterName = regexp.MustCompile(`^(?:LETTER )?([A-Z])$`)
	bareNumber = regexp.MustCompile(`^[0-9]{1,3}$`)
)

// drillName is a drill's name as it stands in the rows, and its sort; "" where
// the text is no such name.
func drillName(text string) (name, sort string) {
	text = strings.ToUpper(strings.Join(strings.Fields(text), " "))
	if m := numberName.FindStringSubmatch(text); m != nil {
		n, err := strconv.Atoi(m[1])
		if err != nil {
			return "", ""
		}
		return "#" + strconv.Itoa(n), NumberDrill
	}
	if m := letterName.FindStringSubmatch(text); m != nil {
		return m[1], LetterDrill
	}
	return "", ""
}

// mostDrill is the largest diameter that is taken for a drill's.
const mostDrill = 100 * measure.Millimetre

// DrillNamed is a drill by its name, "#29", "No. 29", "F", or by its diameter
// with its unit, "7/64 in", "2.5 mm". A diameter that no stock drill has is a
// drill without a sort. A bare whole number is asked back: it may be a number
// drill or millimetres. Diameters go from above nought to 100 mm.
func DrillNamed(text string) (DrillSize, error) {
	b := stock()
	if name, sort := drillName(text); name != "" {
		if i := slices.IndexFunc(b.drills, func(d DrillSize) bool { return d.Name == name }); i >= 0 {
			return b.drills[i], nil
		}
		return DrillSize{}, fmt.Errorf("%s is no %s drill: %s", name, sort, b.reach(sort))
	}
	if bare := strings.TrimSpace(text); bareNumber.MatchString(bare) {
		return DrillSize{}, fmt.Errorf("%s may be the number drill #%s, or %s mm: write one of them", bare, bare, bare)
	}
	d, err := measure.ParseSize(text, measure.NoUnit)
	if err != nil {
		return DrillSize{}, fmt.Errorf("%w; a drill is written #29, F, 7/64 in or 2.5 mm", err)
	}
	if d <= 0 || d > mostDrill {
		return DrillSize{}, fmt.Errorf("%s is no drill: write a diameter above nought, up to %s", d, mostDrill)
	}
	return b.of(d), nil
}

// of is the drill of a diameter.
func (b *stockBook) of(d measure.Length) DrillSize {
	if i := slices.IndexFunc(b.drills, func(s DrillSize) bool { return s.Diameter == d }); i >= 0 {
		return b.drills[i]
	}
	return DrillSize{Name: d.MM() + " mm", Diameter: d}
}

// reach says from where to where drills of a sort go.
func (b *stockBook) reach(sort string) string {
	var first, last DrillSize
	for _, d := range b.drills {
		if d.Sort == sort {
			if first.Name == "" {
				first = d
			}
			last = d
		}
	}
	return fmt.Sprintf("they go from %s (%s) to %s (%s)", first.Name, first.Diameter, last.Name, last.Diameter)
}

// DrillsBeside is the nearest stock drill of a sort below and above a diameter,
// neither of them that diameter; nil where there is none. Of the sort "" it is
// the nearest of any sort.
func DrillsBeside(d measure.Length, sort string) (below, above *DrillSize) {
	for _, s := range stock().drills {
		if sort != "" && s.Sort != sort {
			continue
		}
		s := s
		switch {
		case s.Diameter < d && (below == nil || s.Diameter > below.Diameter):
			below = &s
		case s.Diameter > d:
			return below, &s
		}
	}
	return below, nil
}

// DrillsOf is every stock drill of just that diameter: "1/4 in" and "E".
func DrillsOf(d measure.Length) (all []DrillSize) {
	for _, s := range stock().drills {
		if s.Diameter == d {
			all = append(all, s)
		}
	}
	return all
}

// DrillNear is the stock drill of any sort nearest to a diameter, the larger of
// two that are as near.
func DrillNear(d measure.Length) DrillSize {
	if same := DrillsOf(d); len(same) > 0 {
		return same[0]
	}
	below, above := DrillsBeside(d, "")
	switch {
	case below == nil:
		return *above
	case above == nil || d-below.Diameter < above.Diameter-d:
		return *below
	}
	return *above
}
