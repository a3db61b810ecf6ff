package post_test

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"golang.org/x/exp/slices"
)

// note is something that the operator is told is left, and where.
type note struct {
	text string
	at   [2]float64
	held bool // for what holds the part
}

var notePlace = regexp.MustCompile(`([0-9.]+) (left|right) of zero and ([0-9.]+) (in front of|behind) it`)

// notes reads what an operation's notes tell; unit is the program's, in
// millimetres.
func notes(all []string, unit float64) (out []note, err error) {
	for _, t := range all {
		w := notePlace.FindStringSubmatch(t)
		if w == nil {
			return nil, fmt.Errorf("%q tells no place", t)
		}
		n := note{text: t, held: strings.HasPrefix(t, "stock is left")}
		for i := range n.at {
			v, err := strconv.ParseFloat(w[1+2*i], 64)
			if err != nil {
				return nil, err
			}
			if n.at[i] = v * unit; w[2+2*i] == "left" || w[2+2*i] == "in front of" {
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
	m.reach(j.r, nil, nil, 0)
	kept := make([]bool, n) // for the holding alone
	m.within(surelyOut, j.r-0.005, true, func(c int) { kept[c] = stuck[c] })
	m.tell(standing, stuck, kept, told)
}

// tell holds what the notes tell against what is left; kept is what the cutter would
// come to if nothing held the part.
func (m *mill) tell(standing, stuck, kept []bool, told bool) {
	j := m.j
	corners := j.shape.corners()
	near := func(p patch, t note) bool { return m.away(p, t.at) < 2*j.r+3*m.h }
	for _, p := range m.patches(stuck, corners) {
		at := [2]float64{m.x(p.cells[0] % m.nx), m.y(p.cells[0] / m.nx)}
		if slices.ContainsFunc(m.notes, func(t note) bool { return !t.held && near(p, t) }) {
			continue
		}
		held := 0
		for _, c := range p.cells {
			if kept[c] {
				held++
			}
		}
		switch {
		case held > 10 && told: // a note need not stand where it ends
		case held > 10:
			m.fault("untold", "%d cells are left by what holds the part, at X%.3f Y%.3f, and nothing tells it", held, at[0], at[1])
		case p.corners > 1: // else a fillet
			m.fault("untold", "%d cells between %d corners are left at X%.3f Y%.3f, and nothing tells it", len(p.cells), p.corners, at[0], at[1])
		}
	}
	all := m.patches(standing, corners)
	for _, t := range m.notes {
		if !slices.ContainsFunc(all, func(p patch) bool { return near(p, t) }) && !m.slit(t) {
			sort := "told"
			if t.held { // what is thinner than a cell is not seen
				sort = "told by the holding"
			}
			m.fault(sort, "%q, and nothing is left there", t.text)
		}
	}
}

// slit tells whether there is a gap by a note's place that is too narrow for the cells:
// a place outside the part with the part on both sides.
func (m *mill) slit(t note) bool {
	const each = 0.002
	s := m.j.shape
	for _, along := range []int{0, 1} { // across the gap
		for far := -2 * m.j.r; far <= 2*m.j.r; far += m.h {
			was, outside := false, 0.0
			for d := -2 * m.j.r; d <= 2*m.j.r; d += each {
				q := t.at
				q[along] += d
				q[1-along] += far
				switch {
				case s.from(q[0], q[1]) > 0:
					outside += each
				case was && outside > 0 && outside < 2*m.h:
					return true
				default:
					was, outside = true, 0
				}
			}
		}
	}
	return false
}
