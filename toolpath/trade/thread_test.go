package trade

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"stopshort/toolpath/measure"
)

func named(t *testing.T, name string) Thread {
	t.Helper()
	th, err := ThreadNamed(name)
	if err != nil {
		t.Fatal(err)
	}
	return th
}

// allThreads is the text of every file of threads, with more behind it.
func allThreads(t *testing.T, more string) string {
	t.Helper()
	text := ""
	for _, name := range []string{"threads/iso-metric-coarse.toml", "threads/ba.toml"} {
		data, err := threadFiles.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		text += string(data) + "\n"
	}
	return text + more
}

// "Mechanical engineer's data handbook p.299" and "Metric tap drill list": pitch
// and tapping drill. "ISO 273 clearance table" and "Hole-size tables, BS 4186
// and inch": clearance. "DIN 912/933/934 tables": the head across (M2.5 from
// memory). In hundredths of a millimetre. The minor diameter, in thousandths, is
// from memory of the metric tables.
func TestMetricThreads(t *testing.T) {
	const unit = 10 * um
	for name, want := range map[string][9]measure.Length{ // major, pitch, tap, close, medium, free, head, high, minor
		"M2":   {200, 40, 160, 220, 240, 260, 380, 200, 1567},
		"M2.5": {250, 45, 205, 270, 290, 310, 450, 250, 2013},
		"M3":   {300, 50, 250, 320, 340, 360, 550, 300, 2459},
		"M4":   {400, 70, 330, 430, 450, 480, 700, 400, 3242},
		"M5":   {500, 80, 420, 530, 550, 580, 850, 500, 4134},
		"M6":   {600, 100, 500, 640, 660, 700, 1000, 600, 4917},
	} {
		m := named(t, name)
		got := [8]measure.Length{m.Major, m.Pitch, m.Tap.Value, m.ClearClose.Value, m.Clear.Value, m.ClearFree.Value, m.Head.Across, m.Head.High}
		for i := range got {
			if got[i] != want[i]*unit {
				t.Errorf("%s, figure %d: %s, want %s", name, i, got[i], want[i]*unit)
			}
		}
		if got := m.Minor.Round(um, measure.Nearest); got != want[8]*um {
			t.Errorf("%s: minor diameter %s, want %s", name, m.Minor, want[8]*um)
		}
		// The rule that the drill is the diameter less the pitch, to 0.05 mm.
		if off := m.Tap.Value - (m.Major - m.Pitch); off.Abs() > 50*um {
			t.Errorf("%s: %s is %s off the rule", name, m.Tap.Value, off)
		}
		if m.Angle != 60*measure.Degree || m.Head.Shape != SocketCap || m.Head.Corners != 0 {
			t.Errorf("%s: %s, %+v", name, m.Angle, m.Head)
		}
		// The key goes into a cap head; the spot face stands half a millimetre over it.
		if m.Head.KeyRoom != m.Head.Across || m.Head.SpotFace != m.Head.Across+500*um || m.Head.SpotBare != m.Head.SpotFace {
			t.Errorf("%s: %+v", name, m.Head)
		}
	}
}

// "BA thread specification" (minor), "BA inch diameters" (in inches), "BA thread
// BS 93": pitch and diameter. Tapping: "Model-engineer tables" (0 to 2),
// from memory (3), "BA thread data" (4 to 10), of which 8 is common practice,
// no source. Clearance: "Model-engineer tables" (0 to 2), then from memory.
var baThreads = []struct {
	pitch, major, tap, clear, minor measure.Length // hundredths of a millimetre
	inches                          string
	full                            int64 // per cent of the full thread that the tapping drill leaves, by hand
}{
	{100, 600, 510, 620, 480, "0.2362", 75},
	{90, 530, 450, 550, 422, "0.2087", 74},
	{81, 470, 400, 490, 373, "0.1850", 72},
	{73, 410, 340, 430, 322, "0.1614", 80},
	{66, 360, 300, 370, 281, "0.1417", 76},
	{59, 320, 265, 330, 249, "0.1260", 78},
	{53, 280, 230, 290, 216, "0.1102", 79},
	{48, 250, 205, 260, 192, "0.0984", 78},
	{43, 220, 180, 230, 168, "0.0866", 78},
	{39, 190, 155, 200, 143, "0.0748", 75},
	{35, 170, 140, 180, 128, "0.0669", 71},
}

