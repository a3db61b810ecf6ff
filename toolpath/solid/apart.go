package solid

import "stopshort/toolpath/measure"

// Apart is the widest gap between two boxes along an axis, which is no more
// than their distance; below nought they overlap, and it is the least shift
// along an axis that would part them, with its sign turned.
func (b Box) Apart(o Box) measure.Length {
	return max(
		b.Low.X-o.High.X, o.Low.X-b.High.X,
		b.Low.Y-o.High.Y, o.Low.Y-b.High.Y,
		b.Low.Z-o.High.Z, o.Low.Z-b.High.Z,
	)
}
