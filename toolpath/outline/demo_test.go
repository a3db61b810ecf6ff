package outline_test

import (
	"math"
	"testing"

	"stopshort/toolpath/measure"
	. "stopshort/toolpath/outline"
)

const mm = measure.Millimetre

// at is a point from millimetres with up to four decimals.
func at(x, y float64) Point { return Point{len4(x), len4(y)} }

func len4(v float64) measure.Length {
	return measure.Length(math.Round(v*1e4)) * mm / 10_000
}

// union fails the test where there is no union or it is not certified.
func union(t testing.TB, by measure.Length, shapes ...Shape) Outlines {
	t.Helper()
	o, err := Union(shapes, by)
	if err != nil {
		t.Fatal(err)
	}
	if err := o.Certify(shapes, by); err != nil {
		t.Fatalf("%v\n%v", err, o)
	}
	return o
}

// The clamp's outside for a cutter of 1/4 in. The figures are those of the demo
// part's sheet, worked out by hand; 11.2754 is the root of 15.875² - 11.175².
func TestTheClampsCentrePath(t *testing.T) {
	o := union(t, len4(3.175),
		Disc(at(0, 0), len4(12.7)),
		Rect(at(-8, 0), at(8, 16.5)),
		Rect(at(-21.5, -6.35), at(21.5, 6.35)))
	if len(o.Inner)+len(o.Loose)+len(o.Touches) != 0 {
		t.Errorf("holes %v, loose %v, touches %v", o.Inner, o.Loose, o.Touches)
	}
	type row struct {
		kind     Kind
		to       Point
		centre   Point
		radius   float64
		from, by float64 // degrees
		joint    Joint
	}
	// Anticlockwise from the foot of the right lug's end.
	want := []row{
		{Line, at(24.675, 6.35), Point{}, 0, 0, 0, Smooth},
		{Arc, at(21.5, 9.525), at(21.5, 6.35), 3.175, 0, 90, Smooth},
		{Line, at(12.7, 9.525), Point{}, 0, 0, 0, Smooth},
		{Arc, at(11.175, 11.2754), at(0, 0), 15.875, 36.870, 45.256, Right},
		{Line, at(11.175, 16.5), Point{}, 0, 0, 0, Right},
		{Arc, at(8, 19.675), at(8, 16.5), 3.175, 0, 90, Smooth},
		{Line, at(-8, 19.675), Point{}, 0, 0, 0, Smooth},
		{Arc, at(-11.175, 16.5), at(-8, 16.5), 3.175, 90, 180, Smooth},
		{Line, at(-11.175, 11.2754), Point{}, 0, 0, 0, Smooth},
		{Arc, at(-12.7, 9.525), at(0, 0), 15.875, 180 - 45.256, 180 - 36.870, Right},
		{Line, at(-21.5, 9.525), Point{}, 0, 0, 0, Right},
		{Arc, at(-24.675, 6.35), at(-21.5, 6.35), 3.175, 90, 180, Smooth},
		{Line, at(-24.675, -6.35), Point{}, 0, 0, 0, Smooth},
		{Arc, at(-21.5, -9.525), at(-21.5, -6.35), 3.175, 180, -90, Smooth},
		{Line, at(-12.7, -9.525), Point{}, 0, 0, 0, Smooth},
		{Arc, at(12.7, -9.525), at(0, 0), 15.875, -143.130, -36.870, Right},
		{Line, at(21.5, -9.525), Point{}, 0, 0, 0, Right},
		{Arc, at(24.675, -6.35), at(21.5, -6.35), 3.175, -90, 0, Smooth},
	}
	if len(o.Outer) != len(want) {
		t.Fatalf("%d pieces, not %d: %v", len(o.Outer), len(want), o.Outer)
	}
	if o.Outer[0].From != at(24.675, -6.35) {
		t.Errorf("begins at %v", o.Outer[0].From)
	}
	for i, w := range want {
		p := o.Outer[i]
		if p.Kind != w.kind || p.Joint != w.joint {
			t.Errorf("piece %d: %v, joint %v, not %v, %v", i, p, p.Joint, w.kind, w.joint)
		}
		to := Point{p.To.X.Round(mm/10_000, measure.Nearest), p.To.Y.Round(mm/10_000, measure.Nearest)}
		if to != w.to {
			t.Errorf("piece %d ends at %v, not %v", i, to, w.to)
		}
		if w.kind == Line {
			continue
		}
		if p.Centre != w.centre || p.Radius != len4(w.radius) || p.Sense != Anticlockwise {
			t.Errorf("piece %d: %v", i, p)
		}
		start, end := p.Angles()
		for _, c := range [][2]float64{{float64(start), w.from}, {float64(end), w.by}} {
			if got := math.Round(c[0]/float64(measure.Degree)*1000) / 1000; got != c[1] {
				t.Errorf("piece %d: an end at %v degrees, not %v", i, got, c[1])
			}
		}
	}
	// The 3-4-5 corner has no rest at all.
	if p := o.Outer[2].To; p != at(12.7, 9.525) {
		t.Errorf("the corner is at %v", p)
	}
	// 106.26 degrees of even wall.
	start, end := o.Outer[15].Angles()
	if got := math.Round(float64(end-start)/float64(measure.Degree)*100) / 100; got != 106.26 {
		t.Errorf("%v degrees of even wall", got)
	}
	low, high := o.Outer.Bounds()
	if low != at(-24.675, -15.875) || high != at(24.675, 19.675) {
		t.Errorf("bounds %v %v", low, high)
	}
}

// The finished outside in its bar, which lies from (-22.225, -13.97) to
// (22.225, 17.78). Of the sheet: what the bar is over, the pad above the boss,
// the lugs over all.
func TestTheClampInItsBar(t *testing.T) {
	boss, pad, lugs := Disc(at(0, 0), len4(12.7)), Rect(at(-8, 0), at(8, 16.5)), Rect(at(-21.5, -6.35), at(21.5, 6.35))
	low, high := union(t, 0, boss, pad, lugs).Outer.Bounds()
	_, top := union(t, 0, boss).Outer.Bounds()
	for _, c := range []struct {
		name string
		got  measure.Length
		want float64
	}{
		{"over at the pad", len4(17.78) - high.Y, 1.28},
		{"over at the boss", low.Y - len4(-13.97), 1.27},
		{"over at the left lug", low.X - len4(-22.225), 0.725},
		{"over at the right lug", len4(22.225) - high.X, 0.725},
		{"pad above the boss", high.Y - top.Y, 3.8},
		{"lugs over all", high.X - low.X, 43},
	} {
		if c.got != len4(c.want) {
			t.Errorf("%s: %s mm, not %v", c.name, c.got.MM(), c.want)
		}
	}
	// On a rotary table of 90 to 1, 4 degrees a turn, the lug is met at 9 turns
	// and 52' 12".
	o := union(t, len4(3.175), boss, pad, lugs)
	start, _ := o.Outer[3].Angles()
	const second = measure.Degree / 3600
	if got, want := (start+second/2)/second, measure.Angle(9*4*3600+52*60+12); got != want {
		t.Errorf("the lug is met at %d seconds of arc, not %d", got, want)
	}
}
