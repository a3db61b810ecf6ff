package read

import (
	"bytes"
	"fmt"
	"io"
	"runtime"
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
				"G1 X%d.%03d0 Y-%d.%03d0\nG3 X%d.%03d0 I-5.0000\n", x/1000, x%1000, y/1000, y%1000, m.k%7,
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
