package survey

import (
	"math"
	"math/bits"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// planeAxes are the axes of each plane, the first turned into the second
// anticlockwise.
var planeAxes = [3][2]int{
	toolpath.PlaneXY: {0, 1},
	toolpath.PlaneZX: {2, 0},
	toolpath.PlaneYZ: {1, 2},
}

// arc takes in where an arc goes beyond its two ends, and gives its lowest Z of
// that kind.
func (s *span) arc(t *toolpath.Step) (low measure.Length, any bool) {
	p := planeAxes[t.Plane]
	from := [3]measure.Length{t.From.X, t.From.Y, t.From.Z}
	to := [3]measure.Length{t.To.X, t.To.Y, t.To.Z}
	centre := [3]measure.Length{t.Centre.X, t.Centre.Y, t.Centre.Z}
	a, b := p[0], p[1]
	u := vector{from[a] - centre[a], from[b] - centre[b]}
	v := vector{to[a] - centre[a], to[b] - centre[b]}
	if t.Sense == toolpath.Clockwise {
		u, v = v, u
	}
	first, n := passes(u, v)
	if n == 0 {
		return 0, false
	}
	r := max(u.size(), v.size()) + t.Slack
	for k := first; k < first+n; k++ {
		switch k & 3 {
		case 0:
			s.add(a, centre[a]+r)
		case 1:
			s.add(b, centre[b]+r)
		case 2:
			s.add(a, centre[a]-r)
			low, any = least(a, centre[a]-r, low, any)
		default:
			s.add(b, centre[b]-r)
			low, any = least(b, centre[b]-r, low, any)
		}
	}
	return low, any
}

// least is the lower of two heights where the axis is Z.
func least(axis int, v, low measure.Length, any bool) (measure.Length, bool) {
	if axis != 2 || any && low <= v {
		return low, any
	}
	return v, true
}

// vector is from an arc's centre to a place on it; components are under 4e12.
type vector struct{ a, b measure.Length }

// quadrant is 0 for the first axis and all up to the second, and so on round.
func (v vector) quadrant() int {
	switch {
	case v.a > 0 && v.b >= 0:
		return 0
	case v.a <= 0 && v.b > 0:
		return 1
	case v.a < 0:
		return 2
	}
	return 3
}

// passes tells which axes an anticlockwise arc from u to v passes or ends on: the
// first one, and how many.
func passes(u, v vector) (first, n int) {
	q, w := u.quadrant(), v.quadrant()
	n = (w - q) & 3
	if n == 0 && !before(u, v, q) {
		n = 4 // round all of them
	}
	return q + 1, n
}

// before tells whether v lies farther on than u, anticlockwise, both in quadrant
// q: whether their cross product is above nought, formed exactly.
func before(u, v vector, q int) bool {
	h1, l1 := bits.Mul64(uint64(u.a.Abs()), uint64(v.b.Abs()))
	h2, l2 := bits.Mul64(uint64(u.b.Abs()), uint64(v.a.Abs()))
	if q&1 != 0 { // the signs differ there, so both products are below nought
		h1, l1, h2, l2 = h2, l2, h1, l1
	}
	return h1 > h2 || h1 == h2 && l1 > l2
}

// size is the vector's length, exact where it is whole, else up to 1 too long.
//
// The root in float64 is out by less than 2 roundings of 2^-53 of it, that is by
// less than 0.002; so the whole number is one of the two next to it.
func (v vector) size() measure.Length {
	if v.a == 0 || v.b == 0 {
		return v.a.Abs() + v.b.Abs()
	}
	a, b := float64(v.a), float64(v.b)
	root := math.Sqrt(float64(a*a) + float64(b*b))
	r := measure.Length(math.Round(root))
	h, l := bits.Mul64(uint64(v.a.Abs()), uint64(v.a.Abs()))
	h2, l2 := bits.Mul64(uint64(v.b.Abs()), uint64(v.b.Abs()))
	l, carry := bits.Add64(l, l2, 0)
	h, _ = bits.Add64(h, h2, carry)
	if hr, lr := bits.Mul64(uint64(r), uint64(r)); hr == h && lr == l {
		return r
	}
	return measure.Length(math.Ceil(root + 0.01))
}
