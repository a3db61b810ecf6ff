package read

import (
	"math"
	"math/big"

	"stopshort/post/rs274"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// flat is one plane: its two axes, the first turned into the second
// anticlockwise seen from the + end of the third, and their letters.
type flat struct {
	a, b             int
	centreA, centreB byte
	centreOff        byte // of the third axis
	endA, endB       byte
	noEnd            Rule
}

var flats = [3]flat{
	toolpath.PlaneXY: {a: 0, b: 1, centreA: 'I', centreB: 'J', centreOff: 'K', endA: 'X', endB: 'Y', noEnd: NoEndXY},
	toolpath.PlaneZX: {a: 2, b: 0, centreA: 'K', centreB: 'I', centreOff: 'J', endA: 'Z', endB: 'X', noEnd: NoEndZX},
	toolpath.PlaneYZ: {a: 1, b: 2, centreA: 'J', centreB: 'K', centreOff: 'I', endA: 'Y', endB: 'Z', noEnd: NoEndYZ},
}

// arc is G2 and G3.
func (s *state) arc(code int16) {
	w := &s.w
	centred := s.arcWords()
	if !w.hasAxes() && !centred {
		return // it only sets the mode
	}
	if !s.ready() || !s.need(rs274.Plane) {
		s.lost = true
		return
	}
	f := &flats[s.plane]
	s.cutting(ArcFeedMissing, TimeFeedMissingArc)
	round := !w.has(f.endA) && !w.has(f.endB)
	switch {
	case w.has(f.centreOff):
		s.about(CentreOffPlane, Word{f.centreOff, -1})
	case w.has('R') && centred:
		s.note(MixedArc)
	case w.has('R') && round:
		s.note(f.noEnd)
		s.note(RadiusFull)
	case !w.has('R') && !centred:
		s.note(NoCentre)
	case round && w.hasAxes():
		s.note(f.noEnd)
	}
	if s.lost {
		return
	}
	to, off := s.target()
	if s.comp && s.plane == toolpath.PlaneXY {
		s.cut(to, off) // the height is known, and the rest is not
		return
	}
	if !s.at.Known[f.a] || !s.at.Known[f.b] || !to.Known[f.a] || !to.Known[f.b] || s.comp {
		s.note(ArcFromUnknown)
		return
	}
	if !to.Known[2] {
		s.note(CutAtUnknown)
	}
	s.emit(toolpath.Arc, to, off)
	o := &s.out
	o.Plane = s.plane
	if code == 30 {
		o.Sense = toolpath.Anticlockwise
	}
	if w.has('R') {
		s.byRadius(f)
	} else {
		s.byCentre(f)
	}
	if !s.lost && s.tiny(f) {
		s.note(TinyArc)
	}
	if !s.lost {
		s.done()
	}
}

// tiniest is the turn, in radians, under which class A takes an arc for a full
// turn (its public source: 5e-7); a little more, for what floating point may be
// out by. R asks for equal ends.
const tiniest = 5.001e-7

// tiny tells whether an arc turns by so little, in its own sense, that readers
// differ on it. One that ends where it starts is a full turn to all.
func (s *state) tiny(f *flat) bool {
	o := &s.out
	da, db := part(&o.To, f.a)-part(&o.From, f.a), part(&o.To, f.b)-part(&o.From, f.b)
	if da == 0 && db == 0 {
		return false
	}
	centre := toolpath.Place{Point: o.Centre}
	ua := float64(part(&o.From, f.a) - part(&centre, f.a))
	ub := float64(part(&o.From, f.b) - part(&centre, f.b))
	// By the law of the chord, the way along the circle over the radius; the
	// cross product's sign is the way it turns.
	along := (float64(ua*float64(db)) - float64(ub*float64(da))) / (float64(ua*ua) + float64(ub*ub))
	if o.Sense == toolpath.Clockwise {
		along = -along
	}
	chord := math.Hypot(float64(da), float64(db)) / math.Hypot(ua, ub)
	return chord < 0.1 && along > -1e-12 && along < tiniest
}

// part is one axis of a place.
func part(p *toolpath.Place, i int) measure.Length {
	switch i {
	case 0:
		return p.X
	case 1:
		return p.Y
	}
	return p.Z
}

// setCentre puts one axis of the arc's centre.
func (s *state) setCentre(i int, v measure.Length) {
	switch i {
	case 0:
		s.out.Centre.X = v
	case 1:
		s.out.Centre.Y = v
	default:
		s.out.Centre.Z = v
	}
}

// byCentre puts the centre that I, J or K say. Counted from the start, a missing
// one is nought; counted from zero, both must be there.
func (s *state) byCentre(f *flat) {
	ca, okA := s.centre(f.centreA, part(&s.at, f.a))
	cb, okB := s.centre(f.centreB, part(&s.at, f.b))
	if !okA || !okB {
		s.lost = true
		return
	}
	s.setCentre(f.a, ca)
	s.setCentre(f.b, cb)
	i, j := ca-part(&s.at, f.a), cb-part(&s.at, f.b)
	k, l := ca-part(&s.out.To, f.a), cb-part(&s.out.To, f.b)
	if i == 0 && j == 0 || k == 0 && l == 0 {
		s.note(RadiusNought)
		return
	}
	s.radii(i, j, k, l)
}

// centre is one axis of the centre.
func (s *state) centre(letter byte, start measure.Length) (measure.Length, bool) {
	if !s.w.has(letter) {
		if s.centresAbs {
			s.note(NoCentre)
			return 0, false
		}
		return start, true
	}
	v, slack, ok := s.w.of(letter).length(s.unit)
	if !ok {
		s.about(OutOfReach, Word{letter, -1})
		return 0, false
	}
	if slack > 0 {
		// The radius that is taken from start to centre is then out by at most
		// 2 (1 on each axis of the centre), so a point of the arc by at most 3.
		ends := s.out.Slack - s.out.CentreSlack
		s.out.Slack = max(s.out.Slack, s.slack()+3)
		s.out.CentreSlack = s.out.Slack - ends
	}
	if !s.centresAbs {
		v += start
	}
	return v, true
}

// mostApart is by how much the radii of an arc may differ: 0.002 mm or 0.0002 in
// (NISTIR 6556, 3.5.3.2).
func (s *state) mostApart() measure.Length {
	if s.unit == measure.Inch {
		return 50_800
	}
	return 20_000
}

// radii tells of an arc whose two radii differ: by what R forgives (NISTIR 6556,
// 3.5.3.2), by what class A does (its public source), by what D does (its manuals).
// What A refuses nobody takes for an arc.
func (s *state) radii(i, j, k, l measure.Length) {
	if near(i, j, k, l, s.mostApart()) {
		return
	}
	s.note(RadiiDiffer)
	r := math.Hypot(float64(i), float64(j))
	if near(i, j, k, l, 50_000) || near(i, j, k, l, measure.Length(r/1000)) && near(i, j, k, l, 5_000_000) {
		return
	}
	s.note(RadiiDifferForA)
	s.note(RadiiDifferForD)
	s.note(RadiiFar)
}

// near tells whether the lengths of (i, j) and (k, l) differ by at most most.
//
// Each component is at most 4e12 tenths of a nanometre, so exact in a float64.
// A length worked out in float64 is out by less than 3 roundings of 2^-53 of it,
// so by less than 0.002, and the difference of two by less than 0.01. Where it is
// farther than 1 from most, it decides; the rest is decided on whole numbers.
func near(i, j, k, l, most measure.Length) bool {
	a := math.Sqrt(float64(float64(i)*float64(i)) + float64(float64(j)*float64(j)))
	b := math.Sqrt(float64(float64(k)*float64(k)) + float64(float64(l)*float64(l)))
	switch d := math.Abs(a - b); {
	case d < float64(most)-1:
		return true
	case d > float64(most)+1:
		return false
	}
	return nearExactly(i, j, k, l, most)
}

// nearExactly decides the same by squares: with p the longer length and q the
// other, p <= q+m is p*p - q*q - m*m <= 2*q*m, and where the left side is
// positive both sides may be squared.
func nearExactly(i, j, k, l, most measure.Length) bool {
	p, q := sumOfSquares(i, j), sumOfSquares(k, l)
	if p.Cmp(q) < 0 {
		p, q = q, p
	}
	m2 := sumOfSquares(most, 0)
	left := p.Sub(p, q)
	left.Sub(left, m2)
	if left.Sign() <= 0 {
		return true
	}
	right := m2.Mul(m2, q)
	right.Lsh(right, 2)
	return left.Mul(left, left).Cmp(right) <= 0
}

func sumOfSquares(x, y measure.Length) *big.Int {
	a := big.NewInt(int64(x))
	b := big.NewInt(int64(y))
	return a.Add(a.Mul(a, a), b.Mul(b, b))
}
