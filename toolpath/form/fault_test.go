package form

import (
	"fmt"
	"strings"
	"testing"
)

func TestFaultsAreOneLineEach(t *testing.T) {
	f := Fault{Position{"a\nb.toml", 3, "x.\"\u202ey\""}, "the name \x1b[2J\r\nis wrong"}
	want := `a\nb.toml:3: x."\u202ey": the name \x1b[2J\r\nis wrong`
	if got := f.Error(); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	long := Fault{Position{"a.toml", 1, strings.Repeat("k", 5000)}, strings.Repeat("½", 5000)}
	if got := long.Error(); len(got) > 1100 || !strings.HasSuffix(got, "½...") {
		t.Errorf("%d bytes", len(got))
	}
}

func TestManyFaults(t *testing.T) {
	var f Faults
	for i := 1; i <= 100; i++ {
		f = append(f, Fault{Position{File: "a.toml", Line: i}, "wrong"})
	}
	if got := f.Error(); strings.Count(got, "\n") != 99 || strings.Contains(got, "more") {
		t.Errorf("a hundred faults: %s", got)
	}
	for i := 101; i <= 107; i++ {
		f = append(f, Fault{Position{File: "a.toml", Line: i}, "wrong"})
	}
	if got := f.Error(); !strings.HasSuffix(got, "a.toml:100: wrong\nand 7 more") {
		t.Errorf("107 faults end %q", got[len(got)-40:])
	}
}

// Callers that never stop do not fill the memory.
func TestFaultsAreBounded(t *testing.T) {
	n := must(t, "material = \"bronze\"")
	for i := range 5000 {
		n.Fault("material", "fault %d", i)
	}
	if got := len(n.Faults().(Faults)); got != 1000 {
		t.Errorf("%d faults are kept", got)
	}
}

func TestLongNamesInAFileAreCut(t *testing.T) {
	got := refused(t, fmt.Sprintf("material = 1\n%s = 1\nunits = %q", strings.Repeat("x", 64), strings.Repeat("y\a", 300)))
	for _, line := range strings.Split(got, "\n") {
		if len(line) > 250 || strings.ContainsRune(line, '\a') {
			t.Errorf("%q", line)
		}
	}
}
