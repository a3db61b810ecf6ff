package read

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// Numbers are exact in both units: an inch is 25.4 mm by definition.
func TestExactNumbers(t *testing.T) {
	for _, c := range []struct {
		units, text string
		want, slack measure.Length
	}{
		{"G21", "1.", 10_000_000, 0},
		{"G21", "0.0000001", 1, 0},
		{"G21", "-000.10", -1_000_000, 0},
		{"G21", "1.00000000000000000000", 10_000_000, 0},
		{"G20", "1", 254_000_000, 0},
		{"G20", "0.001", 254_000, 0},
		{"G20", "0.015625", 3_968_750, 0}, // 1/64
		{"G20", "0.0000005", 127, 0},
		{"G20", "3937.00787", 999_999_998_980, 0}, // 3937.00787 * 254 000 000
		{"G20", "0.00000001", 2, 1},               // 2.54
		{"G20", "-0.00000001", -2, 1},
		{"G21", "-0", 0, 0},
		{"G21", "0.00000000000000000000001", 0, 1},
		{"G21", "100000", measure.MaxLength, 0},
	} {
		r := reading(t, c.units+" G17 G40 G49 G54 G80 G90 G94\nG0 X"+c.text+" Z1\nM2\n", Options{})
		s := r.Trace.Steps[0]
		if !s.To.Known[0] || s.To.X != c.want || s.Slack != c.slack {
			t.Errorf("%s X%s: %d within %d, want %d within %d", c.units, c.text, s.To.X, s.Slack, c.want, c.slack)
		}
	}
}

// A dwell's unit is told; the text does not say it.
func TestDwellUnit(t *testing.T) {
	for _, c := range []struct {
		o    Options
		want time.Duration
	}{{Options{}, 3000 * time.Second}, {Options{DwellMilliseconds: true}, 3 * time.Second}} {
		if got := reading(t, "G4 P3000\nM2\n", c.o).Trace.Steps[0].Time; got != c.want {
			t.Errorf("%+v: %v, want %v", c.o, got, c.want)
		}
	}
}

// What single classes would refuse that R takes (R: NISTIR 6556 and its public
// source; A: that class's public source and manual, release 1.1; C: from memory; D: its
// public manuals).
func TestClasses(t *testing.T) {
	for _, c := range []struct {
		line string
		want string // class and rule, those of R left out
	}{
		{"G1 X1.", ""},
		{"G1 " + strings.Repeat("X 1 ", 1) + strings.Repeat(" ", 115) + ".", "C-line"},
		{"G1 " + strings.Repeat(" ", 130) + "X1.", "A-line C-line"},
		{"N1 G1 X1." + strings.Repeat("0", 73), "A11"},
		{"N1 G1 X1." + strings.Repeat("0", 72), ""},
		{"(" + strings.Repeat("A", 90) + ") G1 X1.", "C-line C-comment"},
		{"G41 D1", "A20 C-code A20"},
		{"G43 H1", "A20 C-code A20"},
		{"G59.1", "A20"},
		{"G61", ""},
		{"G61.1", "A20"},
		{"G64", "A20"},
		{"G73 X1. Z-1. R1. Q1.", "C-cycle A20"},
		{"G98 G81 X1. Z-1. R1.", "C-codes A20 C-cycle A20"},
		{"G83 X1. Z-1. R1. Q1.", "A20 C-cycle A20"},
		{"M6", "A20"}, {"M7", "A20"}, {"M8", ""}, {"M48", "A20"}, {"M60", "A20"},
		{"A1.", "A20"},
		{"(WHAT?)", "C-comment A-byte"},
		{"(50%)", "C-comment"},
		{"(A\x18)", "C-comment A-byte"},
		{"/G1 X1.", "A-slash"},
		{"#1=2", "A1"},
		{"T256", "A-tool"},
		{"N10000001 G1 X1.", "A-number"},
		{"G49 G0 X1.", "C-codes A24"},
		{"G2 X2. I1.003", "A33 D-arc"},
		{"G4 P1 G1 X1.", "C-codes D-dwell"},
		{"M3 S1 M8", "C-codes"},
		{"G90.1", ""},
	} {
		var got []string
		for _, n := range reading(t, before+c.line+"\nM2\n", Options{}).Notes {
			if n.Line == 4 && n.Classes() != 0 && n.Classes()&R == 0 {
				got = append(got, n.ID())
			}
		}
		want := strings.Fields(c.want)
		if d := cmp.Diff(count(want), count(got)); d != "" {
			t.Errorf("%q: %v, want %v", c.line, got, want)
		}
	}
	for _, c := range []struct{ text, want string }{
		{before + "M2", "A-end"},
		{"%\n" + before + "%\n", "A1"},
		{"O0001\n" + before + "M2\n", "12"},
	} {
		found := false
		for _, n := range reading(t, c.text, Options{}).Notes {
			found = found || n.ID() == c.want && n.Classes()&A != 0
		}
		if !found {
			t.Errorf("%q: class A has nothing to say of %s", c.text, c.want)
		}
	}
}

