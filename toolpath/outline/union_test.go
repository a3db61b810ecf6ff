package outline_test

import (
	"math"
	"strings"
	"testing"

	"stopshort/toolpath/measure"
	. "stopshort/toolpath/outline"
)

// count is how an outline is made up.
type count struct{ outer, loose, inner, touches int }

func counted(o Outlines) count {
	return count{len(o.Outer), len(o.Loose), len(o.Inner), len(o.Touches)}
}

func rect(x1, y1, x2, y2 float64) Shape   { return Rect(at(x1, y1), at(x2, y2)) }
func disc(x, y, r float64) Shape          { return Disc(at(x, y), len4(r)) }
func near(got, want, within float64) bool { return math.Abs(got-want) <= within }

// All areas and counts are worked out by hand.
func TestUnions(t *testing.T) {
	pi := math.Pi
	// A frame of four bars, 20 by 20 over all, its hole 10 by 10.
	frame := []Shape{rect(0, 0, 20, 5), rect(0, 15, 20, 20), rect(0, 0, 5, 20), rect(15, 0, 20, 20)}
	// A frame whose top is in two halves that have one corner in common.
	pinched := []Shape{rect(0, 0, 2, 10), rect(0, 0, 10, 2), rect(8, 0, 10, 12), rect(0, 8, 5, 10), rect(5, 10, 10, 12)}
	// Two pads 6.35 apart on a base.
	fork := []Shape{rect(-10, -5, 10, 0), rect(-10, 0, -3.175, 20), rect(3.175, 0, 10, 20)}
	tests := []struct {
		name   string
		shapes []Shape
		by     float64
		want   count
		area   float64 // of all loops together, mm²
	}{
		{"a disc", []Shape{disc(3, 4, 5)}, 0, count{2, 0, 0, 0}, 25 * pi},
		{"a disc grown", []Shape{disc(3, 4, 5)}, 1, count{2, 0, 0, 0}, 36 * pi},
		{"a rectangle", []Shape{rect(1, 2, 5, 9)}, 0, count{4, 0, 0, 0}, 28},
		{"a rectangle grown", []Shape{rect(1, 2, 5, 9)}, 1, count{8, 0, 0, 0}, 28 + 22 + pi},
		{"a rectangle grown twice", []Shape{rect(1, 2, 5, 9).Grow(len4(0.25))}, 0.75, count{8, 0, 0, 0}, 28 + 22 + pi},
		{"the same twice", []Shape{rect(1, 2, 5, 9), rect(1, 2, 5, 9)}, 1, count{8, 0, 0, 0}, 28 + 22 + pi},

		// Circles of 5 about (±3, 0) meet at (0, ±4): 3-4-5. Less two segments
		// of half angle acos 0.6 = 0.927295218. Each arc is more than half-way round.
		{"two discs", []Shape{disc(-3, 0, 5), disc(3, 0, 5)}, 0, count{4, 0, 0, 0}, 50*pi - 50*0.9272952180016122 + 24},
		{"two discs that touch", []Shape{disc(-5, 0, 5), disc(5, 0, 5)}, 0, count{2, 1, 0, 1}, 50 * pi},
		{"the same apart by a trifle", []Shape{disc(-5, 0, 5), disc(5.0001, 0, 5)}, 0, count{2, 1, 0, 0}, 50 * pi},
		{"a disc in a disc", []Shape{disc(0, 0, 5), disc(1, 0, 2)}, 1, count{2, 0, 0, 0}, 36 * pi},
		{"a disc that touches a disc from within", []Shape{disc(0, 0, 2), disc(3, 0, 5)}, 1, count{2, 0, 0, 0}, 36 * pi},
		{"discs about one centre", []Shape{disc(0, 0, 2), disc(0, 0, 5)}, 0, count{2, 0, 0, 0}, 25 * pi},

		{"a side that touches a circle from within", []Shape{disc(0, 0, 5), rect(-5, 0, 5, 10)}, 0, count{4, 0, 0, 0}, 100 + 12.5*pi},
		{"the same grown", []Shape{disc(0, 0, 5), rect(-5, 0, 5, 10)}, 2, count{6, 0, 0, 0}, 24.5*pi + 14*10 + 2*10 + 2*pi},
		{"a circle that touches a side from outside", []Shape{disc(0, 5, 5), rect(-9, -4, 9, 0)}, 0, count{2, 1, 0, 1}, 25*pi + 72},
		{"a disc in a square that it touches on four sides", []Shape{disc(5, 5, 5), rect(0, 0, 10, 10)}, 0, count{4, 0, 0, 0}, 100},
		{"a disc round a square through its corners", []Shape{disc(0, 0, 5), rect(-3, -4, 3, 4)}, 0, count{2, 0, 0, 0}, 25 * pi},
		{"a disc on a corner", []Shape{disc(0, 0, 5), rect(0, 0, 10, 10)}, 0, count{6, 0, 0, 0}, 100 + 18.75*pi},
		{"a lug as wide as the boss", []Shape{disc(0, 0, 5), rect(0, -5, 12, 5)}, 1, count{6, 0, 0, 0}, 18*pi + 12*12 + 10 + pi/2},

		{"rectangles with one side in common", []Shape{rect(0, 0, 10, 10), rect(10, 0, 20, 10)}, 0, count{4, 0, 0, 0}, 200},
		{"the same grown", []Shape{rect(0, 0, 10, 10), rect(10, 0, 20, 10)}, 1, count{8, 0, 0, 0}, 200 + 60 + pi},
		{"part of a side in common", []Shape{rect(0, 0, 10, 10), rect(10, 2, 20, 8)}, 0, count{8, 0, 0, 0}, 160},
		{"a side in common, one within the other", []Shape{rect(0, 0, 10, 10), rect(4, 0, 10, 10)}, 0, count{4, 0, 0, 0}, 100},
		{"sides in line", []Shape{rect(0, 0, 10, 10), rect(5, 0, 20, 10)}, 0, count{4, 0, 0, 0}, 200},
		{"a cross", []Shape{rect(-10, -2, 10, 2), rect(-2, -10, 2, 10)}, 0, count{12, 0, 0, 0}, 144},
		{"one corner in common", []Shape{rect(0, 0, 10, 10), rect(10, 10, 20, 20)}, 0, count{4, 1, 0, 1}, 200},
		// Grown, they overlap in two squares of 1 beside the corner and in a
		// quarter of a disc within each.
		{"one corner in common, grown", []Shape{rect(0, 0, 10, 10), rect(10, 10, 20, 20)}, 1, count{14, 0, 0, 0}, 2*(100+40+pi) - 2 - pi/2},
		{"two apart", []Shape{rect(0, 0, 10, 10), rect(12, 0, 20, 10)}, 0, count{4, 1, 0, 0}, 180},
		{"two apart, just joined", []Shape{rect(0, 0, 10, 10), rect(12, 0, 22, 10)}, 1, count{14, 0, 0, 0}, 2 * (140 + pi)},

		{"a frame", frame, 0, count{4, 0, 1, 0}, 300},
		{"a frame grown", frame, 1, count{8, 0, 1, 0}, 400 + 80 + pi - 64},
		{"a frame grown shut", frame, 5, count{8, 0, 0, 0}, 400 + 400 + 25*pi},
		{"a disc loose in a frame", append(frame[:4:4], disc(10, 10, 2)), 1, count{8, 1, 1, 0}, 400 + 80 + pi - 64 + 9*pi},
		{"a disc that touches a frame's hole all round", append(frame[:4:4], disc(10, 10, 5)), 0, count{4, 1, 1, 4}, 300 + 25*pi},
		{"a frame closed by one point", pinched, 0, count{12, 0, 0, 1}, 68},
		{"the same grown", pinched, 0.1, count{0, 0, 1, 0}, 0},
		// Circles about (24, 7) and (7, 24) of 25 pass (0, 0), 7-24-25, and leave
		// 122.5 degrees free below it: room for the rectangle, which touches there.
		{"a rectangle in the corner of two discs", []Shape{disc(24, 7, 25), disc(7, 24, 25), rect(-10, -10, 0, 0)}, 0, count{4, 1, 0, 1}, 0},
		{"a gap as wide as the cutter", fork, 3.175, count{11, 0, 0, 0}, 20*25 + 2*45*3.175 + 3.175*3.175*pi - 6.35*3.175 + 3.175*3.175*pi/2},
	}
	for _, c := range tests {
		t.Run(c.name, func(t *testing.T) {
			o := union(t, len4(c.by), c.shapes...)
			got := counted(o)
			if c.want.outer == 0 {
				c.want.outer = got.outer
			}
			if got != c.want {
				t.Errorf("%+v, not %+v\n%v", got, c.want, o)
			}
			area := 0.0
			for i, l := range o.Loops() {
				a := l.Area()
				if (a > 0) != (i < 1+len(o.Loose)) {
					t.Errorf("loop %d has %v mm²", i, a)
				}
				area += a
			}
			if c.area != 0 && !near(area, c.area, 1e-5) {
				t.Errorf("%v mm², not %v", area, c.area)
			}
		})
	}
}

