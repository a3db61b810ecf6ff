// Package read gives the moves that an RS-274 text makes a machine do. It shares
// no number code with the writer and knows nothing of plans, so that what it
// reads is what was written and not what was meant.
//
// Meaning and acceptance are apart. The meaning is a stream of [toolpath.Step]s;
// beside it go [Note]s. A finding says which class of reader would refuse a line,
// by which rule. What cannot be followed is a note that is not [Note.Proved]: the
// places it leaves open are not known until the text says them again, and nothing
// is guessed or passed over in silence. What the moves depend on and the text does
// not say, such as a length offset, is a note of its own kind, [Assumed].
//
// Lengths are exact in mm and in inches. A number finer than a tenth of a
// nanometre, and the centre of an arc that is told by its radius, are bounded by
// [toolpath.Step.Slack].
//
// [Each] streams in constant memory: one buffer, no strings, no allocation for a
// line. [Read] collects.
//
// Source of the rules: NISTIR 6556, "The NIST RS274NGC Interpreter - Version 3",
// and its public source; a [Note.ID] that is a number is of that source's list of
// errors.
package read
