package form

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"stopshort/toolpath/measure"
)

const whole = `
units    = "mm"
material = "bronze"        # a comment
stock    = { low = ["-22.225 mm", -13.97, 0], diameter = "5/8\"" }
screw.lead   = "8 TPI"
screw.error  = "0.02 mm in 300 mm"
screw.lines  = 62.5
screw.speeds = [350, "700 rpm"]
screw.places = [3, 4]

[[tool]]
number = 3

[[setup]]
  [[setup.cut]]
  recipe = "slot"
  width  = "3/16 in"
  feed   = 150
  speed  = 1_200
  surface = "25 m/min"
  angle  = "30 deg"
  short_of = { bore = "pivot", leave = "40 thou" }

[[setup]]
up = "-z"
cut = [ { recipe = "bolt holes", screw = "M3" },
        { recipe = 'slot', width = +4.50 } ]
`

// The values worked out by hand: 1 mm is 10 000 000 tenths of a nanometre, 1 in
// 254 000 000.
func TestEachKindIsReadExactly(t *testing.T) {
	n := must(t, whole)
	stock, screw := n.Sub("stock"), n.Sub("screw")
	setups := n.Subs("setup")
	slot := setups[0].Subs("cut")[0]
	checks := []struct {
		what      string
		got, want any
	}{
		{"text", n.Text("material"), "bronze"},
		{"word", setups[1].Word("up"), "-z"},
		{"word by default", setups[0].Word("up"), "+z"},
		{"lengths", stock.Lengths("low"), []measure.Length{-222_250_000, -139_700_000, 0}},
		{"size", stock.Length("diameter"), measure.Length(158_750_000)},
		{"length by default", stock.Length("spare"), measure.Length(31_750_000)},
		{"lead", screw.Lead("lead"), measure.Ratio{Num: 31_750_000, Den: 1}},
		{"rate", screw.Rate("error"), measure.Ratio{Num: 1, Den: 15_000}},
		{"number", screw.Number("lines"), measure.Ratio{Num: 125, Den: 2}},
		{"speeds", screw.Speeds("speeds"), []measure.Speed{350_000, 700_000}},
		{"counts", screw.Counts("places"), []int64{3, 4}},
		{"flag by default", screw.Flag("locked"), true},
		{"count", n.Subs("tool")[0].Count("number"), int64(3)},
		{"count by default", n.Subs("tool")[0].Count("flutes"), int64(2)},
		{"size in inches", slot.Length("width"), measure.Length(47_625_000)},
		{"bare feed", slot.Feed("feed"), measure.Feed(1_500_000_000)},
		{"bare speed", slot.Speed("speed"), measure.Speed(1_200_000)},
		{"surface", slot.Surface("surface"), measure.SurfaceSpeed(250_000_000_000)},
		{"angle", slot.Angle("angle"), measure.Angle(108_000_000_000)},
		{"time by default", slot.Time("dwell"), 500 * time.Millisecond},
		{"length in a variant's table", slot.Sub("short_of").Length("leave"), measure.Length(10_160_000)},
		{"word of a variant", slot.Word("ends"), "open"},
		{"text of another variant", setups[1].Subs("cut")[0].Text("screw"), "M3"},
		{"number with a plus", setups[1].Subs("cut")[1].Length("width"), measure.Length(45_000_000)},
		{"absent text", slot.Text("name"), ""},
		{"absent lengths", stock.Lengths("grips"), []measure.Length(nil)},
		{"absent table", setups[1].Subs("cut")[1].Sub("short_of"), (*Node)(nil)},
	}
	for _, c := range checks {
		if d := cmp.Diff(c.want, c.got); d != "" {
			t.Errorf("%s: %s", c.what, d)
		}
	}
}

