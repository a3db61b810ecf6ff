package outline_test

import (
	"encoding/binary"
	"testing"

	"stopshort/toolpath/measure"
	. "stopshort/toolpath/outline"
)

// shapesOf reads shapes from bytes: the first tells the growth, then five for
// each, small so that they coincide, and a scale.
func shapesOf(data []byte) (shapes []Shape, by measure.Length) {
	if len(data) < 2 {
		return nil, 0
	}
	scale := []measure.Length{1, 3, 1000, mm, 99_999_989, 3_000_000_019}[data[0]%6]
	by = measure.Length(data[0]/6) * scale
	jitter := data[1]
	for data = data[2:]; len(data) >= 5 && len(shapes) < 9; data = data[5:] {
		n := func(i int) measure.Length { return measure.Length(int8(data[i]) / 4) }
		s := Shape{Point{n(0), n(1)}, Point{n(0) + n(2), n(1) + n(3)}, measure.Length(data[4] / 16)}
		for _, l := range []*measure.Length{&s.Low.X, &s.Low.Y, &s.High.X, &s.High.Y, &s.Radius} {
			*l *= scale
			if jitter&1 != 0 {
				*l++
			}
		}
		jitter = jitter>>1 | jitter<<7
		shapes = append(shapes, s)
	}
	return shapes, by
}

func FuzzUnion(f *testing.F) {
	f.Add([]byte{9, 0, 0, 0, 0, 0, 80, 232, 232, 80, 48, 0, 4, 236, 100, 12, 0})
	f.Add([]byte{2, 1, 0, 0, 0, 0, 80, 40, 0, 0, 0, 80, 20, 20, 0, 0, 60})
	f.Add([]byte{21, 6, 0, 0, 40, 40, 0, 40, 40, 40, 40, 0, 40, 0, 40, 40, 16})
	f.Fuzz(func(t *testing.T, data []byte) {
		shapes, by := shapesOf(data)
		o, err := Union(shapes, by)
		if err != nil {
			if o.Outer != nil {
				t.Fatal("an outline beside an error")
			}
			return
		}
		if err := o.Certify(shapes, by); err != nil {
			t.Fatalf("%v by %d: %v\n%v", shapes, by, err, o)
		}
		// Every corner of every shape is material or on its boundary.
		for _, s := range shapes {
			for _, p := range []Point{s.Low, s.High, {s.Low.X, s.High.Y}, {s.High.X, s.Low.Y}} {
				if by+s.Radius > 3 && !holds(o, p) {
					t.Fatalf("%v by %d: %v is not material\n%v", shapes, by, p, o)
				}
			}
		}
	})
}

// Any bytes as numbers: refused or an outline, never a panic.
func FuzzUnionOfAnything(f *testing.F) {
	f.Add(make([]byte, 48))
	f.Fuzz(func(t *testing.T, data []byte) {
		var n []measure.Length
		for ; len(data) >= 8 && len(n) < 31; data = data[8:] {
			n = append(n, measure.Length(binary.LittleEndian.Uint64(data)))
		}
		var by measure.Length
		if len(n) > 0 {
			by, n = n[0], n[1:]
		}
		var shapes []Shape
		for ; len(n) >= 5; n = n[5:] {
			shapes = append(shapes, Shape{Point{n[0], n[1]}, Point{n[2], n[3]}, n[4]})
		}
		if o, err := Union(shapes, by); err == nil {
			if err := o.Certify(shapes, by); err != nil {
				t.Fatalf("%v by %d: %v\n%v", shapes, by, err, o)
			}
		}
	})
}