func TestBAThreads(t *testing.T) {
	const unit = 10 * um
	for n, want := range baThreads {
		ba := named(t, fmt.Sprintf("%dBA", n))
		for what, f := range map[string][2]measure.Length{
			"pitch": {ba.Pitch, want.pitch}, "major": {ba.Major, want.major}, "tap": {ba.Tap.Value, want.tap},
			"clear": {ba.Clear.Value, want.clear}, "minor": {ba.Minor.Round(unit, measure.Nearest), want.minor},
		} {
			if f[0] != f[1]*unit {
				t.Errorf("%s: %s %s, want %s", ba.Name, what, f[0], f[1]*unit)
			}
		}
		if got := ba.Major.Inches(4); got != want.inches {
			t.Errorf("%s: %s in, want %s", ba.Name, got, want.inches)
		}
		deep := 12 * ba.Pitch / 10
		if got := int64((100*(ba.Major-ba.Tap.Value) + deep/2) / deep); got != want.full {
			t.Errorf("%s: %d per cent of the thread, want %d", ba.Name, got, want.full)
		}
		if ba.ClearClose != nil || ba.ClearFree != nil {
			t.Errorf("%s: one clearance is known, not three", ba.Name)
		}
		if ba.Angle != 47*measure.Degree+30*measure.ArcMinute {
			t.Errorf("%s: %s", ba.Name, ba.Angle)
		}
	}
}

// "BA thread system letter": pitch 0.9^n mm, diameter 6 p^1.2 mm with the pitch
// not rounded, each rounded (to two decimals and to one).
func TestBARule(t *testing.T) {
	for n := range baThreads {
		ba := named(t, fmt.Sprintf("BA %d", n))
		p := math.Pow(0.9, float64(n))
		if got := measure.Length(math.Round(p*100)) * 10 * um; got != ba.Pitch {
			t.Errorf("%s: pitch %s, the rule gives %s", ba.Name, ba.Pitch, got)
		}
		if got := measure.Length(math.Round(60*math.Pow(p, 1.2))) * 100 * um; got != ba.Major {
			t.Errorf("%s: diameter %s, the rule gives %s", ba.Name, ba.Major, got)
		}
	}
}

// Printed figures that are known to be wrong or too tight.
func TestPrintedFiguresNotTaken(t *testing.T) {
	for _, c := range []struct {
		source, name  string
		printed, ours measure.Length // ours is more than printed
	}{
		{"Horological BA hints: 8BA, #54 (0.0550 in)", "8BA", 55 * measure.Thou, named(t, "8BA").Tap.Value},
		{"Horological BA hints: 6BA, #44 (0.0860 in), 97 per cent", "6BA", 86 * measure.Thou, named(t, "6BA").Tap.Value},
		{"Horological BA hints: clearance for 8BA, #44 (0.0860 in)", "8BA", 86 * measure.Thou, named(t, "8BA").Clear.Value},
		{"Threads table, hobby wiki: clearance for 6BA, #34 (0.1110 in)", "6BA", 111 * measure.Thou, named(t, "6BA").Clear.Value},
		{"Machine screw sizes page: M2.5, 2.0 mm", "M2.5", 2 * mm, named(t, "M2.5").Tap.Value},
	} {
		if c.ours <= c.printed {
			t.Errorf("%s: ours is %s", c.source, c.ours)
		}
	}
	// "BA note" has the diameter as six pitches, which is right for 0BA alone.
	for n := range baThreads {
		if ba := named(t, fmt.Sprintf("%dBA", n)); (ba.Major == 6*ba.Pitch) != (n == 0) {
			t.Errorf("%s: %s and %s", ba.Name, ba.Major, ba.Pitch)
		}
	}
	// Such a row would be refused when it is read.
	const ours = "thread = \"8BA\"\ndrill  = \"1.8 mm\""
	bad := strings.Replace(allThreads(t, ""), ours, strings.Replace(ours, "1.8", "1.397", 1), 1)
	if _, err := readThreads("rows.toml", []byte(bad)); err == nil || !strings.Contains(err.Error(), "1.397 mm is not between the minor diameter 1.684 mm and the major 2.2 mm") {
		t.Errorf("#54 for 8BA: %v", err)
	}
}

