package outline

import (
	"fmt"

	"golang.org/x/exp/slices"

	"stopshort/toolpath/measure"
)

// Outlines is the boundary of a union of grown shapes.
type Outlines struct {
	Outer   Loop    // round what the first shape belongs to, anticlockwise
	Loose   []Loop  // round what is not joined to it, anticlockwise
	Inner   []Loop  // round holes, clockwise: of the outer and of loose pieces
	Touches []Point // where boundaries touch at a single point: not joined there
}

// Loops are all loops, the outer one first.
func (o Outlines) Loops() []Loop {
	return append(append([]Loop{o.Outer}, o.Loose...), o.Inner...)
}

// Union is the boundary of the union of the shapes, each grown by the length,
// which is nought or more. The first shape says which piece is the part; see
// [Outlines]. A shape's error begins with its number, from 1.
//
// A hole less than a tenth of a nanometre across is not told. Loops begin at
// their rightmost end, of several the lowest; loose pieces and holes are in the
// order of where they begin, from the right.
//
// The time grows with the square of the number of shapes whose bounds meet: a
// dozen take a few milliseconds.
func Union(shapes []Shape, by measure.Length) (Outlines, error) {
	grown, err := grow(shapes, by)
	if err != nil {
		return Outlines{}, err
	}
	a := arrangement{shapes: grown, whose: make([]int, len(grown)), at: map[Point][]int{}}
	for i := range a.whose {
		a.whose[i] = i
	}
	a.split()
	rings, err := a.link()
	if err != nil {
		return Outlines{}, err
	}
	return a.outlines(rings), nil
}

func grow(shapes []Shape, by measure.Length) ([]Shape, error) {
	if len(shapes) == 0 {
		return nil, fmt.Errorf("0 shapes have no outline: give at least one")
	}
	if by < 0 || by > measure.MaxLength {
		return nil, fmt.Errorf("%s mm is no growth: give nought or more, at most %s mm", by.MM(), measure.MaxLength.MM())
	}
	grown := make([]Shape, len(shapes))
	for i, s := range shapes {
		if err := s.check(); err != nil {
			return nil, fmt.Errorf("shape %d: %w", i+1, err)
		}
		grown[i] = s.Grow(by)
	}
	return grown, nil
}

// arrangement is the boundary while it is taken apart and put together.
type arrangement struct {
	shapes []Shape
	whose  []int           // shape to another that it is joined to, or itself
	nodes  []node          // places where pieces of the boundary end
	at     map[Point][]int // nodes by their coordinates rounded down
	parts  []part          // the pieces of edges that are boundary
}

// node is a place with the parts that arrive and leave there.
type node struct {
	place
	in, out []int
}

// part is a stretch of an edge between two nodes.
type part struct {
	edge
	from, to int
	used     bool
}

// root is the shape that stands for all that are joined to the given one.
func (a *arrangement) root(shape int) int {
	for a.whose[shape] != shape {
		shape = a.whose[shape]
	}
	return shape
}

func (a *arrangement) join(s, o int) {
	s, o = a.root(s), a.root(o)
	a.whose[max(s, o)] = min(s, o)
}

// node is the number of the place, which is new or was met before.
func (a *arrangement) node(p place) int {
	cell := Point{measure.Length(p.x.floor), measure.Length(p.y.floor)}
	for _, n := range a.at[cell] {
		if a.nodes[n].equals(p) {
			return n
		}
	}
	a.nodes = append(a.nodes, node{place: p})
	a.at[cell] = append(a.at[cell], len(a.nodes)-1)
	return len(a.nodes) - 1
}

// split cuts each edge wherever another one meets it and keeps the parts that
// are boundary of the union. Between two cuts an edge lies wholly inside,
// outside or on the boundary of any other shape, so that one place tells.
func (a *arrangement) split() {
	var edges []edge
	for i, s := range a.shapes {
		edges = append(edges, s.edges(i)...)
	}
	cuts := make([][]place, len(edges))
	for i, e := range edges {
		cuts[i] = append(cuts[i], wholePlace(e.from), wholePlace(e.to))
	}
	for i, e := range edges {
		for j := i + 1; j < len(edges); j++ {
			if o := edges[j]; o.shape != e.shape {
				e.meet(o, func(p place) {
					cuts[i] = append(cuts[i], p)
					cuts[j] = append(cuts[j], p)
				})
			}
		}
	}
	for i, e := range edges {
		slices.SortFunc(cuts[i], func(p, q place) int {
			if e.grows() {
				return e.key(p).compare(e.key(q))
			}
			return e.key(q).compare(e.key(p))
		})
		c := slices.CompactFunc(cuts[i], func(p, q place) bool { return e.key(p).compare(e.key(q)) == 0 })
		for k := range c[1:] {
			if a.keeps(e, e.between(c[k], c[k+1])) {
				a.add(part{edge: e, from: a.node(c[k]), to: a.node(c[k+1])})
			}
		}
	}
}

func (a *arrangement) add(p part) {
	n := len(a.parts)
	a.parts = append(a.parts, p)
	a.nodes[p.from].out = append(a.nodes[p.from].out, n)
	a.nodes[p.to].in = append(a.nodes[p.to].in, n)
}

// keeps tells whether the part of the edge that holds the place is boundary of
// the union, and notes what the shape is joined to. Where two shapes share a
// stretch with the material on one side, the first has it; where they lie on
// either side of it, it is inside the union.
func (a *arrangement) keeps(e edge, p place) bool {
	keep := true
	for j, s := range a.shapes {
		if j == e.shape {
			continue
		}
		switch s.side(p) {
		case inside:
			keep = false
		case onIt:
			if !e.facesAway(s) && j > e.shape {
				a.join(e.shape, j)
				continue
			}
			keep = false
		default:
			continue
		}
		a.join(e.shape, j)
	}
	return keep
}

// facesAway tells of a shape that shares a stretch with the edge whether it
// lies on the other side of it. Of an arc none does.
func (e edge) facesAway(s Shape) bool {
	if e.kind == Arc {
		return false
	}
	low, high := s.Bounds()
	switch {
	case e.upright() && e.grows(): // a right side
		return e.from.X == low.X
	case e.upright():
		return e.from.X == high.X
	case e.grows(): // a lower side
		return e.from.Y == high.Y
	}
	return e.from.Y == low.Y
}
