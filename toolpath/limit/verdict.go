package limit

import (
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// Unit is what a verdict's figures count.
type Unit uint8

const (
	Length Unit = iota // tenths of a nanometre
	Speed              // thousandths of a turn a minute
	Feed               // tenths of a nanometre a minute
	Count              // things
)

// String is the unit as a person writes it.
func (u Unit) String() string { return [...]string{"mm", "rpm", "mm/min", ""}[u] }

// State is the judge's word on one limit.
type State uint8

const (
	OK        State = iota
	Warned          // it holds, but less is left than there should rather be
	AtWorst         // it holds as planned, but not when the errors fall the wrong way
	Refused         // it does not hold
	Undecided       // the bounds lie too close about the limit to tell: taken as refused
)

func (s State) String() string {
	return [...]string{"ok", "warned", "refused at worst", "refused", "undecided"}[s]
}

// Verdict is what the judge found for one limit of one cut. All figures are
// rounded so that they never promise more than there is.
type Verdict struct {
	Setup, Cut string
	Number     [2]int // of set-up and cut; a cut of 0 is the whole set-up
	Limit      string
	Deep       bool // cutting less deep leaves more of it
	Unit       Unit
	// Planned is what the trace leaves: a distance, or the room under a bound.
	// NeverLess is the least that may be left, Margin the difference, and
	// MarginWorst what is left of it when every share falls the wrong way.
	Planned, NeverLess, Margin, MarginWorst int64
	// High is the upper bound of what is left; equal to Planned where that is
	// exact.
	High     int64
	Leave    *int64 // what the job aims to leave, where it says so
	Shares   []toolpath.Share
	File     string // the program; empty where there is no text
	Where    int    // the line of the text, or the move, from 1; 0 is none
	From     measure.Origin
	Source   string // of NeverLess
	State    State
	Accepted bool
	Reason   string
	Better   *int64 // what is left should rather not be less than this; nil is nothing asked
	Figure   string // of a speed or a feed: the figure itself
	Pin      int64  // of a pin that fits the bore, to measure over; nought is none
	Do       string // what would do, where it does not hold
}

// Stops tells whether the verdict keeps a program from being written. What holds as
// planned and not at worst the job may accept by name.
func (v Verdict) Stops() bool {
	return v.State == Refused || v.State == Undecided || v.State == AtWorst && !v.Accepted
}

// Accept marks what the job takes on of a limit, by the limit's name: a warning, or a
// worst case. What does not hold as planned is never taken on. It tells whether there is
// a limit of that name.
func Accept(verdicts []Verdict, name, reason string) (found bool) {
	for i := range verdicts {
		v := &verdicts[i]
		if v.Limit != name {
			continue
		}
		found = true
		if v.State == Warned || v.State == AtWorst {
			v.Accepted, v.Reason = true, reason
		}
	}
	return found
}
