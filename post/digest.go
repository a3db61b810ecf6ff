package post

import (
	"io"
	"os"
	"path/filepath"
	"regexp"
)

// HeadSize is how many bytes of a file its head may take.
const HeadSize = 64 << 10

var digestLine = regexp.MustCompile(`(?m)^(?:N[0-9]+ )?[(;] ?JOB ([0-9]{12})(?: FROM ([0-9]{12}))?\)?\r?$`)

// DigestIn is the digest of the job and the machine that a program of ours was made for,
// as its head, [HeadSize] bytes at the most, tells it; empty where it tells none. Of one
// that was worked out from a reading measured is another, with that reading.
func DigestIn(head []byte) (plan, measured string) {
	switch m := digestLine.FindSubmatch(head); {
	case m == nil:
		return "", ""
	case len(m[2]) > 0:
		return string(m[2]), string(m[1])
	default:
		return string(m[1]), ""
	}
}

// Leftover is a program in a folder of programs that does not belong to those that were
// written: Digest is of another plan, or it goes by a reading of an earlier part.
type Leftover struct {
	Name, Digest string
	Read         bool // it is of this plan, and goes by what was read on an earlier part
}

// Leftovers finds the programs of a job in a folder that are of another plan than digest:
// of another state of the job, of another machine, or of a run that was cut short. With
// fresh, the programs that were written begin a part, so that one that goes by a
// reading is of an earlier part. What cannot be read is passed over.
func Leftovers(folder, stem, digest string, fresh bool) (out []Leftover) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil
	}
	name := regexp.MustCompile(`^` + regexp.QuoteMeta(stem) + `-\d\d+-\d\d+-\d\d+(-[a-z]+)*\.ngc$`)
	for _, e := range entries {
		if !name.MatchString(e.Name()) {
			continue
		}
		full := filepath.Join(folder, e.Name())
		if info, err := os.Stat(full); err != nil || !info.Mode().IsRegular() {
			continue
		}
		f, err := os.Open(full)
		if err != nil {
			continue
		}
		head, _ := io.ReadAll(io.LimitReader(f, HeadSize))
		f.Close()
		switch d, measured := DigestIn(head); {
		case d != "" && d != digest:
			out = append(out, Leftover{Name: full, Digest: d})
		case d != "" && fresh && measured != "":
			out = append(out, Leftover{Name: full, Digest: d, Read: true})
		}
	}
	return out
}
