package post

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"stopshort/post/rs274/read"
	"stopshort/toolpath"
)

const secondReader = "../testdata/secondreader"

// TestSecondReader holds our reader against one of other people's, from a package
// registry, on every program of the demo's jobs on every controller and on the
// programs of the README: the same moves to the same places. .ci/run installs it.
func TestSecondReader(t *testing.T) {
	if _, err := os.Stat(filepath.Join(secondReader, "node_modules")); err != nil {
		t.Skip("the second reader is not installed: npm ci in testdata/secondreader, as .ci/run does")
	}
	read := 0
	programs := goldenPrograms(t)
	for name, text := range readmePrograms(t) {
		programs[name] = text
	}
	for name, text := range programs {
		if why := beyondSecondReader(text); why != "" {
			t.Logf("skipped: %s: %s", name, why)
			continue
		}
		read++
		sameMoves(t, name, text)
	}
	t.Logf("%d programs read by both", read)
	if read < 20 {
		t.Errorf("only %d programs were read by both", read)
	}
}

// beyondSecondReader is why the other reader cannot read a program: it knows G0 to
// G3 only, and passes over cycles, offsets and compensation.
func beyondSecondReader(text []byte) string {
	if w := regexp.MustCompile(`(?m)^[^(\n]*\b(G7[3]|G8[1-9]|G4[123]|G28|G30|G53|G92|G90\.1)\b`).FindSubmatch(text); w != nil {
		return string(w[1]) + " is passed over by it"
	}
	return ""
}

// sameMoves reads a text with both.
func sameMoves(t *testing.T, name string, text []byte) {
	t.Helper()
	ours, err := read.Read(bytes.NewReader(text), read.Options{})
	if err != nil {
		t.Fatal(err)
	}
	node := exec.Command("node", "moves.js")
	node.Dir, node.Stdin = secondReader, bytes.NewReader(text)
	var errs bytes.Buffer
	node.Stderr = &errs
	printed, err := node.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, errs.String())
	}
	theirs := strings.Split(strings.TrimSpace(string(printed)), "\n")
	i := 0
	for _, s := range ours.Trace.Steps {
		if s.Kind >= toolpath.Dwell {
			continue
		}
		if i >= len(theirs) {
			t.Fatalf("%s, line %d: the other reader stops after %d moves", name, s.Line, i)
		}
		f := strings.Fields(theirs[i])
		i++
		word := map[toolpath.Motion]string{toolpath.Rapid: "G0", toolpath.Line: "G1", toolpath.Arc: "G2"}[s.Kind]
		if s.Kind == toolpath.Arc && s.Sense == toolpath.Anticlockwise {
			word = "G3"
		}
		want := []int64{int64(s.To.X), int64(s.To.Y), int64(s.To.Z)}
		known := []bool{s.To.Known[0], s.To.Known[1], s.To.Known[2]}
		if s.Kind == toolpath.Arc {
			want, known = append(want, int64(s.Centre.X), int64(s.Centre.Y)), append(known, true, true)
		}
		same := len(f) == 1+len(want) && f[0] == word
		for k := 0; same && k < len(want); k++ {
			v, err := strconv.ParseFloat(f[1+k], 64)
			// The other reader counts in floating point: a thousandth of a step of
			// the finest output is far over its roundings.
			same = err == nil && (!known[k] || math.Abs(v*1e7-float64(want[k])) < 1)
		}
		if !same {
			t.Fatalf("%s, line %d: we read %s, the other reader %s", name, s.Line, fmt.Sprint(word, want), theirs[i-1])
		}
	}
	if i != len(theirs) {
		t.Fatalf("%s: the other reader has %d moves, we have %d", name, len(theirs), i)
	}
}

// readmePrograms are the programs that the README shows in blocks of their own.
func readmePrograms(t *testing.T) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	readme, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range regexp.MustCompile("(?s)\n```ngc (\\S+)\n(.*?)\n```\n").FindAllSubmatch(readme, -1) {
		out["README "+string(m[1])] = append(m[2], '\n')
	}
	return out
}
