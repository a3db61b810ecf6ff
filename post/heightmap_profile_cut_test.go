package post_test

import (
	"math"
	"math/bits"
)

// bins is the stretches across a cutter that fresh metal is counted in.
const bins = 256

// bite is what a short stretch of a stroke takes that no stroke took before.
type bite struct {
	across [bins / 64]uint64 // stretches a cell wide, from right to left
	right  float64           // the furthest right of the path: below nought
	any    bool
}

func (b *bite) width(h float64) float64 {
	n := 0
	for _, w := range b.across {
		n += bits.OnesCount64(w)
	}
	return float64(n) * h
}

// eaten is what a stroke takes, by stretches of two cells along it.
type eaten struct {
	bites  []bite
	each   float64 // length of a stretch
	length float64 // of the stroke
}

func (e *eaten) begin(length, h float64) {
	e.each, e.length = 2*h, length
	n := int(length/e.each) + 1
	if cap(e.bites) < n {
		e.bites = make([]bite, n)
	}
	e.bites = e.bites[:n]
	for i := range e.bites {
		e.bites[i] = bite{right: math.Inf(1)}
	}
}

// take notes a fresh cell that the cutter meets after so much of the stroke, so
// far to the left of its path.
func (e *eaten) take(along, left, r, h float64) {
	b := &e.bites[min(int(along/e.each), len(e.bites)-1)]
	n := min(max(int((left+r)/h), 0), bins-1)
	b.across[n/64] |= 1 << (n % 64)
	b.right = min(b.right, left)
	b.any = true
}

// long is how long a stroke is.
func (s stroke) long() float64 {
	if s.motion < 2 {
		return math.Hypot(s.to[0]-s.from[0], s.to[1]-s.from[1])
	}
	_, _, sweep, r := s.arc()
	return sweep * r
}

// arc is an arc's start and the angle it turns through, both in its own sense,
// which is 1 anticlockwise and -1 clockwise, and its radius.
func (s stroke) arc() (sense, start, sweep, r float64) {
	sense = 1
	if s.motion == 2 {
		sense = -1
	}
	ax, ay := s.from[0]-s.centre[0], sense*(s.from[1]-s.centre[1])
	bx, by := s.to[0]-s.centre[0], sense*(s.to[1]-s.centre[1])
	start = math.Atan2(ay, ax)
	if sweep = math.Atan2(by, bx) - start; sweep <= 0 {
		sweep += 2 * math.Pi
	}
	return sense, start, sweep, (math.Hypot(ax, ay) + math.Hypot(bx, by)) / 2
}

// at is the place after a part of a stroke, and the direction to the left there.
func (s stroke) at(part float64) (p, left [2]float64) {
	if s.motion < 2 {
		dx, dy := s.to[0]-s.from[0], s.to[1]-s.from[1]
		if l := math.Hypot(dx, dy); l > 0 {
			left = [2]float64{-dy / l, dx / l}
		}
		return [2]float64{s.from[0] + part*dx, s.from[1] + part*dy}, left
	}
	sense, start, sweep, r := s.arc()
	sin, cos := math.Sincos(start + part*sweep)
	return [2]float64{s.centre[0] + r*cos, s.centre[1] + sense*r*sin}, [2]float64{-sense * cos, -sin}
}

// walk calls f for places along a stroke, no further apart than each, its ends
// too.
func (s stroke) walk(each float64, f func(p [3]float64)) {
	n := max(1, math.Ceil(max(s.long(), math.Abs(s.to[2]-s.from[2]))/each))
	for k := 0.0; k <= n; k++ {
		q, _ := s.at(k / n)
		f([3]float64{q[0], q[1], s.from[2] + k/n*(s.to[2]-s.from[2])})
	}
}

// cut takes away what a flat cutter takes on an even stroke, and notes what is
// fresh of it.
func (m *plot) cut(s stroke, r float64, e *eaten) {
	e.begin(s.long(), m.h)
	if s.to[2] >= m.top {
		return
	}
	if s.motion >= 2 {
		m.cutArc(s, r, e)
		return
	}
	a, z := s.from, s.to[2]
	ux, uy := 1.0, 0.0
	if e.length > 0 {
		ux, uy = (s.to[0]-a[0])/e.length, (s.to[1]-a[1])/e.length
	}
	m.rows([2]float64{min(a[0], s.to[0]), min(a[1], s.to[1])}, [2]float64{max(a[0], s.to[0]), max(a[1], s.to[1])}, r, func(c int, x, y float64) {
		if m.z[c] <= z {
			return
		}
		along, left := (x-a[0])*ux+(y-a[1])*uy, (y-a[1])*ux-(x-a[0])*uy
		if left > r || left < -r {
			return
		}
		half := math.Sqrt(r*r - left*left)
		if along < -half || along > e.length+half {
			return
		}
		m.z[c] = z
		e.take(max(along-half, 0), left, r, m.h)
	})
}

