package solid

import (
	"math"

	"stopshort/toolpath/measure"
)

// Channel is the shape a slot makes: all within half its width of the line
// from From to To seen from above, above its floor (the Z of From and To,
// which are equal). A closed end is round, about its point; an open end goes
// on for ever. From and To must differ in X or Y.
type Channel struct {
	From, To         Point
	Width            measure.Length
	OpenFrom, OpenTo bool
}

// ChannelRoom is the room that is left between a cutter and the skin of a
// channel, in whole tenths of a nanometre, rounded down, decided in whole
// numbers. Below nought the skin is cut, by that much.
type ChannelRoom struct {
	// Side is the room to the side walls: half the width, less the cutter's
	// radius, less how far it stands off the middle line.
	Side measure.Length
	// End is the room to the closed ends, [NoEnd] where none is closed. Of a
	// cutter whose axis is past the end's point it is half the width, less the
	// radius, less the distance from that point. Before the point it is the
	// distance along the channel that is left to it, plus Side: on the middle
	// line that is the room, off it the room is more. On a channel at an angle
	// it may come out one tenth too low, never too high.
	End measure.Length
	// Floor is the room under the cutter's lowest point.
	Floor measure.Length
}

// NoEnd is the room to an end that is open.
const NoEnd = Far

// Inside is the least room in the channel on a straight move of the cutter's
// lowest point. Only what a part does below the channel's top matters: the
// caller leaves out moves above it. A part that is not flat counts with its
// greater radius all the way down. The cutter stays in the channel if and only
// if no room is below nought, since the channel is convex and both ends of the
// move are looked at. Coordinates must lie within plus and minus [Far].
func (c Channel) Inside(p Part, from, to Point) ChannelRoom {
	a, b := c.roomAt(p, from), c.roomAt(p, to)
	return ChannelRoom{min(a.Side, b.Side), min(a.End, b.End), min(a.Floor, b.Floor)}
}

func (c Channel) roomAt(p Part, at Point) ChannelRoom {
	for _, q := range [...]Point{c.From, c.To, at, {c.Width, p.LowRadius, p.HighRadius}, {p.Low, p.High, 0}} {
		if !q.reachable() {
			return ChannelRoom{-Far, -Far, -Far}
		}
	}
	m, q := c.To.Minus(c.From), at.Minus(c.From)
	mx, my := int64(m.X), int64(m.Y)
	mm := wideProduct(mx, mx).plus(wideProduct(my, my))
	// Twice everything, so that half an odd width is whole.
	half := int64(c.Width) - 2*int64(max(p.LowRadius, p.HighRadius))
	r := ChannelRoom{End: NoEnd, Floor: at.Z + p.Low - max(c.From.Z, c.To.Z)}
	if mm.sign() == 0 { // no channel, but a round hole
		r.Side = halved(half - twice(q).ceil())
		return r
	}
	side := wideProduct(mx, int64(q.Y)).minus(wideProduct(my, int64(q.X))).abs()
	off := wideRatio(side.plus(side), mm)
	r.Side = halved(half - off.ceil())

	past := func(along wide, from Point) measure.Length {
		if along.sign() > 0 {
			return halved(half - twice(from).ceil())
		}
		along = along.neg()
		left := wideRatio(along.plus(along), mm)
		return halved(half + left.floor - off.ceil())
	}
	along := wideProduct(mx, int64(q.X)).plus(wideProduct(my, int64(q.Y)))
	if !c.OpenTo {
		r.End = min(r.End, past(along.minus(mm), at.Minus(c.To)))
	}
	if !c.OpenFrom {
		r.End = min(r.End, past(along.neg(), q))
	}
	return r
}

// twice is twice the length of q in XY.
func twice(q Point) surd {
	x, y := 2*int64(q.X), 2*int64(q.Y)
	return wideRoot(wideProduct(x, x).plus(wideProduct(y, y)))
}

// halved is n/2 rounded down.
func halved(n int64) measure.Length { return measure.Length(n >> 1) }

// reachable tells that a point is near enough to reckon with in whole numbers.
func (p Point) reachable() bool {
	return max(p.X.Abs(), p.Y.Abs(), p.Z.Abs()) <= Far &&
		min(p.X, p.Y, p.Z) != math.MinInt64 // which has no size
}
