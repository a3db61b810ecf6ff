package form

import (
	"errors"
	"strings"
	"testing"
)

// shop is a key table with every kind, like that of a job.
func shop() *Table {
	leave := &Table{Help: "What it stops short of", Keys: []Key{
		{Name: "bore", Kind: Text, Help: "the bore's name"},
		{Name: "leave", Kind: Length, Required: true, Above: "0 mm", Help: "what is left"},
	}}
	slot := &Table{Help: "A straight slot", Keys: []Key{
		{Name: "width", Kind: Size, Required: true, Above: "0 mm", Help: "as finished"},
		{Name: "ends", Kind: Word, Choices: []string{"open", "closed", "open at from"}, Default: "open", Help: "of the slot"},
		{Name: "short_of", Kind: Sub, Table: leave, Help: "what it stops short of"},
	}}
	holes := &Table{Help: "Holes in a row", Keys: []Key{
		{Name: "screw", Kind: Text, Required: true, Help: "the screw | by name"},
	}}
	cut := &Table{
		Help: "One cut",
		Keys: []Key{
			{Name: "recipe", Kind: Word, Required: true, Help: "what sort of cut"},
			{Name: "name", Kind: Text, Says: "its place", Help: "what it is called"},
			{Name: "speed", Kind: Speed, Max: "6000 rpm", Help: "of the spindle"},
			{Name: "feed", Kind: Feed, Max: "500 mm/min", Help: "of the cutter"},
			{Name: "surface", Kind: Surface, Help: "of the teeth"},
			{Name: "dwell", Kind: Time, Default: "0.5 s", Max: "1 s", Help: "at the bottom"},
			{Name: "angle", Kind: Angle, Min: "-45 deg", Max: "45 deg", Help: "of the slide"},
		},
		By: "recipe", Variants: map[string]*Table{"slot": slot, "bolt holes": holes},
	}
	return &Table{
		Help: "One job",
		Keys: []Key{
			{Name: "units", Kind: Word, Choices: []string{"mm", "in"}, Help: "of bare numbers"},
			{Name: "material", Kind: Text, Required: true, Help: "what it is made of"},
			{Name: "stock", Kind: Sub, Table: &Table{Help: "The stock", Keys: []Key{
				{Name: "low", Kind: Lengths, Len: 3, Help: "least corner"},
				{Name: "grips", Kind: Lengths, Min: "0 mm", Help: "where it is held"},
				{Name: "diameter", Kind: Size, Above: "0 mm", Help: "of a bar"},
				{Name: "spare", Kind: Length, Default: "1/8 in", Min: "0 mm", Max: "2 in", Help: "left over"},
			}}, Help: "what it is cut from"},
			{Name: "screw", Kind: Sub, Table: &Table{Help: "A screw", Keys: []Key{
				{Name: "lead", Kind: Lead, Help: "for one turn"},
				{Name: "error", Kind: Rate, Max: "0.1 mm in 100 mm", Help: "of the screw"},
				{Name: "lines", Kind: Number, Min: "10", Max: "250", Help: "of the dial"},
				{Name: "speeds", Kind: Speeds, Help: "of the spindle"},
				{Name: "places", Kind: Counts, Len: 2, Min: "2", Max: "5", Help: "decimals"},
				{Name: "locked", Kind: Flag, Default: "true", Help: "or not"},
			}}, Help: "a screw"},
			{Name: "tool", Kind: Subs, Table: &Table{Help: "A cutter", Keys: []Key{
				{Name: "number", Kind: Count, Required: true, Min: "1", Max: "99", Help: "what it is called by"},
				{Name: "flutes", Kind: Count, Default: "2", Help: "teeth"},
			}}, Help: "the cutters"},
			{Name: "setup", Kind: Subs, Table: &Table{Help: "A set-up", Keys: []Key{
				{Name: "up", Kind: Word, Choices: []string{"+z", "-z"}, Default: "+z", Help: "which way is up"},
				{Name: "cut", Kind: Subs, Required: true, Table: cut, Help: "the cuts"},
			}}, Help: "the set-ups"},
		},
	}
}

// must reads a file that is right.
func must(t *testing.T, text string) *Node {
	t.Helper()
	n, err := Read("job.toml", []byte(text), shop())
	if err != nil {
		t.Fatalf("refused:\n%s\n%s", text, err)
	}
	return n
}

// refused is what is said about a file that is wrong.
func refused(t *testing.T, text string) string {
	t.Helper()
	n, err := Read("job.toml", []byte(text), shop())
	if err == nil {
		t.Fatalf("taken:\n%s", text)
	}
	if n != nil {
		t.Fatalf("a node comes with the error %q", err)
	}
	var faults Faults
	if !errors.As(err, &faults) || len(faults) == 0 {
		t.Fatalf("the error is %T, not Faults", err)
	}
	return err.Error()
}

// says tests that a file is refused with just these lines.
func says(t *testing.T, text string, want ...string) {
	t.Helper()
	got := refused(t, text)
	if want := strings.Join(want, "\n"); got != want {
		t.Errorf("%s\ngives\n%s\nwant\n%s", text, got, want)
	}
}

// panics tells whether do panics.
func panics(do func()) (yes bool) {
	defer func() { yes = recover() != nil }()
	do()
	return false
}
