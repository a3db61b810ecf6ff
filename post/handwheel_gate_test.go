package post

import (
	"bytes"
	"encoding/csv"
	"errors"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"stopshort/machines"
	"stopshort/toolpath/job"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/recipe"
)

// byHand is a demo job's plan and table for a machine.
func demoByHand(t testing.TB, name, machine string) (*Hand, func([]byte) ([]limit.Verdict, error)) {
	t.Helper()
	m, err := machines.Find(machine)
	if err != nil {
		t.Fatal(err)
	}
	j, err := job.Load(filepath.Join("..", "testdata", "jobs", name+".toml"), recipe.Tables())
	if err != nil {
		t.Fatal(err)
	}
	p, _ := looked(t, j, m, nil)
	var all []int
	for i := range p.Setups {
		all = append(all, i)
	}
	h, err := ByHand(p, all, j.Material, m, false)
	if err != nil {
		t.Fatal(err)
	}
	return h, func(text []byte) ([]limit.Verdict, error) {
		_, verdicts, err := addsUp(text, onStop(p, all, m, false).Setups, m)
		return verdicts, err
	}
}

func written(t testing.TB, rows [][]string) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// stands is where a sentence says that the wheels stand.
var stands = regexp.MustCompile(`(then back to|it stood:) X .*$`)

// nutFigure is a figure by which a stop nut stands, that puts it deeper where it is more.
var nutFigure = regexp.MustCompile(`(?:stop nut of the \S+ to|leave a gap of|the gap at it is|gap at it is then|it stands at) (\d+\.\d+) (?:in|mm)`)

// Every fault put into a row that moves or locks is caught: a turn or a line too many
// or too few, the other way, the other wheel, another reading, a row left out or done
// twice, a feed that is quicker, a slide that is not locked, a spindle that is not on.
func TestTableFaultsAreCaught(t *testing.T) {
	const turn, turns, lines, reading, target, note = 4, 5, 6, 7, 8, 11
	caught, nuts := 0, 0
	for _, c := range [][2]string{{"slot", "dial-mill-inch"}, {"foot", "dial-mill-mm"}, {"link", "lathe-slide-inch"}} {
		h, prove := demoByHand(t, c[0], c[1])
		if _, err := prove(h.CSV); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(bytes.NewReader(h.CSV)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		try := func(what string, at int, rows [][]string) {
			t.Helper()
			verdicts, err := prove(written(t, rows))
			var fault *Fault
			for _, v := range verdicts {
				if v.Stops() {
					caught++
					return
				}
			}
			if !errors.As(err, &fault) {
				t.Errorf("%s on %s, row %d: %s passes: %v", c[0], c[1], at, what, h.Table.Rows[at-1])
				return
			}
			caught++
		}
		with := func(at int, edit func(row []string)) [][]string {
			out := append([][]string(nil), rows...)
			out[at] = append([]string(nil), rows[at]...)
			edit(out[at])
			return out
		}
		add := func(cell int, n int) func([]string) {
			return func(row []string) {
				v, err := strconv.ParseFloat(row[cell], 64)
				if err != nil {
					t.Fatal(err)
				}
				row[cell] = strconv.FormatFloat(v+float64(n), 'f', -1, 64)
			}
		}
		without := func(at int) [][]string { return append(append([][]string(nil), rows[:at]...), rows[at+1:]...) }
		for at := 1; at < len(rows); at++ {
			r := rows[at]
			locks := r[3] == "" && (strings.HasPrefix(r[note], "lock ") || strings.HasPrefix(r[note], "free ") ||
				strings.HasPrefix(r[note], "spindle on") || strings.HasPrefix(r[note], "cut "))
			if locks {
				// A row that frees what the next cut moves, or locks what it must not.
				try("left out", at, without(at))
				continue
			}
			if r[3] != "" && r[turn] == "" { // a dial is set
				try("the dial set to a turn", at, with(at, func(row []string) { row[note] = strings.Replace(row[note], "set to 0 turns", "set to 1 turns", 1) }))
			}
			if strings.Contains(r[note], "set the stop nut") {
				try("the nut deeper", at, with(at, func(row []string) { row[note] = strings.Replace(row[note], " to ", " to 1", 1) }))
			}
			for _, m := range nutFigure.FindAllStringSubmatchIndex(r[note], -1) {
				for i := m[2]; i < m[3]; i++ { // each figure by one, so that the nut stands deeper
					if c := r[note][i]; c >= '0' && c <= '8' {
						try("the nut deeper", at, with(at, func(row []string) {
							row[note] = r[note][:i] + string(c+1) + r[note][i+1:]
						}))
						nuts++
					}
				}
			}
			if m := stands.FindStringIndex(r[note]); m != nil {
				for i := m[0]; i < m[1]; i++ { // each figure by one
					if c := r[note][i]; c >= '0' && c <= '8' {
						try("a wheel stands elsewhere", at, with(at, func(row []string) {
							row[note] = r[note][:i] + string(c+1) + r[note][i+1:]
						}))
					}
				}
			}
			if r[turn] == "" {
				continue
			}
			if r[10] != "" {
				try("more left to the stop", at, with(at, add(10, 1)))
			}
			try("a turn more", at, with(at, add(turns, 1)))
			if r[turns] != "0" {
				try("a turn less", at, with(at, add(turns, -1)))
			}
			try("a line more", at, with(at, add(lines, 1)))
			try("another reading", at, with(at, add(reading, 1)))
			try("another target", at, with(at, add(target, 1)))
			try("the other way", at, with(at, func(row []string) {
				row[turn] = map[string]string{"clockwise": "anticlockwise", "anticlockwise": "clockwise"}[row[turn]]
			}))
			try("left out", at, without(at))
			twice := append(append([][]string(nil), rows[:at+1]...), rows[at:]...)
			try("done twice", at, twice)
			if strings.HasPrefix(r[note], "feed ") {
				try("wound instead of fed", at, with(at, func(row []string) { row[note] = "" }))
				try("fed in no time", at, with(at, func(row []string) { row[note] = "feed 0.5 s a turn" }))
			}
		}
	}
	t.Logf("%d faults caught", caught)
	if nuts < 50 {
		t.Errorf("%d figures of a nut are fewer than the tables have", nuts)
	}
}
