package form

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// outline is every value of the tree as "line path = text", in order.
func outline(v *value, path string) []string {
	switch v.shape {
	case isTable:
		var all []string
		for _, name := range v.names {
			all = append(all, outline(v.get(name), join(path, shownName(name)))...)
		}
		if len(all) == 0 {
			return []string{fmt.Sprintf("%d %s {}", v.line, path)}
		}
		return all
	case isTables, isList:
		var all []string
		for i, item := range v.items {
			all = append(all, outline(item, fmt.Sprintf("%s[%d]", path, i+1))...)
		}
		if len(all) == 0 {
			return []string{fmt.Sprintf("%d %s []", v.line, path)}
		}
		return all
	case isText:
		return []string{fmt.Sprintf("%d %s = %q", v.line, path, v.text)}
	}
	return []string{fmt.Sprintf("%d %s = %s", v.line, path, v.raw)}
}

func TestLayout(t *testing.T) {
	for _, c := range []struct {
		text string
		want string
	}{
		{"a = 1\nb=2 # x\r\n\t c\t=\t3", "1 a = 1|2 b = 2|3 c = 3"},
		{"a.b.c = 1\na.d = 2", "1 a.b.c = 1|2 a.d = 2"},
		{"[a]\nb = 1\n[a.c]\nd = 2\n[ e . f ]\ng = 3", "2 a.b = 1|4 a.c.d = 2|6 e.f.g = 3"},
		{"[[a]]\nb = 1\n[[a]]\n[a.c]\nd = 2\n[[a.e]]\n[[a.e]]\nf = 3",
			"2 a[1].b = 1|5 a[2].c.d = 2|6 a[2].e[1] {}|8 a[2].e[2].f = 3"},
		{"[a.b]\nc = 1\n[a]\nd = 2", "2 a.b.c = 1|4 a.d = 2"},
		{`"a b".'c"d' = 1`, `1 "a b"."c\"d" = 1`},
		{`"\u0061" = 1`, `1 a = 1`},
		{"3 = 1\n-_ = 2\ntrue = 3", "1 3 = 1|2 -_ = 2|3 true = 3"},
		// lists and tables in brackets, over lines, with comments
		{"a = [1, # one\n  2,\n  [3],\n]", "1 a[1] = 1|2 a[2] = 2|3 a[3][1] = 3"},
		{"a = []\nb = {}", "1 a []|2 b {}"},
		{"a = [{b = 1},\n{b = 2, c.d = [ {e = 3} ]}]", "1 a[1].b = 1|2 a[2].b = 2|2 a[2].c.d[1].e = 3"},
		{"a = {\n b = 1, # x\n c = 2,\n}", "2 a.b = 1|3 a.c = 2"},
		// numbers keep their text
		{"a = 0.10\nb = +1_000\nc = 1e-7\nd = 0xFF\ne = -0\nf=1979-05-27 07:32:00Z\ng=07:32:00 # x",
			"1 a = 0.10|2 b = +1_000|3 c = 1e-7|4 d = 0xFF|5 e = -0|6 f = 1979-05-27 07:32:00Z|7 g = 07:32:00"},
		{"a = [true, false,0.5]", "1 a[1] = true|1 a[2] = false|1 a[3] = 0.5"},
		// the four kinds of text
		{`a = "x\ty\"z\\ \u00e9\x41\e#"`, `1 a = "x\ty\"z\\ éA\x1b#"`},
		{`a = 'C:\new "x"'`, `1 a = "C:\\new \"x\""`},
		{"a = \"\"\"\none\n two \\\n   \n  three \"\" \"\"\"\"\"\nb = 1", "1 a = \"one\\n two three \\\"\\\" \\\"\\\"\"|6 b = 1"},
		{"a = '''\r\none\\\ntwo ' '' '''''\nb = 1", "1 a = \"one\\\\\\ntwo ' '' ''\"|4 b = 1"},
		{`a = ""` + "\nb = ''\nc = \"\"\"\"\"\"\nd = ''''''", `1 a = ""|2 b = ""|3 c = ""|4 d = ""`},
		{"a = \"# = [x] {\" # \"\nb = '#'", "1 a = \"# = [x] {\"|2 b = \"#\""},
	} {
		root, err := scan(c.text)
		if err != nil {
			t.Errorf("%q: line %d: %s", c.text, err.(*syntax).line, err)
			continue
		}
		if d := cmp.Diff(strings.Split(c.want, "|"), outline(root, "")); d != "" {
			t.Errorf("%q: %s", c.text, d)
		}
		if e := crossCheck(c.text, root); e != nil {
			t.Errorf("%q: the library: line %d: %s", c.text, e.line, e.text)
		}
	}
}