// A pitch by the inch that is no whole number of tenths of a nanometre is exact
// in Lead, rounded up in Pitch: 25.4 mm / 36 is 0.70555... mm.
func TestPitchByTheInch(t *testing.T) {
	for name, want := range map[string]struct {
		tpi   int64
		pitch measure.Length
	}{"8-36": {36, 7_055_556}, "4-40": {40, 6_350_000}, "1/2-13": {13, 19_538_462}, "9/32 x 32": {32, 7_937_500}} {
		th := named(t, name)
		if n, ok := th.ToTheInch(); !ok || n != want.tpi || th.Pitch != want.pitch || th.Lead != measure.NewRatio(int64(in), want.tpi) {
			t.Errorf("%s: %d, %t, %d", name, n, ok, th.Pitch)
		}
	}
	if _, ok := named(t, "M3").ToTheInch(); ok {
		t.Error("M3 has no whole number of threads to the inch")
	}
}

func TestUsesOf(t *testing.T) {
	var got []string
	for _, u := range UsesOf(136 * measure.Thou) { // #29
		got = append(got, u.Thread.Name+" "+u.Hole.Hole+" "+u.Hole.For)
	}
	// "Tap drill sizes": #29 taps 8-32 and 8-36 and clears No. 5 freely.
	want := "5-40 UNC clearance free, 8-32 UNC tapping , 5-44 UNF clearance free, 8-36 UNF tapping "
	if s := strings.Join(got, ", "); s != want {
		t.Errorf("%q, want %q", s, want)
	}
	if u := UsesOf(1); u != nil {
		t.Errorf("%+v", u)
	}
}

