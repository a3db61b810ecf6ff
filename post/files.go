package post

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
)

// Target is where programs go.
type Target struct {
	Path   string
	Folder bool
}

// Where says what -o means: a folder where one of that name is there, where the
// name ends in a slash or where there are several programs; else a file.
func Where(out string, programs int) (Target, error) {
	if strings.TrimSpace(out) == "" {
		return Target{}, fmt.Errorf("-o is empty: name a file or a folder")
	}
	slash := strings.HasSuffix(out, "/") || strings.HasSuffix(out, string(filepath.Separator))
	info, err := os.Stat(out)
	switch {
	case err == nil && info.IsDir():
		return Target{out, true}, nil
	case err == nil && slash:
		return Target{}, fmt.Errorf("%s is a file, not a folder: name another", strings.TrimRight(out, "/"))
	case err == nil && !info.Mode().IsRegular():
		return Target{}, fmt.Errorf("%s is no ordinary file: name a file or a folder", out)
	case err == nil && programs > 1:
		return Target{}, fmt.Errorf("%s is a file, and there are %d programs: name a folder", out, programs)
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return Target{}, fmt.Errorf("%s cannot be written: %s", out, reason(err))
	case slash || programs > 1:
		return Target{out, true}, nil
	}
	return Target{out, false}, nil
}

// Commit writes the programs: each whole into a temporary file beside its
// target, and only when all are there and flushed does each take its name. So
// each file is whole, old or new, whatever fails. It gives the names written.
func Commit(programs []*Proven, t Target) (names []string, err error) {
	if t.Folder {
		// Only the last element is made: a missing parent is a slip of the pen.
		if err := os.Mkdir(t.Path, 0o777); err != nil && !errors.Is(err, fs.ErrExist) {
			return nil, fmt.Errorf("the folder %s cannot be made: %s", t.Path, reason(err))
		}
	}
	var temporary []string
	defer func() {
		for _, name := range temporary {
			os.Remove(name) // gone already where it was renamed
		}
	}()
	for _, p := range programs {
		name := t.Path
		if t.Folder {
			name = filepath.Join(t.Path, p.Name)
		}
		name, err := followed(name)
		if err != nil {
			return nil, err
		}
		tmp, err := beside(name, p.Text)
		if tmp != "" {
			temporary = append(temporary, tmp)
		}
		if err != nil {
			return nil, fmt.Errorf("%s cannot be written: %s", name, reason(err))
		}
		names = append(names, name)
	}
	for i, name := range names {
		if err := os.Rename(temporary[i], name); err != nil {
			return names[:i], fmt.Errorf("%s cannot be written: %s", name, reason(err))
		}
	}
	return names, nil
}

// followed is the file behind a link, so that the link stays one. A name that
// is a folder, a device or a pipe is refused.
func followed(name string) (string, error) {
	real, err := filepath.EvalSymlinks(name)
	if errors.Is(err, fs.ErrNotExist) {
		if info, err := os.Lstat(name); err == nil && info.Mode()&fs.ModeSymlink != 0 {
			return "", fmt.Errorf("%s is a link to nothing: mend or remove it", name)
		}
		return name, nil
	}
	if err != nil {
		return "", err
	}
	info, err := os.Stat(real)
	if err != nil {
		return "", err
	}
	if !info.Mode().IsRegular() {
		return "", fmt.Errorf("%s is no ordinary file: name another, or remove it", name)
	}
	return real, nil
}

// beside writes a temporary file in the target's folder, with the rights of the
// file it will replace, and waits until it is on the disk. It gives the name
// even with an error, so that it can be removed.
func beside(name string, text []byte) (string, error) {
	f, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+".*")
	if err != nil {
		return "", err
	}
	mode := fs.FileMode(0o644)
	if info, err := os.Stat(name); err == nil {
		mode = info.Mode().Perm()
	}
	_, err = f.Write(text)
	err = errors.Join(err, f.Chmod(mode), f.Sync(), f.Close())
	return f.Name(), err
}

// reason is why a file could not be made, without the system's own names of
// calls and temporary files.
func reason(err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "the folder it stands in does not exist: make that first"
	case errors.Is(err, fs.ErrPermission):
		return "it may not be written: choose another place"
	case errors.Is(err, syscall.ENOTDIR):
		return "a part of its path is a file, not a folder"
	case errors.Is(err, syscall.ENOSPC):
		return "the disk is full"
	}
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err.Error()
	}
	return err.Error()
}
