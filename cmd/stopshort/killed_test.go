package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// binary is this very binary under the command's name: TestMain then runs the command.
func binary(t *testing.T) string {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "stopshort")
	if err := os.Symlink(self, name); err != nil {
		t.Skipf("no link to this binary can be made: %v", err)
	}
	return name
}

// manyJob is a job of many programs: a long block with a slot in each set-up.
func manyJob(t *testing.T, title string, setups int) string {
	t.Helper()
	var b strings.Builder
	fmt.Fprintf(&b, `title    = %q
units    = "mm"
material = "bronze"
machine  = "stepper-mill-mm"
stock    = { low = [-20, 0, -30], size = [40, %d, 30] }
[[tool]]
number       = 3
kind         = "slot drill"
diameter     = 4
flute_length = 10
stick_out    = 16
holder       = 20
`, title, 20*setups)
	for i := range setups {
		fmt.Fprintf(&b, `[[setup]]
name     = "number %d"
zero     = [0, %d, 0]
touch_at = [15, 6]
[[setup.cut]]
recipe   = "slot"
tool     = 3
from     = [-20, 0]
to       = [20, 0]
ends     = "open"
width    = 5
depth    = 2
`, i+1, 20*i+10)
	}
	name := filepath.Join(t.TempDir(), "many.toml")
	if err := os.WriteFile(name, []byte(b.String()), 0o666); err != nil {
		t.Fatal(err)
	}
	return name
}

// programsIn is the programs of a folder, by name; temporary files are not among them.
func programsIn(t *testing.T, dir string) map[string]string {
	t.Helper()
	es, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, e := range es {
		if strings.HasPrefix(e.Name(), ".") {
			continue
		}
		text, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		out[e.Name()] = string(text)
	}
	return out
}

