package post_test

import "math"

// cell is the most that a cell's side is, in millimetres as all figures of the
// height map.
const cell = 0.05

// heightMap is a block of metal seen from above, one height a cell. A cell is
// cut where its centre is, so that the map never has cut more than the truth,
// and less by at most a cell. The outermost centres stand on the block's faces.
type heightMap struct {
	low, high [3]float64 // the block
	nx, ny    int
	dx, dy    float64 // a cell's sides
	z         []float64
	// cells touched: columns x0 to x1, rows y0 to y1, the ends not counted
	x0, x1, y0, y1 int
}

// lay puts a fresh block on the map.
func (m *heightMap) lay(low, high [3]float64) {
	m.low, m.high = low, high
	m.nx, m.ny = int(math.Ceil((high[0]-low[0])/cell))+1, int(math.Ceil((high[1]-low[1])/cell))+1
	m.dx, m.dy = (high[0]-low[0])/float64(m.nx-1), (high[1]-low[1])/float64(m.ny-1)
	if n := m.nx * m.ny; cap(m.z) < n {
		m.z = make([]float64, n)
	} else {
		m.z = m.z[:n]
	}
	for i := range m.z {
		m.z[i] = high[2]
	}
	m.x0, m.x1, m.y0, m.y1 = m.nx, 0, m.ny, 0
}

func (m *heightMap) x(i int) float64 { return m.low[0] + float64(i)*m.dx }
func (m *heightMap) y(k int) float64 { return m.low[1] + float64(k)*m.dy }

// at is the height of a cell; beyond the block there is no metal.
func (m *heightMap) at(i, k int) float64 {
	if i < 0 || k < 0 || i >= m.nx || k >= m.ny {
		return math.Inf(-1)
	}
	return m.z[k*m.nx+i]
}

// cut takes away what a flat cutter takes whose tip goes straight from a to b
// at a height.
func (m *heightMap) cut(a, b [2]float64, r, z float64) {
	if z >= m.high[2] {
		return
	}
	dx, dy := b[0]-a[0], b[1]-a[1]
	length := math.Sqrt(dx*dx + dy*dy)
	first := max(0, int((min(a[1], b[1])-r-m.low[1])/m.dy-1))
	last := min(m.ny-1, int((max(a[1], b[1])+r-m.low[1])/m.dy+1))
	for k := first; k <= last; k++ {
		y := m.y(k)
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, c := range [][2]float64{a, b} {
			if s := r*r - (y-c[1])*(y-c[1]); s >= 0 {
				lo, hi = min(lo, c[0]-math.Sqrt(s)), max(hi, c[0]+math.Sqrt(s))
			}
		}
		if length > 0 { // and the rectangle between the two discs
			ux, uy := dx/length, dy/length
			l, h := between(math.Inf(-1), math.Inf(1), uy*(y-a[1])-ux*a[0], ux, 0, length)
			l, h = between(l, h, ux*(y-a[1])+uy*a[0], -uy, -r, r)
			if l <= h {
				lo, hi = min(lo, l), max(hi, h)
			}
		}
		if lo > hi {
			continue
		}
		from := int(math.Ceil(max((lo-m.low[0])/m.dx, 0)))
		for i := from; i < m.nx && m.x(i) <= hi; i++ {
			if p := &m.z[k*m.nx+i]; *p > z {
				*p = z
				m.x0, m.x1 = min(m.x0, i), max(m.x1, i+1)
				m.y0, m.y1 = min(m.y0, k), max(m.y1, k+1)
			}
		}
	}
}

