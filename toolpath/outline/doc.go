// Package outline holds closed outlines of lines and arcs in the plane, and the
// boundary of a union of grown shapes: the path that a cutter's centre takes
// round a part that is a disc with lugs and pads.
//
// A [Shape] is a disc or a rectangle, or one of them grown. [Union] grows each
// by the same length (the cutter's radius and what is to be left on) and gives
// the boundary of all of them together as [Outlines]. A disc grown is a disc
// and a rectangle grown has round corners, so that the boundary is lines along
// the axes and arcs, and a cutter that keeps to it cannot gouge.
//
// # Way round
//
// Seen from above (from the + end of Z), the material is on the left of every
// piece: outer loops run anticlockwise, inner ones clockwise. Since every shape
// is convex, each arc turns anticlockwise about its own centre, in inner loops
// too. [Loop.Reversed] is the other way round.
//
// # What is exact
//
// Every decision is made on whole numbers: whether two circles meet or touch,
// which of two crossings comes first, whether a piece lies inside another shape
// or on its boundary, what is joined to what. A crossing is held as
// (p + q√d)/w with whole p, q, d and w, and signs are found by squaring. Only
// when all is decided are the ends of the pieces rounded, each coordinate to
// the nearest tenth of a nanometre; centres and radii are whole from the start.
//
// [Outlines.Certify] then proves the rounded outline by a second method that
// shares none of this: in floating point with a bound.
//
// # Joined or not
//
// Shapes are joined where they overlap, or where they share a stretch of a
// side. Shapes that touch at a single point are not joined, and a hole whose
// wall is closed by such a point only is open; these points are told as
// [Outlines.Touches]. Union with a growth of nought tells what the part itself
// is like: two lugs may touch at a point, or stand apart, and still be one when
// they are grown.
package outline
