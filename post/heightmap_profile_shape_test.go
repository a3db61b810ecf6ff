package post_test

import (
	"math"

	"golang.org/x/exp/slices"
)

// area is a disc or a rectangle seen from above, in millimetres.
type area struct {
	name   string
	disc   bool
	c      [2]float64 // of a disc
	r      float64
	lo, hi [2]float64 // of a rectangle
}

// from is how far a place is outside; inside it is below nought.
func (a area) from(x, y float64) float64 {
	if a.disc {
		return math.Sqrt((x-a.c[0])*(x-a.c[0])+(y-a.c[1])*(y-a.c[1])) - a.r
	}
	dx, dy := max(a.lo[0]-x, x-a.hi[0]), max(a.lo[1]-y, y-a.hi[1])
	if dx <= 0 || dy <= 0 {
		return max(dx, dy)
	}
	return math.Sqrt(dx*dx + dy*dy)
}

func (a area) bounds() (lo, hi [2]float64) {
	if a.disc {
		return [2]float64{a.c[0] - a.r, a.c[1] - a.r}, [2]float64{a.c[0] + a.r, a.c[1] + a.r}
	}
	return a.lo, a.hi
}

// outline is the union of areas: the finished part seen from above.
type outline []area

// from is how far a place is outside of all; inside of one it is below nought.
func (o outline) from(x, y float64) float64 {
	least := math.Inf(1)
	for _, a := range o {
		least = min(least, a.from(x, y))
	}
	return least
}

func (o outline) bounds() (lo, hi [2]float64) {
	lo, hi = o[0].bounds()
	for _, a := range o[1:] {
		l, h := a.bounds()
		for i := range l {
			lo[i], hi[i] = min(lo[i], l[i]), max(hi[i], h[i])
		}
	}
	return lo, hi
}

// edges is the sides of a rectangle.
func (a area) edges() [4][2][2]float64 {
	p, q := a.lo, a.hi
	return [4][2][2]float64{
		{p, {q[0], p[1]}}, {{q[0], p[1]}, q}, {q, {p[0], q[1]}}, {{p[0], q[1]}, p},
	}
}

// crossings is where the rims of two areas meet.
func crossings(a, b area) (out [][2]float64) {
	switch {
	case a.disc && b.disc:
		return nil // there is one boss
	case a.disc:
		return crossings(b, a)
	case b.disc:
		for _, e := range a.edges() {
			k := 0 // the axis the edge runs along
			if e[0][0] == e[1][0] {
				k = 1
			}
			d := e[0][1-k] - b.c[1-k]
			if s := b.r*b.r - d*d; s >= 0 {
				for _, v := range []float64{b.c[k] - math.Sqrt(s), b.c[k] + math.Sqrt(s)} {
					if v >= min(e[0][k], e[1][k])-1e-9 && v <= max(e[0][k], e[1][k])+1e-9 {
						var p [2]float64
						p[k], p[1-k] = v, e[0][1-k]
						out = append(out, p)
					}
				}
			}
		}
	default:
		for _, x := range []float64{a.lo[0], a.hi[0], b.lo[0], b.hi[0]} {
			for _, y := range []float64{a.lo[1], a.hi[1], b.lo[1], b.hi[1]} {
				if math.Abs(a.from(x, y)) < 1e-9 && math.Abs(b.from(x, y)) < 1e-9 {
					out = append(out, [2]float64{x, y})
				}
			}
		}
	}
	return out
}

// corners is the outline's inside corners: where two rims meet and more than half
// of what is about the place belongs to the part. Corners nearer than 0.02 mm to
// another are one.
func (o outline) corners() (out [][2]float64) {
	for i, a := range o {
		for _, b := range o[:i] {
			for _, p := range crossings(a, b) {
				const about, n = 0.005, 96
				in := 0
				for k := range n {
					sin, cos := math.Sincos((float64(k) + 0.37) / n * 2 * math.Pi)
					if o.from(p[0]+about*cos, p[1]+about*sin) < 0 {
						in++
					}
				}
				same := func(q [2]float64) bool { return math.Hypot(p[0]-q[0], p[1]-q[1]) < 0.02 }
				if in > n/2+1 && in < n && !slices.ContainsFunc(out, same) {
					out = append(out, p)
				}
			}
		}
	}
	return out
}

// obstacle is something that holds the part: a body that stands upright.
type obstacle struct {
	area
	kind      string // nut, washer, clamp, jaw
	low, high float64
}

// plot is metal, part and cutter seen from above, in square cells. A cell is what
// is at its middle.
type plot struct {
	x0, y0, h   float64
	nx, ny      int
	top, bottom float64   // of the stock
	z           []float64 // height of the metal; -Inf where there is none
	off         []float64 // how far a cell is outside the part
	open        []uint8   // what the cutter's centre may come to: see reach
	near        []int32   // scratch: cells up or down to the nearest open one
	queue       []int32
}

// Of open: within what the part and the holding leave to a cutter's centre for
// certain, or perhaps; and so joined with the outside.
const (
	surely uint8 = 1 << iota
	perhaps
	surelyOut
	perhapsOut
)

