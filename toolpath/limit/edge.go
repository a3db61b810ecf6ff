package limit

import (
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// edgeStretches is into how many stretches the cutter's way is cut where its
// centre is outside the metal; the bound is then that much finer.
const edgeStretches = 512

// edge holds the teeth against a side of the metal. What counts is the metal
// that the cutter takes: where it runs out at an angle, the part of it that is
// outside already takes none.
func (j *Judge) edge(op toolpath.Operation, l *toolpath.Limit, p piece, radius measure.Length, line int) {
	side, ok := l.Solid.(solid.Box)
	if !ok {
		j.keepOut(op, l, way{pieces: []piece{p}}, line)
		return
	}
	var dir [3]float64
	for _, a := range []solid.Axis{solid.X, solid.Y} {
		var face, way measure.Length
		switch {
		case side.High.Along(a) < solid.Far: // the metal begins where the side ends
			face, way = side.High.Along(a), 1
		case side.Low.Along(a) > -solid.Far:
			face, way = side.Low.Along(a), -1
		default:
			continue
		}
		dir[a] = float64(way)
		metal := j.box
		if l.Within != nil {
			metal = *l.Within
		}
		left := edgeRoom(metal, p, radius+p.grow, a, way, face)
		if left > solid.Far/2 { // it takes no metal of that piece
			return
		}
		t := j.at(op, l.Name, Length, l.NeverLess, keepOutAdvice[l.Kind])
		t.meet(int64(left), int64(left), j.errorsAlong(dir, p.sweep(op.Tool.Teeth())), j.here(line))
		return
	}
}

// edgeRoom is the least distance, along an axis, from a face of the metal to
// the metal that a cutter of that radius takes on a straight way; a lower bound,
// within a few parts of 512 of the radius. way is 1 where the metal is on the high side of
// the face.
//
// With its centre within the metal's other two faces a disc reaches its radius
// towards the face. With its centre e beyond one of them it takes metal only
// where it is no further than the chord there: half as long as the root of
// r^2 - e^2. On a stretch the least e and the nearest centre are taken.
func edgeRoom(metal solid.Box, p piece, radius measure.Length, a solid.Axis, way, face measure.Length) measure.Length {
	other := solid.X
	if a == solid.X {
		other = solid.Y
	}
	low, high := metal.Low.Along(other), metal.High.Along(other)
	room := solid.Far
	stretch := func(from, to solid.Point) {
		near := min(way*(from.Along(a)-face), way*(to.Along(a)-face))
		u, v := from.Along(other), to.Along(other)
		beyond := max(low-max(u, v), min(u, v)-high, 0)
		if beyond > radius {
			return
		}
		reach := radius
		if beyond > 0 {
			d := square(radius)
			d.Sub(d, square(beyond))
			r, exact := root(d)
			if !exact {
				r++
			}
			reach = r
		}
		room = min(room, near-reach)
	}
	if p.to.Along(other) == p.from.Along(other) || p.to.Along(a) == p.from.Along(a) {
		stretch(p.from, p.to)
		return room
	}
	// The way is cut where the centre passes the other two faces, and what is
	// outside them into stretches.
	at := p.from
	for _, next := range p.crossings(other, low, high) {
		mid := at.Along(other) + next.Along(other)
		n := int64(1)
		if mid < 2*low || mid > 2*high {
			n = edgeStretches
		}
		last := at
		for k := int64(1); k <= n; k++ {
			q := between(at, next, k, n)
			stretch(last, q)
			last = q
		}
		at = next
	}
	return room - 2 // the stretches' ends are rounded by half a tenth, twice
}

// crossings is the places where the piece passes two heights of an axis, in
// order, and its end.
func (p piece) crossings(a solid.Axis, low, high measure.Length) []solid.Point {
	from, d := p.from.Along(a), p.to.Along(a)-p.from.Along(a)
	if d < 0 {
		low, high = high, low
	}
	var out []solid.Point
	for _, v := range []measure.Length{low, high} {
		if f := v - from; (f > 0) == (d > 0) && f != 0 && f.Abs() < d.Abs() {
			out = append(out, between(p.from, p.to, int64(f.Abs()), int64(d.Abs())))
		}
	}
	return append(out, p.to)
}

// between is the point k of n parts of the way from one to the other, seen from
// above, to the nearest tenth.
func between(from, to solid.Point, k, n int64) solid.Point {
	for _, a := range []solid.Axis{solid.X, solid.Y} {
		from = from.With(a, from.Along(a)+(to.Along(a)-from.Along(a)).MulDiv(k, n, measure.Nearest))
	}
	return from
}
