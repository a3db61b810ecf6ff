package form

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"testing"
	"time"

	"golang.org/x/exp/slices"
)

// libraryOutline is every value that the library found as "path = value",
// sorted. It shares nothing with the cross-check.
func libraryOutline(x any, path string, to *[]string) {
	switch x := x.(type) {
	case map[string]any:
		*to = append(*to, path+" table")
		for name, v := range x {
			libraryOutline(v, path+"."+strconv.Quote(name), to)
		}
	case []map[string]any:
		*to = append(*to, path+" list")
		for i, v := range x {
			libraryOutline(v, fmt.Sprintf("%s[%d]", path, i+1), to)
		}
	case []any:
		*to = append(*to, path+" list")
		for i, v := range x {
			libraryOutline(v, fmt.Sprintf("%s[%d]", path, i+1), to)
		}
	case string:
		*to = append(*to, fmt.Sprintf("%s = %q", path, x))
	case time.Time:
		*to = append(*to, path+" date")
	default: // int64, float64, bool
		*to = append(*to, fmt.Sprintf("%s = %v", path, x))
	}
}

// treeOutline is the same of the scanner's tree.
func treeOutline(v *value, path string, to *[]string) {
	switch v.shape {
	case isTable:
		*to = append(*to, path+" table")
		for _, name := range v.names {
			treeOutline(v.get(name), path+"."+strconv.Quote(name), to)
		}
	case isTables, isList:
		*to = append(*to, path+" list")
		for i, item := range v.items {
			treeOutline(item, fmt.Sprintf("%s[%d]", path, i+1), to)
		}
	case isText:
		*to = append(*to, fmt.Sprintf("%s = %q", path, v.text))
	case isDate:
		*to = append(*to, path+" date")
	case isInteger:
		n, _ := strconv.ParseInt(v.raw, 0, 64)
		*to = append(*to, fmt.Sprintf("%s = %v", path, n))
	case isDecimal:
		n, _ := strconv.ParseFloat(strings.ReplaceAll(v.raw, "_", ""), 64)
		*to = append(*to, fmt.Sprintf("%s = %v", path, n))
	case isFlag:
		*to = append(*to, path+" = "+v.raw)
	}
}

func seeds(f *testing.F) {
	for _, text := range []string{
		whole, "", "a.b = 1\n[a.c]\n[[a.d]]\n[[a.d]]\n", "a = [[1, {b = 2}], []]",
		"\"a\\u00e9\".'b' = \"\"\"x\\\n  y\"\"\"\"\"", "a = '''\n'x'''''", "[a]\n[b.c]\n[b]\nd = 1979-05-27 07:32:00",
		"a = {b.c = 1, b.d = {e = 0x1f}}\r\n# c\r\n", "a = 1_0.5e-3\nb = [true, # x\n false,\n]",
		"[[a]]\nb.c = 1\n[[a.d]]\n[a.d.e]\n", "a=0.1\nA=0.2", "a = +0\nb = -0.0\nc = 1E5",
		"a = [{}, {b = []}]\n[c]\n", "units = \"in\"\nmaterial = \"x\"\nstock.spare = 1", "a = { b = 1,\n c = 2, }",
	} {
		f.Add(text)
	}
}

// Whenever the library takes a text, the scanner sees the same paths and
// values in it, or refuses it with a fault.
func FuzzScan(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, text string) {
		if _, bad := plainText([]byte(text)); bad != "" {
			return
		}
		root, err := scan(text)
		if err != nil {
			if e, ok := err.(*syntax); !ok || e.line < 1 || e.line > strings.Count(text, "\n")+1 || e.text == "" {
				t.Fatalf("%q: fault %#v", text, err)
			}
			return
		}
		m, err := decode(text)
		if err != nil {
			return
		}
		var ours, theirs []string
		treeOutline(root, "", &ours)
		libraryOutline(m, "", &theirs)
		slices.Sort(ours)
		slices.Sort(theirs)
		agree := strings.Join(ours, "\n") == strings.Join(theirs, "\n")
		if e := crossCheck(text, root); (e == nil) != agree {
			t.Fatalf("%q: the cross-check says %v of\n%q\n%q", text, e, ours, theirs)
		}
		if !agree {
			t.Fatalf("%q is not followed:\n%q\n%q", text, ours, theirs)
		}
	})
}

// Read gives a node or faults, never both and never a panic, and each fault is
// one printable line in the order of the file.
func FuzzRead(f *testing.F) {
	seeds(f)
	for _, text := range []string{
		"material = 1\nunits = 'inch'\n[[tool]]\nnumber = 0x1\n[[setup]]\nup = '+Z'\n[[setup.cut]]\nrecipe = 'slto'",
		"stock = { low = [1, '2 mm'], Low = 3 }\nscrew = { lead = '8 TPI', lines = 1e3, places = [3.0, '4'] }",
		"material = ''\n[[setup.cut]]\nrecipe = 'slot'\nwidth = '1/128 in'\nangle = '91 deg'\ndwell = '2 s'",
	} {
		f.Add(text)
	}
	root := shop()
	f.Fuzz(func(t *testing.T, text string) {
		n, err := Read("job.toml", []byte(text), root)
		if (n == nil) == (err == nil) {
			t.Fatalf("%q: %v and %v", text, n, err)
		}
		if err == nil {
			if n.Text("material") == "" && !n.Has("material") {
				t.Fatalf("%q: a required key is missing", text)
			}
			return
		}
		var faults Faults
		if !errors.As(err, &faults) {
			t.Fatalf("%q: %T", text, err)
		}
		last := 0
		for _, one := range faults {
			line := one.Error()
			if one.Line < last || one.Text == "" || strings.Contains(line, "\n") || printable(line) != line {
				t.Fatalf("%q: %q in line %d after %d", text, line, one.Line, last)
			}
			if one.Text == notFollowed {
				t.Fatalf("%q is not followed", text)
			}
			last = one.Line
		}
	})
}
