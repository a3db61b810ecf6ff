package read

import (
	"bytes"
	"flag"
	"fmt"
	"io"
	"os"
	"runtime"
	"strings"
	"testing"
	"time"

	"stopshort/toolpath"
)

// madeProgram streams a program of so many blocks, as a clearing of a field with
// arcs: 33 bytes a block, so that 4 million are 130 MB.
type madeProgram struct {
	left, k int
	buf     []byte
}

func newMadeProgram(blocks int) *madeProgram {
	return &madeProgram{left: blocks / 4, buf: []byte(before + "M3 S1200\n")}
}

func (m *madeProgram) Read(p []byte) (int, error) {
	for len(m.buf) == 0 {
		switch {
		case m.left > 0:
			m.left--
			m.k++
			x, y := m.k*37%200000, m.k*91%150000
			m.buf = fmt.Appendf(m.buf, "G1 X%d.%03d0 Y-%d.%03d0 Z-0.%d000 F150.0\nG2 X%d.%03d0 Y-%d.%03d0 I1.0000 J0.0000\n"+
				"G1 X%d.%03d0 Y-%d.%03d0 F150.0\nG3 X%d.%03d0 I-5.0000\n", x/1000, x%1000, y/1000, y%1000, m.k%7,
				x/1000+2, x%1000, y/1000, y%1000, x/1000+10, x%1000, y/1000, y%1000, x/1000, x%1000)
		case m.left == 0:
			m.left--
			m.buf = append(m.buf, "G0 Z5.\nM5\nM2\n"...)
		default:
			return 0, io.EOF
		}
	}
	n := copy(p, m.buf)
	m.buf = m.buf[:copy(m.buf, m.buf[n:])]
	return n, nil
}

var (
	made   = flag.String("made", "", "file to write the made program to")
	blocks = flag.Int("blocks", 1_000_000, "how many blocks it has")
)

// TestMadeProgram: the made program is plain, and as large as it was promised. With
// -made it writes it, for what a shell can measure.
func TestMadeProgram(t *testing.T) {
	size, err := io.Copy(io.Discard, newMadeProgram(100_000))
	if err != nil || size < 32*100_000 || size > 34*100_000 {
		t.Errorf("%d bytes for 100000 blocks: %v", size, err)
	}
	if *made == "" {
		return
	}
	f, err := os.Create(*made)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := io.Copy(f, newMadeProgram(*blocks)); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
}

// countWords is what a word count does: runs of bytes that are no blanks.
func countWords(r io.Reader, buf []byte) (words int, err error) {
	in := false
	for {
		n, err := r.Read(buf)
		for _, c := range buf[:n] {
			switch c {
			case ' ', '\n', '\t', '\v', '\f', '\r':
				in = false
			default:
				if !in {
					words++
				}
				in = true
			}
		}
		if err == io.EOF {
			return words, nil
		}
		if err != nil {
			return 0, err
		}
	}
}

// BenchmarkEach streams a program and tells, beside the time, how many times as
// long that takes as counting its words in Go.
func BenchmarkEach(b *testing.B) {
	text, err := io.ReadAll(newMadeProgram(1_000_000))
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	var reading, counting time.Duration
	buf := make([]byte, bufferSize)
	for b.Loop() {
		start := time.Now()
		steps := 0
		end, err := Each(bytes.NewReader(text), Options{}, func(*toolpath.Step) error { steps++; return nil },
			func(n Note) {
				if !n.Proved() || n.Classes()&(R|A) != 0 {
					b.Fatal(n)
				}
			})
		if err != nil || !end.Ended || steps != 1_000_002 {
			b.Fatal(steps, end, err)
		}
		read := time.Now()
		if words, err := countWords(bytes.NewReader(text), buf); err != nil || words < steps {
			b.Fatal(words, err)
		}
		reading += read.Sub(start)
		counting += time.Since(read)
	}
	b.ReportMetric(float64(reading)/float64(counting), "x-word-count")
}

// No block allocates: a program ten times as long takes no more memory.
func TestConstantMemory(t *testing.T) {
	taken := func(blocks int) uint64 {
		var before, after runtime.MemStats
		r := newMadeProgram(blocks)
		discard := func(Note) {}
		runtime.ReadMemStats(&before)
		if _, err := Each(r, Options{}, func(*toolpath.Step) error { return nil }, discard); err != nil {
			t.Fatal(err)
		}
		runtime.ReadMemStats(&after)
		return after.TotalAlloc - before.TotalAlloc
	}
	made := func(blocks int) uint64 { // what the text itself takes
		var before, after runtime.MemStats
		r := newMadeProgram(blocks)
		runtime.ReadMemStats(&before)
		if _, err := countWords(r, make([]byte, bufferSize)); err != nil {
			t.Fatal(err)
		}
		runtime.ReadMemStats(&after)
		return after.TotalAlloc - before.TotalAlloc
	}
	short, long := int64(taken(10_000))-int64(made(10_000)), int64(taken(100_000))-int64(made(100_000))
	if long > short+100_000 || long > 2*bufferSize {
		t.Errorf("%d bytes for 10000 blocks, %d for 100000", short, long)
	}
}

// What is said of lines allocates nothing either: comments, cycles, arcs by their
// radius, refusals of all kinds, ten times as often.
func TestNoAllocationForALine(t *testing.T) {
	const lines = "(A COMMENT) N1 G1 X1. ; cut\nG99 G81 X1. Z-1. R1. L2\nG83 X2. Z-1. R1. Q.3\nG80\nG18 G2 X2. Z5. R9.\nG17\n" +
		"G1 X[1+#2]\nG91.1 G41 D1\nG40 G0 X0 Y0 Z5\nG2 X2. Y0. I1.003\nG1 X1. X2.\nM3 M5\nG43 H1 Z5.\nG49\nG28 Z5.\nG0 X0 Y0 Z5.\n/G1 X1.\n" +
		"G0 X0 Y0 Z5.00000000001\nO1 sub\nT1 M6\nG4 P1\nG55\nG54\nG20\nG21\n\xff\nG1 X1 H3 A2\n"
	taken := func(times int) float64 {
		text := strings.NewReader(before + strings.Repeat(lines, times) + "M2\n")
		return testing.AllocsPerRun(3, func() {
			text.Seek(0, io.SeekStart)
			if _, err := Each(text, Options{}, func(*toolpath.Step) error { return nil }, func(Note) {}); err != nil {
				t.Fatal(err)
			}
		})
	}
	if few, many := taken(20), taken(200); many > few+1 {
		t.Errorf("%v allocations, and for ten times as many lines %v", few, many)
	}
}
