package post_test

import (
	"fmt"
	"strings"

	"stopshort/post"
)

// fault is something that the map finds wrong with a program, and what sort of
// fault it is.
type fault struct{ sort, text string }

// quality is how an outline's program cuts.
type quality struct {
	step           float64 // the side step asked for
	slow, needless float64 // length at the reduced feed, and where it cuts no more than the side step
	air            float64 // the longest way at depth that cuts nothing and need not be, less the diameter
	airAt          string
	airs           int
	behind         float64 // how far from what holds the part stock is left that could be reached
}

// mill follows an outline's strokes over a plot.
type mill struct {
	*plot
	j       *profileJob
	normal  float64 // feed
	eaten   eaten
	faults  []fault
	q       quality
	name    string  // of the pass
	run     float64 // length of this trip at depth so far
	last    float64 // of it, where metal was last met
	clear   float64 // of it, where the cutter could last come down, or met metal
	down    bool
	deepest float64
	left    map[string]float64 // least distances, by limit
	notes   []note
}

func (m *mill) fault(sort, format string, args ...any) {
	m.faults = append(m.faults, fault{sort, fmt.Sprintf(format, args...)})
}

// milled follows all programs of the job.
func (m *mill) milled(programs []*post.Proven) error {
	j := m.j
	m.left = map[string]float64{}
	m.deepest = j.top
	for _, p := range programs {
		name := strings.TrimSuffix(p.Name, ".ngc")
		second := strings.HasSuffix(name, "-02")
		var all []stroke
		if err := strokes(string(p.Text), j.top, func(s stroke) error { all = append(all, s); return nil }); err != nil {
			return fmt.Errorf("%s: %w", p.Name, err)
		}
		if second {
			m.finished()
			for _, s := range all {
				m.after(s)
			}
			continue
		}
		m.normal = 0
		for _, s := range all {
			if s.motion > 0 && s.long() > 0 {
				m.normal = max(m.normal, s.feed)
			}
		}
		for _, s := range all {
			m.stroke(s)
		}
		if j.after == nil {
			m.finished()
		}
	}
	return nil
}

// stroke takes one move of the outline's cutter.
func (m *mill) stroke(s stroke) {
	for _, t := range s.said {
		if strings.HasPrefix(t, "PASS ") || strings.HasPrefix(t, "FINISH ") {
			m.name = t
		}
	}
	j := m.j
	even := s.from[0] != s.to[0] || s.from[1] != s.to[1]
	if even && s.motion == 0 {
		if s.to[2] < m.over() {
			m.fault("rapid", "line %d: a rapid sideways at %.4f", s.line, s.to[2])
		}
		m.lifted(s)
		return
	}
	if s.to[2] > s.from[2] {
		m.lifted(s)
		return
	}
	if !even {
		m.entry(s)
		return
	}
	if s.to[2] >= j.top {
		return
	}
	m.deepest = min(m.deepest, s.to[2])
	m.cut(s, j.r, &m.eaten)
	m.width(s)
	m.aired(s)
}

// over is the least height at which rapids may cross.
func (m *mill) over() float64 {
	z := m.j.top + 0.9
	for _, h := range m.j.held {
		z = max(z, h.high)
	}
	return z
}

// entry takes a move straight down: it must be over no metal, a rapid a millimetre
// clear of it.
func (m *mill) entry(s stroke) {
	p := [2]float64{s.to[0], s.to[1]}
	if s.to[2] >= m.top {
		return
	}
	room := m.room(p, s.to[2], m.j.r+1.2) - m.j.r
	switch {
	case s.motion == 0 && room < 1-tiny:
		m.fault("entry", "line %d: a rapid down to %.4f at X%.4f Y%.4f, %.4f from metal", s.line, s.to[2], p[0], p[1], room)
	case room < -tiny:
		m.fault("entry", "line %d: it goes down into metal at X%.4f Y%.4f", s.line, p[0], p[1])
	}
	if !m.down {
		m.run, m.last, m.clear, m.down = 0, 0, 0, true
	}
}

