package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

var (
	cited  = regexp.MustCompile(`\[(\d+)\]`)
	listed = regexp.MustCompile(`(?m)^\[(\d+)\] +\S`)
)

// told runs a bench command that must succeed, and holds what it prints to what
// every table keeps: at most 100 columns, every source that is cited listed under
// it and every one listed cited.
func told(t *testing.T, args ...string) {
	t.Helper()
	var out, errs bytes.Buffer
	if status := run(args, &out, &errs); status != exitDone {
		t.Errorf("%q: status %d: %s", args, status, errs.String())
		return
	}
	text := out.String()
	uses, lists := map[string]bool{}, map[string]bool{}
	for _, m := range listed.FindAllStringSubmatch(text, -1) {
		lists[m[1]] = true
	}
	for _, line := range strings.Split(text, "\n") {
		if n := len([]rune(line)); n > 100 {
			t.Errorf("%q: %d columns: %s", args, n, line)
		}
		if listed.MatchString(line) {
			continue
		}
		for _, m := range cited.FindAllStringSubmatch(line, -1) {
			uses[m[1]] = true
			if !lists[m[1]] {
				t.Errorf("%q: [%s] is not listed", args, m[1])
			}
		}
	}
	if len(uses) != len(lists) {
		t.Errorf("%q: %d sources are cited and %d listed", args, len(uses), len(lists))
	}
	if len(lists) == 0 && !strings.Contains(text, "no source") && !strings.Contains(text, "from memory") && args[len(args)-1] != bare {
		t.Errorf("%q: says of no figure where it is from:\n%s", args, text)
	}
}

// bare is a size that is in no table.
const bare = "99 mm"

// bookNames is the names of a thread or a drill that the rows of the handbook's files
// have, read by other means than the handbook's.
func bookNames(t *testing.T, files string) (names []string) {
	t.Helper()
	all, err := filepath.Glob("../../toolpath/trade/" + files + ".toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range all {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range rowName.FindAllStringSubmatch(string(data), -1) {
			names = append(names, m[1])
		}
	}
	if len(names) < 70 { // 77 threads, 106 drills
		t.Fatalf("%d names in %s", len(names), files)
	}
	return names
}

var rowName = regexp.MustCompile(`(?m)^\[\[(?:thread|drill)\]\]\n(?:sort .*\n)?name += "([^"]+)"`)

func TestBenchTables(t *testing.T) {
	for _, name := range bookNames(t, "threads/*") {
		told(t, "thread", name)
	}
	for i, name := range bookNames(t, "stock") {
		if i%3 == 0 { // there are over a hundred
			told(t, "drill", name)
		}
	}
	for _, size := range []string{"7/64 in", "25/64 in", "0.3 mm", "2.25 mm", "3.3 mm"} {
		told(t, "drill", size)
	}
	told(t, "drill", bare)
	for _, material := range []string{"bronze", "brass", "mild steel", "aluminium", "free cutting steel", "stainless", "tool steel", "cast iron", "phosphor bronze", "copper", "acetal"} {
		told(t, "speed", "--material", material, "--cutter", "1 mm")
		told(t, "speed", "--material", material, "--cutter", "1/2 in", "--machine", "dial-mill-inch", "--flutes", "4")
		told(t, "speed", "--material", material, "--cutter", "6 mm", "--machine", "stepper-mill-mm", "--made-of", "carbide", "--feed", "60 mm/min")
		told(t, "speed", "--material", material, "--cutter", "#29", "--kind", "drill", "--machine", "lathe-slide-inch")
		told(t, "speed", "--material", material, "--cutter", "60 mm", "--kind", "saw", "--flutes", "60")
	}
}
