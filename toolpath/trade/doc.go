// Package trade is the handbook: the rows of trade knowledge that a plan is
// made from, each with its source, and the sums of spindle speed and feed.
//
// The rows stand in the TOML files beside the code, so that a row is added or
// corrected without code. Every row says on what it rests: a published figure
// with the title of its source, a figure chosen here with the published range
// it was chosen by, memory, or common practice. What none of the rows covers is
// an error that lists what is known, never a guess.
//
// The figures are starting ones for a light machine; a job's own figure stands
// above them.
package trade
