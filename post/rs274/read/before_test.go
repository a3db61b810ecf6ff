package read

// before is the state in which a line of the tables stands (rs274 facts, section
// 14): modes, a place, a feed.
const before = "G17 G21 G40 G49 G54 G80 G90 G94\nG0 X0. Y0. Z5.\nF60.\n"