func TestCornersAreWhereTheHandPutsThem(t *testing.T) {
	o := union(t, 0, disc(-3, 0, 5), disc(3, 0, 5))
	var right []Point
	for _, p := range o.Outer {
		if p.Joint == Right {
			right = append(right, p.From)
		}
		if p.Joint == Left {
			t.Errorf("a corner that stands out at %v", p.From)
		}
	}
	if len(right) != 2 || right[0] != at(0, 4) || right[1] != at(0, -4) {
		t.Errorf("corners at %v, not (0, 4) and (0, -4)", right)
	}
	// 4 (pi - acos 0.6) 5 mm = 44.2859487 mm
	if got := o.Outer.Length(); got != 442_859_487 {
		t.Errorf("%d tenths of a nanometre round", got)
	}
	// A hole between three discs of 10 about the corners of a triangle of side
	// 20 and height 17.3 whose lower two touch: it ends there in a point.
	o = union(t, 0, disc(-10, 0, 10), disc(10, 0, 10), disc(0, 17.3, 10))
	if c := counted(o); c.loose+c.inner != 0 || c.touches != 1 || o.Touches[0] != at(0, 0) {
		t.Errorf("%+v %v", counted(o), o.Touches)
	}
	o = union(t, 1, disc(-10, 0, 10), disc(10, 0, 10), disc(0, 17.3, 10))
	if counted(o) != (count{6, 0, 1, 0}) || len(o.Inner[0]) != 3 { // each outer arc in two
		t.Errorf("%+v", counted(o))
	}
	for _, p := range o.Inner[0] {
		if p.Joint != Right || p.Sense != Anticlockwise {
			t.Errorf("%v, joint %v", p, p.Joint)
		}
	}
}

