// Package read gives the moves that an RS-274 text makes a machine do. It shares
// no number code with the writer and knows nothing of plans, so that what it
// reads is what was written and not what was meant.
//
// A text is followed or refused: nothing is skipped in silence. What it refuses
// is either wrong by the rules of the language or cannot be followed (yet), and
// the [Error] says which, with its line. Every mode that a move depends on must
// be stated in the text before it, since no one knows what was in force before.
// Positions are not known before they are said; see [toolpath.Place].
//
// Lengths are read exactly in mm and in inches: a number finer than a tenth of a
// nanometre is refused, not rounded. [Each] streams in constant memory; [Read]
// collects.
//
// Source of the rules: NISTIR 6556, "The NIST RS274NGC Interpreter - Version 3",
// and its public source; a [Rule] is a number of that source's list of errors.
package read