func TestWrongLayoutSaysWhatToWrite(t *testing.T) {
	for _, c := range []struct {
		text string
		line int
		want string
	}{
		{"a = 1\nwidth = 3/16 in # x", 2, `3/16 in needs quotes: write width = "3/16 in"`},
		{"width = 20 thou", 1, `20 thou needs quotes: write width = "20 thou"`},
		{"a = { width = 3 mm, b = 1 }", 1, `3 mm needs quotes: write width = "3 mm"`},
		{"a = [1 mm, 2]", 1, `1 mm needs quotes: write a = "1 mm"`},
		{"a = “3 mm”", 1, `3 mm needs quotes: write a = "3 mm"`},
		{"a = 0,5", 1, "0,5 has a comma: write a decimal point, or a list in brackets"},
		{"[t]\na = 0,5", 2, "0,5 has a comma: write a decimal point, or a list in brackets"},
		{"a = True", 1, "True is written small: write a = true"},
		{"a = .5", 1, ".5 is no number here: write digits on both sides of the point and no nought in front"},
		{"a = 5.", 1, "5. is no number here: write digits on both sides of the point and no nought in front"},
		{"a = 007", 1, "007 is no number here: write digits on both sides of the point and no nought in front"},
		{"a = nan", 1, "a is nan, which is no figure: write a number"},
		{"a = [1, -inf]", 1, "a is -inf, which is no figure: write a number"},
		{"a = ", 1, "the end of the file where the value of a belongs: write a = value"},
		{"a = # x\n", 1, `"#" where the value of a belongs: write a = value`},
		{"a\n", 1, "the end of the line after a where = belongs: write a = value"},
		{"a 3", 1, `"3" after a where = belongs: write a = value`},
		{"= 3", 1, `"=" where a key belongs: write a line as key = value`},
		{"a. = 3", 1, `"=" after "." where a name belongs: write letters, digits, - or _, or put the name in quotes`},
		{"a = 1 b = 2", 1, `1 b = 2 needs quotes: write a = "1 b = 2"`},
		{`a = "1" b = 2`, 1, `"b = 2" stands after the end of what the line says: take it out, or give it a line of its own`},
		{`a = "5/8""`, 1, `a quote stands close behind the text "5/8": for inches write in, or put the text in single quotes`},
		{"a = \"x\nb = 1", 1, `the text "x" is not closed: write " at its end`},
		{"a = 1\nb = \"\"\"x\ny\n", 2, `the text is not closed: write """ at its end`},
		{`a = "C:\new\path"`, 1, `\ before "p" means nothing: write \\ for a backslash, or put the text in single quotes`},
		{`a = "\ud800"`, 1, `\u without a character's 4 hexadecimal digits: write the character itself`},
		{`a = "\u12`, 1, `\u without a character's 4 hexadecimal digits: write the character itself`},
		{"a = [1\nb = 2", 2, `"b" in the list of line 1 where a comma or ] belongs`},
		{"a = [1,,2]", 1, "a comma in the list with nothing before it: take it out"},
		{"a = {b = 1", 1, `the end of the file in the table of line 1 where a comma or } belongs`},
		{"a = {b = 1,", 1, `the table of line 1 is not closed: write }`},
		{"[a", 1, "the end of the file where ] must close the name: write [a]"},
		{"[[a]", 1, `"]" where ]] must close the name: write [[a]]`},
		{"[]", 1, `"]" after "[" where a name belongs: write letters, digits, - or _, or put the name in quotes`},
		// given twice
		{"a = 1\nb = 2\na = 3", 3, "a is given in line 1 already: keep one of the two"},
		{"[a]\nb = 1\n[c]\n[a]", 4, "a is a table in line 1 already: put its keys together"},
		{"[[a]]\n[a]", 2, "the file has [[a]] in line 1: write two brackets here too"},
		{"[a]\n[[a]]", 2, "the file has [a] in line 1: write two brackets there too"},
		{"a = {b = 1}\n[a]", 2, "a is a table in line 1 already: put its keys together"},
		{"a = {b = 1}\n[a.c]", 2, "a is given its value in line 1: nothing can be added to it here"},
		{"a = [{b = 1}]\n[[a]]", 2, "a is given its value in line 1 already: keep one of the two"},
		{"a = 1\na.b = 2", 2, "a is given its value in line 1: nothing can be added to it here"},
		{"a.b = 1\n[a]", 2, "a is a table in line 1 already: put its keys together"},
		{"a.b.c = 1\na.b = 2", 2, "a.b is given in line 1 already: keep one of the two"},
	} {
		_, err := scan(c.text)
		if err == nil {
			t.Errorf("%q is taken", c.text)
			continue
		}
		if e := err.(*syntax); e.line != c.line || e.text != c.want {
			t.Errorf("%q\ngives %d: %s\nwant  %d: %s", c.text, e.line, e.text, c.line, c.want)
		}
	}
}

