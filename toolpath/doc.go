// Package toolpath holds the types that flow from a recipe to the judge and to
// the files: cutters, moves, plans, limits and the trace that is read back.
// Nothing is worked out here.
//
// Directions are those of ISO 841: X right, Y away from the operator, Z up,
// the tool moving. A depth is positive downwards, a Z below zero negative.
package toolpath