// cutPoint takes away what a drill takes whose tip stands at a height: a cone.
func (m *heightMap) cutPoint(p [2]float64, c cutter, z float64) {
	if z >= m.high[2] {
		return
	}
	for k := max(0, int((p[1]-c.r-m.low[1])/m.dy)); k < m.ny && m.y(k) <= p[1]+c.r; k++ {
		for i := max(0, int((p[0]-c.r-m.low[0])/m.dx)); i < m.nx && m.x(i) <= p[0]+c.r; i++ {
			x, y := m.x(i)-p[0], m.y(k)-p[1]
			square := x*x + y*y
			if square > c.r*c.r {
				continue
			}
			h := z + c.slope*math.Sqrt(square)
			if at := &m.z[k*m.nx+i]; *at > h {
				*at = h
				m.x0, m.x1 = min(m.x0, i), max(m.x1, i+1)
				m.y0, m.y1 = min(m.y0, k), max(m.y1, k+1)
			}
		}
	}
}

// between narrows an interval of x to where c + d*x lies from least to most.
func between(lo, hi, c, d, least, most float64) (float64, float64) {
	if d == 0 {
		if c < least || c > most {
			return 1, -1
		}
		return lo, hi
	}
	p, q := (least-c)/d, (most-c)/d
	return max(lo, min(p, q)), min(hi, max(p, q))
}

// each calls f for every cell that is cut.
func (m *heightMap) each(f func(i, k int, z float64)) {
	for k := m.y0; k < m.y1; k++ {
		for i := m.x0; i < m.x1; i++ {
			if z := m.z[k*m.nx+i]; z < m.high[2] {
				f(i, k, z)
			}
		}
	}
}

// rod is a bore: a round bar of nothing.
type rod struct {
	name      string
	at, along [3]float64 // a point of its axis, and the axis, of length 1
	low, high float64    // its ends along the axis, from the point
	r         float64
}

// from is the distance of a point to the bore's wall or its ends, nought
// inside.
func (b rod) from(x, y, z float64) float64 {
	x, y, z = x-b.at[0], y-b.at[1], z-b.at[2]
	t := x*b.along[0] + y*b.along[1] + z*b.along[2]
	beside := max(0, math.Sqrt(max(0, x*x+y*y+z*z-t*t))-b.r)
	beyond := max(0, b.low-t, t-b.high)
	return math.Sqrt(beside*beside + beyond*beyond)
}

// web is the least metal between what is cut and a bore: over all cut cells
// the least distance from the cell's column to the bore. A column with cut
// ones about it is tried at its bottom and where it passes the bore's axis;
// one that is a side of the cut all the way up.
func (m *heightMap) web(b rod) float64 {
	least, top := math.Inf(1), m.high[2]
	m.each(func(i, k int, z float64) {
		x, y := m.x(i), m.y(k)
		least = min(least, b.from(x, y, z))
		if flat := 1 - b.along[2]*b.along[2]; flat > 1e-9 {
			h := ((x-b.at[0])*b.along[0] + (y-b.at[1])*b.along[1]) * b.along[2] / flat
			least = min(least, b.from(x, y, min(max(b.at[2]+h, z), top)))
		}
		if m.at(i-1, k) <= z && m.at(i+1, k) <= z && m.at(i, k-1) <= z && m.at(i, k+1) <= z {
			return
		}
		// The distance to a solid without hollows has one lowest place.
		if b.from(x, y, z) <= b.from(x, y, z+1e-4) {
			return
		}
		lo, hi := z, top
		for hi-lo > 1e-4 {
			p, q := lo+(hi-lo)/3, hi-(hi-lo)/3
			if b.from(x, y, p) <= b.from(x, y, q) {
				hi = q
			} else {
				lo = p
			}
		}
		least = min(least, b.from(x, y, lo))
	})
	return least
}

// deepest is the lowest cut cell's height.
func (m *heightMap) deepest() float64 {
	z := m.high[2]
	m.each(func(_, _ int, c float64) { z = min(z, c) })
	return z
}

// edge is the least metal between what is cut and a side of the block: axis 0
// or 1, the low or the high side.
func (m *heightMap) edge(axis int, high bool) float64 {
	least := math.Inf(1)
	m.each(func(i, k int, _ float64) {
		p := [2]float64{m.x(i), m.y(k)}[axis]
		if high {
			p = m.high[axis] - p
		} else {
			p -= m.low[axis]
		}
		least = min(least, p)
	})
	return least
}
