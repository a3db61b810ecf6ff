package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/trade"
)

// The reader who doubts a figure in any output finds where it is from in that output,
// in one step: beside it, or by its mark at the foot. These tests walk over every
// figure of every output of the demo's jobs.

var (
	digit    = regexp.MustCompile(`\d`)
	origin   = regexp.MustCompile(`\b(given|derived|handbook)\b`)
	sourceNo = regexp.MustCompile(`\[(\d+)\]`)
	footNo   = regexp.MustCompile(`(?m)^ {0,2}\[(\d+)\] +\S`) // lines that go on stand further in
	limitNo  = regexp.MustCompile(`^  .{40} +\S+ +\S+ +([gdh]\d+) +\S+ +\S+  \S`)
	footMark = regexp.MustCompile(`(?m)^  ([gdh]\d+) +(given|derived|handbook): \S`)
)

// demoJobs is every job of the demo with a machine of each sort.
func demoJobs(t *testing.T) (calls [][2]string) {
	t.Helper()
	files, err := filepath.Glob("../../testdata/jobs/*.toml")
	if err != nil || len(files) < 5 {
		t.Fatalf("%d jobs, %v", len(files), err)
	}
	for _, f := range files {
		for _, m := range []string{"", "stepper-mill-inch", "dial-mill-inch", "knee-mill-inch"} {
			calls = append(calls, [2]string{f, m})
		}
	}
	return calls
}

// outputOf is what a call prints; ok is false where the job is not for that machine.
func outputOf(t *testing.T, args ...string) (text string, ok bool) {
	t.Helper()
	var out, errs bytes.Buffer
	status := run(args, &out, &errs)
	if status == exitDone && out.Len() == 0 {
		t.Errorf("%q prints nothing", args)
	}
	return out.String(), status == exitDone
}

// onMachine is the call's flags for a machine, none for the job's own.
func onMachine(args []string, machine string) []string {
	if machine == "" {
		return args
	}
	return append(args, "--machine", machine)
}

// sourced holds the numbers of sources in a text to their list: each that is cited is
// listed, and each listed is cited and a source of the handbook.
func sourced(t *testing.T, call string, text string) {
	t.Helper()
	lists, uses := map[string]bool{}, map[string]bool{}
	for _, m := range footNo.FindAllStringSubmatch(text, -1) {
		lists[m[1]] = true
	}
	for _, line := range strings.Split(text, "\n") {
		if footNo.MatchString(line) {
			_, title, _ := strings.Cut(line, "] ")
			if !slices.Contains(trade.Titles(), strings.TrimSpace(title)) {
				t.Errorf("%s: %q is no source of the handbook", call, title)
			}
			continue
		}
		for _, m := range sourceNo.FindAllStringSubmatch(line, -1) {
			uses[m[1]] = true
			if !lists[m[1]] {
				t.Errorf("%s: [%s] is not listed: %s", call, m[1], line)
			}
		}
	}
	if len(uses) != len(lists) {
		t.Errorf("%s: %d sources are cited and %d listed", call, len(uses), len(lists))
	}
}

// Every figure of check's text: each line of a set-up's and a cut's figures says
// given, derived or handbook, and a handbook figure names a source or says that it has
// none; each limit has a mark beside its never-less that the foot explains.
func TestWhenceCheckText(t *testing.T) {
	facts, limits := 0, 0
	for _, c := range demoJobs(t) {
		text, ok := outputOf(t, onMachine([]string{"check", c[0]}, c[1])...)
		if !ok {
			continue
		}
		call := filepath.Base(c[0]) + " on " + c[1]
		sourced(t, call, text)
		foot := map[string]bool{}
		for _, m := range footMark.FindAllStringSubmatch(text, -1) {
			foot[m[1]] = m[1][:1] == m[2][:1]
		}
		plan, rest, _ := strings.Cut(text, "\nlimit ")
		table, rest, _ := strings.Cut(rest, "\n\n")
		_, plan, _ = strings.Cut(plan, "\n\n") // the answer's figures stand in the table
		for _, f := range factLines(plan) {
			facts++
			if m := origin.FindString(f); m == "" {
				t.Errorf("%s: says nothing of where it is from: %s", call, f)
			} else if m == "handbook" && !sourceNo.MatchString(f) && !strings.Contains(f, "from memory") && !strings.Contains(f, "no source") {
				t.Errorf("%s: from the handbook without a source: %s", call, f)
			}
		}
		for _, line := range strings.Split(table, "\n")[1:] {
			switch {
			case !digit.MatchString(line) || !strings.HasPrefix(line, "  ") || strings.HasPrefix(line, "    "):
			case strings.HasPrefix(line, "  at worst "): // what is left, which the foot explains
			default:
				limits++
				if m := limitNo.FindStringSubmatch(line); m == nil {
					t.Errorf("%s: no mark beside the never-less: %s", call, line)
				} else if !foot[m[1]] {
					t.Errorf("%s: the foot does not say what %s is", call, m[1])
				}
			}
		}
		for _, column := range []string{"left: derived, ", "margin: derived, ", "at worst: derived, ", "shares: given, "} {
			if !strings.Contains(rest, column) {
				t.Errorf("%s: the foot does not say %q", call, column)
			}
		}
		for _, line := range strings.Split(text, "\n") {
			if n := len([]rune(line)); n > 100 {
				t.Errorf("%s: %d columns: %s", call, n, line)
			}
		}
	}
	t.Logf("%d figures and %d limits", facts, limits)
	if facts < 850 || limits < 950 {
		t.Errorf("%d figures and %d limits are fewer than the demo has", facts, limits)
	}
}

