// Package measure holds the quantities that a plan is made of: lengths,
// ratios, angles, feeds, speeds and times, all whole numbers, none a floating
// point figure.
//
// A [Length] is a whole number of tenths of a nanometre, so that the inch
// (254 000 000) and the millimetre (10 000 000) are both exact, and so is half
// of a sixty-fourth of an inch. What cannot be held exactly is refused when it
// is read, never rounded in silence. Where a figure has to be rounded the
// caller says which way: see [Rounding].
//
// Reading is strict. A comma is never taken for a decimal point, a bare number
// never gets a unit by guess, and each refusal says what to write instead.
package measure