// rows calls f for the cells of a box grown by r.
func (m *plot) rows(lo, hi [2]float64, r float64, f func(c int, x, y float64)) {
	i0, i1 := max(0, int((lo[0]-r-m.x0)/m.h)), min(m.nx-1, int((hi[0]+r-m.x0)/m.h))
	for k := max(0, int((lo[1]-r-m.y0)/m.h)); k < m.ny && m.y(k) <= hi[1]+r; k++ {
		y := m.y(k)
		for i := i0; i <= i1; i++ {
			f(k*m.nx+i, m.x(i), y)
		}
	}
}

func (m *plot) cutArc(s stroke, r float64, e *eaten) {
	sense, start, sweep, radius := s.arc()
	lo, hi := [2]float64{min(s.from[0], s.to[0]), min(s.from[1], s.to[1])}, [2]float64{max(s.from[0], s.to[0]), max(s.from[1], s.to[1])}
	for q := -4.0; q <= 8; q++ { // where it passes an axis
		if t := q*math.Pi/2 - start; t > 0 && t < sweep {
			sin, cos := math.Sincos(q * math.Pi / 2)
			p := [2]float64{s.centre[0] + radius*cos, s.centre[1] + sense*radius*sin}
			for i := range p {
				lo[i], hi[i] = min(lo[i], p[i]), max(hi[i], p[i])
			}
		}
	}
	z := s.to[2]
	inner, outer := max(radius-r, 0), radius+r
	m.rows(lo, hi, r, func(c int, x, y float64) {
		if m.z[c] <= z {
			return
		}
		dx, dy := x-s.centre[0], sense*(y-s.centre[1])
		square := dx*dx + dy*dy
		if square < inner*inner && radius > r || square > outer*outer {
			return
		}
		d := math.Sqrt(square)
		// The cutter covers the cell while its angle is within half of the cell's.
		half := math.Pi
		if d > 0 {
			half = math.Acos(min(max((square+radius*radius-r*r)/(2*d*radius), -1), 1))
		}
		at := math.Remainder(math.Atan2(dy, dx)-start, 2*math.Pi)
		met := 0.0
		if math.Abs(at) > half { // not where the stroke begins
			if met = at - half; met < 0 {
				met += 2 * math.Pi
			}
			if met > sweep {
				return
			}
		}
		m.z[c] = z
		e.take(met*radius, sense*(radius-d*math.Cos(at-met)), r, m.h)
	})
}

// room is how far the metal over a height is from a place, no further than most is
// looked.
func (m *plot) room(p [2]float64, z, most float64) float64 {
	least := most * most
	m.rows(p, p, most, func(c int, x, y float64) {
		if m.z[c] > z+1e-6 {
			least = min(least, (x-p[0])*(x-p[0])+(y-p[1])*(y-p[1]))
		}
	})
	return math.Sqrt(least)
}

// loose is the most cells that hang together with each other and not with the part
// or with what holds them, where all that is cut goes through.
func (m *plot) loose(held []obstacle) (cells int, at [2]float64) {
	const seen, metal = 1 << 6, 1 << 7
	m.queue = m.queue[:0]
	for c, z := range m.z {
		m.open[c] &^= seen | metal
		if z > m.bottom+1e-6 {
			m.open[c] |= metal
			if m.off[c] < 0 {
				m.open[c] |= seen
				m.queue = append(m.queue, int32(c))
			}
		}
	}
	count := 0
	join := func(c int32) bool {
		if m.open[c]&metal == 0 || m.open[c]&seen != 0 {
			return false
		}
		m.open[c] |= seen
		count++
		return true
	}
	for _, b := range held {
		if b.kind == "clamp" {
			lo, hi := b.bounds()
			m.rows(lo, hi, 0, func(c int, x, y float64) {
				if b.from(x, y) < 0 && join(int32(c)) {
					m.queue = append(m.queue, int32(c))
				}
			})
		}
	}
	m.spread(true, join)
	for c := range m.z {
		count = 0
		if !join(int32(c)) {
			continue
		}
		m.queue = append(m.queue[:0], int32(c))
		m.spread(true, join)
		if count > cells {
			cells, at = count, [2]float64{m.x(c % m.nx), m.y(c / m.nx)}
		}
	}
	return cells, at
}
