package job

import (
	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// Stock is what the part is cut from, in the part's frame: a box, or a round
// bar along one axis.
type Stock struct {
	Box   solid.Box // of a round bar: the box about it
	Round *solid.Cylinder
	// Pieces is what a blank is made of together; Box is then the box about
	// them all.
	Pieces []Stock
}

// All is the stock's pieces, or the stock itself.
func (s Stock) All() []Stock {
	if len(s.Pieces) > 0 {
		return s.Pieces
	}
	return []Stock{s}
}

// Bodies is the stock as solids, in the set-up's frame: their union.
func (s Stock) Bodies(f Frame) []solid.Body {
	if len(s.Pieces) > 0 {
		var out []solid.Body
		for _, p := range s.Pieces {
			out = append(out, p.Bodies(f)...)
		}
		return out
	}
	if s.Round != nil {
		return []solid.Body{f.Cylinder(*s.Round)}
	}
	return []solid.Body{f.Box(s.Box)}
}

func readStock(n *form.Node) Stock {
	pieces := n.Subs("pieces")
	if len(pieces) == 0 {
		return readPiece(n)
	}
	for _, k := range []string{"low", "size", "diameter", "along", "at", "ends"} {
		if n.Has(k) {
			n.Fault(k, "belongs to one of the pieces: give pieces, or one box or bar")
		}
	}
	if len(pieces) == 1 { // one piece is the stock itself, and judged as finely
		return readPiece(pieces[0])
	}
	var s Stock
	for i, p := range pieces {
		piece := readPiece(p)
		s.Pieces = append(s.Pieces, piece)
		if i == 0 {
			s.Box = piece.Box
		}
		s.Box = s.Box.With(piece.Box)
	}
	return s
}

func readPiece(n *form.Node) Stock {
	if n.Has("diameter") {
		return readRound(n)
	}
	for _, k := range []string{"along", "at", "ends"} {
		if n.Has(k) {
			n.Fault(k, "belongs to a round bar: give its diameter, or low and size for a box")
		}
	}
	var s Stock
	low, size := n.Lengths("low"), n.Lengths("size")
	if len(low) != 3 || len(size) != 3 {
		n.Fault("size", "the stock has no size: give low and size for a box, or diameter, along and ends for a round bar")
		return s
	}
	for _, v := range size {
		if v <= 0 {
			n.Fault("size", "%s is no size: each must be more than nought", v)
			return s
		}
	}
	s.Box.Low = point(low)
	s.Box.High = s.Box.Low.Plus(point(size))
	if !inReach(s.Box) {
		n.Fault("size", "the stock reaches beyond %s: look at low and size", measure.MaxLength)
	}
	return s
}

func readRound(n *form.Node) Stock {
	for _, k := range []string{"low", "size"} {
		if n.Has(k) {
			n.Fault(k, "belongs to a box: give either diameter or low and size")
		}
	}
	a, _ := direction("+" + n.Word("along"))
	ends := n.Lengths("ends")
	if len(ends) != 2 {
		n.Fault("ends", "a round bar needs both ends along its axis: ends = [low, high]")
		return Stock{}
	}
	if ends[0] >= ends[1] {
		n.Fault("ends", "%s is not below %s: write the lower end first", ends[0], ends[1])
		return Stock{}
	}
	at := n.Lengths("at")
	if len(at) == 0 {
		at = []measure.Length{0, 0}
	}
	r := n.Length("diameter") / 2
	c := solid.Cylinder{From: across(a, at, ends[0]), To: across(a, at, ends[1]), Radius: r}
	if !inReach(c.BoundingBox()) {
		n.Fault("diameter", "the stock reaches beyond %s: look at its diameter, at and ends", measure.MaxLength)
	}
	return Stock{Box: c.BoundingBox(), Round: &c}
}

// inReach tells whether a box lies within what lengths are held to.
func inReach(b solid.Box) bool {
	for _, a := range []solid.Axis{solid.X, solid.Y, solid.Z} {
		if b.Low.Along(a) < -measure.MaxLength || b.High.Along(a) > measure.MaxLength {
			return false
		}
	}
	return true
}

// across is the point at a place along the axis, with the other two
// coordinates in the order of their letters.
func across(a solid.Axis, at []measure.Length, along measure.Length) solid.Point {
	var p solid.Point
	i := 0
	for _, b := range []solid.Axis{solid.X, solid.Y, solid.Z} {
		if b == a {
			p = p.With(b, along)
			continue
		}
		p = p.With(b, at[i])
		i++
	}
	return p
}

func point(v []measure.Length) solid.Point { return solid.Point{X: v[0], Y: v[1], Z: v[2]} }