// factLines is each figure of the plan's part with the lines that it goes on in.
// Titles of set-ups and of cuts, whose figures are told in the lines under them, are
// left out.
func factLines(plan string) (facts []string) {
	for _, line := range strings.Split(plan, "\n") {
		switch {
		case strings.HasPrefix(line, strings.Repeat(" ", 42)) && len(facts) > 0:
			facts[len(facts)-1] += " " + strings.TrimSpace(line)
		case !digit.MatchString(line), !strings.HasPrefix(line, "  "), heading.MatchString(line), byHand.MatchString(line):
		default:
			facts = append(facts, line)
		}
	}
	return facts
}

var (
	heading = regexp.MustCompile(`^  \S.*: tool \d+, `)
	byHand  = regexp.MustCompile(`^    (after all cuts of this set-up tap |metal is left|stock is left|then |a gap )`)
)

// Every figure of check's JSON has from and source.
func TestWhenceCheckJSON(t *testing.T) {
	figures := 0
	for _, c := range demoJobs(t) {
		text, ok := outputOf(t, onMachine([]string{"check", c[0], "--format", "json"}, c[1])...)
		if !ok {
			continue
		}
		var r any
		if err := json.Unmarshal([]byte(text), &r); err != nil {
			t.Fatal(err)
		}
		var walk func(path string, v any)
		walk = func(path string, v any) {
			switch v := v.(type) {
			case []any:
				for _, x := range v {
					walk(path, x)
				}
			case map[string]any:
				number := false
				for k, x := range v {
					_, is := x.(float64)
					number = number || is || k == "value"
					walk(path+"."+k, x)
				}
				if !number {
					return
				}
				figures++
				from, _ := v["from"].(string)
				source, _ := v["source"].(string)
				if from != "given" && from != "derived" && from != "handbook" || strings.TrimSpace(source) == "" {
					t.Errorf("%s on %s: %s: from %q, source %q", filepath.Base(c[0]), c[1], path, from, source)
				}
				if from == "handbook" && !named(source) {
					t.Errorf("%s on %s: %s: the handbook's, and %q names no source", filepath.Base(c[0]), c[1], path, source)
				}
			}
		}
		walk("", r)
	}
	t.Logf("%d figures", figures)
	if figures < 5000 {
		t.Errorf("%d figures are fewer than the demo has", figures)
	}
}

// named tells whether a text names a source of the handbook or says that it has none.
func named(source string) bool {
	return strings.Contains(source, "from memory") || strings.Contains(source, "no source") ||
		slices.ContainsFunc(trade.Titles(), func(title string) bool { return strings.Contains(source, title) })
}

// kinds are the figures of a program's comments, by what their comment says, and the
// name that the head gives them among the given, the derived or the handbook's.
var kinds = []struct {
	says *regexp.Regexp
	name string // "" is no figure: a name, a count
}{
	{regexp.MustCompile(`THREAD TO [0-9.]+ (MM|IN) |^\(TO [0-9.]+ (MM|IN) FROM ITS TOP`), "FULL THREAD"},
	{regexp.MustCompile(`^\((JOB|SET-UP|CUT|ACCEPTED) |^\(FLOAT-ARM|^\(AFTER ALL CUTS OF|CUT \d OF SET-UP \d WORKED`), ""},
	{regexp.MustCompile(`SHOULD READ| PIN OF `), "READING"},
	{regexp.MustCompile(`^\(LOOK `), "DEPTHS"},
	{regexp.MustCompile(`^\(ZERO (IN THE PART|IS) `), "ZERO"},
	{regexp.MustCompile(` TOPS? [0-9]|^\(CLAMP `), "HOLDING"},
	{regexp.MustCompile(`^\(TOUCH OFF ON `), "TOUCH"},
	{regexp.MustCompile(`^\(THE TOUCHED FACE `), "FACE"},
	{regexp.MustCompile(`^\(TOOL \d|^\(THE CUTTER (STICKS|MEASURES)`), "TOOL"},
	{regexp.MustCompile(`^\(SPINDLE |^\(SET THE SPINDLE `), "SPEED"},
	{regexp.MustCompile(`^\(START WITH THE CUTTER `), "CLEAR"},
	{regexp.MustCompile(`SECONDS FOR THE SPINDLE`), "SECONDS"},
	{regexp.MustCompile(` DEEP\)$`), "DEPTHS"},
}

