package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stopshort/machines"
	"stopshort/toolpath/form"
	"stopshort/toolpath/job"
	"stopshort/toolpath/recipe"
)

// go test ./cmd/stopshort -run README -update writes the README's outputs and
// references anew. An output cut short by a line "..." is left to a person.
var update = flag.Bool("update", false, "write the README's outputs and references anew")

const readme = "../../README.md"

// twoCommands are the first two fenced blocks of the README, which a person
// tries first and .ci/run runs.
var twoCommands = []string{
	"go run ./cmd/stopshort gcode testdata/jobs/clamp.toml -o out/",
	"go test ./...",
}

// fence is one fenced block: its info string, its lines, and where the first of
// them stands in the README, counted from 0.
type fence struct {
	info  string
	lines []string
	at    int
}

// fences are the fenced blocks of a text. A fence is three backticks at the
// start of a line.
func fences(t *testing.T, lines []string) []fence {
	t.Helper()
	var out []fence
	open := false
	for i, l := range lines {
		switch {
		case open && l == "```":
			open = false
		case open:
			f := &out[len(out)-1]
			f.lines = append(f.lines, l)
		case strings.HasPrefix(l, "```"):
			out = append(out, fence{info: strings.TrimPrefix(l, "```"), at: i + 1})
			open = true
		case strings.HasPrefix(strings.TrimSpace(l), "```"), strings.HasPrefix(l, "~~~"):
			t.Fatalf("README.md:%d: a fence that this test cannot read: begin the line with ```", i+1)
		}
	}
	if open {
		t.Fatalf("README.md:%d: the fence is not closed", out[len(out)-1].at)
	}
	return out
}

func readmeLines(t *testing.T) []string {
	t.Helper()
	data, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	return strings.Split(string(data), "\n")
}

// TestREADMEOpening: a heading, the job in one paragraph, the two commands.
func TestREADMEOpening(t *testing.T) {
	lines := readmeLines(t)
	blocks := fences(t, lines)
	if len(blocks) < 2 {
		t.Fatal("README.md has no two fenced blocks")
	}
	for i, want := range twoCommands {
		if got := strings.Join(blocks[i].lines, "\n"); got != want {
			t.Errorf("README.md:%d: fenced block %d is %q, want %q", blocks[i].at+1, i+1, got, want)
		}
	}
	head := strings.Split(strings.TrimSpace(strings.Join(lines[:blocks[0].at-1], "\n")), "\n\n")
	if len(head) != 2 || !strings.HasPrefix(head[0], "# ") || len(head[1]) < 200 {
		t.Errorf("README.md does not open with a heading and the job in one paragraph, but with %d paragraphs", len(head))
	}
	ci, err := os.ReadFile("../../.ci/run")
	if err != nil {
		t.Fatal(err)
	}
	if !regexp.MustCompile(`(?m)^` + regexp.QuoteMeta(twoCommands[1]) + `$`).Match(ci) {
		t.Errorf(".ci/run has no line %q, the README's second command", twoCommands[1])
	}
}

