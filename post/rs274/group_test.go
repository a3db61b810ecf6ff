package rs274_test

import (
	"testing"

	"stopshort/post/rs274"
)

// Members are those of NISTIR 6556, section 3.4, table 4, and there are no
// others among the numbers that a word can have.
func TestGroups(t *testing.T) {
	g := map[int]rs274.Group{}
	for group, members := range map[rs274.Group][]int{
		rs274.NonModal:     {40, 100, 280, 300, 530, 920, 921, 922, 923},
		rs274.Motion:       {0, 10, 20, 30, 382, 800, 810, 820, 830, 840, 850, 860, 870, 880, 890},
		rs274.Plane:        {170, 180, 190},
		rs274.Distance:     {900, 910},
		rs274.FeedMode:     {930, 940},
		rs274.Units:        {200, 210},
		rs274.RadiusComp:   {400, 410, 420},
		rs274.LengthOffset: {430, 490},
		rs274.ReturnLevel:  {980, 990},
		rs274.WorkSystem:   {540, 550, 560, 570, 580, 590, 591, 592, 593},
		rs274.PathControl:  {610, 611, 640},
	} {
		for _, m := range members {
			g[m] = group
		}
	}
	for tenths := -5; tenths < 1100; tenths++ {
		if got := rs274.GroupOfG(tenths); got != g[tenths] {
			t.Errorf("G of %d tenths is in group %d, want %d", tenths, got, g[tenths])
		}
	}
	m := map[int]rs274.Group{
		0: rs274.Stopping, 1: rs274.Stopping, 2: rs274.Stopping, 30: rs274.Stopping, 60: rs274.Stopping,
		6: rs274.ToolChange, 3: rs274.Spindle, 4: rs274.Spindle, 5: rs274.Spindle,
		7: rs274.Coolant, 8: rs274.Coolant, 9: rs274.Coolant, 48: rs274.Overrides, 49: rs274.Overrides,
	}
	for n := -5; n < 150; n++ {
		if got := rs274.GroupOfM(n); got != m[n] {
			t.Errorf("M%d is in group %d, want %d", n, got, m[n])
		}
	}
}

// The letters are those of NISTIR 6556, table 3.
func TestLetters(t *testing.T) {
	got := ""
	for c := 0; c < 256; c++ {
		if rs274.IsLetter(byte(c)) {
			got += string(rune(c))
		}
	}
	if want := "ABCDFGHIJKLMNPQRSTXYZ"; got != want {
		t.Errorf("letters %s, want %s", got, want)
	}
}
