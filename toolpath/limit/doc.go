// Package limit is the judge. It holds limits against a trace: the steps that a
// cutter really takes, as they were read back from what was written. It knows
// nothing but the trace, the cutters, the solids and the machine's errors, so
// that a program, a wheel table and a stranger's program are judged alike.
//
// Everything is held against everything: every feed against bores, outside,
// floor, packing and what holds the part; shank and holder as well as teeth;
// every rapid against metal and holding; travel, speeds and feeds against the
// machine.
//
// A level arc is judged whole against boxes and upright cylinders, so that a path
// that is planned to touch a part is seen to touch it; against other solids, and
// on a helix, by chords that are grown to hold it.
//
// A distance passes where its lower bound reaches what is asked. Worst cases
// add up the machine's errors along the direction in which the distance was
// proved, and are never better than the truth; see [Verdict].
package limit