// What only the library sees comes with its line too.
func TestFaultsOfTheLibraryHaveALine(t *testing.T) {
	says(t, "material = \"bronze\"\nx = 2023-02-30\n", `job.toml:2: invalid datetime: "2023-02-30"`)
	says(t, "material = \"bronze\"\nx = 99999999999999999999\n", `job.toml:2: 99999999999999999999 is out of range for int64`)
}

// A slip of the scanner must not give a value: here the tree is changed after
// the scan in every way that the cross-check guards against.
func TestACrossCheckThatFails(t *testing.T) {
	const text = "a = 1\nb = [1.5, \"x\", true]\nc = {d = 2023-01-01}\n[[e]]\nf = 1"
	for what, spoil := range map[string]func(root *value){
		"a key too many":   func(r *value) { r.put("g", &value{shape: isFlag, raw: "true"}) },
		"a key missing":    func(r *value) { delete(r.under, "a") },
		"another key":      func(r *value) { r.under["g"] = r.under["a"]; delete(r.under, "a") },
		"another number":   func(r *value) { r.get("a").raw = "2" },
		"another kind":     func(r *value) { r.get("a").shape = isText },
		"another decimal":  func(r *value) { r.get("b").items[0].raw = "1.6" },
		"another text":     func(r *value) { r.get("b").items[1].text = "y" },
		"another flag":     func(r *value) { r.get("b").items[2].raw = "false" },
		"a shorter list":   func(r *value) { r.get("b").items = r.get("b").items[:2] },
		"no date":          func(r *value) { r.get("c").get("d").shape = isInteger },
		"a deeper key":     func(r *value) { r.get("e").items[0].get("f").raw = "7" },
		"a table too many": func(r *value) { r.get("e").items = append(r.get("e").items, &value{}) },
	} {
		root, err := scan(text)
		if err != nil {
			t.Fatal(err)
		}
		if e := crossCheck(text, root); e != nil {
			t.Fatal(e)
		}
		spoil(root)
		if e := crossCheck(text, root); e == nil || e.text != notFollowed {
			t.Errorf("%s is not seen: %v", what, e)
		}
	}
}

