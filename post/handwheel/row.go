package handwheel

import (
	"stopshort/machines"
	"stopshort/toolpath/measure"
)

// Row is one thing to do: a movement of one wheel or, without a wheel, whatever
// the note says.
type Row struct {
	Number  int    // from 1
	Setup   int    // the set-up's number
	Cut     string // what the operation is called; empty before the first
	Pass    string
	Wheel   string // the wheel's label; empty in a row without movement
	Turn    string // which way, in the machine's words; empty where a dial is set
	Turns   int64  // whole turns of the movement
	Lines   measure.Ratio
	Reading measure.Ratio  // what the dial shows afterwards, in lines
	Total   string         // turns and lines from zero, and to which side
	Target  measure.Length // where the cutter then stands, from zero
	ToStop  *measure.Length
	Feed    string // seconds for a turn; empty where the wheel is wound freely
	Ticks   []int64
	Note    string
	begins  bool     // a cut
	angle   *turnRow // of the rotary table; nil elsewhere
}

// Table is the rows of a job, or of one set-up, with what stands at its head.
type Table struct {
	Title    string
	Digest   string
	Machine  *machines.Machine
	GoOn     int      // the row to go on at after a measuring; 0 is from the first
	Head     []string // how the wheels count, the checks
	Reading  []string // how the rows are read
	Warnings []string
	Measures []string // how to measure that it came out right
	Whence   []string // where the figures come from
	Cautions []string
	Rows     []Row
	walks    []walk // the dry runs, told before all rows of their set-up
}

// csvColumns are the columns of the CSV, in their order.
var csvColumns = []string{"setup", "cut", "pass", "wheel", "turn", "turns", "lines", "reading", "target", "unit", "to_stop", "note"}
