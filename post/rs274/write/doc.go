// Package write puts a [toolpath.Program] into RS-274 text in its plainest
// form, so that every class of reader takes it: lines of 70 characters at most,
// one motion a line with its own G word, Z alone on a rapid, arcs by their
// centre, spindle and dwell before any feed, every mode stated at the head and
// nothing left on at the end.
//
// Nothing is rounded here. The coordinates of a program are on the grid of its
// controller already; what is not is refused, and so is every other move that a
// reader could take for something else. What is written is proved by reading it
// back, in another package with code of its own.
//
// Sources: NISTIR 6556 (the reference interpreter, version 3), and the source
// and manual of a small 8-bit controller.
package write
