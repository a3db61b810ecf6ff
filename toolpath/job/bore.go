package job

import (
	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// Bore is a hole as finished, in the part's frame.
type Bore struct {
	Name     string
	Diameter measure.Figure[measure.Length]
	Solid    solid.Cylinder
	// Blind tells whether the job gave the ends; otherwise it runs through the
	// stock.
	Blind bool
	// PlaceWithin and DiameterWithin are how far its place and its diameter may
	// be out, each way; nil where the job does not say, and the machine's own
	// figure stands.
	PlaceWithin, DiameterWithin *measure.Length
	Node                        *form.Node
}

func (j *Job) readBores(nodes []*form.Node) {
	seen := map[string]form.Position{}
	for _, n := range nodes {
		b := Bore{Name: n.Text("name"), Diameter: n.Figure("diameter"), Node: n}
		if b.Name == "" {
			n.Fault("name", "a bore needs a name: cuts call it by it")
		} else if at, ok := seen[b.Name]; ok {
			n.Fault("name", "%q is the bore of line %d already: give each its own name", b.Name, at.Line)
		}
		seen[b.Name] = n.At("name")
		for _, w := range []struct {
			key string
			to  **measure.Length
		}{{"place_within", &b.PlaceWithin}, {"diameter_within", &b.DiameterWithin}} {
			if n.Set(w.key) {
				v := n.Length(w.key)
				*w.to = &v
			}
		}
		if c, ok := j.boreSolid(n, b.Diameter.Value/2); ok {
			b.Solid = c
			b.Blind = n.Has("ends")
			j.Bores = append(j.Bores, b)
		}
	}
}

// boreSolid is the bore's cylinder: along an axis at the other two
// coordinates, or through a point at an angle.
func (j *Job) boreSolid(n *form.Node, r measure.Length) (solid.Cylinder, bool) {
	a, _ := direction("+" + n.Word("along"))
	at, ends := n.Lengths("at"), n.Lengths("ends")
	if len(ends) == 2 && ends[0] >= ends[1] {
		n.Fault("ends", "%s is not below %s: write the lower end first", ends[0], ends[1])
		return solid.Cylinder{}, false
	}
	if !n.Has("angle") {
		if n.Has("towards") {
			n.Fault("towards", "goes with angle: give the angle too, or leave it out")
		}
		if len(at) != 2 {
			n.Fault("at", "%d figures: a bore along %s needs the two other coordinates", len(at), a)
			return solid.Cylinder{}, false
		}
		if len(ends) == 0 {
			ends = []measure.Length{j.Stock.Box.Low.Along(a), j.Stock.Box.High.Along(a)}
		}
		if ends[0] == ends[1] { // a stock that was not read sound; told elsewhere
			return solid.Cylinder{}, false
		}
		return solid.Cylinder{From: across(a, at, ends[0]), To: across(a, at, ends[1]), Radius: r}, true
	}
	if len(at) != 3 {
		n.Fault("at", "%d figures: a bore at an angle needs a point of its axis, [x, y, z]", len(at))
		return solid.Cylinder{}, false
	}
	t, way := direction(n.Word("towards"))
	if !n.Has("towards") || t == a {
		n.Fault("towards", "say which way the bore leans from %s: one of the other axes, such as \"+%c\"", a, 'x'+(a+1)%3)
		return solid.Cylinder{}, false
	}
	sin, cos := n.Angle("angle").SinCos()
	if len(ends) == 0 {
		low, high, ok := through(j.Stock.Box, r, point(at), a, cos, t, way, sin)
		if !ok {
			n.Fault("at", "the bore passes beside the stock: look at its point, its angle and the way it leans")
			return solid.Cylinder{}, false
		}
		ends = []measure.Length{low, high}
	}
	end := func(d measure.Length) solid.Point {
		var v solid.Point
		v = v.With(a, cos.Of(d))
		v = v.With(t, way*sin.Of(d))
		return point(at).Plus(v)
	}
	// Each end is rounded by less than a tenth of a nanometre on two axes: a
	// cylinder 2 tenths larger holds the true one.
	return solid.Cylinder{From: end(ends[0]), To: end(ends[1]), Radius: r + 2}, true
}

// through is how far a bore goes along its axis from p through the box, taken
// long: to where its axis is further than its radius outside, and so none of it
// inside. The axis runs along a by cos and along t by way*sin.
func through(b solid.Box, r measure.Length, p solid.Point, a solid.Axis, cos measure.Part, t solid.Axis, way measure.Length, sin measure.Part) (low, high measure.Length, ok bool) {
	low, high = -measure.MaxLength, measure.MaxLength
	for _, x := range []solid.Axis{solid.X, solid.Y, solid.Z} {
		from, to := b.Low.Along(x)-r-p.Along(x), b.High.Along(x)+r-p.Along(x)
		part, sign := measure.Part{}, measure.Length(0)
		switch x {
		case a:
			part, sign = cos, 1
		case t:
			part, sign = sin, way
		}
		if sign == 0 || part.Sign() == 0 {
			if from > 0 || to < 0 {
				return 0, 0, false
			}
			continue
		}
		if sign < 0 {
			from, to = -to, -from
		}
		u, v := part.Under(from), part.Under(to)
		low, high = max(low, min(u, v)-2), min(high, max(u, v)+2)
	}
	return low, high, low < high
}
