package post_test

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// note is something that the operator is told is left, and where.
type note struct {
	text string
	at   [2]float64
	held bool // for what holds the part
}

var notePlace = regexp.MustCompile(`([0-9.]+) (left|right), ([0-9.]+) (in front|behind) of zero`)

// notes reads what an operation's notes tell; unit is the program's, in
// millimetres.
func notes(all []string, unit float64) (out []note, err error) {
	for _, t := range all {
		w := notePlace.FindStringSubmatch(t)
		if w == nil {
			return nil, fmt.Errorf("%q tells no place", t)
		}
		n := note{text: t, held: strings.Contains(t, "holds the part")}
		for i := range n.at {
			v, err := strconv.ParseFloat(w[1+2*i], 64)
			if err != nil {
				return nil, err
			}
			if n.at[i] = v * unit; w[2+2*i] == "left" || w[2+2*i] == "in front" {
				n.at[i] = -n.at[i]
			}
		}
		out = append(out, n)
	}
	return out, nil
}

// patch is cells that hang together.
type patch struct {
	cells   []int
	corners int // inside corners of the outline at it
}

// patches gathers marked cells.
func (m *plot) patches(marked []bool, corners [][2]float64) (out []patch) {
	for c := range marked {
		if !marked[c] {
			continue
		}
		marked[c] = false
		p := patch{cells: []int{c}}
		m.queue = append(m.queue[:0], int32(c))
		m.spread(true, func(n int32) bool {
			if !marked[n] {
				return false
			}
			marked[n] = false
			p.cells = append(p.cells, int(n))
			return true
		})
		for _, q := range corners {
			if m.away(p, q) < 2*m.h {
				p.corners++
			}
		}
		out = append(out, p)
	}
	return out
}

// away is how far the nearest cell of a patch is from a place.
func (m *plot) away(p patch, q [2]float64) float64 {
	least := math.Inf(1)
	for _, c := range p.cells {
		least = min(least, math.Hypot(m.x(c%m.nx)-q[0], m.y(c/m.nx)-q[1]))
	}
	return least
}

// finished holds the metal against the finished part, once its outline is cut.
func (m *mill) finished() {
	j := m.j
	floor := max(-j.depth.mm, m.bottom)
	gouged, deepest := 0, 0.0
	var where [2]float64
	for c, z := range m.z {
		if m.off[c] < -j.grid*3-1e-6 && !math.IsInf(z, -1) && z < m.top-1e-9 {
			if gouged++; -m.off[c] > deepest {
				deepest, where = -m.off[c], [2]float64{m.x(c % m.nx), m.y(c / m.nx)}
			}
		}
	}
	if gouged > 0 {
		m.fault("gouge", "%d cells of the part are cut, by %.4f at X%.3f Y%.3f", gouged, deepest, where[0], where[1])
	}
	if m.deepest < -j.depth.mm-j.grid-1e-6 || m.deepest > -j.depth.mm+j.grid+1e-6 {
		m.fault("depth", "%.4f is asked and %.4f cut", j.depth.mm, -m.deepest)
	}

	// What is left outside the part, and what need not be.
	n := len(m.z)
	standing, stuck := make([]bool, n), make([]bool, n)
	m.reach(j.r, j.held, j.blocks, 1.05+m.h)
	for c, z := range m.z {
		if m.off[c] > 0.01 && z > floor+0.004 {
			standing[c] = true
		}
	}
	must := 0
	m.within(surelyOut, j.r-0.005, true, func(c int) {
		if standing[c] {
			x, y := m.x(c%m.nx), m.y(c/m.nx)
			if must++; must == 1 {
				where = [2]float64{x, y}
			}
			off := math.Inf(1)
			for _, h := range j.held {
				off = min(off, h.from(x, y))
			}
			m.q.behind = max(m.q.behind, off)
		}
	})
	told := false
	for _, t := range m.notes {
		told = told || t.held
	}
	if must > 0 && !told {
		m.fault("left", "%d cells stand that the cutter comes to, first X%.3f Y%.3f", must, where[0], where[1])
	}
	m.within(perhapsOut, j.r+m.h, false, func(c int) { stuck[c] = standing[c] })
	m.tell(standing, stuck, told)
}

// tell holds what the notes tell against what is left.
func (m *mill) tell(standing, stuck []bool, told bool) {
	j := m.j
	corners := j.shape.corners()
	byHolding := func(p patch) bool {
		for _, h := range j.held {
			if b := j.blocks(h); b > 0 {
				for _, c := range p.cells {
					if h.from(m.x(c%m.nx), m.y(c/m.nx)) < b+1.1+2*m.h {
						return true
					}
				}
			}
		}
		return false
	}
	for _, p := range m.patches(stuck, corners) {
		at := [2]float64{m.x(p.cells[0] % m.nx), m.y(p.cells[0] / m.nx)}
		if byHolding(p) {
			if len(p.cells) > 10 && !told {
				m.fault("untold", "%d cells are left by what holds the part, at X%.3f Y%.3f, and nothing tells it", len(p.cells), at[0], at[1])
			}
			continue
		}
		if p.corners < 2 {
			continue // a fillet
		}
		found := false
		for _, t := range m.notes {
			found = found || !t.held && m.away(p, t.at) < 2*j.r+3*m.h
		}
		if !found {
			m.fault("untold", "%d cells between %d corners are left at X%.3f Y%.3f, and nothing tells it", len(p.cells), p.corners, at[0], at[1])
		}
	}
	all := m.patches(standing, corners)
	for _, t := range m.notes {
		best, is := math.Inf(1), -1
		for i, p := range all {
			if t.held == byHolding(p) {
				if d := m.away(p, t.at); d < best {
					best, is = d, i
				}
			}
		}
		switch {
		case best > 2*j.r+3*m.h:
			m.fault("told", "%q, and nothing is left there", t.text)
		case !t.held && all[is].corners < 2:
			m.fault("told", "%q, and %d cells by %d corners are left there", t.text, len(all[is].cells), all[is].corners)
		}
	}
}
