package post

import (
	"strings"
	"testing"

	"stopshort/post/rs274/write"
	"stopshort/toolpath/measure"
)

// A lift that some line of the text does not have, or has twice, must not pass.
func TestFaultsInALiftedTextAreCaught(t *testing.T) {
	p, m := demo(t, "slot.toml")
	const lift = 15 * measure.Millimetre
	text, err := write.Program(raised(p, m, lift), m)
	if err != nil {
		t.Fatal(err)
	}
	whole := string(text.Bytes)
	passes := func(s string) bool {
		bad := text
		bad.Bytes = []byte(s)
		_, f := holds(bad, p, m, lift)
		return f == nil
	}
	if !passes(whole) {
		t.Fatal("the text as it is does not pass")
	}
	for _, c := range []struct{ name, old, new string }{
		{"a cut that is not lifted", "G1 Z14.4041", "G1 Z-0.5959"},
		{"a cut that is lifted twice", "G1 Z14.4041", "G1 Z29.4041"},
		{"one step of the output lower", "G1 Z9.0410", "G1 Z9.0409"},
		{"one step of the output higher", "G1 Z9.0410", "G1 Z9.0411"},
		{"the approach not lifted", "G0 Z16.0000", "G0 Z1.0000"},
		{"the first rise not lifted", "G94\nG0 Z20.0000", "G94\nG0 Z5.0000"},
		{"the last rise not lifted", "G0 Z20.0000\nM5", "G0 Z5.0000\nM5"},
		{"increments", "G90", "G91"},
		{"a feed", "F79.0", "F790.0"},
		{"another way", "G1 X0.3012", "G1 X0.3011"},
		{"the spindle's word lost", "M3 S1989\n", ""},
	} {
		if n := strings.Count(whole, c.old); n == 0 {
			t.Errorf("%s: the text has no %q", c.name, c.old)
		} else if passes(strings.Replace(whole, c.old, c.new, 1)) {
			t.Errorf("%s passed", c.name)
		}
	}
}

// The demo's slot: its floor is 5.959 mm under the pad, which is the highest
// thing; the clearance plane is 5 mm over it and Z goes 180 mm. So the least lift
// is 5.959 + 1 and the most 180 - 5 - 5.959 mm. A lift goes up to the next step of
// the machine's four places.
func TestLiftsThatDo(t *testing.T) {
	j, m := demoOn(t, "slot.toml", "")
	p := planned(t, j, m)
	const mm = measure.Millimetre
	for _, c := range []struct {
		lift, put measure.Length
		refuses   string
	}{
		{1, 1000, "dry run over metal and holding"},
		{69_589_000, 69_589_000, "dry run over metal and holding"},
		{69_589_001, 69_590_000, ""},
		{69_590_000, 69_590_000, ""},
		{15 * mm, 15 * mm, ""},
		{1_690_410_000, 1_690_410_000, ""},
		{1_690_410_001, 1_690_411_000, "travel of Z from the deepest cut to the dry run"},
		{90 * measure.Metre, 90 * measure.Metre, "travel of Z from the deepest cut to the dry run"},
	} {
		r, err := ThroughLifted(p, j.Stem, m, c.lift)
		if err != nil {
			t.Fatalf("%d: %v", c.lift, err)
		}
		if got := r.Programs[0].Lift; got != c.put {
			t.Errorf("%d is put at %d, want %d", c.lift, got, c.put)
		}
		switch bad := r.Refused(); {
		case c.refuses == "" && len(bad) > 0:
			t.Errorf("%d: refused: %s", c.lift, bad[0].Limit)
		case c.refuses != "" && (len(bad) != 1 || bad[0].Limit != c.refuses):
			t.Errorf("%d: refused by %v, want %s", c.lift, bad, c.refuses)
		}
	}
	for _, lift := range []measure.Length{0, -1, 100*measure.Metre - 5*mm + 1, 100*measure.Metre + 1} {
		if _, err := ThroughLifted(p, j.Stem, m, lift); err == nil {
			t.Errorf("a lift of %d passed", lift)
		} else if _, ok := err.(*LiftFault); !ok {
			t.Errorf("a lift of %d: %v is no LiftFault", lift, err)
		}
	}
}

func TestLiftedNames(t *testing.T) {
	for name, want := range map[string]string{
		"arm-01-02-03.ngc":       "arm-01-02-03-lifted.ngc",
		"arm-01-02-03-rough.ngc": "arm-01-02-03-rough-lifted.ngc",
		"a.b/arm":                "a.b/arm-lifted",
	} {
		if got := LiftedName(name); got != want {
			t.Errorf("%s becomes %s, want %s", name, got, want)
		}
	}
	for name, want := range map[string]bool{"a-lifted.ngc": true, "a-LIFTED.NGC": true, "a-lifted": true, "lifted.ngc": false, "a-lifted-01-01-03.ngc": false} {
		if isLifted(name) != want {
			t.Errorf("%s is a dry run's name: %v, want %v", name, !want, want)
		}
	}
}
