package post

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"stopshort/machines"
	"stopshort/post/rs274/read"
	"stopshort/post/rs274/write"
	"stopshort/toolpath"
	"stopshort/toolpath/job"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/plan"
	"stopshort/toolpath/recipe"
)

// mutationOf is what a mutant makes of a text at a line, its spans with it; ok is false
// where it does not fit.
func mutationOf(mu mutant, text write.Text, lines []string, i int) (out write.Text, ok bool) {
	got := mu.at(lines, i)
	if got == nil {
		return out, false
	}
	bad := strings.Join(got, "\n")
	out.Bytes = []byte(bad)
	if bytes.Equal(out.Bytes, text.Bytes) {
		return out, false
	}
	// The spans go along with the lines, as the writer would have it.
	more := strings.Count(bad, "\n") - (len(lines) - 1)
	for _, s := range text.Ops {
		if s.First > i+1 {
			s.First += more
		}
		if s.Last > i {
			s.Last += more
		}
		out.Ops = append(out.Ops, s)
	}
	return out, true
}

// sayAll is a reading without its lines: what a machine would do, what it is left in,
// and what is told beside it.
func sayAll(t *testing.T, text []byte, m *machines.Machine) string {
	t.Helper()
	r, err := read.Read(bytes.NewReader(text), ReadOptions(m))
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for _, s := range r.Trace.Steps {
		s.Line = 0
		fmt.Fprintln(&b, s)
	}
	for _, n := range r.Notes {
		if n.Kind() != read.Finding || n.Classes()&MeantFor(m) != 0 {
			fmt.Fprintln(&b, n.Text())
		}
	}
	fmt.Fprintln(&b, r.Trace.Ended, r.Trace.Left)
	return b.String()
}

// proving is a program with what it is proved against.
type proving struct {
	name string
	p    toolpath.Program
	m    *machines.Machine
	lift measure.Length
	text write.Text
}

// accepting is a job's plan with its measurings, and with something that the job takes on
// for a reason that has figures of its own.
func accepting(t *testing.T, j *job.Job, m *machines.Machine) *toolpath.Plan {
	t.Helper()
	p, _ := looked(t, j, m, nil)
	for i := range p.Setups {
		p.Setups[i].Accepted = []string{"accepted - edge distance - the screws are 6.0 deep and carry 1.5 in nothing"}
	}
	return p
}

// demos are the programs of the demo's jobs, in mm and in inches, some of them lifted.
func demos(t *testing.T) (out []proving) {
	t.Helper()
	files, err := filepath.Glob("../testdata/jobs/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		j, err := job.Load(file, recipe.Tables())
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range []string{"stepper-mill-mm", "stepper-mill-inch"} {
			m, err := machines.Find(name)
			if err != nil {
				t.Fatal(err)
			}
			p := accepting(t, j, m)
			for i, program := range plan.Programs(p, m) {
				if name == "stepper-mill-inch" && i > 0 {
					continue // one of each job is enough
				}
				for _, lift := range []measure.Length{0, plan.ForMachine(m).Round(2, 37*measure.Millimetre, measure.Ceil)} {
					if lift > 0 && i > 0 {
						continue
					}
					x := proving{name: fmt.Sprintf("%s program %d on %s lifted %s", j.Stem, i+1, name, lift), p: program, m: m, lift: lift}
					written := program
					if lift > 0 {
						written = raised(program, m, lift)
					}
					if x.text, err = write.Program(written, m); err != nil {
						t.Fatal(err)
					}
					if _, f := holds(x.text, x.p, x.m, x.lift); f != nil {
						t.Fatalf("%s: the text as it is does not pass: %v", x.name, f)
					}
					out = append(out, x)
				}
			}
		}
	}
	return out
}

// Every kind of fault in a text changes what it does, what it leaves or what it tells,
// wherever it is put, and is caught.
func TestMutantsOfTheText(t *testing.T) {
	all := demos(t)
	tried := map[string]int{}
	for _, x := range all {
		was := sayAll(t, x.text.Bytes, x.m)
		split := strings.Split(string(x.text.Bytes), "\n")
		lines := len(split) - 1
		most := min(max(1000/lines, 1), 8) // long texts take long
		if testing.Short() {
			most = min(most, 2)
		}
		for k, mu := range textMutants {
			// Spread over the text, not at its start only; each kind begins elsewhere.
			found := 0
			step := max(1, lines/97)
			for n := 0; n < lines && found < most; n++ {
				i := (n*step + k*7) % lines
				bad, ok := mutationOf(mu, x.text, split, i)
				if !ok {
					continue
				}
				found++
				tried[mu.name]++
				if !mu.head && sayAll(t, bad.Bytes, x.m) == was {
					t.Errorf("%s: %s at line %d changes nothing", x.name, mu.name, i+1)
				}
				if _, f := holds(bad, x.p, x.m, x.lift); f == nil {
					t.Errorf("%s: %s at line %d passed", x.name, mu.name, i+1)
				}
			}
		}
	}
	for _, mu := range textMutants {
		if tried[mu.name] == 0 {
			t.Errorf("%s: fits nowhere", mu.name)
		}
	}
	t.Logf("%d kinds of fault in the text of %d programs, %d in all", len(textMutants), len(all), func() (n int) {
		for _, k := range tried {
			n += k
		}
		return n
	}())
}

// A writer with a fault gives nothing that could be written, in cut and dry run: the
// error is a Fault, which is exit status 3.
func TestAFaultyWriterWritesNothing(t *testing.T) {
	defer func() { writer = write.Program }()
	hits := map[string]int{}
	for _, of := range [][2]string{{"foot.toml", "stepper-mill-mm"}, {"clamp.toml", "stepper-mill-inch"}} { // without arcs, and with
		j, m := demoOn(t, of[0], of[1])
		faultyWriters(t, j.Stem, accepting(t, j, m), m, hits)
	}
	for _, mu := range textMutants {
		if hits[mu.name] == 0 {
			t.Errorf("%s was never put in", mu.name)
		}
	}
}

// faultyWriters puts each fault that has no hit into the text of a plan's programs.
func faultyWriters(t *testing.T, stem string, p *toolpath.Plan, m *machines.Machine, hits map[string]int) {
	t.Helper()
	n, first := 0, len(hits) == 0
	for k, mu := range textMutants {
		if hits[mu.name] > 0 {
			continue
		}
		// The fault is in one program of the set only, another one for each kind; from the
		// first on where it did not fit before.
		in := k % 6
		if !first {
			in = 0
		}
		writer = func(p toolpath.Program, m *machines.Machine) (write.Text, error) {
			text, err := write.Program(p, m)
			if n++; n-1 != in {
				return text, err
			}
			lines := strings.Split(string(text.Bytes), "\n")
			for i := range lines {
				if bad, ok := mutationOf(mu, text, lines, i); ok {
					return bad, nil
				}
			}
			n-- // it does not fit here: in the next one
			return text, nil
		}
		for _, lift := range []measure.Length{0, 30 * measure.Millimetre} {
			n = 0
			var r *Result
			var err error
			if lift > 0 {
				r, err = ThroughLifted(p, stem, m, lift)
			} else {
				r, err = Through(p, stem, m)
			}
			var fault *Fault
			if n <= in {
				continue // it fits no program from there on
			}
			hits[mu.name]++
			if !errors.As(err, &fault) || r != nil || fault.Name == "" {
				t.Errorf("%s, lifted %s: %v", mu.name, lift, err)
			}
		}
	}
}
