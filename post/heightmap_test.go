package post_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"sync"
	"testing"

	"golang.org/x/exp/slices"

	"stopshort/machines"
	"stopshort/post"
	"stopshort/toolpath"
	"stopshort/toolpath/job"
	"stopshort/toolpath/limit"
	"stopshort/toolpath/recipe"
)

// inchMachine is the built-in stepper mill with a controller that speaks
// inches, as finely as an inch controller usually does.
const inchMachine = `
title = "Benchtop mill with stepper motors, in inches"
kind = "mill"
units = "in"
depth_by = "head"
x = { travel = "12 in", backlash = "0.002 in" }
y = { travel = "6 in", backlash = "0.002 in" }
z = { travel = "7 in", backlash = "0.002 in" }
spindle = { low = "100 rpm", high = "3000 rpm" }
feeds = { low = "0.04 in/min", high = "24 in/min", down = "6 in/min" }
[errors]
touch_z = "0.001 in"
touch_xy = "0.001 in"
setting = "0.0004 in"
stop = "0 in"
play = "0.001 in"
lead = "0.001 in in 5 in"
tilt = "0.001 in in 1 in"
run_out = "0.0006 in"
bend = "0.001 in"
place = "0.002 in"
diameter = "0.001 in"
[controller]
places = 4
dwell = "seconds"
spin_up = "3 s"
sets_spindle = true
`

// jobsFor is how many random jobs a test takes: as the environment says, for a
// long run by hand; else as many, and as many with -short.
func jobsFor(t *testing.T, name string, usual, short int) int {
	t.Helper()
	text := os.Getenv(name)
	switch n, err := strconv.Atoi(text); {
	case text == "" && testing.Short():
		return short
	case text == "":
		return usual
	case err != nil || n < 1:
		t.Fatalf("%s=%q: write a number of jobs", name, text)
		return 0
	default:
		return n
	}
}

// outcome is what became of one job.
type outcome struct {
	text     string
	findings []string
	refusals []string // names of the limits that refuse
	planned  bool     // refused by the recipe already
	near     bool     // within two cells of a bore's never-less, by the map
	web      bool     // a web or a wall refuses
	close    bool     // and it is within a cell of its never-less, by the map
	breached bool     // the map finds a breach when every verdict is taken as ok
}

