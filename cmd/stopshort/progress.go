package main

import (
	"fmt"
	"io"
	"os"
	"time"
)

// progress tells on a terminal how far a long read has come. It says nothing in
// the first second, nor where nobody looks.
type progress struct {
	io.Reader
	size, read int64
	to         *os.File // the terminal, or nil
	next       time.Time
	said       bool
}

// newProgress reads on from in, of so many bytes; nought is not known.
func newProgress(in io.Reader, size int64, errs io.Writer) *progress {
	p := &progress{Reader: in, size: size, next: time.Now().Add(time.Second)}
	if e, ok := errs.(plain); ok {
		if f, ok := e.to.(*os.File); ok {
			if info, err := f.Stat(); err == nil && info.Mode()&os.ModeCharDevice != 0 {
				p.to = f
			}
		}
	}
	return p
}

func (p *progress) Read(b []byte) (int, error) {
	n, err := p.Reader.Read(b)
	p.read += int64(n)
	if p.to != nil && p.read&(1<<20-1) < int64(n) && time.Now().After(p.next) {
		p.next = time.Now().Add(200 * time.Millisecond)
		p.said = true
		if p.size > 0 {
			fmt.Fprintf(p.to, "\rread %d of %d MB ", p.read/1e6, (p.size+999999)/1e6)
		} else {
			fmt.Fprintf(p.to, "\rread %d MB ", p.read/1e6)
		}
	}
	return n, err
}

// done takes away what was said.
func (p *progress) done() {
	if p.said {
		fmt.Fprint(p.to, "\r                              \r")
	}
}
