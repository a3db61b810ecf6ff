package post_test

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/exp/slices"
	"pgregory.net/rapid"

	"stopshort/machines"
	"stopshort/post"
	"stopshort/post/rs274/read"
	"stopshort/toolpath"
	"stopshort/toolpath/form"
	"stopshort/toolpath/job"
	"stopshort/toolpath/recipe"
)

// drawDialect is the [controller] of a machine file with any abilities that go
// together.
func drawDialect(t *rapid.T, unit string) string {
	var b strings.Builder
	put := func(key, value string) { fmt.Fprintf(&b, "%s = %s\n", key, value) }
	word := func(key string, of ...string) string {
		w := rapid.SampledFrom(of).Draw(t, key)
		if w != "" {
			put(key, strconv.Quote(w))
		}
		return w
	}
	places := rapid.IntRange(2, 5).Draw(t, "places")
	put("places", strconv.Itoa(places))
	arcs := []string{"", "chords"}
	if places > 3 || places == 3 && unit == "mm" {
		arcs = append(arcs, "centre")
	}
	word("arcs", arcs...)
	if rapid.Bool().Draw(t, "tolerance said") {
		step := map[string][]float64{"mm": {0.01, 0.001, 0.0001, 0.00001}, "in": {0.01, 0.001, 0.0001, 0.00001}}[unit][places-2]
		put("chord_tolerance", fmt.Sprintf("\"%.6f %s\"", step*rapid.Float64Range(4, 7).Draw(t, "steps"), unit))
	}
	switch rapid.IntRange(0, 3).Draw(t, "cycles") {
	case 1:
		put("cycles", "[81]")
	case 2:
		put("cycles", "[82, 81, 73, 83]")
		put("peck_lift", map[string]string{"mm": `"0.5 mm"`, "in": `"0.02 in"`}[unit])
	case 3:
		put("cycles", "[83]")
		put("peck_lift", map[string]string{"mm": `"0.25 mm"`, "in": `"0.01 in"`}[unit])
	}
	change := word("tool_change", "", "files", "pause", "code")
	if change == "code" && rapid.Bool().Draw(t, "lengths") {
		put("tool_lengths", "true")
	}
	comments := []string{"parentheses", "semicolon"}
	if change != "pause" && change != "code" {
		comments = append(comments, "none")
	}
	word("comments", comments...)
	if rapid.Bool().Draw(t, "numbers") {
		put("line_numbers", strconv.Itoa(rapid.SampledFrom([]int{1, 5, 10, 1000}).Draw(t, "numbers' step")))
	}
	put("percent", strconv.FormatBool(rapid.Bool().Draw(t, "percent")))
	word("dwell", "seconds", "milliseconds")
	put("spin_up", fmt.Sprintf("\"%d ms\"", 10*rapid.IntRange(0, 500).Draw(t, "spin-up")))
	word("head_words", "", "M8", "G61 m7", "G61.1 M48", "G90 G94 G80 G54 G49 G40 G17", "M49 M8")
	word("end_words", "", "M9", "G80 M9 G49", "M48")
	word("end", "M2", "M30")
	word("native_units", "", "mm", "in")
	put("line_length", strconv.Itoa(rapid.IntRange(60, 70).Draw(t, "line length")))
	word("line_end", "lf", "crlf")
	put("sets_spindle", "true")
	return b.String()
}

// dialectMachine is one of the built-in mills with another controller.
func dialectMachine(t *rapid.T, unit string) (*machines.Machine, string) {
	name := map[string]string{"mm": "stepper-mill-mm", "in": "stepper-mill-inch"}[unit]
	text, err := os.ReadFile("../machines/" + name + ".toml")
	if err != nil {
		t.Fatal(err)
	}
	head, _, found := strings.Cut(string(text), "[controller]\n")
	if !found {
		t.Fatal("no controller")
	}
	dialect := drawDialect(t, unit)
	m, err := machines.Read("d.toml", []byte(head+"[controller]\n"+dialect))
	if err != nil {
		t.Fatalf("%s\n%s", err, dialect)
	}
	return m, dialect
}