// A process that is killed while it writes leaves each file whole, old or new; the next
// run puts all right and needs nothing.
func TestKilledWhileWriting(t *testing.T) {
	const setups = 40
	bin := binary(t)
	oldJob, newJob := manyJob(t, "Old plan", setups), manyJob(t, "New plan", setups)
	write := func(job, dir string) *exec.Cmd { return exec.Command(bin, "gcode", job, "-o", dir) }
	whole := func(job string) (map[string]string, time.Duration) {
		dir, start := t.TempDir(), time.Now()
		if out, err := write(job, dir).CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		return programsIn(t, dir), time.Since(start)
	}
	was, _ := whole(oldJob)
	now, takes := whole(newJob)
	if len(was) != setups || len(now) != setups {
		t.Fatalf("%d and %d programs, want %d", len(was), len(now), setups)
	}
	kills := 10
	if testing.Short() {
		kills = 6
	}
	killed, mixed, tried := 0, 0, 0
	// A kill between two files is the case that matters: on a slow machine go on till one
	// comes.
	for k := 0; k < kills || mixed == 0 && k < 6*kills; k++ {
		tried++
		dir := t.TempDir()
		for name, text := range was {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		c := write(newJob, dir)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		ended := make(chan error, 1)
		go func() { ended <- c.Wait() }()
		over := func() bool { return len(ended) > 0 }
		// A third of the kills at any time, a third as soon as so many temporary files are
		// there, a third as soon as the first program has taken its name.
		mode := k % 3
		if k >= kills {
			mode = 2
		}
		switch mode {
		case 0:
			time.Sleep(takes * time.Duration(k) / time.Duration(kills))
		case 1:
			for entries := 0; entries < setups+1+k%setups && !over(); {
				es, err := os.ReadDir(dir)
				if err != nil {
					t.Fatal(err)
				}
				entries = len(es)
			}
		default:
			first := filepath.Join(dir, "many-01-01-03.ngc")
			old, err := os.Stat(first)
			if err != nil {
				t.Fatal(err)
			}
			for !over() {
				if is, err := os.Stat(first); err != nil || !os.SameFile(old, is) {
					break
				}
			}
		}
		c.Process.Kill()
		err := <-ended
		if s, ok := c.ProcessState.Sys().(syscall.WaitStatus); ok && s.Signaled() {
			killed++
		} else if err != nil {
			t.Fatalf("it failed by itself: %v", err)
		}
		left := programsIn(t, dir)
		fresh := 0
		for name := range was {
			switch left[name] {
			case was[name]:
			case now[name]:
				fresh++
			default:
				t.Errorf("kill %d: %s is neither the old program nor the new one: %d bytes", k, name, len(left[name]))
			}
		}
		if len(left) != setups {
			t.Errorf("kill %d: %d programs are left", k, len(left))
		}
		if fresh > 0 && fresh < setups {
			mixed++
		}
		if out, err := write(newJob, dir).CombinedOutput(); err != nil {
			t.Fatalf("kill %d: the next run: %v: %s", k, err, out)
		}
		for name, text := range programsIn(t, dir) {
			if text != now[name] {
				t.Errorf("kill %d: after the next run %s is not the new program", k, name)
			}
		}
	}
	t.Logf("%d of %d were killed before their end, %d of them between two of its files", killed, tried, mixed)
	if killed < tried/3 || mixed == 0 {
		t.Errorf("only %d of %d were killed in time, %d between two files: the test says too little", killed, tried, mixed)
	}
}

// A disk that is full, of any size from nothing to just too small, is told, is exit
// status 2, and leaves every old file whole and nothing else.
func TestDiskFull(t *testing.T) {
	bin := binary(t)
	const setups = 4
	oldJob, newJob := manyJob(t, "Old plan", setups), manyJob(t, "New plan, of a longer name", setups)
	first := t.TempDir()
	if out, err := exec.Command(bin, "gcode", oldJob, "-o", first).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	was := programsIn(t, first)
	disk := t.TempDir()
	// The old programs take a page each; the new ones need as much again.
	pages := 0
	for _, text := range was {
		pages += (len(text) + 4095) / 4096
	}
	tried := 0
	for spare := range pages + 1 { // pages that are left for the new ones
		size := fmt.Sprintf("size=%dk", 4*(pages+spare+1))
		if out, err := exec.Command("mount", "-t", "tmpfs", "-o", size, "tmpfs", disk).CombinedOutput(); err != nil {
			t.Skipf("no small disk can be mounted here: %v: %s", err, out)
		}
		func() {
			defer func() {
				if out, err := exec.Command("umount", disk).CombinedOutput(); err != nil {
					t.Errorf("%v: %s", err, out)
				}
			}()
			for name, text := range was {
				if err := os.WriteFile(filepath.Join(disk, name), []byte(text), 0o666); err != nil {
					t.Fatalf("the old programs do not fit: %v", err)
				}
			}
			var out, errs bytes.Buffer
			status := run([]string{"gcode", newJob, "-o", disk}, &out, &errs)
			es, err := os.ReadDir(disk)
			if err != nil {
				t.Fatal(err)
			}
			if len(es) != setups {
				t.Errorf("%d pages to spare: %d files are left, want the %d programs", spare, len(es), setups)
			}
			if status == exitDone {
				return
			}
			tried++
			if status != exitInput || !strings.Contains(errs.String(), "the disk is full") || out.Len() > 0 {
				t.Errorf("%d pages to spare: status %d, %s%s", spare, status, out.String(), errs.String())
			}
			for name, text := range programsIn(t, disk) {
				if text != was[name] {
					t.Errorf("%d pages to spare: %s is not the old program any more", spare, name)
				}
			}
		}()
	}
	if tried < 2 {
		t.Errorf("only %d disks were too small", tried)
	}
}

// The same bytes whatever the locale, the time zone, the processors and the collector.
func TestSameBytesAnywhere(t *testing.T) {
	bin := binary(t)
	jobs := []string{"../../testdata/jobs/foot.toml", "../../testdata/jobs/link.toml"}
	if !testing.Short() {
		jobs = append(jobs, "../../testdata/jobs/collar.toml") // of many arcs
	}
	outputs := func(env ...string) map[string]string {
		all := map[string]string{}
		for _, job := range jobs {
			dir := t.TempDir()
			for _, args := range [][]string{{"gcode", job, "-o", dir}, {"check", job},
				{"handwheel", job, "--machine", "dial-mill-inch"}} {
				c := exec.Command(bin, args...)
				c.Env = append(os.Environ(), env...)
				out, _ := c.CombinedOutput() // a machine may not do for a job: that is said alike
				all[strings.Join(args[:2], " ")+strings.Join(args[2:], " ")] = strings.ReplaceAll(string(out), dir, "DIR")
				delete(all, "gcode "+job+"-o "+dir)
			}
			for name, text := range programsIn(t, dir) {
				all[name] = text
			}
		}
		return all
	}
	want := outputs("LC_ALL=C")
	if len(want) < 12 {
		t.Fatalf("only %d outputs", len(want))
	}
	for _, env := range [][]string{
		{"LC_ALL=de_DE.UTF-8", "LANG=de_DE.UTF-8", "LC_NUMERIC=de_DE.UTF-8", "TZ=Asia/Kolkata"},
		{"LC_ALL=tr_TR.UTF-8", "LANGUAGE=tr", "GOMAXPROCS=1", "GOGC=off", "COLUMNS=20", "NO_COLOR=1", "TERM=dumb"},
	} {
		for name, text := range outputs(env...) {
			if text != want[name] {
				t.Errorf("%v: %s differs", env, name)
			}
		}
	}
}
