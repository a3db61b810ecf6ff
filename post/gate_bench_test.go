package post

import (
	"fmt"
	"strconv"
	"strings"
	"testing"
	"time"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/job"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/recipe"
)

// manyCuts is a plan of so many slots side by side in one long block.
func manyCuts(b *testing.B, cuts int) (*toolpath.Plan, *machines.Machine) {
	b.Helper()
	var s strings.Builder
	fmt.Fprintf(&s, `title = "Many slots"
units = "mm"
material = "bronze"
stock = { low = [-20, 0, -12], size = [40, %d, 12] }
bore = [{ name = "pivot", diameter = 4, along = "y", at = [0, -8] }]
tool = [{ number = 3, kind = "slot drill", diameter = 4, flute_length = 10, stick_out = 16, holder = 20 }]
[[setup]]
zero = [0, 0, 0]
touch_at = [15, 2]
`, 10*cuts+10)
	for i := range cuts {
		fmt.Fprintf(&s, "[[setup.cut]]\nrecipe = \"slot\"\nname = \"slot %d\"\ntool = 3\nfrom = [-20, %d]\nto = [20, %d]\nends = \"open\"\nwidth = 5\ndepth = 2\n", i+1, 10*i+10, 10*i+10)
	}
	j, err := job.Read("many.toml", []byte(s.String()), recipe.Tables())
	if err != nil {
		b.Fatal(err)
	}
	m, err := machines.Find("stepper-mill-mm")
	if err != nil {
		b.Fatal(err)
	}
	wide := *m
	for a := range wide.Axes {
		wide.Axes[a].Travel = 100 * measure.Metre
	}
	p, err := recipe.Plan(j, &wide)
	if err != nil {
		b.Fatal(err)
	}
	return p, &wide
}

// BenchmarkGate takes plans through the gate, and tells beside the time how many times
// as long that takes as only parsing every number of the programs' text. The gate's
// time a cut must not grow with their number.
func BenchmarkGate(b *testing.B) {
	for _, cuts := range []int{100, 1000} {
		b.Run(fmt.Sprintf("%d cuts", cuts), func(b *testing.B) {
			p, m := manyCuts(b, cuts)
			var gate, plain time.Duration
			for b.Loop() {
				start := time.Now()
				r, err := Through(p, "many", m)
				if err != nil || len(r.Refused()) > 0 {
					b.Fatal(err, r.Refused())
				}
				proved := time.Now()
				n := 0
				for _, program := range r.Programs {
					for _, word := range strings.Fields(string(program.Text)) {
						if _, err := strconv.ParseFloat(word[1:], 64); err == nil {
							n++
						}
					}
				}
				if n < 10*cuts {
					b.Fatal(n)
				}
				gate += proved.Sub(start)
				plain += time.Since(proved)
			}
			b.ReportMetric(float64(gate)/float64(plain), "x-plain-parse")
			b.ReportMetric(float64(gate.Microseconds())/float64(b.N*cuts), "µs/cut")
		})
	}
}
