package recipe

import (
	"testing"

	"stopshort/machines"
	"stopshort/toolpath/measure"
)

// A cutter of 6 whose edge is to keep 100 mm/min: along the inside of a round of 12 its
// centre, on a radius of 3, goes at half of it; round the outside of one of 12, on a
// radius of 9, at one and a half. Round a round of 60 it is 9 and 11 tenths. A round as
// wide as the cutter, and a sharp corner, have the bounds of a quarter and three halves;
// what the machine feeds bounds them too.
func TestOnArc(t *testing.T) {
	m, err := machines.Find("stepper-mill-mm")
	if err != nil {
		t.Fatal(err)
	}
	slow := *m
	slow.Feeds.High, slow.Feeds.Low = 120*mmMin, 60*mmMin
	for _, c := range []struct {
		m      *machines.Machine
		radius measure.Length
		inside bool
		want   measure.Feed
	}{
		{m, 3 * mm, true, 50 * mmMin}, {m, 9 * mm, false, 150 * mmMin},
		{m, 27 * mm, true, 90 * mmMin}, {m, 33 * mm, false, 110 * mmMin},
		{m, 0, true, 25 * mmMin}, {m, mm / 10, true, 25 * mmMin}, {m, 3 * mm, false, 150 * mmMin},
		{&slow, 3 * mm, true, 60 * mmMin}, {&slow, 9 * mm, false, 120 * mmMin},
	} {
		b := &bench{machine: c.m}
		if got := onArc(b, 100*mmMin, c.radius, 6*mm, c.inside); got != c.want {
			t.Errorf("radius %s, inside %t: %s, want %s", c.radius, c.inside, got, c.want)
		}
	}
}

const mmMin = measure.Feed(measure.Millimetre)
