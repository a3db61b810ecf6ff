// Package machines holds what one machine can do: its slides, their wheels and
// dials, its stop, spindle, feeds, what a position may be out by, and, where a
// program runs it, the abilities of its controller.
//
// A machine is one TOML file. A few typical ones are built in, with invented
// but usual figures; a user's own file is named by its path. A new machine or
// controller is a new file and no code. [Tables] is what a file may say.
//
// Positions are put on a dial's lines here, once, from zero and by exact
// division: see [Axis.Dial]. Rows of turns are never added up.
package machines