func count(list []string) map[string]int {
	m := map[string]int{}
	for _, s := range list {
		m[s]++
	}
	return m
}

// bothWays reads a text with the quick way and without it, and cut in pieces:
// the same each time.
func bothWays(t testing.TB, text []byte, o Options) *Reading {
	t.Helper()
	read := func(r io.Reader, quick bool) *Reading {
		out := &Reading{Trace: &toolpath.Trace{}}
		s := newState(o, func(s *toolpath.Step) error {
			out.Trace.Steps = append(out.Trace.Steps, *s)
			return nil
		}, func(n Note) { out.Notes = append(out.Notes, n) })
		end, err := each(r, s, quick)
		if err != nil {
			t.Fatal(err)
		}
		out.Trace.Ended, out.Trace.Left, out.Lines = end.Ended, end.Left, end.Lines
		return out
	}
	want := read(bytes.NewReader(text), false)
	for name, got := range map[string]*Reading{
		"the quick way":  read(bytes.NewReader(text), true),
		"byte by byte":   read(iotest.OneByteReader(bytes.NewReader(text)), true),
		"by halves":      read(iotest.HalfReader(bytes.NewReader(text)), true),
		"data and error": read(iotest.DataErrReader(bytes.NewReader(text)), true),
	} {
		if !reflect.DeepEqual(want, got) {
			t.Fatalf("%s:\n%s", name, cmp.Diff(want, got))
		}
	}
	return want
}

// The result does not depend on where the stream is cut, also where the text is
// pushed over the edge of the buffer by blank lines, one byte at a time.
func TestChunks(t *testing.T) {
	text := before + "N10 G2 X2.0000 Y0.0000 I1.0000 J0.0000 (HALF)\r\nG1 X3.\rG1 X4.\r\nG1 Y4.\nM2\r\n"
	want := bothWays(t, []byte(text), Options{})
	for _, end := range []string{"\n", "\r\n"} {
		for size := bufferSize - len(text) - 3; size < bufferSize+3; size++ {
			pad := strings.Repeat(strings.Repeat(" ", 70-len(end))+end, size/70)
			pad += strings.Repeat(" ", size-len(pad)) // on the first line of the text
			got := reading(t, pad+text, Options{})
			for i := range got.Trace.Steps {
				got.Trace.Steps[i].Line -= size / 70
			}
			if diff := cmp.Diff(want.Trace, got.Trace); diff != "" {
				t.Fatalf("%d bytes before: %s", size, diff)
			}
		}
	}
}

// Programs of words that mostly belong together are read alike both ways.
func TestQuickWay(t *testing.T) {
	number := rapid.Custom(func(t *rapid.T) string {
		return rapid.SampledFrom([]string{"-", "", "", "", "+"}).Draw(t, "sign") + rapid.SampledFrom([]string{
			"0", "1", "2", "3", "1.", ".5", "2.0", "10.2500", "0.0001", "0.0009", "1.0009", "1.0011", "99999.", "100000.1",
			"0.12345678", "1.1234567", "123456789012345678901", "", ".", "1 0", "007"}).Draw(t, "number")
	})
	word := rapid.Custom(func(t *rapid.T) string {
		return rapid.SampledFrom([]string{" ", " ", " ", "", "  ", "\t"}).Draw(t, "blank") +
			rapid.SampledFrom([]string{"X", "Y", "Z", "I", "J", "F", "X", "Y", "K", "R", "S", "P", "x"}).Draw(t, "letter") + number.Draw(t, "n")
	})
	line := rapid.Custom(func(t *rapid.T) string {
		head := rapid.SampledFrom([]string{"G0", "G1", "G2", "G3", "G1", "G01", "G2 ", "", "", "N5 G1", "N5G3", "N123456 G1", "G1.5", "G10",
			"G80", "M3 S100", "G91", "G90", "G20", "G21", "G17", "G18", "G40", "(A)", "/G1", "G55", "G54", "G93", "G94"}).Draw(t, "head")
		return head + strings.Join(rapid.SliceOfN(word, 0, 5).Draw(t, "words"), "") +
			rapid.SampledFrom([]string{"\n", "\n", "\r\n", "\r", " \n"}).Draw(t, "end")
	})
	rapid.Check(t, func(rt *rapid.T) {
		text := before + "G0 X1. Y1. Z1.\n" + strings.Join(rapid.SliceOfN(line, 0, 30).Draw(rt, "lines"), "")
		bothWays(t, []byte(text), Options{})
	})
}