func (m *plot) x(i int) float64 { return m.x0 + float64(i)*m.h }
func (m *plot) y(k int) float64 { return m.y0 + float64(k)*m.h }

// lay draws a fresh piece of stock and the part in it, with room for a cutter of
// radius r all round.
func (m *plot) lay(stock area, top, bottom float64, o outline, r, h float64) {
	lo, hi := o.bounds()
	l, u := stock.bounds()
	for i := range lo {
		lo[i], hi[i] = min(lo[i]-2*r-3*h, l[i]-2*h), max(hi[i]+2*r+3*h, u[i]+2*h)
	}
	m.h, m.top, m.bottom = h, top, bottom
	m.x0, m.y0 = lo[0]+h*0.3819, lo[1]+h*0.4142 // so that no row lies along a side
	m.nx, m.ny = int((hi[0]-lo[0])/h)+1, int((hi[1]-lo[1])/h)+1
	n := m.nx * m.ny
	if cap(m.z) < n {
		m.z, m.off, m.open, m.near = make([]float64, n), make([]float64, n), make([]uint8, n), make([]int32, n)
	}
	m.z, m.off, m.open, m.near = m.z[:n], m.off[:n], m.open[:n], m.near[:n]
	for k := range m.ny {
		for i := range m.nx {
			x, y := m.x(i), m.y(k)
			c := k*m.nx + i
			m.off[c], m.z[c] = o.from(x, y), math.Inf(-1)
			if stock.from(x, y) < 0 {
				m.z[c] = top
			}
		}
	}
}

// spread calls f for the cells that a step sideways, or aslant too, leads to from
// the queued ones, each while f says so.
func (m *plot) spread(aslant bool, f func(c int32) bool) {
	for len(m.queue) > 0 {
		c := m.queue[len(m.queue)-1]
		m.queue = m.queue[:len(m.queue)-1]
		i, k := int(c)%m.nx, int(c)/m.nx
		for dk := -1; dk <= 1; dk++ {
			for di := -1; di <= 1; di++ {
				if !aslant && di != 0 && dk != 0 || i+di < 0 || i+di >= m.nx || k+dk < 0 || k+dk >= m.ny {
					continue
				}
				if n := c + int32(dk*m.nx+di); f(n) {
					m.queue = append(m.queue, n)
				}
			}
		}
	}
}

// reach works out where a cutter's centre may come to at all: off the part by its
// radius, off each obstacle by what blocked gives for it, and joined with the
// outside. A way that is surely open has half a cell to spare, one that is
// perhaps open may lack a cell. hold grows the obstacles where it must be sure.
func (m *plot) reach(r float64, held []obstacle, blocked func(obstacle) float64, spare float64) {
	for c := range m.open {
		m.open[c] = 0
		if m.off[c] >= r+m.h/2+0.01 {
			m.open[c] = surely
		}
		if m.off[c] >= r-m.h {
			m.open[c] |= perhaps
		}
	}
	for _, b := range held {
		room := blocked(b)
		if room == 0 {
			continue
		}
		for k := range m.ny {
			for i := range m.nx {
				d := b.from(m.x(i), m.y(k))
				if d < room+spare {
					m.open[k*m.nx+i] &^= surely
				}
				if d < room-m.h {
					m.open[k*m.nx+i] &^= perhaps
				}
			}
		}
	}
	for _, w := range []struct {
		is, out uint8
		aslant  bool
	}{{surely, surelyOut, false}, {perhaps, perhapsOut, true}} {
		join := func(c int32) bool {
			if m.open[c]&w.is == 0 || m.open[c]&w.out != 0 {
				return false
			}
			m.open[c] |= w.out
			return true
		}
		m.queue = m.queue[:0]
		for k := range m.ny {
			for i := range m.nx {
				if c := int32(k*m.nx + i); (i == 0 || k == 0 || i == m.nx-1 || k == m.ny-1) && join(c) {
					m.queue = append(m.queue, c)
				}
			}
		}
		m.spread(w.aslant, join)
	}
}

// within calls f for each cell outside the part that has no open cell of a sort
// within a radius, or, where has is true, one that has.
func (m *plot) within(sort uint8, r float64, has bool, f func(c int)) {
	const far = 1 << 20
	for i := range m.nx { // the nearest open cell in each column
		d := int32(far)
		for k := range m.ny {
			c := k*m.nx + i
			if d++; m.open[c]&sort != 0 {
				d = 0
			}
			m.near[c] = d
		}
		for k := m.ny - 1; k >= 0; k-- {
			c := k*m.nx + i
			if k+1 < m.ny {
				m.near[c] = min(m.near[c], m.near[c+m.nx]+1)
			}
		}
	}
	n := int(r / m.h)
	square := r / m.h * r / m.h
	for k := range m.ny {
		for i := range m.nx {
			c := k*m.nx + i
			if m.off[c] <= 0 {
				continue
			}
			found := m.open[c]&sort != 0
			for d := -n; d <= n && !found; d++ {
				if i+d >= 0 && i+d < m.nx {
					v := float64(m.near[c+d])
					found = float64(d*d)+v*v <= square
				}
			}
			if found == has {
				f(c)
			}
		}
	}
}
