package form

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func TestLoad(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "job.toml")
	if err := os.WriteFile(path, []byte("material = \"bronze\"\nbad = 1"), 0o644); err != nil {
		t.Fatal(err)
	}
	_, err := Load(path, shop())
	if want := path + ":2: bad: unknown key"; err == nil || !strings.HasPrefix(err.Error(), want) {
		t.Errorf("got %v, want %s", err, want)
	}
	if err := os.WriteFile(path, []byte("material = \"bronze\""), 0o644); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(dir, "link.toml")
	if err := os.Symlink(path, link); err != nil {
		t.Skip(err)
	}
	n, err := Load(link, shop())
	if err != nil || n.Text("material") != "bronze" || n.Pos().File != link {
		t.Errorf("by a link: %v", err)
	}
}

func TestFilesThatCannotBeRead(t *testing.T) {
	dir := t.TempDir()
	large := filepath.Join(dir, "large.toml")
	f, err := os.Create(large)
	if err != nil {
		t.Fatal(err)
	}
	if err := f.Truncate(200 << 20); err != nil { // takes no room on the disk
		t.Fatal(err)
	}
	f.Close()
	just := filepath.Join(dir, "just.toml")
	text := "material = \"bronze\" #" + strings.Repeat("x", MaxBytes-21)
	if err := os.WriteFile(just, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{
		large:                           ": the file is larger than 1 MiB: write it shorter, or name another file",
		dir:                             ": it is a folder: name a file in it",
		filepath.Join(dir, "no.toml"):   ": there is no such file: check the name and the folder",
		filepath.Join(just, "job.toml"): ": the file cannot be read (not a directory): check the name",
		filepath.Join(dir, "-"):         ": there is no such file: check the name and the folder",
		filepath.Join(dir, "\x00"):      "invalid argument",
		"/dev/zero":                     ": it is a device or a pipe: name a plain file",
		"":                              `"": no file is named: write the file's name`,
	} {
		start := time.Now()
		_, err := Load(path, shop())
		var faults Faults
		if err == nil || !errors.As(err, &faults) || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v, want %s", path, err, want)
		}
		if took := time.Since(start); took > time.Minute {
			t.Errorf("%q takes %s", path, took)
		}
	}
	if _, err := Load(just, shop()); err != nil {
		t.Errorf("a file of just 1 MiB: %s", err)
	}
}