// TestHeightMap is the second method: a map of heights, cut by the posted text,
// finds the same webs and walls as the judge (within a cell), and slots of the
// size that was asked for.
func TestHeightMap(t *testing.T) {
	jobs := jobsFor(t, "SLOTS", 1000, 100)
	mm, err := machines.Find("stepper-mill-mm")
	if err != nil {
		t.Fatal(err)
	}
	in, err := machines.Read("stepper-mill-inch.toml", []byte(inchMachine))
	if err != nil {
		t.Fatal(err)
	}
	all := make([]outcome, jobs)
	var wait sync.WaitGroup
	const workers = 2
	for w := range workers {
		wait.Add(1)
		go func() {
			defer wait.Done()
			var m heightMap
			for n := w; n < jobs; n += workers {
				r := rand.New(rand.NewPCG(4, uint64(1000+n)))
				j := newSlotJob(r, &m)
				machine, grid := mm, 0.0001
				if r.IntN(2) == 0 {
					machine, grid = in, 0.00254
				}
				all[n] = j.try(&m, machine, grid)
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
		if o.near {
			count[map[bool]string{true: "near and refused", false: "near and accepted"}[len(o.refusals) > 0]]++
		}
		for what, is := range map[string]bool{"near": o.near, "by the recipe": o.planned, "web": o.web, "close": o.web && o.close, "breached": o.breached} {
			if is {
				count[what]++
			}
		}
		for _, name := range o.refusals {
			count["limit "+name]++
		}
	}
	line := fmt.Sprintf("%d slots: %d accepted, %d refused (%d by the recipe, %d for a web or a wall); within two cells of a limit %d: %d accepted, %d refused",
		jobs, count["accepted"], count["refused"], count["by the recipe"], count["web"], count["near"], count["near and accepted"], count["near and refused"])
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
	if 3*count["near"] < jobs || 10*count["near and accepted"] < jobs || 10*count["near and refused"] < jobs {
		t.Errorf("of %d jobs only %d lie near a limit, %d of them refused: the test says too little", jobs, count["near"], count["near and refused"])
	}

	// With the judge switched off the map alone must find what it refused, but
	// for what is less than a cell over the limit.
	t.Run("without the judge", func(t *testing.T) {
		line := fmt.Sprintf("with every verdict taken as ok the map finds %d breaches; the judge refused %d for a web or a wall, %d of them less than a cell over",
			count["breached"], count["web"], count["close"])
		fmt.Println(line)
		t.Log(line)
		if count["breached"] < jobs/10 || count["breached"] > count["web"] || count["breached"] < count["web"]-count["close"] {
			t.Error("the map would not have missed the judge")
		}
	})
}

// try takes one job through the gate and holds it against the map.
func (j *slotJob) try(m *heightMap, machine *machines.Machine, grid float64) (o outcome) {
	o.text = fmt.Sprintf("# on a machine in %s\n%s", machine.Units, j.text)
	fail := func(format string, args ...any) { o.findings = append(o.findings, fmt.Sprintf(format, args...)) }
	read, err := job.Read("slot.toml", []byte(j.text), recipe.Tables())
	if err != nil {
		fail("the job is not read: %s", err)
		return o
	}
	plan, err := recipe.Plan(read, machine)
	var refusal toolpath.Refusal
	if errors.As(err, &refusal) {
		o.refusals, o.planned = []string{refusal.Limit + " (recipe)"}, true
		o.findings = append(o.findings, j.refused(m, refusal)...)
		return o
	}
	if err != nil {
		fail("the job is not planned: %s", err)
		return o
	}
	result, err := post.Through(plan, "slot", machine)
	if err != nil {
		fail("the gate: %s", err)
		return o
	}
	if len(result.Programs) != 1 {
		fail("%d programs", len(result.Programs))
		return o
	}
	radius, err := cutterRadius(j.text)
	if err != nil {
		fail("the cutter: %s", err)
		return o
	}
	m.lay(j.low, j.high)
	if err := m.cutBy(string(result.Programs[0].Text), radius); err != nil {
		fail("the text: %s", err)
		return o
	}
	found := j.found(m, result.Verdicts)
	for _, f := range j.judge(found, result.Verdicts) {
		fail("%s", f.text)
	}
	shaped := true
	blind := slices.Clone(result.Verdicts)
	for i, v := range result.Verdicts {
		left, known := found[v.Limit]
		bore := known && strings.Contains(v.Limit, " to bore ")
		near := left - inMM(v.NeverLess)
		o.near = o.near || bore && -2*cell < near && near < 2*cell
		if v.Stops() {
			o.refusals = append(o.refusals, v.Limit)
			o.web = o.web || bore
			o.close = o.close || bore && -cell < near && near < cell
			shaped = shaped && !strings.HasPrefix(v.Limit, "slot ")
		}
		blind[i].State = limit.OK
	}
	for _, f := range j.judge(found, blind) {
		o.breached = o.breached || f.breach
	}
	if shaped {
		for _, f := range j.sized(m, grid) {
			fail("%s", f)
		}
	}
	return o
}

// refused holds a recipe's refusal against the finished slot on the map: it
// must leave too little for it.
func (j *slotJob) refused(m *heightMap, r toolpath.Refusal) (out []string) {
	floor := -j.depth.mm
	if j.depth.text == "" || r.Planned == "no depth" {
		floor = j.high[2] - 1e-6 // the metal's top: no depth at all
	}
	j.shape(m, floor)
	left := m.deepest() - j.floorAt.mm
	for _, b := range j.bores {
		if b.name == j.shortOf {
			left = m.web(b)
		}
	}
	if left > j.leave.mm+cell {
		out = append(out, fmt.Sprintf("refused (%s), and the finished slot would leave %.4f of %.4f", r, left, j.leave.mm))
	}
	return out
}
