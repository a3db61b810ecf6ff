package outline_test

import (
	"strings"
	"testing"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/measure"
	. "stopshort/toolpath/outline"
)

// A boss with a lug and a frame's hole beside it, so that all kinds of piece
// and loop are there.
func spoilable() ([]Shape, measure.Length) {
	return []Shape{disc(0, 0, 12.7), rect(0, -6.35, 21.5, 6.35), rect(21, 5, 31, 25), rect(0, 20, 31, 25), rect(-5, 0, 5, 25), disc(60, 0, 3)}, len4(1)
}

func TestWhatIsNotCertified(t *testing.T) {
	shapes, by := spoilable()
	find := func(o Outlines, kind Kind) int {
		return slices.IndexFunc(o.Outer, func(p Piece) bool { return p.Kind == kind })
	}
	for _, c := range []struct {
		name  string
		spoil func(o *Outlines)
		want  string
	}{
		{"nothing spoilt", func(o *Outlines) {}, ""},
		{"one end a tenth off, left open", func(o *Outlines) { o.Outer[0].To.X++ }, "does not end where the next one begins"},
		{"a piece left out", func(o *Outlines) { o.Outer = slices.Delete(o.Outer, 3, 4) }, "does not end where the next one begins"},
		{"no outer loop", func(o *Outlines) { o.Outer = nil }, "loop 1: 0 pieces do not close"},
		{"a line moved in by 4", func(o *Outlines) { moveLine(o.Outer, find(*o, Line), -4) }, "nearer to shape"},
		{"a line moved out by 4", func(o *Outlines) { moveLine(o.Outer, find(*o, Line), 4) }, "further from every shape"},
		{"an arc's centre moved by 4", func(o *Outlines) { o.Outer[find(*o, Arc)].Centre.X += 4 }, "off the circle"},
		{"an arc the other way round", func(o *Outlines) {
			o.Outer[find(*o, Arc)].Sense = Clockwise
		}, "half-way round"},
		{"an arc as a line", func(o *Outlines) { o.Outer[find(*o, Arc)].Kind = Line }, "nearer to shape"},
		{"the outer loop reversed", func(o *Outlines) { o.Outer = o.Outer.Reversed() }, "times round the middle of shape"},
		{"the loose piece forgotten", func(o *Outlines) { o.Loose = nil }, "0 times round the middle of shape 6"},
		{"the loose piece for the outer one", func(o *Outlines) { o.Outer, o.Loose[0] = o.Loose[0], o.Outer }, "the outer loop does not run round the first shape"},
		{"the hole twice outward", func(o *Outlines) { o.Inner = append(o.Inner, o.Outer) }, "2 times round the middle of shape 1"},
		{"far away", func(o *Outlines) { o.Outer[0].From.X = 1 << 62 }, "out of reach"},
		{"no kind of piece", func(o *Outlines) { o.Outer[0].Kind = 7 }, "neither a line nor an arc"},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := union(t, by, shapes...)
			if len(o.Inner) != 1 || len(o.Loose) != 1 {
				t.Fatalf("%d holes, %d loose", len(o.Inner), len(o.Loose))
			}
			c.spoil(&o)
			err := o.Certify(shapes, by)
			if c.want == "" {
				if err != nil {
					t.Error(err)
				}
			} else if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%v, not %q", err, c.want)
			}
		})
	}
}

// moveLine moves an upright line sideways and joins its neighbours to it with
// lines, so that the loop stays closed.
func moveLine(l Loop, i int, by measure.Length) {
	l[i].From.X += by
	l[i].To.X += by
	l[(i+len(l)-1)%len(l)].To = l[i].From
	l[(i+1)%len(l)].From = l[i].To
}

// A growth that is other than the one that was planned is seen to a few tenths.
func TestAnotherGrowth(t *testing.T) {
	shapes, by := spoilable()
	o := union(t, by, shapes...)
	for off, ok := range map[measure.Length]bool{-5: false, -1: true, 1: true, 5: false} {
		if err := o.Certify(shapes, by+off); (err == nil) != ok {
			t.Errorf("%d tenths off: %v", off, err)
		}
	}
	// An arc alone is held as closely.
	o = union(t, by, shapes[0])
	for off, ok := range map[measure.Length]bool{-4: false, -1: true, 1: true, 4: false} {
		if err := o.Certify(shapes[:1], by+off); (err == nil) != ok {
			t.Errorf("a disc, %d tenths off: %v", off, err)
		}
	}
}
