package post

import (
	"os"
	"path/filepath"
	"testing"
)

func put(t *testing.T, name, text string) {
	t.Helper()
	if err := os.WriteFile(name, []byte(text), 0o640); err != nil {
		t.Fatal(err)
	}
}

func wantFile(t *testing.T, name, text string) {
	t.Helper()
	got, err := os.ReadFile(name)
	if err != nil || string(got) != text {
		t.Errorf("%s holds %q (%v), want %q", name, got, err, text)
	}
}

// wantNames asks for exactly these names in a folder: no temporary file is left.
func wantNames(t *testing.T, folder string, names ...string) {
	t.Helper()
	es, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range es {
		got = append(got, e.Name())
	}
	if len(got) != len(names) {
		t.Errorf("%s holds %q, want %q", folder, got, names)
		return
	}
	for i := range got {
		if got[i] != names[i] {
			t.Errorf("%s holds %q, want %q", folder, got, names)
		}
	}
}

func two() []*Proven {
	return []*Proven{{Name: "a.ngc", Text: []byte("new a\n")}, {Name: "b.ngc", Text: []byte("new b\n")}}
}

func TestCommitMakesTheFolder(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	if _, err := Commit(two(), Target{dir, true}); err != nil {
		t.Fatal(err)
	}
	wantFile(t, filepath.Join(dir, "a.ngc"), "new a\n")
	wantFile(t, filepath.Join(dir, "b.ngc"), "new b\n")
	wantNames(t, dir, "a.ngc", "b.ngc")
}

func TestCommitDoesNotMakeParents(t *testing.T) {
	dir := t.TempDir()
	if _, err := Commit(two(), Target{filepath.Join(dir, "no", "out"), true}); err == nil {
		t.Error("a missing parent was made")
	}
	wantNames(t, dir)
}

// Where the second file cannot be written the first keeps its old text.
func TestCommitAllOrNothing(t *testing.T) {
	dir := t.TempDir()
	put(t, filepath.Join(dir, "a.ngc"), "old a\n")
	if err := os.Mkdir(filepath.Join(dir, "b.ngc"), 0o755); err != nil {
		t.Fatal(err)
	}
	if _, err := Commit(two(), Target{dir, true}); err == nil {
		t.Error("a folder was taken for a file")
	}
	wantFile(t, filepath.Join(dir, "a.ngc"), "old a\n")
	wantNames(t, dir, "a.ngc", "b.ngc")
}

func TestCommitKeepsRightsAndLinks(t *testing.T) {
	dir := t.TempDir()
	real, link := filepath.Join(dir, "real.ngc"), filepath.Join(dir, "z.ngc")
	put(t, real, "old\n")
	if err := os.Symlink("real.ngc", link); err != nil {
		t.Fatal(err)
	}
	if _, err := Commit(two()[:1], Target{link, false}); err != nil {
		t.Fatal(err)
	}
	wantFile(t, real, "new a\n")
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link is no link any more: %v, %v", info, err)
	}
	if info, _ := os.Stat(real); info.Mode().Perm() != 0o640 {
		t.Errorf("the file's rights became %v", info.Mode())
	}
	wantNames(t, dir, "real.ngc", "z.ngc")
}

func TestCommitRefusesWhatIsNoFile(t *testing.T) {
	dir := t.TempDir()
	if _, err := Commit(two()[:1], Target{"/dev/null", false}); err == nil {
		t.Error("a device was taken")
	}
	dangling := filepath.Join(dir, "dangling")
	if err := os.Symlink("nowhere", dangling); err != nil {
		t.Fatal(err)
	}
	if _, err := Commit(two()[:1], Target{dangling, false}); err == nil {
		t.Error("a link to nothing was taken")
	}
	wantNames(t, dir, "dangling")
}

func TestWhere(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "old.ngc")
	put(t, file, "old\n")
	for _, c := range []struct {
		out      string
		programs int
		folder   bool
		bad      bool
	}{
		{filepath.Join(dir, "new.ngc"), 1, false, false},
		{filepath.Join(dir, "new"), 2, true, false},
		{filepath.Join(dir, "new") + "/", 1, true, false},
		{dir, 1, true, false},
		{file, 1, false, false},
		{file, 2, false, true},
		{file + "/", 1, false, true},
		{"", 1, false, true},
		{"/dev/null", 1, false, true},
	} {
		got, err := Where(c.out, c.programs)
		if (err != nil) != c.bad || err == nil && got.Folder != c.folder {
			t.Errorf("%q for %d: %+v, %v", c.out, c.programs, got, err)
		}
	}
}
