package read

import (
	"bufio"
	"bytes"
	"fmt"
	"testing"
	"time"

	"stopshort/toolpath"
)

// longText is about n lines of moves.
func longText(n int) []byte {
	var b bytes.Buffer
	b.WriteString(before)
	for i := 0; i < n; i += 4 {
		x := i % 1000
		fmt.Fprintf(&b, "G1 X%d.2500 Y-%d.1250 F150.0\nG1 Z-%d.0500\n", x, x/2, x%7)
		fmt.Fprintf(&b, "G2 X%d.2500 Y-%d.1250 I1.0000 J0.0000\nG0 Z5.0000\n", x+2, x/2)
	}
	b.WriteString("M2\n")
	return b.Bytes()
}

// BenchmarkRead streams a text and tells, beside the time, how many times as
// long that is as counting its lines.
func BenchmarkRead(b *testing.B) {
	text := longText(100_000)
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	var reading, counting time.Duration
	for b.Loop() {
		start := time.Now()
		steps := 0
		err := Each(bytes.NewReader(text), Options{}, func(toolpath.Step) error { steps++; return nil })
		if err != nil || steps < 100_000 {
			b.Fatal(steps, err)
		}
		read := time.Now()
		lines := 0
		for s := bufio.NewScanner(bytes.NewReader(text)); s.Scan(); lines++ {
		}
		if lines < steps {
			b.Fatal(lines)
		}
		reading += read.Sub(start)
		counting += time.Since(read)
	}
	b.ReportMetric(float64(reading)/float64(counting), "x-line-count")
}
