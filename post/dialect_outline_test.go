package post_test

import (
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"golang.org/x/exp/slices"

	"stopshort/machines"
	"stopshort/post"
	"stopshort/toolpath/job"
	"stopshort/toolpath/recipe"
)

// Random outlines in chords, cut in the map of cells by its own reader: the finished part
// is nowhere cut into, to three steps of the places, a seventh of the chords' tolerance.
func TestChordedOutlinesInTheHeightMap(t *testing.T) {
	text, err := os.ReadFile("../machines/stepper-mill-mm.toml")
	if err != nil {
		t.Fatal(err)
	}
	m, err := machines.Read("chords.toml", []byte(strings.Replace(string(text), "places       = 4",
		"places = 3\narcs = \"chords\"\nchord_tolerance = \"0.02 mm\"", 1)))
	if err != nil {
		t.Fatal(err)
	}
	m.Errors = machines.Errors{} // the map cuts what was planned
	jobs, accepted := 24, 0
	if testing.Short() {
		jobs = 12
	}
	var p plot
	for n := range jobs {
		j := newProfileJob(rand.New(rand.NewPCG(11, uint64(n))))
		j.grid = 0.001
		read, err := job.Read("o.toml", []byte(j.text), recipe.Tables())
		if err != nil {
			continue
		}
		plan, err := recipe.Plan(read, m, recipe.Options{})
		if err != nil {
			continue
		}
		res, err := post.Through(plan, "o", m)
		if err != nil {
			t.Fatalf("outline %d: %s\n%s", n, err, j.text)
		}
		if len(res.Refused()) > 0 {
			continue
		}
		accepted++
		p.lay(j.stock, j.top, j.under, j.shape, j.r, min(max(j.r/12, 0.1), 0.25))
		cut := &mill{plot: &p, j: j}
		cut.q.step = j.side.mm
		if j.side.text == "" {
			cut.q.step = j.r
		}
		if cut.notes, err = notes(res.Plan.Setups[0].Operations[0].Notes, 1); err != nil {
			t.Fatal(n, err)
		}
		if err := cut.milled(res.Programs); err != nil {
			t.Fatal(n, err)
		}
		for _, f := range cut.faults {
			if slices.Contains([]string{"gouge", "depth", "rapid", "entry", "after"}, f.sort) {
				t.Errorf("outline %d: %s\n%s", n, f.text, j.text)
			}
		}
	}
	t.Logf("%d of %d outlines accepted", accepted, jobs)
	if accepted < jobs/3 {
		t.Errorf("only %d of %d outlines were accepted", accepted, jobs)
	}
}
