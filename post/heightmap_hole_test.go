package post_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"sync"
	"testing"

	"golang.org/x/exp/slices"

	"stopshort/machines"
	"stopshort/post"
	"stopshort/toolpath"
	"stopshort/toolpath/form"
	"stopshort/toolpath/job"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/recipe"
)

// holeOutcome is what became of one job of holes.
type holeOutcome struct {
	text     string
	findings []string
	refusals []string // names of the limits that refuse
	near     int      // verdicts within two cells of their never-less, by the map
	breached bool     // the map finds a breach when every verdict is taken as ok
	tight    bool     // a distance that the map knows refuses, by more than a cell
}

// TestHeightMapHoles is the second method for spot faces and bolt holes: maps of
// heights, cut by the posted texts of all programs of a set-up with discs and
// cones, find the same webs and walls as the judge (within a cell), and nothing
// cut but what was asked for.
func TestHeightMapHoles(t *testing.T) {
	jobs := jobsFor(t, "HOLES", 300, 30)
	var mills []*machines.Machine
	for _, name := range []string{"stepper-mill-mm", "stepper-mill-inch"} {
		m, err := machines.Find(name)
		if err != nil {
			t.Fatal(err)
		}
		m.Errors = machines.Errors{} // the map cuts what was planned, as in TestHeightMap
		mills = append(mills, m)
	}
	all := make([]holeOutcome, jobs)
	var wait sync.WaitGroup
	const workers = 2
	for w := range workers {
		wait.Add(1)
		go func() {
			defer wait.Done()
			var maps []*made
			var scratch heightMap
			for n := w; n < jobs; n += workers {
				r := rand.New(rand.NewPCG(5, uint64(n)))
				j := newHoleJob(r)
				for len(maps) < len(j.cuts) {
					maps = append(maps, &made{})
				}
				k := r.IntN(2)
				all[n] = j.try(maps[:len(j.cuts)], &scratch, mills[k], []float64{0.0001, 0.00254}[k])
				if len(all[n].findings) == 0 {
					all[n].text = "" // nobody will ask for it
				}
			}
		}()
	}
	wait.Wait()

	count := map[string]int{}
	for n, o := range all {
		for _, f := range o.findings {
			t.Errorf("job %d: %s", n, f)
		}
		if len(o.findings) > 0 {
			t.Logf("job %d:\n%s", n, o.text)
		}
		count[map[bool]string{true: "refused", false: "accepted"}[len(o.refusals) > 0]]++
		count["near"] += o.near
		if o.breached {
			count["breached"]++
		}
		if o.tight {
			count["tight"]++
		}
		for _, name := range o.refusals {
			count["limit "+name]++
		}
	}
	line := fmt.Sprintf("%d jobs of holes: %d accepted, %d refused; %d verdicts within two cells of their limit; with every verdict taken as ok the map finds breaches in %d jobs",
		jobs, count["accepted"], count["refused"], count["near"], count["breached"])
	fmt.Println(line)
	t.Log(line)
	var names []string
	for name := range count {
		if strings.HasPrefix(name, "limit ") {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	for _, name := range names {
		t.Logf("refused by %s: %d", name[6:], count[name])
	}
	if 5*count["accepted"] < jobs || 5*count["refused"] < jobs || 2*count["near"] < jobs {
		t.Error("too few are accepted, refused or near a limit: the test says too little")
	}
	if count["breached"] < jobs/10 || count["breached"] < count["tight"] {
		t.Errorf("with the judge switched off %d breaches are found, and it refused %d by more than a cell: the map would not have missed it", count["breached"], count["tight"])
	}
}

// try takes one job through the gate and holds it against the maps.
func (j *holeJob) try(maps []*made, scratch *heightMap, machine *machines.Machine, grid float64) (o holeOutcome) {
	o.text = fmt.Sprintf("# on a machine in %s\n%s", machine.Units, j.text)
	fail := func(format string, args ...any) { o.findings = append(o.findings, fmt.Sprintf(format, args...)) }
	read, err := job.Read("holes.toml", []byte(j.text), recipe.Tables())
	if err != nil {
		fail("the job is not read: %s", err)
		return o
	}
	plan, err := recipe.Plan(read, machine, recipe.Options{})
	var refusal toolpath.Refusal
	if errors.As(err, &refusal) {
		fail("nothing stops short of a bore here, and the recipe refuses: %s", refusal)
		return o
	}
	var faults form.Faults
	if errors.As(err, &faults) { // a thread that ends over the split, a seat that is not there
		o.refusals = append(o.refusals, "a fault of the job")
		return o
	}
	if err != nil {
		fail("the job is not planned: %s", err)
		return o
	}
	result, err := post.Through(plan, "holes", machine)
	if err != nil {
		fail("the gate: %s", err)
		return o
	}
	if err := j.cutAll(maps, result.Programs); err != nil {
		fail("the texts: %s", err)
		return o
	}
	oversize, slopes := false, false
	for _, v := range result.Verdicts {
		if v.Stops() {
			o.refusals = append(o.refusals, v.Limit)
			oversize = oversize || v.Limit == "hole, each side" || strings.HasPrefix(v.Limit, "slot ")
			slopes = slopes || v.Limit == "flat metal where the drill starts"
		}
	}
	found, near := j.judged(maps, result.Verdicts, grid)
	o.near = len(near)
	for _, f := range found {
		// A spot drill that starts where it is not flat, or goes in wider than the
		// face it starts on, is refused for that; its other figures speak of the
		// mark that was asked for.
		if !slopes {
			fail("%s", f.text)
		}
	}
	blind := slices.Clone(result.Verdicts)
	for i, v := range blind {
		n := slices.IndexFunc(j.cuts, func(c *holeCut) bool { return c.name == v.Cut })
		if n >= 0 && v.Stops() {
			_, _, known := j.leftAt(maps, n, v.Limit)
			o.tight = o.tight || known && v.Margin < -int64(cell*1e7)
		}
		blind[i].State = limit.OK
	}
	found, _ = j.judged(maps, blind, grid)
	for _, f := range found {
		o.breached = o.breached || f.breach
	}
	if oversize || slopes {
		return o
	}
	for i, c := range j.cuts {
		for _, f := range j.shaped(maps[i], c, scratch, grid) {
			fail("%s", f)
		}
		if c.recipe != "slot" && len(maps[i].at) != len(c.at) {
			fail("%s: %d places are cut of %d", c.name, len(maps[i].at), len(c.at))
		}
	}
	return o
}
