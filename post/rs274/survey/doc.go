// Package survey looks at a whole RS-274 program, anyone's, against a stop: how
// deep it goes and on which line, the boxes that its cuts and its rapids span,
// whether a rapid goes down below the clear plane, and what kept its moves from
// being known. It works in constant memory at the speed of the reader.
//
// Figures are exact, or outward where that is not to be had: an arc's extent by at
// most a tenth of a nanometre and by what its two radii differ, and a step's by its
// slack. An extent that is not known is left out, and then the report is not
// proved.
package survey