// One tenth of a nanometre decides, at the size of a watch and at that of a
// street.
func TestOneTenthDecides(t *testing.T) {
	for _, r := range []measure.Length{1_000, mm, 12_700_000, measure.MaxLength/2 - 100} {
		for off, want := range map[measure.Length]count{-1: {4, 0, 0, 0}, 0: {2, 1, 0, 1}, 1: {2, 1, 0, 0}} {
			c := Point{2*r + off, 0}
			o := union(t, 0, Disc(Point{}, r), Disc(c, r))
			if got := counted(o); got.loose != want.loose || got.touches != want.touches {
				t.Errorf("radius %v, %d tenths apart: %+v", r, off, got)
			}
			// A circle against a side.
			o = union(t, 0, Disc(Point{}, r), Rect(Point{r + off, -r}, Point{r + off + 100, r}))
			if got := counted(o); got.loose != want.loose || got.touches != want.touches {
				t.Errorf("radius %v, side %d tenths apart: %+v", r, off, got)
			}
			// A side that is passed by a circle by one tenth, or not.
			o = union(t, 0, Rect(Point{-r, 0}, Point{r + off, 2 * r}), Disc(Point{}, r))
			if got := len(o.Outer); got != map[measure.Length]int{-1: 5, 0: 4, 1: 5}[off] {
				t.Errorf("radius %v, side %d tenths from a tangent: %d pieces", r, off, got)
			}
		}
	}
}

func TestWhatIsRefused(t *testing.T) {
	one := disc(0, 0, 1)
	for _, c := range []struct {
		shapes []Shape
		by     measure.Length
		want   string
	}{
		{nil, 0, "0 shapes have no outline: give at least one"},
		{[]Shape{one}, -1, "-0.0000001 mm is no growth: give nought or more, at most 100000 mm"},
		{[]Shape{one}, math.MaxInt64, "mm is no growth"},
		{[]Shape{one, disc(0, 0, 0)}, 1, "shape 2: 0 mm is no radius: write one above nought"},
		{[]Shape{one, disc(0, 0, -1)}, 1, "shape 2: -1 mm is no radius: write one above nought"},
		{[]Shape{rect(0, 0, 0, 5)}, 1, "shape 1: 0 mm across: write a rectangle that is wider than nought both ways"},
		{[]Shape{rect(5, 0, 2, 5)}, 1, "shape 1: low X 5 mm is above high X 2 mm: write the lower one first"},
		{[]Shape{rect(0, 5, 2, 4)}, 1, "shape 1: low Y 5 mm is above high Y 4 mm: write the lower one first"},
		{[]Shape{Disc(Point{measure.MaxLength + 1, 0}, 1)}, 1, "shape 1: 100000.0000001 mm is beyond what is read: write a length of at most 100000 mm"},
		{[]Shape{Disc(Point{math.MinInt64, 0}, 1)}, 1, "is beyond what is read"},
	} {
		o, err := Union(c.shapes, c.by)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v by %d: %v, not %q", c.shapes, c.by, err, c.want)
		}
		if o.Outer != nil {
			t.Errorf("%v: an outline beside an error", c.shapes)
		}
	}
}
