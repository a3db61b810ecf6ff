package solid

import "math"

// nearest looks for the nearest points of two convex bodies by the method of
// Gilbert, Johnson and Keerthi (IEEE Journal of Robotics and Automation 4,
// 1988): the differences a-b of their points make a convex body too, and the
// point of it nearest to the origin is closed in on by points, edges,
// triangles and tetrahedra of its corners. It is all in floating point and
// proves nothing: what it finds is a direction and two points, both proved
// elsewhere.
type nearest struct {
	*pair
	need float64 // stop when the gap reaches it

	n       int
	corners [4]corner
	weight  [4]float64 // of the corners in the nearest point
	v       vector     // the nearest point of the simplex
	dir     vector     // the direction of the greatest gap so far
	low     float64    // that gap
	overlap bool       // no gap was found, or hardly one
}

// touching is a distance too short to give a direction: 1 nm.
const touching = 10

// run searches from a direction.
func (s *nearest) run(dir vector) {
	s.n, s.weight[0] = 1, 1
	s.corners[0] = s.corner(dir)
	s.v = s.corners[0].w
	s.dir, s.low = dir, dir.dot(s.v)
	for range 100 {
		l := s.v.length()
		if !(l > touching) {
			s.overlap = true
			return
		}
		// The gap along v is low, the distance at most l.
		d := s.v.unit()
		k := s.corner(d)
		if low := d.dot(k.w); low > s.low {
			s.dir, s.low = d, low
		}
		if l-s.low < float64(fine)/10 || s.low > s.need+1 {
			return
		}
		for i := range s.n {
			if s.corners[i].w == k.w { // no progress to be had
				s.overlap = s.low < touching
				return
			}
		}
		old := *s
		s.corners[s.n] = k
		s.n++
		if s.reduce() {
			s.overlap = true
			return
		}
		if !(s.v.length() < l) {
			// Rounding has the upper hand: the old point is as good.
			s.v, s.n, s.corners, s.weight = old.v, old.n, old.corners, old.weight
			s.overlap = s.low < touching
			return
		}
	}
	s.overlap = s.low < touching
}

// points is the nearest point of each body that the simplex gives.
func (s *nearest) points() (k corner) {
	for i := range s.n {
		c, w := s.corners[i], s.weight[i]
		k.a, k.b = k.a.plus(c.a.times(w)), k.b.plus(c.b.times(w))
		k.doneA += float64(c.doneA * w)
		k.doneB += float64(c.doneB * w)
	}
	return k
}

// reduce finds the point of the simplex nearest to the origin and keeps the
// corners that it hangs on. It tells whether the origin is inside.
func (s *nearest) reduce() bool {
	if s.n < 4 {
		var f face
		switch s.n {
		case 2:
			f = s.edge(0, 1)
		case 3:
			f = s.triangle(0, 1, 2)
		}
		s.keep(f)
		return false
	}
	var best face
	least, outside := math.Inf(1), false
	for _, t := range [...][4]int{{0, 1, 2, 3}, {0, 1, 3, 2}, {0, 2, 3, 1}, {1, 2, 3, 0}} {
		a, b, c, d := s.corners[t[0]].w, s.corners[t[1]].w, s.corners[t[2]].w, s.corners[t[3]].w
		n := b.minus(a).cross(c.minus(a))
		here, there := -n.dot(a), n.dot(d.minus(a))
		// The origin is beyond this side, or the tetrahedron is too flat to say.
		flat := math.Abs(there) <= 1e-13*n.length()*d.minus(a).length()
		if !flat && (here > 0) == (there > 0) && here != 0 {
			continue
		}
		outside = true
		f := s.triangle(t[0], t[1], t[2])
		if l := f.at.dot(f.at); l < least {
			best, least = f, l
		}
	}
	if !outside {
		s.weight = s.inside()
		s.v = vector{}
		return true
	}
	s.keep(best)
	return false
}

// face is the nearest point of a part of the simplex.
type face struct {
	n      int
	corner [3]int
	weight [3]float64
	at     vector
}

func (s *nearest) keep(f face) {
	old := s.corners
	for i := range f.n {
		s.corners[i], s.weight[i] = old[f.corner[i]], f.weight[i]
	}
	s.n, s.v = f.n, f.at
}

// edge is the nearest point of an edge.
func (s *nearest) edge(i, j int) face {
	a := s.corners[i].w
	ab := s.corners[j].w.minus(a)
	t := -a.dot(ab)
	l := ab.dot(ab)
	switch {
	case !(t > 0):
		return face{1, [3]int{i}, [3]float64{1}, a}
	case t >= l:
		return face{1, [3]int{j}, [3]float64{1}, s.corners[j].w}
	}
	t /= l
	return face{2, [3]int{i, j}, [3]float64{1 - t, t}, a.plus(ab.times(t))}
}

// triangle is the nearest point of a triangle: the foot of the perpendicular
// where that is inside, else the nearest point of an edge.
func (s *nearest) triangle(i, j, k int) face {
	a, b, c := s.corners[i].w, s.corners[j].w, s.corners[k].w
	n := b.minus(a).cross(c.minus(a))
	nn := n.dot(n)
	if nn > 0 {
		u := n.dot(b.cross(c)) / nn
		v := n.dot(c.cross(a)) / nn
		w := 1 - u - v
		if u > 0 && v > 0 && w > 0 {
			// the foot along the normal keeps more places than the weights
			return face{3, [3]int{i, j, k}, [3]float64{u, v, w}, n.times(n.dot(a) / nn)}
		}
	}
	best := s.edge(i, j)
	for _, f := range [...]face{s.edge(i, k), s.edge(j, k)} {
		if f.at.dot(f.at) < best.at.dot(best.at) {
			best = f
		}
	}
	return best
}

// inside is the weights of the four corners at the origin.
func (s *nearest) inside() (w [4]float64) {
	var sum float64
	for _, t := range [...][4]int{{0, 1, 2, 3}, {1, 0, 2, 3}, {2, 0, 1, 3}, {3, 0, 1, 2}} {
		a, b, c := s.corners[t[1]].w, s.corners[t[2]].w, s.corners[t[3]].w
		w[t[0]] = math.Abs(a.dot(b.cross(c)))
		sum += w[t[0]]
	}
	for i := range w {
		if !(sum > 0) {
			return [4]float64{1}
		}
		w[i] /= sum
	}
	return w
}