// Random jobs pass the gate in every dialect: what is not refused by a limit is
// written, reads back as the plan, and no reader that it is meant for would refuse a
// line. The lines look as the abilities say.
func TestRandomDialects(t *testing.T) {
	count := map[string]int{}
	var scratch heightMap
	rapid.Check(t, func(t *rapid.T) {
		m, dialect := dialectMachine(t, rapid.SampledFrom([]string{"mm", "in"}).Draw(t, "unit"))
		if rapid.Bool().Draw(t, "without errors") { // so that more is written
			m.Errors = machines.Errors{}
		}
		r := rand.New(rand.NewPCG(9, rapid.Uint64().Draw(t, "job's seed")))
		kind := rapid.SampledFrom([]string{"slot", "holes", "outline"}).Draw(t, "job")
		var text string
		switch kind {
		case "slot":
			text = newSlotJob(r, &scratch).text
		case "holes":
			text = newHoleJob(r).text
		default:
			text = newProfileJob(r).text
		}
		j, err := job.Read("j.toml", []byte(text), recipe.Tables())
		var faults form.Faults
		if errors.As(err, &faults) {
			count["input error"]++
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		plan, err := recipe.Plan(j, m, recipe.Options{})
		var refused toolpath.Refusal
		switch {
		case errors.As(err, &refused):
			count["refused by the recipe"]++
			return
		case errors.As(err, &faults):
			count["fault: "+regexp.MustCompile(`[0-9.]+`).ReplaceAllString(faults[0].Text, "#")]++
			return
		case err != nil:
			t.Fatal(err)
		}
		result, err := post.Through(plan, "j", m)
		if err != nil {
			t.Fatalf("%s\n%s\n%s", err, dialect, text)
		}
		if len(result.Refused()) > 0 {
			count[kind+" refused"]++
		} else {
			count[kind+" accepted"]++
		}
		for _, p := range result.Programs {
			looksLike(t, m, string(p.Text), false)
		}
		// Where a limit is close it is measured before the last pass.
		looks := post.Close(plan, result.Verdicts)
		if len(looks) == 0 {
			return
		}
		if plan, err = recipe.Plan(j, m, recipe.Options{Look: looks}); err != nil {
			t.Fatalf("with a measuring before the last pass of %v: %v\n%s", looks, err, text)
		}
		if result, err = post.Through(plan, "j", m); err != nil {
			t.Fatalf("with a measuring before the last pass of %v: %v\n%s\n%s", looks, err, dialect, text)
		}
		if !parted(plan) {
			return
		}
		count[kind+" measured"]++
		for _, p := range result.Programs {
			looksLike(t, m, string(p.Text), true)
		}
	})
	t.Log(count)
	drawn, accepted, measured := 0, 0, 0 // drawn: jobs, but for a few that are none
	for what, n := range count {
		if !strings.HasSuffix(what, " measured") {
			drawn += n
		}
	}
	for _, kind := range []string{"slot", "holes", "outline"} {
		if (count[kind+" accepted"]+count[kind+" refused"])*20 < drawn {
			t.Errorf("hardly any %s was written", kind)
		}
		accepted += count[kind+" accepted"]
		measured += count[kind+" measured"]
	}
	// Of a hundred some thirty are accepted and twenty measured; a short run says less.
	if accepted == 0 || drawn >= 90 && (accepted*20 < drawn || measured*20 < drawn) {
		t.Errorf("of %d only %d were accepted and %d measured", drawn, accepted, measured)
	}
}

// parted tells whether a plan has an operation in two parts.
func parted(p *toolpath.Plan) bool {
	for _, s := range p.Setups {
		for _, op := range s.Operations {
			if op.Part == toolpath.Rough {
				return true
			}
		}
	}
	return false
}

// looksLike holds the bytes of a text against the abilities, by other means than its
// writer's. A program that is measured in may stop for that.
func looksLike(t *rapid.T, m *machines.Machine, text string, measured bool) {
	c := m.Controller
	end := map[string]string{"lf": "\n", "crlf": "\r\n"}[c.LineEnd]
	if !strings.HasSuffix(text, end) || strings.Count(text, "\n") != strings.Count(text, end) || strings.Count(text, "\r") != strings.Count(end, "\r")*strings.Count(text, end) {
		t.Fatalf("lines do not end in %q", end)
	}
	lines := strings.Split(strings.TrimSuffix(text, end), end)
	if c.Percent {
		if lines[0] != "%" || lines[len(lines)-1] != "%" {
			t.Fatalf("begins with %q and ends with %q", lines[0], lines[len(lines)-1])
		}
		lines = lines[1 : len(lines)-1]
	}
	number := 0
	var words []string
	for _, l := range lines {
		if len(l)+len(end) > c.LineLength {
			t.Fatalf("%d characters in %q", len(l)+len(end), l)
		}
		if comment := map[string]string{"parentheses": `^\([A-Z0-9 .-]+\)$`, "semicolon": `^; [A-Z0-9 .-]+$`, "none": `^$`}[c.Comments]; regexp.MustCompile(comment).MatchString(l) {
			continue
		}
		if c.LineNumbers > 0 {
			if number += c.LineNumbers; number > 99999 {
				number = c.LineNumbers
			}
			var found bool
			if l, found = strings.CutPrefix(l, fmt.Sprintf("N%d ", number)); !found {
				t.Fatalf("no number %d in %q", number, l)
			}
		}
		if !regexp.MustCompile(`^[A-Z]-?[0-9.]+( [A-Z]-?[0-9.]+)*$`).MatchString(l) {
			t.Fatalf("line %q", l)
		}
		for _, w := range strings.Fields(l) {
			words = append(words, w)
			if strings.Contains("XYZIJRQ", w[:1]) && !regexp.MustCompile(fmt.Sprintf(`^.-?[0-9]+\.[0-9]{%d}$`, c.Places)).MatchString(w) {
				t.Fatalf("word %s in %q", w, l)
			}
		}
	}
	has := func(w string) bool { return slices.Contains(words, w) }
	if c.Arcs == "chords" && (has("G2") || has("G3")) {
		t.Fatal("arcs")
	}
	for _, g := range []int{73, 81, 82, 83} {
		if has(fmt.Sprintf("G%d", g)) && !slices.Contains(c.Cycles, g) {
			t.Fatalf("G%d", g)
		}
	}
	if has("M6") != (c.ToolChange == "code") || has("M0") && c.ToolChange != "pause" && !measured || has("G43") != c.ToolLengths {
		t.Fatalf("tools are changed otherwise than by %s:\n%s", c.ToolChange, text)
	}
	if words[len(words)-1] != c.End {
		t.Fatalf("it ends with %s", words[len(words)-1])
	}
	for _, on := range []string{"M7", "M8"} {
		if has(on) && !has("M9") {
			t.Fatal("a coolant stays on")
		}
	}
	r, err := read.Read(strings.NewReader(text), read.Options{DwellMilliseconds: c.Dwell == "milliseconds", ChangeAtStop: c.ToolChange == "pause", PeckLift: c.PeckLift})
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range r.Notes {
		if !n.Proved() || n.Classes()&post.MeantFor(m) != 0 {
			t.Fatalf("%s: %s\n%s", n.Classes(), n, bytes.TrimSpace([]byte(text)))
		}
	}
}