// hostile is files that are made to cost much; each must be refused at once.
func hostile() map[string]string {
	deep := strings.Repeat("a.", 40) + "a"
	return map[string]string{
		"ten thousand brackets":          "a = " + strings.Repeat("[", 10_000),
		"a megabyte of brackets":         "a = " + strings.Repeat("[", MaxBytes-10),
		"ten thousand braces":            "a = " + strings.Repeat("{a=", 10_000),
		"a header of many steps":         "[" + deep + "]",
		"a megabyte of steps":            strings.Repeat("a.", MaxBytes/2-10) + "a = 1",
		"dots and braces":                strings.Repeat("a.a.a.a.a.a.a.a = {", 8),
		"brackets under a header":        "[a.b.c.d.e.f.g.h.i.j]\nk = " + strings.Repeat("[", 30),
		"lists of headers that go down":  "[[a]]\n[[a.a]]\n[[a.a.a]]\n[[a.a.a.a]]\nb=" + strings.Repeat("[", 26),
		"a long name":                    strings.Repeat("a", MaxBytes-10) + " = 1",
		"many keys under a long path":    longPath(),
		"a path of long names":           "[" + strings.Repeat(strings.Repeat("k", 60)+".", 9) + "k]",
		"a long name in quotes":          `"` + strings.Repeat("a", 65) + `" = 1`,
		"a header of a long name":        "[" + strings.Repeat("a", 65) + "]",
		"a list of very many":            "a = [" + strings.Repeat("0,", 60_000) + "]",
		"very many tables":               strings.Repeat("[[a]]\n", 60_000),
		"very many tables in one list":   "a = [" + strings.Repeat("{},", 60_000) + "]",
		"a file too large":               strings.Repeat("#", MaxBytes+1),
		"a word of a megabyte":           "material = " + strings.Repeat("x", MaxBytes-20),
		"a text of a megabyte for units": "material = \"a\"\nunits = \"" + strings.Repeat("x", MaxBytes-40) + "\"",
		"a number of a megabyte":         "material = \"a\"\nstock.spare = 1." + strings.Repeat("1", MaxBytes-40),
	}
}

// longPath is the most that the limits let through: the library keeps the whole
// path of each key.
func longPath() string {
	var b strings.Builder
	b.WriteString("[" + strings.Repeat(strings.Repeat("k", 12)+".", 30) + "k]\n")
	for i := range 49_000 {
		fmt.Fprintf(&b, "%d = 1\n", i)
	}
	return b.String()
}

func TestHostileFilesAreRefusedAtOnce(t *testing.T) {
	for what, text := range hostile() {
		start := time.Now()
		got := refused(t, text)
		// A bound that a busy machine keeps; what it guards against takes far longer.
		if took := time.Since(start); took > time.Minute {
			t.Errorf("%s takes %s", what, took)
		}
		if len(got) > 2000 {
			t.Errorf("%s: a message of %d bytes", what, len(got))
		}
		if !hostileWords.MatchString(got) {
			t.Errorf("%s: %s", what, got)
		}
	}
}

var hostileWords = regexp.MustCompile(`deeper than 32|no key is longer|more than 50000|larger than 1 MiB|needs quotes|longer than 400 bytes together|unknown key "kkk|units: "xxx.*no choice|spare: "1\.111.*too (long|fine)`)

// 32 levels are read; one more is not.
func TestDepth(t *testing.T) {
	for brackets, taken := range map[int]bool{30: true, 31: true, 32: false} {
		_, err := scan("a = " + strings.Repeat("[", brackets) + "1" + strings.Repeat("]", brackets))
		if (err == nil) != taken {
			t.Errorf("a key and %d brackets: %v", brackets, err)
		}
	}
}

func TestBytesThatAreNoText(t *testing.T) {
	const head = "material = \"bronze\"\n"
	for _, c := range []struct{ text, want string }{
		{head + "# \xff", `job.toml:2: the line holds the byte 0xff, which is not UTF-8: save the file as UTF-8`},
		{head + "# \xc3\n", `job.toml:2: the line holds the byte 0xc3, which is not UTF-8: save the file as UTF-8`},
		{head + "# \x00", `job.toml:2: the line holds a NUL byte: save the file as UTF-8 text`},
		{head + "# \x1b[2J", `job.toml:2: the line holds the control character 0x1b: take it out`},
		{head + "# \x7f", `job.toml:2: the line holds the control character 0x7f: take it out`},
		{head + "# \rx", `job.toml:2: a carriage return stands alone: end each line with a line feed`},
		{"\xef\xbb\xbf" + head, `job.toml:1: the file begins with a byte-order mark: save it as UTF-8 without one`},
		{"\xff\xfem\x00", `job.toml:1: the file is UTF-16: save it as UTF-8`},
		{"\xfe\xff\x00m", `job.toml:1: the file is UTF-16: save it as UTF-8`},
	} {
		says(t, c.text, c.want)
	}
	must(t, head+"# \ufffd µ ½ \t\r\n")
}