func TestBareNumbersTakeTheUnits(t *testing.T) {
	const job = `material = "bronze"
stock.diameter = %s
`
	for _, c := range []struct {
		units, number string
		want          measure.Length
	}{
		{"mm", "0.1", 1_000_000},
		{"mm", "1_000", 10_000_000_000},
		{"mm", "+3", 30_000_000},
		{"in", "3", 762_000_000},
		{"in", "0.000002", 508},
		{"in", `"3"`, 762_000_000},
		{"in", `"3 mm"`, 30_000_000},
		{"mm", "12.3456789e0", 0}, // refused below
	} {
		text := "units = \"" + c.units + "\"\n" + fmt.Sprintf(job, c.number)
		n, err := Read("job.toml", []byte(text), shop())
		if c.want == 0 {
			if err == nil || !strings.Contains(err.Error(), "write 12.3456789") {
				t.Errorf("%s: %v", c.number, err)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s %s: %s", c.number, c.units, err)
			continue
		}
		if got := n.Sub("stock").Length("diameter"); got != c.want {
			t.Errorf("%s %s is read as %d, want %d", c.number, c.units, got, c.want)
		}
	}
	for _, number := range []string{"3", "3.5", `"3"`} {
		got := refused(t, fmt.Sprintf(job, number))
		if !strings.HasPrefix(got, "job.toml:2: stock.diameter: 3") || !strings.Contains(got, "has no unit") {
			t.Errorf("%s without units: %s", number, got)
		}
	}
}

// The units hold for the whole file even where they are its last line, and a
// wrong word for them does not make a fault of each number.
func TestUnitsComeFirst(t *testing.T) {
	n := must(t, "stock.spare = 1\nmaterial = \"bronze\"\nunits = \"in\"")
	if got := n.Sub("stock").Length("spare"); got != measure.Inch {
		t.Errorf("1 in the stock is %d", got)
	}
	says(t, "stock.spare = 1\nmaterial = \"bronze\"\nunits = \"inch\"\nstock.grips = [500]",
		`job.toml:3: units: "inch" is no choice here: write "mm" or "in"`)
}

func TestWrongValuesSayWhatToWrite(t *testing.T) {
	for _, c := range []struct{ line, want string }{
		{`stock = 3`, `stock: 3 where a table belongs: write [stock]`},
		{`stock = [{}]`, `stock: a list where a table belongs: write [stock]`},
		{`tool = {number = 1}`, `tool: a table where a list of tables belongs: write [[tool]], with two brackets, for each`},
		{`tool = [{number = 1}, 2]`, `tool[2]: 2 where a table belongs: write [[tool]]`},
		{`tool = [{number = "3"}]`, `tool[1].number: "3" has quotes: write 3 without them`},
		{`tool = [{number = 3.0}]`, `tool[1].number: 3.0 is no whole number: write one such as 3`},
		{`tool = [{number = 0x1f}]`, `tool[1].number: 0x1f is not a plain number: write 31`},
		{`tool = [{number = 0}]`, `tool[1].number: 0 is less than 1: write 1 or more`},
		{`tool = [{number = 100}]`, `tool[1].number: 100 is more than 99: write 99 or less`},
		{`tool = [{number = [1]}]`, `tool[1].number: a list is no whole number: write one such as 3`},
		{`stock.diameter = true`, `stock.diameter: true is no length: write one such as "12 mm"`},
		{`stock.diameter = {}`, `stock.diameter: a table is no length: write one such as "12 mm"`},
		{`stock.diameter = 1979-05-27`, `stock.diameter: the date 1979-05-27 is no length: write one such as "12 mm"`},
		{`stock.diameter = 0`, `stock.diameter: 0 mm is too little: write more than 0 mm`},
		{`stock.diameter = "0 in"`, `stock.diameter: "0 in" is too little: write more than 0 mm`},
		{`stock.diameter = 0x10`, `stock.diameter: 0x10 is not a plain number: write 16`},
		{`stock.diameter = 0b11`, `stock.diameter: 0b11 is not a plain number: write 3`},
		{`stock.diameter = 0o17`, `stock.diameter: 0o17 is not a plain number: write 15`},
		{`stock.diameter = 1.25e1`, `stock.diameter: 1.25e1 has an exponent: write 12.5`},
		{`stock.diameter = 1e-3`, `stock.diameter: 1e-3 has an exponent: write 0.001`},
		{`stock.diameter = 1e99`, `stock.diameter: 1e99 has an exponent: write the number out`},
		{`stock.spare = "50.8000001 mm"`, `stock.spare: "50.8000001 mm" is more than 2 in: write 2 in or less`},
		{`stock.spare = -1`, `stock.spare: -1 mm is less than 0 mm: write 0 mm or more`},
		{`stock.low = [1, 2]`, `stock.low: 2 lengths where 3 belong: write low = ["12 mm", "12 mm", "12 mm"] or the like`},
		{`stock.low = "1 mm"`, `stock.low: "1 mm" where a list belongs: write low = ["12 mm", "12 mm", "12 mm"] or the like`},
		{`stock.low = [1, false, 2]`, `stock.low[2]: false is no length: write one such as "12 mm"`},
		{`stock.grips = [1, -2, 3]`, `stock.grips[2]: -2 mm is less than 0 mm: write 0 mm or more`},
		{`screw.places = [2, 6]`, `screw.places[2]: 6 is more than 5: write 5 or less`},
		{`screw.locked = "true"`, `screw.locked: "true" is neither true nor false: write one of them, without quotes`},
		{`screw.lines = 9.99999`, `screw.lines: 9.99999 is less than 10: write 10 or more`},
		{`screw.error = "0.11 mm in 100 mm"`, `screw.error: "0.11 mm in 100 mm" is more than 0.1 mm in 100 mm: write 0.1 mm in 100 mm or less`},
		{`setup = [{up = 3}]`, `setup[1].up: 3 is no text: write it in quotes, "3"`},
		{`setup = [{up = ["+z"]}]`, `setup[1].up: a list where text belongs: write it in quotes`},
		{`setup = [{up = "+Z"}]`, `setup[1].up: "+Z" is no choice here; did you mean "+z"?`},
		{`setup = [{up = "sideways"}]`, `setup[1].up: "sideways" is no choice here: write "+z" or "-z"`},
		{`setup = [{cut = []}]`, `setup[1].cut: the list is empty: write at least one [[setup.cut]]`},
	} {
		text := "material = \"bronze\"\nunits = \"mm\"\n" + c.line
		got := refused(t, text)
		for _, line := range strings.Split(got, "\n") {
			if missing := strings.Contains(line, ": not given"); !missing && line != "job.toml:3: "+c.want {
				t.Errorf("%s\ngives %s\nwant  job.toml:3: %s", c.line, line, c.want)
			}
		}
	}
}

func TestEveryFaultAtOnceInTheOrderOfTheLines(t *testing.T) {
	says(t, `units = "mm"
stock = { low = [1, 2, "x"], spare = 99 }

[[setup]]
[[setup.cut]]
recipe = "slot"
width = "0 mm"
name = 7

[[setup.cut]]
recipe = "slto"
anything = 1

[[setup.cut]]
width = 3
`,
		`job.toml: material: not given: write material = "..." (what it is made of)`,
		`job.toml:2: stock.low[3]: "x" does not begin with a number: write 12 mm`,
		`job.toml:2: stock.spare: 99 mm is more than 2 in: write 2 in or less`,
		`job.toml:7: setup[1].cut[1].width: "0 mm" is too little: write more than 0 mm`,
		`job.toml:8: setup[1].cut[1].name: 7 is no text: write it in quotes, "7"`,
		`job.toml:11: setup[1].cut[2].recipe: "slto" is no choice here; did you mean "slot"?`,
		`job.toml:14: setup[1].cut[3].recipe: not given: write recipe = "bolt holes" or "slot" (what sort of cut)`,
	)
}

func TestAnEmptyFile(t *testing.T) {
	for _, text := range []string{"", "\n\n", "# nothing yet\n"} {
		says(t, text, "job.toml: the file is empty: it needs material")
	}
}

// A list or a file that is long for no good reason ends in one fault, not in
// one for each item.
func TestLongLists(t *testing.T) {
	head := "material = \"bronze\"\n"
	says(t, head+"tool = ["+strings.Repeat("{},", 1001)+"]", "job.toml:2: tool: 1001 tables: at most 1000 will do")
	says(t, head+"stock.grips = ["+strings.Repeat("true,", 1001)+"]",
		"job.toml:2: stock.grips: 1001 figures: at most 1000 will do")
	got := refused(t, head+"tool = ["+strings.Repeat("{},", 1000)+"]")
	if n := strings.Count(got, "\n"); n != shownFaults || !strings.HasSuffix(got, "\nand 900 more") {
		t.Errorf("%d lines, the last %q", n+1, got[strings.LastIndex(got, "\n")+1:])
	}
}

func TestDefaultsAreNotGiven(t *testing.T) {
	n := must(t, whole)
	stock := n.Sub("stock")
	for _, c := range []struct {
		key      string
		has, set bool
	}{{"low", true, true}, {"spare", false, true}, {"grips", false, false}} {
		if stock.Has(c.key) != c.has || stock.Set(c.key) != c.set {
			t.Errorf("%s: Has %v, Set %v", c.key, stock.Has(c.key), stock.Set(c.key))
		}
	}
	want := measure.Figure[measure.Length]{Value: 158_750_000, From: measure.Given, Source: "job.toml:4: stock.diameter"}
	if d := cmp.Diff(want, stock.Figure("diameter")); d != "" {
		t.Error(d)
	}
	want = measure.Figure[measure.Length]{Value: 31_750_000, From: measure.Default, Source: "default"}
	if d := cmp.Diff(want, stock.Figure("spare")); d != "" {
		t.Error(d)
	}
}

func TestCallersAddFaults(t *testing.T) {
	n := must(t, whole)
	if err := n.Faults(); err != nil {
		t.Fatalf("a file without a fault: %s", err)
	}
	cut := n.Subs("setup")[0].Subs("cut")[0]
	cut.Sub("short_of").Fault("bore", "no bore is called %q", "pivot")
	cut.Fault("name", "there is none")
	n.Fault("material", "it is not known")
	n.Fault("", "the job is empty")
	want := "job.toml: the job is empty\n" +
		"job.toml:3: material: it is not known\n" +
		"job.toml:15: setup[1].cut[1].name: there is none\n" +
		"job.toml:22: setup[1].cut[1].short_of.bore: no bore is called \"pivot\""
	if err := cut.Faults(); err == nil || err.Error() != want {
		t.Errorf("got\n%v\nwant\n%s", err, want)
	}
}

func TestReadersPanicOnAWrongKey(t *testing.T) {
	n := must(t, whole)
	for what, do := range map[string]func(){
		"a key that is not there": func() { n.Text("titel") },
		"another kind":            func() { n.Length("material") },
		"Has":                     func() { n.Has("x") },
		"Fault":                   func() { n.Fault("x", "y") },
		"another variant's key":   func() { n.Subs("setup")[1].Subs("cut")[0].Length("width") },
	} {
		if !panics(do) {
			t.Errorf("%s does not panic", what)
		}
	}
}

func TestKeyTablesAreChecked(t *testing.T) {
	sub := &Table{Keys: []Key{{Name: "a", Kind: Text}}}
	loop := &Table{Keys: []Key{{Name: "a", Kind: Sub}}}
	loop.Keys[0].Table = loop
	for what, keys := range map[string][]Key{
		"a name twice":           {{Name: "a", Kind: Text}, {Name: "a", Kind: Flag}},
		"a name with a space":    {{Name: "a b", Kind: Text}},
		"no name":                {{Kind: Text}},
		"a table for a text":     {{Name: "a", Kind: Text, Table: sub}},
		"no table":               {{Name: "a", Kind: Subs}},
		"no choices":             {{Name: "a", Kind: Word}},
		"a default not chosen":   {{Name: "a", Kind: Word, Choices: []string{"x"}, Default: "y"}},
		"a default without unit": {{Name: "a", Kind: Length, Default: "3"}},
		"a bound without unit":   {{Name: "a", Kind: Length, Min: "3"}},
		"bounds of a text":       {{Name: "a", Kind: Text, Max: "3"}},
		"a length of one":        {{Name: "a", Kind: Length, Len: 3}},
		"required by default":    {{Name: "a", Kind: Text, Required: true, Default: "x"}},
		"a table under itself":   {{Name: "a", Kind: Sub, Table: loop}},
		"no such kind":           {{Name: "a", Kind: 200}},
	} {
		if !panics(func() { (&Table{Keys: keys}).check("", nil) }) {
			t.Errorf("%s does not panic", what)
		}
	}
	if panics(func() { shop().check("", nil) }) {
		t.Error("a table that is right panics")
	}
}

func TestPositions(t *testing.T) {
	n := must(t, whole)
	setups := n.Subs("setup")
	for _, c := range []struct {
		got  Position
		want string
	}{
		{n.Pos(), "job.toml"},
		{n.At("material"), "job.toml:3: material"},
		{n.At("setup"), "job.toml:14: setup"},
		{n.Sub("stock").Pos(), "job.toml:4: stock"},
		{n.Sub("stock").At("spare"), "job.toml:4: stock.spare"}, // by default: where its table is
		{n.Sub("screw").Pos(), "job.toml:5: screw"},
		{n.Sub("screw").At("places"), "job.toml:9: screw.places"},
		{n.Subs("tool")[0].Pos(), "job.toml:11: tool[1]"},
		{setups[0].Subs("cut")[0].Pos(), "job.toml:15: setup[1].cut[1]"},
		{setups[1].At("up"), "job.toml:25: setup[2].up"},
		{setups[1].Subs("cut")[0].Pos(), "job.toml:26: setup[2].cut[1]"},
		{setups[1].Subs("cut")[1].At("width"), "job.toml:27: setup[2].cut[2].width"},
	} {
		if got := c.got.String(); got != c.want {
			t.Errorf("got %s, want %s", got, c.want)
		}
	}
}
