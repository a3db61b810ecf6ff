package post

import (
	"bytes"
	"strings"
	"testing"

	"stopshort/post/rs274/write"
)

// Faults put into the writer's text must not pass: each changes what the machine
// would do, or makes the text unreadable.
func TestFaultsInTheTextAreCaught(t *testing.T) {
	p, m := demo(t, "slot.toml")
	text, err := write.Program(p, m)
	if err != nil {
		t.Fatal(err)
	}
	whole := string(text.Bytes)
	for _, c := range []struct{ name, old, new string }{
		{"Z one step of the output deeper", "G1 Z-5.9590", "G1 Z-5.9591"},
		{"Z one step of the output shallower", "G1 Z-5.9590", "G1 Z-5.9589"},
		{"a sign lost", "Z-0.5959", "Z0.5959"},
		{"the lift dropped", "G0 Z5.0000\nM5", "M5"},
		{"units swapped", "G21", "G20"},
		{"a feed", "F79.0", "F790.0"},
		{"a feed lost", " F79.0", ""},
		{"the spindle's word lost", "M3 S1989\n", ""},
		{"the speed", "S1989", "S1988"},
		{"the dwell in the wrong unit", "G4 P3.0", "G4 P3000.0"},
		{"the dwell lost", "G4 P3.0\n", ""},
		{"a feed made a rapid", "G1 Y9.3500 F79.0", "G0 Y9.3500"},
		{"a rapid made a feed", "G0 Z1.0000", "G1 Z1.0000 F79.0"},
		{"a line lost", "G1 X0.3812\n", ""},
		{"a line twice", "G1 X0.3012\n", "G1 X0.3012\nG1 X0.3012\n"},
		{"axes swapped", "G1 X0.3012\n", "G1 Y0.3012\n"},
		{"the end lost", "M2\n", ""},
		{"an early end", "G0 Z1.0000\n", "M2\n"},
		{"a letter lost", "G1 X0.3012", "G1 0.3012"},
		{"increments", "G90", "G91"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if !strings.Contains(whole, c.old) {
				t.Fatalf("the text has no %q", c.old)
			}
			bad := text
			bad.Bytes = []byte(strings.Replace(whole, c.old, c.new, 1))
			if _, f := holds(bad, p, m, 0); f == nil {
				t.Error("it passed")
			}
		})
	}
	if _, f := holds(text, p, m, 0); f != nil {
		t.Errorf("the text as it is does not pass: %v", f)
	}
}

// Spans moved by a line put a step into another operation, or a line into another cut.
func TestShiftedSpansAreCaught(t *testing.T) {
	p, m := demo(t, "slot.toml")
	text, err := write.Program(p, m)
	if err != nil {
		t.Fatal(err)
	}
	for _, shift := range []int{-3, -1, 1, 3} {
		bad := text
		bad.Ops = []write.Span{{First: text.Ops[0].First + shift, Last: text.Ops[0].Last + shift}}
		if _, f := holds(bad, p, m, 0); f == nil {
			t.Errorf("spans shifted by %d passed", shift)
		}
	}
}

func TestTwoRunsGiveTheSameBytes(t *testing.T) {
	var first []byte
	for range 3 {
		p, m := demo(t, "slot.toml")
		proven, err := prove(p, "x.ngc", m, 0)
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = proven.Text
		}
		if !bytes.Equal(first, proven.Text) {
			t.Fatal("two runs differ")
		}
	}
}
