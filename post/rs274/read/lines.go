package read

import (
	"bytes"
	"io"
)

// bufferSize is what is read ahead: the one buffer. A line must fit in it.
const bufferSize = 1 << 17

// lines cuts a stream into lines in one fixed buffer. A line ends with LF, CR or
// CR LF.
type lines struct {
	r      io.Reader
	lo, hi int // what is in the buffer and was not given yet
	safe   int // behind the last LF of it
	eof    bool
	skip   bool // the rest of a line that was too long is being dropped
	buf    [bufferSize]byte
}

// whole is the lines in the buffer that are whole by their LF.
func (l *lines) whole() []byte {
	if l.safe <= l.lo {
		return nil
	}
	return l.buf[l.lo:l.safe]
}

// line is what next gives.
type line struct {
	text  []byte // without its end
	raw   int    // its length with its end
	ended bool   // it has an end
	cut   bool   // it is longer than the buffer; the text is its head
}

// next gives the next line. It is good until the next call. The error is io.EOF
// after the last line, or what the stream gave.
func (l *lines) next() (line, error) {
	from := 0 // where no end was found yet
	for {
		window := l.buf[l.lo:l.hi]
		end := bytes.IndexByte(window[from:], '\n')
		text := window[from:]
		if end >= 0 {
			text = text[:end]
			end += from
		}
		raw := end + 1
		if cr := bytes.IndexByte(text, '\r'); cr >= 0 {
			end = from + cr
			raw = end + 1
			if raw < len(window) && window[raw] == '\n' {
				raw++
			} else if raw == len(window) && !l.eof { // an LF may follow
				end = -1
				text = text[:cr]
			}
		}
		switch {
		case end >= 0:
			l.lo += raw
			if l.skip {
				l.skip, from = false, 0
				continue
			}
			return line{text: window[:end], raw: raw, ended: true}, nil
		case len(window) == bufferSize:
			l.lo = l.hi
			if window[len(window)-1] == '\r' { // its LF may follow
				l.lo--
			}
			if l.skip {
				from = 0
				break
			}
			l.skip = true
			return line{text: window[:255], raw: len(window), cut: true}, nil
		case l.eof && (len(window) == 0 || l.skip):
			return line{}, io.EOF
		case l.eof:
			l.lo = l.hi
			return line{text: window, raw: len(window)}, nil
		default:
			from = len(text) + from
			if from > 0 && from == len(window) && window[from-1] == '\r' {
				from--
			}
		}
		if err := l.fill(); err != nil {
			return line{}, err
		}
	}
}

// fill reads on behind what is left.
func (l *lines) fill() error {
	l.hi = copy(l.buf[:], l.buf[l.lo:l.hi])
	l.lo = 0
	for range 100 {
		n, err := l.r.Read(l.buf[l.hi:])
		if n < 0 || n > len(l.buf)-l.hi {
			return io.ErrNoProgress // not a reader by the rules
		}
		l.hi += n
		if n > 0 || err != nil {
			l.safe = 1 + bytes.LastIndexByte(l.buf[:l.hi], '\n')
		}
		if err == io.EOF {
			l.eof = true
			return nil
		}
		if err != nil {
			return err
		}
		if n > 0 {
			return nil
		}
	}
	return io.ErrNoProgress
}
