package read

import (
	"bytes"
	"io"
)

const (
	// tooLong is the least raw length of a line, its end counted, that is
	// refused: the source of the reference interpreter has a buffer of 256.
	tooLong = 255
	// bufferSize is what is read ahead. It holds many lines.
	bufferSize = 1 << 16
)

// lines cuts a stream into lines in one fixed buffer. A line ends with LF, CR or
// CR LF.
type lines struct {
	r      io.Reader
	lo, hi int // what is in the buffer and was not given yet
	eof    bool
	buf    [bufferSize]byte
}

// next gives the next line without its end; ended is false where the stream
// stops within it. The line is good until the next call. The error is io.EOF
// after the last line, an *Error for a line that is too long, or what the stream
// gave.
func (l *lines) next() (line []byte, ended bool, err error) {
	for {
		window := l.buf[l.lo:min(l.hi, l.lo+tooLong+1)]
		end := bytes.IndexByte(window, '\n')
		text := window
		if end >= 0 {
			text = window[:end]
		}
		size := end + 1 // with the line's end
		if cr := bytes.IndexByte(text, '\r'); cr >= 0 {
			end, size = cr, cr+1
			switch {
			case cr+1 < len(window):
				if window[cr+1] == '\n' {
					size++
				}
			case !l.eof && len(window) <= tooLong: // an LF may follow
				end = -1
			}
		}
		switch {
		case end >= 0 && size < tooLong:
			l.lo += size
			return window[:end], true, nil
		case end >= 0 || len(window) >= tooLong:
			return nil, false, fault(LineTooLong, "the line is too long: %d characters are the most, its end counted", tooLong-1)
		case l.eof && len(window) == 0:
			return nil, false, io.EOF
		case l.eof:
			l.lo = l.hi
			return window, false, nil
		}
		if err := l.fill(); err != nil {
			return nil, false, err
		}
	}
}

// fill reads on behind what is left, which is less than a line.
func (l *lines) fill() error {
	l.hi = copy(l.buf[:], l.buf[l.lo:l.hi])
	l.lo = 0
	for range 100 {
		n, err := l.r.Read(l.buf[l.hi:])
		if n < 0 || n > len(l.buf)-l.hi {
			return io.ErrNoProgress // not a reader by the rules
		}
		l.hi += n
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
