package solid

import "math"

// hull looks for the least shift that parts two overlapping bodies: the side
// of the body of differences a-b that is nearest to the origin. It grows a
// polytope inside that body, each time by the corner farthest out from the
// side that is nearest (the expanding polytope of van den Bergen, 2001). It is
// all in floating point and proves nothing: what it finds is a direction.
type hull struct {
	*pair
	points []vector
	sides  []side
	best   vector
	most   float64
}

// side is a triangle of the polytope, its normal pointing out.
type side struct {
	corner [3]int
	normal vector
	off    float64 // distance from the origin, below nought where it is beyond
}

// run is the direction of the greatest gap that was found; nought where the
// bodies are too flat to tell.
func (h *hull) run() vector {
	h.most = math.Inf(-1)
	if !h.start() {
		return h.best
	}
	for range 120 {
		near := 0
		for i := range h.sides {
			if h.sides[i].off < h.sides[near].off {
				near = i
			}
		}
		s := h.sides[near]
		w, reach := h.farthest(s.normal)
		if reach-s.off < float64(fine)/4 || !h.add(w) {
			break
		}
	}
	return h.best
}

// farthest is the corner of the body of differences farthest along d, and
// how far: minus the gap along -d.
func (h *hull) farthest(d vector) (w vector, reach float64) {
	w = h.corner(d.neg()).w
	reach = d.dot(w)
	if -reach > h.most {
		h.best, h.most = d.neg(), -reach
	}
	return w, reach
}

// start makes the first tetrahedron, from corners far apart.
func (h *hull) start() bool {
	p, _ := h.farthest(vector{1})
	q, _ := h.farthest(vector{-1})
	line := q.minus(p).unit()
	var r, s vector
	var most float64
	try := func(d vector, measure func(w vector) float64) (far vector) {
		for _, e := range [...]vector{d, d.neg()} {
			w, _ := h.farthest(e)
			if m := measure(w); m > most {
				far, most = w, m
			}
		}
		return far
	}
	for _, d := range [...]vector{{0, 1, 0}, {0, 0, 1}} {
		if far := try(d, func(w vector) float64 { return w.minus(p).cross(line).length() }); most > 0 && far != (vector{}) {
			r = far
		}
	}
	n := q.minus(p).cross(r.minus(p)).unit()
	if n.isZero() || most < touching {
		return false
	}
	most = 0
	s = try(n, func(w vector) float64 { return math.Abs(n.dot(w.minus(p))) })
	if most < touching {
		return false
	}
	h.points = append(make([]vector, 0, 128), p, q, r, s)
	h.sides = make([]side, 0, 256)
	middle := p.plus(q).plus(r).plus(s).times(0.25)
	for _, t := range [...][3]int{{0, 1, 2}, {0, 1, 3}, {0, 2, 3}, {1, 2, 3}} {
		k, ok := h.side(t)
		if !ok {
			return false
		}
		if k.normal.dot(middle)-k.off > 0 {
			k, _ = h.side([3]int{t[0], t[2], t[1]})
		}
		h.sides = append(h.sides, k)
	}
	return true
}

func (h *hull) side(t [3]int) (side, bool) {
	a, b, c := h.points[t[0]], h.points[t[1]], h.points[t[2]]
	n := b.minus(a).cross(c.minus(a)).unit()
	ok := math.Abs(n.dot(n)-1) < 0.1
	return side{t, n, n.dot(a)}, ok
}

// add grows the polytope by a corner: the sides that it sees go, and their rim
// is joined to it.
func (h *hull) add(w vector) bool {
	h.points = append(h.points, w)
	at := len(h.points) - 1
	var rim [][2]int
	kept := h.sides[:0]
	for _, s := range h.sides {
		if s.normal.dot(w)-s.off <= 1 {
			kept = append(kept, s)
			continue
		}
		for i := range 3 {
			from, to := s.corner[i], s.corner[(i+1)%3]
			found := false
			for j, e := range rim { // an edge that both its sides lose is inside
				if e == [2]int{to, from} {
					rim = append(rim[:j], rim[j+1:]...)
					found = true
					break
				}
			}
			if !found {
				rim = append(rim, [2]int{from, to})
			}
		}
	}
	h.sides = kept
	for _, e := range rim {
		s, ok := h.side([3]int{e[0], e[1], at})
		if !ok {
			return false
		}
		h.sides = append(h.sides, s)
	}
	return len(rim) > 0 && len(h.sides) > 0
}