// width judges how wide a stroke's bites are, and on which side.
func (m *mill) width(s stroke) {
	j, q := m.j, &m.q
	slow, finish := s.feed < 0.99*m.normal, strings.HasPrefix(m.name, "FINISH")
	touched := false
	for i, b := range m.eaten.bites {
		if !b.any {
			continue
		}
		touched = true
		along := min((float64(i)+0.5)*m.eaten.each, m.eaten.length)
		p, left := s.at(along / max(m.eaten.length, 1e-9))
		at := fmt.Sprintf("line %d, %s: X%.3f Y%.3f", s.line, m.name, p[0], p[1])
		w := b.width(m.h)
		switch {
		case slow:
			if w > q.step+2*m.h {
				q.needless -= m.eaten.each
			}
		case w > q.step+2*m.h:
			m.fault("bite", "%s: %.3f to the side at the full feed, and the step is %.3f", at, w, q.step)
		}
		if !slow {
			if b.right < -2*m.h {
				m.fault("climb", "%s: metal %.3f to the right of the path", at, -b.right)
			}
			if d, e := j.shape.from(p[0]+0.01*left[0], p[1]+0.01*left[1]), j.shape.from(p[0], p[1]); d > e-0.002 {
				m.fault("direction", "%s: the part is not on the left", at)
			}
		}
	}
	if slow && touched && !finish {
		q.slow += s.long()
		q.needless += s.long()
	}
}

// aired counts how far the cutter is fed at depth though it cuts nothing and could be
// lifted: to the last place before the next metal at which it could come down anew. A
// finishing pass takes less than the cells show, and so may a ring: where stock stands
// at the cutter's edge, it cuts.
func (m *mill) aired(s stroke) {
	if strings.HasPrefix(m.name, "FINISH") {
		m.down = false
		return
	}
	for i, b := range m.eaten.bites {
		along := min((float64(i)+0.5)*m.eaten.each, m.eaten.length)
		p, left := s.at(along / max(m.eaten.length, 1e-9))
		at := m.run + along
		switch {
		case b.any || m.j.stock.from(p[0]+m.j.r*left[0], p[1]+m.j.r*left[1]) < -1e-6:
			m.air(s, m.clear-m.last)
			m.last, m.clear = at, at
		case m.j.stock.from(p[0], p[1]) > m.j.r+1.2:
			m.clear = at
		}
	}
	m.run += s.long()
}

// air notes a way in the air that was not needed.
func (m *mill) air(s stroke, long float64) {
	q := &m.q
	if most := 2*m.j.r + 4*m.h; long > most {
		q.airs++
		if long-most > q.air {
			q.air = long - most
			q.airAt = fmt.Sprintf("line %d, %s: %.2f in the air before X%.3f Y%.3f", s.line, m.name, long, s.to[0], s.to[1])
		}
	}
}

// crumb is the area, in square millimetres, of metal that falls off as a chip does: a
// sliver by a clamp, a few cells at a border.
const crumb = 0.25

// lifted ends a trip at depth.
func (m *mill) lifted(s stroke) {
	if !m.down {
		return
	}
	m.down = false
	m.air(s, m.run-m.last)
	if m.j.through && s.from[2] < m.bottom {
		if n, at := m.loose(m.j.held); float64(n)*m.h*m.h > crumb {
			m.fault("loose", "line %d, %s: %d cells come loose at X%.3f Y%.3f", s.line, m.name, n, at[0], at[1])
		}
	}
}

// after takes one move of the cutter that follows: it must stay in its own shape.
func (m *mill) after(s stroke) {
	c := m.j.after
	if s.to[2] >= m.top {
		return
	}
	s.walk(0.05, func(p [3]float64) {
		if fromLine(c.a, c.b, [2]float64{p[0], p[1]}) > 0.01 {
			m.fault("after", "line %d: X%.3f Y%.3f is off the cut that follows", s.line, p[0], p[1])
		}
	})
	if s.to[2] < c.floor-1e-3 {
		m.fault("after", "line %d: to %.4f, and the floor is at %.4f", s.line, s.to[2], c.floor)
	}
}
