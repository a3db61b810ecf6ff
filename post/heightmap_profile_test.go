package post_test

import (
	"errors"
	"math/rand/v2"
	"testing"

	"golang.org/x/exp/slices"

	"stopshort/machines"
	"stopshort/post"
	"stopshort/toolpath"
	"stopshort/toolpath/job"
	"stopshort/toolpath/recipe"
)

// heldOfOutlines are the sorts of fault that no accepted outline may have: the finished part cut
// into, another depth than asked, a rapid sideways under the holding, metal where the
// cutter comes down, a later cut out of its own shape, metal that comes loose, metal that is
// left where the cutter comes to and nothing tells it, or told where none is; at the full
// feed a bite over the side step, metal on the cutter's right, the part not on its left.
var heldOfOutlines = []string{"gouge", "depth", "rapid", "entry", "after", "loose", "left", "told", "untold", "bite", "climb", "direction"}

// TestOutlinesInTheHeightMap cuts random outlines in a map of cells with a reader and a
// cutter of its own.
func TestOutlinesInTheHeightMap(t *testing.T) {
	mm, err := machines.Find("stepper-mill-mm")
	if err != nil {
		t.Fatal(err)
	}
	in, err := machines.Find("stepper-mill-inch")
	if err != nil {
		t.Fatal(err)
	}
	mm.Errors, in.Errors = machines.Errors{}, machines.Errors{} // the map cuts what was planned
	jobs := jobsFor(t, "OUTLINES", 150, 60)
	count := map[string]int{}
	slow, needless := 0.0, 0.0
	var p plot
	for n := range jobs {
		r := rand.New(rand.NewPCG(6, uint64(n)))
		j := newProfileJob(r)
		m, unit := mm, 1.0
		j.grid = 0.0001
		if r.IntN(2) == 0 {
			m, unit = in, 25.4
			j.grid = 0.00254
		}
		read, err := job.Read("o.toml", []byte(j.text), recipe.Tables())
		if err != nil {
			count["input error"]++
			continue
		}
		plan, err := recipe.Plan(read, m, recipe.Options{})
		var refused toolpath.Refusal
		if errors.As(err, &refused) {
			count["refused: "+refused.Limit]++
			continue
		}
		if err != nil {
			count["fault"]++
			continue
		}
		res, err := post.Through(plan, "o", m)
		if err != nil {
			t.Fatalf("outline %d: %s\n%s", n, err, j.text)
		}
		if len(res.Refused()) > 0 {
			count["refused by the judge"]++
			continue
		}
		count["accepted"]++
		h := min(max(j.r/12, 0.1), 0.25)
		milled := func(h float64) *mill {
			p.lay(j.stock, j.top, j.under, j.shape, j.r, h)
			cut := &mill{plot: &p, j: j}
			cut.q.step = j.side.mm
			if j.side.text == "" {
				cut.q.step = j.r
			}
			if cut.notes, err = notes(res.Plan.Setups[0].Operations[0].Notes, unit); err != nil {
				t.Fatal(n, err)
			}
			if err := cut.milled(res.Programs); err != nil {
				t.Fatal(n, err)
			}
			return cut
		}
		cut := milled(h)
		if cut.q.airs > 0 { // what is thinner than a cell is not seen: look closer
			cut = milled(h / 3)
		}
		seen := map[string]bool{}
		for _, f := range cut.faults {
			if slices.Contains(heldOfOutlines, f.sort) {
				t.Errorf("outline %d: %s\n%s", n, f.text, j.text)
			}
			if !seen[f.sort] {
				seen[f.sort] = true
				count["with a fault of sort "+f.sort]++
			}
		}
		slow += cut.q.slow
		needless += cut.q.needless
		switch blocked := slices.ContainsFunc(cut.notes, func(k note) bool { return k.held }); {
		case cut.q.airs > 0 && blocked:
			count["with a long way in the air by what holds the part"]++
		case cut.q.airs > 0:
			count["with a long way in the air"]++
			t.Logf("outline %d: %s", n, cut.q.airAt)
		}
	}
	t.Logf("%d outlines: %v; of %.0f mm at the reduced feed %.0f show no such bite to the cells", jobs, count, slow, needless)
	// By what holds the part nobody knows what was cut, and a way may go on for longer.
	if a := count["with a long way in the air"]; 100*a > count["accepted"]+100 {
		t.Errorf("%d of %d outlines are in the air for longer than the cutter's diameter where it could be lifted", a, count["accepted"])
	}
	if count["accepted"] < jobs/3 {
		t.Errorf("only %d of %d outlines were accepted", count["accepted"], jobs)
	}
}
