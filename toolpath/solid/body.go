package solid

import "stopshort/toolpath/measure"

// Body is a convex solid: one of [Cylinder], [Box] and [Sweep].
type Body interface {
	// support is the greatest value of d.x over the points x of the body, as
	// an interval that holds it: all roundings are outward.
	support(d vector) interval
	// far is a point of the body that lies about as far along d as any, in
	// floating point, for the search alone; of a sweep also how much of the
	// move is done there, from 0 to 1.
	far(d vector) (at vector, done float64)
	// centre is some point inside, in floating point, for the search alone.
	centre() vector
	// depth is proved for any p, with any part of a sweep's move done: where it
	// is below nought, the body has a point no further than -depth from p;
	// otherwise the ball of that radius about p is inside the body.
	depth(p vector, done float64) float64
}

// Cylinder is a solid rod with flat ends: the points between From and To, no
// further than Radius from the line through them. From and To must differ;
// Radius must not be negative. An axis need not lie along X, Y or Z.
type Cylinder struct {
	From, To Point
	Radius   measure.Length
}

// Box is a solid with its faces along the axes: Low is its least corner, High
// its greatest. A face may stand at plus or minus [Far], which makes a floor, a
// wall or a half space of it.
type Box struct{ Low, High Point }

// Far stands for a face that is out of reach: ten times the longest length
// that is read.
const Far = 10 * measure.MaxLength

// Part is one part of a cutter, round about the spindle's axis, with flat ends:
// its radius at its lower end and at its upper end, each at a height above the
// cutter's lowest point. Equal radii make a cylinder (teeth, shank, holder),
// nought below makes a point.
type Part struct {
	Low, High             measure.Length // heights above the cutter's lowest point
	LowRadius, HighRadius measure.Length
}

// Sweep is all that a part passes through on a straight move of the cutter's
// lowest point: a convex solid too. From and To may be the same.
type Sweep struct {
	Part     Part
	From, To Point
}

// Gap is the distance between two solids as a lower and an upper bound, in
// whole tenths of a nanometre, rounded outward: the true distance d keeps
// Low <= d <= High. Below nought the solids overlap, and -d is the least shift
// that would part them. Dir is a unit vector (nearly) along which Low is
// proved, from the second solid towards the first: errors e of the first
// solid's place lessen the gap by no more than the sum of |Dir[i]| e[i].
type Gap struct {
	Low, High measure.Length
	Dir       [3]float64
	// Exact tells that the comparison Low >= n has the same answer as d >= n for
	// every whole n: the distance was worked out in whole numbers.
	Exact bool
}