func TestThreadFiguresSayWhereFrom(t *testing.T) {
	m3, ba8 := named(t, "M3"), named(t, "8BA")
	for got, want := range map[string]string{
		ba8.Tap.Source:       "8BA, tapping drill: 1.8 mm (common practice, no source)",
		ba8.Clear.Source:     "8BA, medium clearance drill: 2.3 mm (from memory)",
		m3.ClearClose.Source: "M3, close clearance drill: 3.2 mm (ISO 273 clearance table; Hole-size tables, BS 4186 and inch)",
		m3.Head.Source:       "M3, socket cap head: across DIN 912/933/934 tables; high DIN 912/933/934 tables; Types of hexagonal socket screws; key from memory; spot face chosen by Fastener hole patterns",
		m3.Source:            "Mechanical engineer's data handbook p.299; Metric tap drill list",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// What a caller does to its thread is not seen by the next.
func TestThreadIsOwn(t *testing.T) {
	a := named(t, "M3")
	a.Heads[0].Across, a.ClearFree.Value = 1, 1
	if b := named(t, "M3"); b.Heads[0].Across != 5_500*um || b.ClearFree.Value != 3_600*um {
		t.Error("a thread is shared")
	}
}

func TestEveryDiameterHalves(t *testing.T) {
	b := threads()
	for _, th := range b.threads {
		sizes := []measure.Length{th.Major, th.Minor, th.Tap.Value, th.Clear.Value}
		for _, h := range th.Heads {
			sizes = append(sizes, h.Across, h.Corners, h.KeyRoom, h.SpotBare, h.SpotFace)
			if h.KeyRoom < h.Across || h.KeyRoom < h.Corners || h.SpotFace < h.SpotBare || h.High <= 0 {
				t.Errorf("%s: %+v", th.Name, h)
			}
		}
		for _, l := range sizes {
			if l%2 != 0 || l < 0 {
				t.Errorf("%s: %d has no half", th.Name, l)
			}
		}
	}
}

// A thread and a series that were not there come with rows alone. The figures:
// from memory (M14) and "Tap drill sizes" (4-40 UNC).
func TestThreadByRowsAlone(t *testing.T) {
	const rest = "basis = \"memory\"\nsource = \"from memory\"\n"
	more := strings.ReplaceAll(`
[[thread]]
name = "M14"
series = "ISO metric coarse"
pitch = "2 mm"
major = "14 mm"
REST
[[tap]]
thread = "M14"
drill = "12 mm"
REST
[[clear]]
thread = "M14"
fit = "medium"
drill = "15.5 mm"
REST
[[head]]
for = "M14"
shape = "socket cap"
across = "21 mm"
REST
[[series]]
name = "UNC"
angle = "60 deg"
minor_pitches = "1.0825"
full_pitches = "1.299"
REST
[[thread]]
name = "4-40 UNC"
also = "#4-40"
series = "UNC"
pitch = "0.025 in"
major = "0.112 in"
REST
[[tap]]
thread = "4-40 UNC"
drill = "#43"
REST
[[clear]]
thread = "4-40 UNC"
fit = "medium"
drill = "0.1285 in"
REST
[[head]]
for = "4-40 UNC"
shape = "hexagon"
across = "3/16 in"
REST
[[height]]
for = "UNC"
shape = "hexagon"
high = "1.5 mm"
REST
[[key]]
for = "UNC"
shape = "hexagon"
with = "box spanner"
wall = "0.8 mm"
REST
[[spot]]
for = "UNC"
shape = "hexagon"
over = "0.5 mm"
REST
`, "REST", rest)
	b, err := readThreads("rows.toml", []byte(allThreads(t, more)))
	if err != nil {
		t.Fatal(err)
	}
	m14, unc := b.threads[len(b.threads)-2], b.threads[len(b.threads)-1]
	if m14.Name != "M14" || m14.Tap.Value != 12*mm || m14.Head.High != 14*mm || m14.ClearFree != nil || m14.Head.SpotFace != 21_500*um {
		t.Errorf("%+v", m14)
	}
	if unc.Name != "4-40 UNC" || unc.Head.High != 1500*um || unc.Head.Across != in*3/16 || unc.Head.Corners.Round(um, measure.Nearest) != 5499*um {
		t.Errorf("%+v", unc)
	}
}

// Two files may not have one name for two threads.
func TestThreadFilesAgree(t *testing.T) {
	b, err := readThreads("a.toml", []byte(allThreads(t, "")))
	if err != nil {
		t.Fatal(err)
	}
	data, err := threadFiles.ReadFile("threads/ba.toml")
	if err != nil {
		t.Fatal(err)
	}
	again, err := readThreads("b.toml", data)
	if err != nil {
		t.Fatal(err)
	}
	if err := b.add(again); err == nil || !strings.Contains(err.Error(), `"0ba" is a name of 0BA already`) || !strings.Contains(err.Error(), "b.toml:") {
		t.Error(err)
	}
}

func TestBadThreadRows(t *testing.T) {
	const rest = "\nbasis = \"memory\"\nsource = \"none\"\n"
	for _, c := range []struct{ name, add, says string }{
		{"no tapping drill, no clearance, no head", "[[thread]]\nname = \"X1\"\nseries = \"BA\"\npitch = \"1 mm\"\nmajor = \"9 mm\"" + rest, "X1 has no row in tap"},
		{"series without a row", "[[thread]]\nname = \"X1\"\nseries = \"XX\"\npitch = \"1 mm\"\nmajor = \"9 mm\"" + rest + "[[tap]]\nthread = \"X1\"\ndrill = \"8 mm\"" + rest, `"XX" has no row of its own`},
		{"pitch too coarse", "[[thread]]\nname = \"X1\"\nseries = \"BA\"\npitch = \"8 mm\"\nmajor = \"9 mm\"" + rest, "8 mm leaves nothing inside the thread of 9 mm"},
		{"name that means two", "[[thread]]\nname = \"BA-8\"\nseries = \"BA\"\npitch = \"1 mm\"\nmajor = \"9 mm\"" + rest, `"ba8" is a name of 8BA already`},
		{"name that is none", "[[thread]]\nname = \" \"\nseries = \"BA\"\npitch = \"1 mm\"\nmajor = \"9 mm\"" + rest, "is empty: write the thread's name"},
		{"diameter without a half", "[[thread]]\nname = \"X1\"\nseries = \"BA\"\npitch = \"1 mm\"\nmajor = \"9.0000001 mm\"" + rest, "has no exact half"},
		{"clearance that does not clear", "[[clear]]\nthread = \"8BA\"\nfit = \"close\"\ndrill = \"2.2 mm\"" + rest, "2.2 mm does not let 2.2 mm through"},
		{"fits in the wrong order", "[[clear]]\nthread = \"8BA\"\nfit = \"close\"\ndrill = \"2.4 mm\"" + rest, "clearance drills in the wrong order"},
		{"second tapping drill", "[[tap]]\nthread = \"8BA\"\ndrill = \"1.85 mm\"" + rest, "8BA has such a drill already"},
		{"drill for no thread", "[[tap]]\nthread = \"8 BA\"\ndrill = \"1.85 mm\"" + rest, `"8 BA" has no row of its own`},
		{"second series", "[[series]]\nname = \"BA\"\nangle = \"60 deg\"\nminor_pitches = 1\nfull_pitches = 1" + rest, "a series has one row"},
		{"head of nobody", "[[head]]\nfor = \"M3, M99\"\nshape = \"round\"\nacross = \"6 mm\"" + rest, `"M99" is neither a thread nor a series`},
		{"head twice", "[[head]]\nfor = \"M3\"\nshape = \"socket cap\"\nacross = \"6 mm\"" + rest, "M3 has a row for its socket cap head already"},
		{"head without a figure", "[[head]]\nfor = \"M3\"\nshape = \"round\"" + rest, "or of_major gives the figure"},
		{"head with two figures", "[[head]]\nfor = \"M3\"\nshape = \"round\"\nacross = \"6 mm\"\nof_major = 2" + rest, "or of_major gives the figure"},
		{"head without its height", "[[head]]\nfor = \"M3\"\nshape = \"round\"\nacross = \"6 mm\"" + rest, "M3 has no row in height for its round head"},
		{"nothing it rests on", "[[tap]]\nthread = \"8BA\"\ndrill = \"1.85 mm\"\nbasis = \"memory\"\nsource = \" \"\n", "nothing is said"},
	} {
		_, err := readThreads("rows.toml", []byte(allThreads(t, c.add)))
		if err == nil || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), "rows.toml:") {
			t.Errorf("%s: want %q, got %v", c.name, c.says, err)
		}
	}
}

func TestSameOutside(t *testing.T) {
	for name, want := range map[string]string{
		"M8": "M8 x 1", "M6": "0BA, M6 x 0.75", "M3": "M3 x 0.35", "1/4-20": "1/4 x 40 ME, 1/4-28 UNF", "M3.5": "", "8BA": "",
	} {
		if got := strings.Join(named(t, name).SameOutside(), ", "); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}
