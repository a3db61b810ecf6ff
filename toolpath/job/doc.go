// Package job reads a job file into checked values: one part with its stock,
// bores and tools, and the set-ups it is cut in, each with its turn, its zero,
// what holds it, and its cuts.
//
// The part has a frame of its own: a bore is named once and is a limit in every
// set-up. A set-up is one of the 24 right-angle turns of the part and a zero,
// so that taking a point into its frame is exact; see [Frame].
//
// The recipes' own keys are read by the recipes: a [Cut] keeps its form node.
package job
