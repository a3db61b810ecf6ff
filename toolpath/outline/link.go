package outline

import (
	"fmt"
	"math/big"
)

// ring is a closed run of parts.
type ring []int

// link puts the parts together to rings. Each ring goes round one open region
// of the material, which is on its left: where several parts leave a node, the
// next is the first one clockwise from the way back, so that regions that touch
// at the node stay apart.
func (a *arrangement) link() ([]ring, error) {
	var rings []ring
	for first := range a.parts {
		if a.parts[first].used {
			continue
		}
		var r ring
		for n := first; ; {
			p := &a.parts[n]
			if p.used {
				if n != first {
					return nil, fmt.Errorf("the outline does not close at (%s)", a.describe(p.from))
				}
				break
			}
			p.used = true
			r = append(r, n)
			out := a.nodes[p.to].out
			if len(out) == 0 {
				return nil, fmt.Errorf("the outline does not close at (%s)", a.describe(p.to))
			}
			n = out[0]
			for _, m := range out[1:] {
				if a.sooner(*p, a.parts[m], a.parts[n]) {
					n = m
				}
			}
		}
		rings = append(rings, r)
	}
	return rings, nil
}

func (a *arrangement) describe(n int) string {
	p := a.nodes[n].rounded()
	return p.X.MM() + ", " + p.Y.MM()
}

// ray is how a part lies at a node as seen from it: its direction, and how much
// it bends to the left, as one over a radius; nought is straight.
type ray struct {
	arrow
	bend *big.Rat
}

func (p part) leaving(at place) ray {
	r := ray{p.along(at), new(big.Rat)}
	if p.kind == Arc {
		r.bend.SetFrac64(1, int64(p.radius))
	}
	return r
}

// arriving is the way back: an arc that bends left bends right on it.
func (p part) arriving(at place) ray {
	r := p.leaving(at)
	return ray{r.back(), r.bend.Neg(r.bend)}
}

// sooner tells whether m comes before n clockwise from the way back along p;
// all three meet at the end of p.
func (a *arrangement) sooner(p, m, n part) bool {
	at := a.nodes[p.to].place
	back, x, y := p.arriving(at), m.leaving(at), n.leaving(at)
	hx, hy := back.half(x), back.half(y)
	if hx != hy {
		return hx < hy
	}
	// They never have one direction: each has material on its left, a right angle
	// wide at least.
	return x.cross(y.arrow) < 0
}

// half is where a ray lies clockwise from r: 0 just beside it on the right, 1
// up to the opposite, 2 the opposite, 3 from there on, 4 just beside it on the left.
func (r ray) half(o ray) int {
	switch c := r.cross(o.arrow); {
	case c < 0:
		return 1
	case c > 0:
		return 3
	}
	switch {
	case r.dot(o.arrow) < 0:
		return 2
	case o.bend.Cmp(r.bend) < 0:
		return 0
	}
	return 4
}

// joint is how the part q goes on from p.
func (a *arrangement) joint(p, q part) Joint {
	at := a.nodes[q.from].place
	x, y := p.along(at), q.along(at)
	switch c := x.cross(y); {
	case c > 0:
		return Left
	case c < 0 || x.dot(y) < 0:
		return Right
	}
	return Smooth
}
