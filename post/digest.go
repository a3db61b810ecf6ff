package post

import (
	"io"
	"os"
	"path/filepath"
	"regexp"
)

// HeadSize is how many bytes of a file its head may take.
const HeadSize = 64 << 10

var digestLine = regexp.MustCompile(`(?m)^(?:N[0-9]+ )?[(;] ?JOB ([0-9]{12})\)?\r?$`)

// DigestIn is the digest of the job that a program of ours was made from, as its head,
// [HeadSize] bytes at the most, tells it; empty where it tells none.
func DigestIn(head []byte) string {
	if m := digestLine.FindSubmatch(head); m != nil {
		return string(m[1])
	}
	return ""
}

// Leftover is a program in a folder of programs that is of another state of the job.
type Leftover struct{ Name, Digest string }

// Leftovers finds the programs of a job in a folder that are of another state of the
// job than digest: those of an earlier one that had more programs, or of a run that
// was cut short. What cannot be read is passed over.
func Leftovers(folder, stem, digest string) (out []Leftover) {
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
		if d := DigestIn(head); d != "" && d != digest {
			out = append(out, Leftover{full, d})
		}
	}
	return out
}
