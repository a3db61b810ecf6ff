// Package handwheel turns a set-up's operations, whose positions stand on dial
// lines already, into rows for the person who turns the wheels: which wheel, which
// way, how many whole turns and lines, and what the dial then shows.
//
// Positions are whole lines from zero; a row's turns and lines are the difference of
// two of them. Each position is met from its axis's approach side; where that is not
// the way the cutter comes, the row goes past it, with the cutter lifted, and comes
// back. A cut that runs the other way carries the backlash in its reading, and ends
// up to a line short.
//
// Nothing here judges. The rows are printed as text, added up again from that text
// by package addup, which shares no code with this one, and held against the plan and
// every limit by package post.
package handwheel