// Every figure of a program's comments is of a kind that its head marks, and the head
// says where the sources are.
func TestWhenceProgram(t *testing.T) {
	comments := 0
	for _, c := range demoJobs(t) {
		folder := t.TempDir() + "/"
		if _, ok := outputOf(t, onMachine([]string{"gcode", c[0], "-o", folder}, c[1])...); !ok {
			continue
		}
		programs, err := filepath.Glob(folder + "*.ngc")
		if err != nil || len(programs) == 0 {
			t.Fatalf("%d programs, %v", len(programs), err)
		}
		for _, p := range programs {
			data, err := os.ReadFile(p)
			if err != nil {
				t.Fatal(err)
			}
			text := string(data)
			_, marks, ok := strings.Cut(text, "\n(GIVEN ")
			marks, _, sources := strings.Cut(marks, "(STOPSHORT CHECK TELLS THE SOURCE OF EACH FIGURE)")
			if !ok || !sources {
				t.Errorf("%s does not say where its figures and their sources are from", p)
			}
			marks = strings.NewReplacer(")\n(DERIVED ", " - ", ")\n(HANDBOOK ", " - ", ")\n(", " ", ")", "").Replace(marks)
			marked := map[string]bool{}
			for _, name := range strings.Split(marks, " - ") {
				marked[strings.TrimSpace(name)] = true
			}
			continues := false
			for _, line := range strings.Split(text, "\n") {
				if !strings.HasPrefix(line, "(") || !digit.MatchString(line) {
					continues = strings.HasPrefix(line, "(ACCEPTED ")
					continue
				}
				comments++
				i := slices.IndexFunc(kinds, func(k struct {
					says *regexp.Regexp
					name string
				}) bool {
					return k.says.MatchString(line)
				})
				switch {
				case i < 0 && continues: // the job's own reason goes on
				case i < 0:
					t.Errorf("%s: no mark is known for %s", p, line)
				case kinds[i].name != "" && !marked[kinds[i].name]:
					t.Errorf("%s: the head does not mark %s, for %s", p, kinds[i].name, line)
				}
				continues = strings.HasPrefix(line, "(ACCEPTED ")
			}
		}
	}
	t.Logf("%d comments with a figure", comments)
	if comments < 700 {
		t.Errorf("%d comments are fewer than the demo has", comments)
	}
}

// A table by hand says where its columns come from, and every figure that its cuts
// were planned from, in its text and in its JSON.
func TestWhenceByHand(t *testing.T) {
	tables, figures := 0, 0
	for _, c := range demoJobs(t) {
		text, ok := outputOf(t, onMachine([]string{"handwheel", c[0]}, c[1])...)
		if !ok {
			continue
		}
		tables++
		call := filepath.Base(c[0]) + " on " + c[1]
		sourced(t, call, text)
		_, part, ok := strings.Cut(text, "\nwhere the figures come from\n")
		part, _, _ = strings.Cut(part, "\n\n")
		if !ok {
			t.Errorf("%s: says nothing of where its figures come from", call)
		}
		for _, column := range []string{"turns", "lines", "dial", "total", "stop", "s/turn"} {
			if !regexp.MustCompile(regexp.QuoteMeta(column) + `[^:]*: derived`).MatchString(part) {
				t.Errorf("%s: says nothing of where %s comes from", call, column)
			}
		}
		for _, f := range strings.Split(strings.ReplaceAll(part, "\n    ", " "), "\n") {
			if footNo.MatchString(f) || !digit.MatchString(f) {
				continue
			}
			figures++
			if m := origin.FindString(f); m == "" || m == "handbook" && !sourceNo.MatchString(f) && !named(f) {
				t.Errorf("%s: no source: %s", call, f)
			}
		}
		text, _ = outputOf(t, onMachine([]string{"handwheel", c[0], "--format", "json"}, c[1])...)
		var r struct{ Whence []string }
		if err := json.Unmarshal([]byte(text), &r); err != nil || len(r.Whence) == 0 {
			t.Errorf("%s, JSON: %v, %d lines of where the figures come from", call, err, len(r.Whence))
		}
	}
	t.Logf("%d tables, %d figures", tables, figures)
	if tables < 12 || figures < 400 {
		t.Errorf("%d tables and %d figures are fewer than the demo has", tables, figures)
	}
}
