package solid

import (
	"testing"

	"stopshort/toolpath/measure"
)

func TestTopOver(t *testing.T) {
	const mm = measure.Millimetre
	pt := func(x, y, z measure.Length) Point { return Point{x * mm, y * mm, z * mm} }
	block := Box{pt(-20, -10, -10), pt(20, 10, 2)}
	lying := Cylinder{From: pt(-20, 0, -3), To: pt(20, 0, -3), Radius: 10 * mm}
	across := Cylinder{From: pt(0, -20, 0), To: pt(0, 20, 0), Radius: 10 * mm}
	standing := Cylinder{From: pt(5, 0, -10), To: pt(5, 0, 1), Radius: 10 * mm}
	for _, c := range []struct {
		what string
		body Body
		at   Point
		top  measure.Length
		over bool
	}{
		{"a block", block, pt(3, 4, 50), 2 * mm, true},
		{"its corner", block, pt(20, -10, 0), 2 * mm, true},
		{"just beside it", block, Point{X: 20*mm + 1}, 0, false},
		{"the crest of a lying bar", lying, pt(0, 0, 0), 7 * mm, true},
		{"6 beside its crest", lying, pt(0, 6, 0), 5 * mm, true}, // 6, 8, 10
		{"the other way", lying, pt(0, -8, 0), 3 * mm, true},
		{"its widest", lying, pt(0, 10, 0), -3 * mm, true},
		{"beyond its end", lying, pt(21, 0, 0), 0, false},
		{"a bar along Y", across, pt(8, 3, 0), 6 * mm, true},
		{"a standing bar", standing, pt(11, 8, 0), mm, true},
		{"a tenth outside its skin", standing, Point{X: 11*mm + 1, Y: 8 * mm}, 0, false},
		{"inside its box only", standing, pt(13, 8, 0), 0, false},
	} {
		top, over := TopOver(c.body, c.at)
		if over != c.over || over && top != c.top {
			t.Errorf("%s: %s, %v; want %s, %v", c.what, top, over, c.top, c.over)
		}
	}
	// 1 mm beside the crest the height is the root of 99 = 9.949874371 over the
	// axis, rounded down.
	if top, _ := TopOver(lying, pt(0, 1, 0)); top != 69_498_743 {
		t.Errorf("1 mm beside the crest: %d tenths of a nanometre", int64(top))
	}
}
