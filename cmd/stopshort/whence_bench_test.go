package main

import (
	"regexp"
	"strings"
	"testing"
)

// Every row of a bench table with a figure says given, derived or handbook.
func TestWhenceBench(t *testing.T) {
	rows := 0
	calls := [][]string{{"speed", "--speed", "900 rpm", "--cutter", "6 mm", "--feed", "90 mm/min", "--flutes", "2"}, {"drill", "2.51 mm"},
		{"thread", "M3", "--drill", "2.7 mm"}, {"speed", "--speed", "25 m/min", "--cutter", "12 mm", "--machine", "dial-mill-inch"}}
	for _, name := range bookNames(t, "threads/*") {
		calls = append(calls, []string{"thread", name})
	}
	for i, name := range bookNames(t, "stock") {
		if i%6 == 0 {
			calls = append(calls, []string{"drill", name})
		}
	}
	for _, m := range []string{"bronze", "mild steel", "stainless", "copper", "cast iron", "acetal"} {
		for _, kind := range []string{"mill", "drill", "saw"} {
			calls = append(calls, []string{"speed", "--material", m, "--cutter", "6 mm", "--kind", kind, "--machine", "knee-mill-inch", "--flutes", "4"})
		}
	}
	for _, args := range calls {
		text, ok := outputOf(t, args...)
		if !ok {
			t.Errorf("%q fails", args)
		}
		var last string
		marked := true
		for _, line := range strings.Split(text+"\nend 0 given", "\n") {
			if line == "" || footNo.MatchString(line) {
				continue
			}
			if begins := !strings.HasPrefix(line, "        "); begins {
				if !marked {
					t.Errorf("%q: says nothing of where it is from: %s", args, last)
				}
				last, marked = line, !digit.MatchString(line)
				rows++
			}
			marked = marked || origin.MatchString(line) || neighbours.MatchString(line) && strings.Contains(text, "\nbeside it ")
		}
	}
	t.Logf("%d rows", rows)
	if rows < 1800 {
		t.Errorf("%d rows are fewer than there are", rows)
	}
}

// neighbours is the neighbours of a drill, which the row before them marks.
var neighbours = regexp.MustCompile(`^(number|letter|fraction|metric) `)

// The answer to one depth, and a machine's own figures.
func TestWhenceDepth(t *testing.T) {
	text, _ := outputOf(t, "depth", "--to", "0.650 in", "--bore", "3/4 in", "--leave", "40 thou", "--machine", "dial-mill-inch")
	for _, says := range []string{"stop: derived", "web left: derived", "dial: derived", "errors: given, stopshort machine show dial-mill-inch", "at worst: derived", "never less: derived, half of the leave"} {
		if !strings.Contains(strings.Join(strings.Fields(text), " "), says) {
			t.Errorf("%q is not in:\n%s", says, text)
		}
	}
	text, _ = outputOf(t, "depth", "--to", "0.650 in", "--bore", "3/4 in", "--leave", "40 thou", "--never-less", "25 thou")
	if !strings.Contains(strings.Join(strings.Fields(text), " "), "never less: given") {
		t.Errorf("the never-less was given:\n%s", text)
	}
	if text, _ = outputOf(t, "machine", "show", "dial-mill-inch"); !regexp.MustCompile(`(?m)^from +given: `).MatchString(text) {
		t.Errorf("says nothing of where it is from:\n%s", text)
	}
}