// What the stream or the receiver says comes out again.
func TestErrorsFromOutside(t *testing.T) {
	broken := errors.New("the disk is gone")
	if _, err := Read(io.MultiReader(strings.NewReader(before), failing{broken}), Options{}); !errors.Is(err, broken) {
		t.Errorf("the stream's error: %v", err)
	}
	enough := errors.New("enough")
	steps := 0
	_, err := Each(strings.NewReader(before+"G1 X1.\nG1 X2.\nM2\n"), Options{}, func(*toolpath.Step) error {
		if steps++; steps == 2 {
			return enough
		}
		return nil
	}, func(Note) {})
	if !errors.Is(err, enough) || steps != 2 {
		t.Errorf("the receiver's error after %d steps: %v", steps, err)
	}
	if _, err := Read(failing{nil}, Options{}); !errors.Is(err, io.ErrNoProgress) {
		t.Errorf("a stream that gives nothing for ever: %v", err)
	}
}

type failing struct{ err error }

func (f failing) Read([]byte) (int, error) { return 0, f.err }

// The reader never panics, reads alike both ways and in any pieces, and what it
// gives hangs together: each step begins where the last one ended, on lines that
// never go back, at places within 100 m.
func FuzzRead(f *testing.F) {
	for _, s := range []string{
		before + "G2 X2. Y0. I1. J0.\nM2\n", before + "G3 X0 I1. J1\nM30\n", "%\n", "(", "G", "N1G1X1", "\r\n\r", "G4P1e5",
		before + "G1 X-.5 Y+00. Z1.0000000000000000000\nM5\nM2", "G20G90G17G40G49G54G94G0X1Y1\nF1\nG2X1.0001I999\nM2\n",
		before + "M3 S1 G4 P.5 M0\n/G1", "#1=1", "G1 X[1]", "G99999999999999999999\n", "\x18!~?", before + "X1\nX1\nM2\n(A)\n",
		before + "G98 G83 X1 Z-1 R1 Q.3 L2\nG91 G81 X1 Z-1 R-2\nG80\nG90.1 G2 X3 Y3 I1 J1\n", before + "G18 G3 X1 Z9 R30\nG19 G2 Y3 K1\n",
		before + "G43 H1 Z1\nG49 G0 Z2\nG28 X0\nG53 G0 Z0\nG55 X1\nG54\nG92 X1\nG92.1\nG41 D1 G1 X1\nG2 X2 I1\nG40\n",
		"%\nO1\n" + before + "G1 X1\nG93 G1 X1 F2\nT1 M6\n%\n", "o<a> sub\n#<_x>=[1+SIN[2]] G1 X#1\n",
	} {
		f.Add([]byte(s), false, uint8(0))
	}
	f.Fuzz(func(t *testing.T, text []byte, ms bool, slots uint8) {
		got := bothWays(t, text, Options{DwellMilliseconds: ms, Slots: int(slots)})
		if most := 1 + bytes.Count(text, []byte("\n")) + bytes.Count(text, []byte("\r")); got.Lines > most {
			t.Fatalf("%d lines of %d", got.Lines, most)
		}
		for _, n := range got.Notes {
			if n.Line < 1 || n.Line > max(got.Lines, 1) || n.Text() == "" || (n.Classes() != 0) != (n.ID() != "") {
				t.Fatalf("note %#v: %v", n, n)
			}
		}
		at, line := toolpath.Place{}, 0
		for _, s := range got.Trace.Steps {
			for i, v := range []measure.Length{at.X - s.From.X, at.Y - s.From.Y, at.Z - s.From.Z} {
				if s.From.Known[i] && (!at.Known[i] || v != 0) {
					t.Fatalf("line %d starts at %v, the step before ended at %v", s.Line, s.From, at)
				}
			}
			if at = s.To; s.Line < line || s.Feed < 0 || s.Speed < 0 || s.Time < 0 || s.Slack < 0 {
				t.Fatalf("step %+v", s)
			}
			line = s.Line
			for i, v := range []measure.Length{at.X, at.Y, at.Z} {
				if v.Abs() > measure.MaxLength || !at.Known[i] && v != 0 {
					t.Fatalf("step %+v", s)
				}
			}
		}
		_ = fmt.Sprint(got.Notes)
	})
}
