package form

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"unicode/utf8"
)

// MaxBytes is the largest file that is read: 1 MiB.
const MaxBytes = 1 << 20

// ReadFile reads a file of at most [MaxBytes] and no more of a larger one. The
// error is [Faults]. Only a plain file, or a link to one, is read.
func ReadFile(path string) ([]byte, error) {
	refuse := func(format string, args ...any) ([]byte, error) {
		return nil, Faults{{Position{File: path}, fmt.Sprintf(format, args...)}}
	}
	if path == "" {
		return nil, Faults{{Position{File: `""`}, "no file is named: write the file's name"}}
	}
	// Asked before it is opened, since opening a pipe would wait for a writer.
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return refuse("%s", unread(err))
	case info.IsDir():
		return refuse(isFolder)
	case !info.Mode().IsRegular():
		return refuse("it is a device or a pipe: name a plain file")
	}
	f, err := os.Open(path)
	if err != nil {
		return refuse("%s", unread(err))
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, MaxBytes+1))
	if err != nil {
		return refuse("the file cannot be read (%s): check the disk", reason(err))
	}
	if len(data) > MaxBytes {
		return refuse("%s", tooLarge)
	}
	return data, nil
}

// Open opens a file that need not be a plain one, but is no folder. The error tells what
// to do.
func Open(path string) (*os.File, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("%s: %s", path, unread(err))
	}
	if info, err := f.Stat(); err == nil && info.IsDir() {
		f.Close()
		return nil, fmt.Errorf("%s: %s", path, isFolder)
	}
	return f, nil
}

const isFolder = "it is a folder: name a file in it"

// unread is why a file cannot be read, and what to do.
func unread(err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "there is no such file: check the name and the folder"
	case errors.Is(err, fs.ErrPermission):
		return "the file may not be read: change its permissions"
	}
	return fmt.Sprintf("the file cannot be read (%s): check the name", reason(err))
}

// reason is the system's own word for a fault, without the call and the path.
func reason(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		err = p.Err
	}
	return err.Error()
}

const tooLarge = "the file is larger than 1 MiB: write it shorter, or name another file"

// plainText refuses bytes that are no text for a TOML file, before anything
// else looks at them. The line is 0 for the file as a whole.
func plainText(data []byte) (line int, text string) {
	switch {
	case len(data) > MaxBytes:
		return 0, tooLarge
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")):
		return 1, "the file is UTF-16: save it as UTF-8"
	case bytes.HasPrefix(data, []byte("\xef\xbb\xbf")):
		return 1, "the file begins with a byte-order mark: save it as UTF-8 without one"
	}
	line = 1
	for i := 0; i < len(data); {
		c := data[i]
		switch {
		case c == '\n':
			line++
		case c == '\t':
		case c == '\r':
			if i+1 == len(data) || data[i+1] != '\n' {
				return line, "a carriage return stands alone: end each line with a line feed"
			}
		case c == 0:
			return line, "the line holds a NUL byte: save the file as UTF-8 text"
		case c < ' ' || c == 0x7f:
			return line, fmt.Sprintf("the line holds the control character %#02x: take it out", c)
		case c >= utf8.RuneSelf:
			r, n := utf8.DecodeRune(data[i:])
			if r == utf8.RuneError && n == 1 {
				return line, fmt.Sprintf("the line holds the byte %#02x, which is not UTF-8: save the file as UTF-8", c)
			}
			i += n
			continue
		}
		i++
	}
	return 0, ""
}