// TestREADMEOutput runs every command of the README's console blocks, in their
// order and in one folder that holds testdata/jobs and each block that bears a
// file's name ("```toml NAME", "```ngc NAME"), and compares what is printed.
func TestREADMEOutput(t *testing.T) {
	path, err := filepath.Abs(readme)
	if err != nil {
		t.Fatal(err)
	}
	lines := readmeLines(t)
	dir := t.TempDir()
	if err := os.CopyFS(filepath.Join(dir, "testdata", "jobs"), os.DirFS("../../testdata/jobs")); err != nil {
		t.Fatal(err)
	}
	t.Chdir(dir)
	var anew []string
	from, commands := 0, 0
	for _, b := range fences(t, lines) {
		now := b.lines
		kind, name, _ := strings.Cut(b.info, " ")
		switch {
		case (kind == "toml" || kind == "ngc") && name != "":
			now = shownFile(t, b, name)
		case kind == "console":
			now = console(t, b, &commands)
		}
		anew = append(append(anew, lines[from:b.at]...), now...)
		from = b.at + len(b.lines)
	}
	anew = append(anew, lines[from:]...)
	if commands < 10 {
		t.Errorf("README.md shows %d commands, and this test was written for 10 or more", commands)
	}
	if *update {
		if err := os.WriteFile(path, []byte(strings.Join(anew, "\n")), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// shownFile holds a block that bears the name of a file of the project against
// that file; one of another name is written for the commands after it.
func shownFile(t *testing.T, b fence, name string) []string {
	t.Helper()
	data, err := os.ReadFile(name)
	if os.IsNotExist(err) {
		if !filepath.IsLocal(name) {
			t.Fatalf("README.md:%d: %s is not a name in this folder", b.at, name)
		}
		if err := os.WriteFile(name, []byte(strings.Join(b.lines, "\n")+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		return b.lines
	}
	if err != nil {
		t.Fatal(err)
	}
	want := strings.Split(strings.TrimSuffix(string(data), "\n"), "\n")
	if d := cmp.Diff(want, b.lines); d != "" && !*update {
		t.Errorf("README.md:%d: the block is not %s (-file +README):\n%s", b.at, name, d)
	}
	return want
}

// console runs a block's commands and gives the block with their outputs.
func console(t *testing.T, b fence, commands *int) []string {
	t.Helper()
	if len(b.lines) == 0 || !strings.HasPrefix(b.lines[0], "$ ") {
		t.Fatalf("README.md:%d: a console block begins with a command: $ stopshort ...", b.at+1)
	}
	var anew []string
	for i := 0; i < len(b.lines); {
		command := strings.TrimPrefix(b.lines[i], "$ ")
		at := b.at + i + 1
		end := i + 1
		for end < len(b.lines) && !strings.HasPrefix(b.lines[end], "$ ") {
			end++
		}
		shown := b.lines[i+1 : end]
		got := ran(t, at, command)
		*commands++
		anew = append(anew, b.lines[i])
		switch same, short := matches(shown, got); {
		case same:
			anew = append(anew, shown...)
		case *update && !short:
			anew = append(anew, got...)
		default:
			t.Errorf("README.md:%d: %s (-README +printed; -update writes it anew, but for an output cut short):\n%s",
				at, command, cmp.Diff(shown, got))
			anew = append(anew, shown...)
		}
		i = end
	}
	return anew
}

// ran is what a command prints on both outputs, as a terminal would show it,
// with the exit status where it is not 0.
func ran(t *testing.T, at int, command string) []string {
	t.Helper()
	args, err := shellWords(command)
	if err != nil {
		t.Fatalf("README.md:%d: %s", at, err)
	}
	switch {
	case len(args) > 0 && args[0] == "stopshort":
		args = args[1:]
	case len(args) > 2 && strings.Join(args[:3], " ") == "go run ./cmd/stopshort":
		args = args[3:]
	default:
		t.Fatalf("README.md:%d: %q runs neither stopshort nor go run ./cmd/stopshort", at, command)
	}
	var out bytes.Buffer
	status := run(args, &out, &out)
	lines := strings.Split(strings.TrimSuffix(out.String(), "\n"), "\n")
	if out.Len() == 0 {
		lines = nil
	}
	for i, l := range lines {
		lines[i] = strings.TrimRight(l, " ") // so that an editor may strip the README
	}
	if status != 0 {
		lines = append(lines, fmt.Sprintf("exit status %d", status))
	}
	return lines
}

// matches tells whether what a README shows is what was printed, where a line
// "..." stands for any lines; short tells whether there is such a line.
func matches(shown, got []string) (same, short bool) {
	var parts [][]string
	part := []string{}
	for _, l := range shown {
		if l == "..." {
			parts, part, short = append(parts, part), []string{}, true
			continue
		}
		part = append(part, l)
	}
	is := func(at int, p []string) bool { return strings.Join(got[at:at+len(p)], "\n") == strings.Join(p, "\n") }
	if !short {
		return len(part) == len(got) && is(0, part), false
	}
	if len(got) < len(parts[0])+len(part) || !is(0, parts[0]) || !is(len(got)-len(part), part) {
		return false, true
	}
	at, last := len(parts[0]), len(got)-len(part)
	for _, p := range parts[1:] {
		for at+len(p) <= last && !is(at, p) {
			at++
		}
		if at += len(p); at > last {
			return false, true
		}
	}
	return true, true
}

// shellWords splits a command as a shell does that knows quotes and nothing
// else; what else a shell would act on is refused.
func shellWords(command string) ([]string, error) {
	var words []string
	var word strings.Builder
	in, quote := false, rune(0)
	for _, r := range command {
		switch {
		case strings.ContainsRune("$`\\!", r), quote == 0 && strings.ContainsRune("|&;<>()*?[]#~{}", r):
			return nil, fmt.Errorf("%q has a %q, which this test's shell does not know", command, r)
		case r == quote:
			quote = 0
		case quote == 0 && (r == '"' || r == '\''):
			in, quote = true, r
		case quote == 0 && r == ' ':
			if in {
				words = append(words, word.String())
			}
			in = false
			word.Reset()
		default:
			in = true
			word.WriteRune(r)
		}
	}
	if quote != 0 {
		return nil, fmt.Errorf("%q has a quote that is not closed", command)
	}
	if in {
		words = append(words, word.String())
	}
	return words, nil
}

// TestREADMEReference: every key with unit and default, out of the key tables.
func TestREADMEReference(t *testing.T) {
	text := strings.Join(readmeLines(t), "\n")
	for name, table := range map[string]*form.Table{
		"job":     job.Table(recipe.Tables()),
		"machine": machines.Tables(),
	} {
		begin, end := "<!-- "+name+" reference -->\n", "<!-- end -->"
		before, rest, ok := strings.Cut(text, begin)
		got, after, closed := strings.Cut(rest, end)
		if !ok || !closed {
			t.Errorf("README.md has no %q with its %q", strings.TrimSpace(begin), end)
			continue
		}
		want := "\n" + form.Reference(table) + "\n"
		if got == want {
			continue
		}
		if !*update {
			t.Errorf("README.md: the %s file's reference is not that of the key table (-update writes it anew; -README +table):\n%s",
				name, cmp.Diff(got, want))
		}
		text = before + begin + want + end + after
	}
	if *update {
		if err := os.WriteFile(readme, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// TestREADMEMatching holds the two readers of this test against cases worked
// out by hand: a README test that takes anything would say nothing.
func TestREADMEMatching(t *testing.T) {
	for _, c := range []struct {
		shown, got string
		want       bool
	}{
		{"a b c", "a b c", true},
		{"a b", "a b c", false},
		{"a b c", "a b", false},
		{"a x c", "a b c", false},
		{"", "a", false},
		{"a ... d", "a b c d", true},
		{"a ... d", "a d", true},
		{"a ...", "a b c", true},
		{"a ...", "b a", false},
		{"... c", "a b c", true},
		{"... b", "a b c", false},
		{"a ... a", "a", false},
		{"a ... c d ... f", "a b c d e f", true},
		{"a ... d c ... f", "a b c d e f", false},
		{"a ... e f ... f", "a b c d e f", false},
	} {
		same, _ := matches(strings.Fields(c.shown), strings.Fields(c.got))
		if same != c.want {
			t.Errorf("%q shown for %q printed: %v, want %v", c.shown, c.got, same, c.want)
		}
	}
	got, err := shellWords(`stopshort depth --to "3/4 in"  --bore '5/8"' --leave ""`)
	want := []string{"stopshort", "depth", "--to", "3/4 in", "--bore", `5/8"`, "--leave", ""}
	if d := cmp.Diff(want, got); d != "" || err != nil {
		t.Errorf("words: %v\n%s", err, d)
	}
	for _, bad := range []string{"stopshort a | b", "stopshort $HOME", `stopshort "a`, "stopshort a > b"} {
		if w, err := shellWords(bad); err == nil {
			t.Errorf("%q gives %q, want an error", bad, w)
		}
	}
}
