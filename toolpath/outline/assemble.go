package outline

import (
	"golang.org/x/exp/slices"

	"stopshort/toolpath/measure"
)

// outlines sorts the rings and makes loops of them. Of the rings of shapes that
// are joined, the outer one is the one that comes to the rightmost place of
// them all, since no hole does.
func (a *arrangement) outlines(rings []ring) Outlines {
	right := map[int]measure.Length{}
	for i, s := range a.shapes {
		_, high := s.Bounds()
		n := a.root(i)
		if r, ok := right[n]; !ok || high.X > r {
			right[n] = high.X
		}
	}
	var o Outlines
	for _, r := range rings {
		l := a.loop(r)
		n := a.root(a.parts[r[0]].shape)
		outer := slices.ContainsFunc(r, func(p int) bool {
			return a.nodes[a.parts[p].from].x.compareWhole(int64(right[n])) == 0
		})
		switch {
		case len(l) == 0:
		case outer && n == 0:
			o.Outer = l
		case outer:
			o.Loose = append(o.Loose, l)
		default:
			o.Inner = append(o.Inner, l)
		}
	}
	for _, loops := range [][]Loop{o.Loose, o.Inner} {
		slices.SortFunc(loops, func(l, m Loop) int { return l[0].From.fromRight(m[0].From) })
	}
	for _, n := range a.nodes {
		if len(n.out) > 1 {
			o.Touches = append(o.Touches, n.rounded())
		}
	}
	slices.SortFunc(o.Touches, Point.fromRight)
	o.Touches = slices.Compact(o.Touches)
	return o
}

// fromRight orders points from right to left, and upward.
func (p Point) fromRight(q Point) int {
	switch {
	case p.X != q.X:
		return compare(q.X, p.X)
	default:
		return compare(p.Y, q.Y)
	}
}

func compare(a, b measure.Length) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// loop is a ring with its parts put together to pieces, rounded. It is empty
// where nothing is left once it is rounded.
func (a *arrangement) loop(r ring) Loop {
	start := slices.IndexFunc(r, func(n int) bool { // of a whole circle
		p := a.parts[n]
		return p.kind == Arc && p.quarter == 0 && a.nodes[p.from].equals(wholePlace(p.edge.from))
	})
	for i, n := range r {
		before := a.parts[r[(i+len(r)-1)%len(r)]]
		if !a.parts[n].sameCurve(before.edge) {
			start = i
			break
		}
	}
	start = max(start, 0)
	r = append(slices.Clone(r[start:]), r[:start]...)
	var l Loop
	for i := 0; i < len(r); {
		j := i + 1
		for j < len(r) && a.parts[r[j]].sameCurve(a.parts[r[i]].edge) {
			j++
		}
		before := a.parts[r[(i+len(r)-1)%len(r)]]
		l = append(l, a.pieces(r[i:j], a.joint(before, a.parts[r[i]]))...)
		i = j
	}
	return l.withoutSpecks().fromRightmost()
}

// pieces are the parts of one line or circle as one piece, or more where an arc
// would go more than half-way round: it is cut where its circle crosses an axis
// through the centre, so that its cuts are whole.
func (a *arrangement) pieces(r []int, j Joint) []Piece {
	first, last := a.parts[r[0]], a.parts[r[len(r)-1]]
	piece := func(from, to place) Piece {
		p := Piece{Kind: first.kind, From: from.rounded(), To: to.rounded(), Joint: j}
		if first.kind == Arc {
			p.Centre, p.Radius, p.Sense = first.centre, first.radius, Anticlockwise
		}
		j = Smooth
		return p
	}
	from, to := a.nodes[first.from].place, a.nodes[last.to].place
	if first.kind == Line {
		return []Piece{piece(from, to)}
	}
	// Where the run goes from one quarter into the next.
	var crossings []place
	for i := 1; i < len(r); i++ {
		if p := a.parts[r[i]]; p.quarter != a.parts[r[i-1]].quarter {
			crossings = append(crossings, a.nodes[p.from].place)
		}
	}
	var all []Piece
	quarter := first.quarter
	for moreThanHalf(first.edge, from, quarter, to, len(crossings)) {
		all = append(all, piece(from, crossings[1]))
		from, quarter, crossings = crossings[1], (quarter+2)%4, crossings[2:]
	}
	return append(all, piece(from, to))
}

// moreThanHalf tells whether an arc goes more than half-way round its circle,
// where it starts in the given quarter and goes over into the next one so many
// times. After two it is in the opposite quarter, and its end is held against
// the place opposite its start.
func moreThanHalf(e edge, from place, quarter int, to place, crossings int) bool {
	if crossings != 2 {
		return crossings > 2
	}
	c := to.x.compare(from.x.mirrored(int64(e.centre.X)))
	if (quarter+2)%4 < 2 { // X falls along it
		return c < 0
	}
	return c > 0
}

// withoutSpecks leaves out pieces whose ends have become one point. A corner
// at one of them becomes the next piece's.
func (l Loop) withoutSpecks() Loop {
	var kept Loop
	carry := Smooth
	for _, p := range l {
		p.Joint = max(p.Joint, carry)
		carry = Smooth
		if p.From == p.To {
			carry = p.Joint
			continue
		}
		kept = append(kept, p)
	}
	if len(kept) < 2 {
		return nil
	}
	kept[0].Joint = max(kept[0].Joint, carry)
	return kept
}

// fromRightmost begins at the rightmost end, of several at the lowest.
func (l Loop) fromRightmost() Loop {
	best := 0
	for i, p := range l {
		if p.From.fromRight(l[best].From) < 0 {
			best = i
		}
	}
	return l.From(best)
}
