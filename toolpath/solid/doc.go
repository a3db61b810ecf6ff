// Package solid holds the convex solids that a plan is judged by: the parts of
// a cutter, bores, jaws, clamps, floors; and the distance between two of them,
// as a lower and an upper bound that are proved.
//
// Any direction proves a distance: of two convex solids, the gap between them
// along it is never more than their distance. So [Between] may look for a good
// direction in floating point, by any means; the gap along it is then
// evaluated with every rounding taken outward, and stands. Where a flat cutter
// meets a cylinder that lies along an axis, the distance is worked out in
// whole numbers and is exact.
//
// A level [Arc] is not convex, but can be judged whole all the same against a
// box or an upright cylinder: see [Arc.Beside].
//
// Coordinates are measure.Length, in the frame of one set-up: X right, Y away
// from the operator, Z up (ISO 841).
package solid
