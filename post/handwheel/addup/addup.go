// Package addup adds a handwheel table up again from its own text: it turns the
// wheels row by row, lets each slide follow through its backlash, and gives the steps
// that the cutter really takes. It shares no code with what made the rows: it reads
// the CSV, the machine's screws, and nothing else.
package addup

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"math/big"
	"regexp"
	"strconv"
	"strings"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// Set is one set-up's steps, with the cuts that its rows name, in order.
type Set struct {
	Number int
	Trace  *toolpath.Trace
	Cuts   []Cut
	Dials  []Dial // in their order
}

// Cut is a cut that begins in a table: its name, its tool's number, and where its rows
// say that its depth stops.
type Cut struct {
	Name string
	Tool int
	Stop *measure.Length  // Z that the column to_stop counts from; nil where no row has one
	Nut  []measure.Length // Z that a stop nut is set to, each time that it is told; none where no nut is set
}

// Dial is a dial that a row sets, and where the cutter then stands.
type Dial struct {
	Row  int
	Axis int // 0 X, 1 Y, 2 Z
	At   toolpath.Place
	Cut  int // from 0; -1 before the first
}

// fault is what a row says wrongly.
func fault(row int, format string, args ...any) error {
	return fmt.Errorf("row %d: %s", row, fmt.Sprintf(format, args...))
}

const columns = "setup,cut,pass,wheel,turn,turns,lines,reading,target,unit,to_stop,note"

// Read adds a table up. Steps have the row's number as their line and the place of
// their cut as their operation. It fails where a row cannot be followed, where the
// dial would not show the reading, where the cutter would not stand at the target
// within a step of the dial, or where a cut is fed with the place or the spindle
// unknown.
func Read(text []byte, m *machines.Machine) ([]Set, error) {
	r := csv.NewReader(bytes.NewReader(text))
	r.FieldsPerRecord = 12
	head, err := r.Read()
	if err != nil || strings.Join(head, ",") != columns {
		return nil, fmt.Errorf("the table does not begin with its columns")
	}
	var sets []Set
	var b *bed
	for row := 1; ; row++ {
		c, err := r.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil, fault(row, "%s", err)
		}
		n, err := strconv.Atoi(c[0])
		if err != nil || n < 1 {
			return nil, fault(row, "%q is no set-up", c[0])
		}
		if b == nil || sets[len(sets)-1].Number != n {
			for _, s := range sets {
				if s.Number == n {
					return nil, fault(row, "set-up %d comes back", n)
				}
			}
			sets = append(sets, Set{Number: n, Trace: &toolpath.Trace{}})
			b = newBed(m)
		}
		b.set = &sets[len(sets)-1]
		if err := b.row(row, c); err != nil {
			return nil, err
		}
	}
	for i := range sets {
		sets[i].Trace.Ended = true
	}
	return sets, nil
}

type bed struct {
	slides  []*slide
	set     *Set
	op      int
	speed   measure.Speed
	z       *slide // what sets Z since it was last touched
	place   toolpath.Place
	locked  map[string]bool
	machine *machines.Machine
	rotor   *rotor          // nil is none
	onFace  bool            // the cutter stands where it was touched
	nut     *measure.Length // where the stop nut was set with this tool; nil is not
}

func rat(r measure.Ratio) *big.Rat { return big.NewRat(r.Num, r.Den) }

func newBed(m *machines.Machine) *bed {
	b := &bed{op: -1, machine: m, locked: map[string]bool{rotorName: true}, rotor: newRotor(m.Rotary)}
	add := func(a machines.Axis, axis int, label string) {
		if !a.HasDial() {
			return
		}
		s := &slide{axis: axis, label: label, lead: rat(a.Lead), lines: rat(a.Lines), back: big.NewRat(int64(a.Backlash), 1),
			plus: a.Words[0], minus: a.Words[1], upper: a.Approach != "-", half: a.Half, wheel: new(big.Rat), at: new(big.Rat)}
		if a.Sense == "-" {
			s.plus, s.minus = s.minus, s.plus
		}
		s.risesWithPos = (a.Sense == "+" && !a.Falls) || (a.Sense == "-" && a.Falls)
		b.slides = append(b.slides, s)
		b.locked[strings.TrimPrefix(label, "Z ")] = true // as the last work may have left it
	}
	for i, letter := range []string{"X", "Y"} {
		add(m.Axes[i], i, letter)
	}
	add(m.Axes[2], 2, "Z "+m.DepthBy)
	if m.Second != nil {
		add(m.Second.Axis, 2, "Z "+m.Second.By)
	}
	return b
}

// find is the slide of a label: of X and Y the letter tells, of Z what it moves.
func (b *bed) find(label string) *slide {
	for _, s := range b.slides {
		if s.label == label || s.axis < 2 && strings.HasPrefix(label, s.label+" ") {
			return s
		}
	}
	return nil
}

var (
	beginsCut = regexp.MustCompile(`^cut (\d+) of \d+: tool (\d+), `)
	fitsTool  = regexp.MustCompile(`^spindle off, [a-z ]+: fit tool (\d+)[ ,]`)
	fitsUp    = regexp.MustCompile(`^spindle off, [a-z ]+: fit tool .*; (quill) right up and locked; `)
	setsHead  = regexp.MustCompile(`^set the (\S+) so that the quill stands .*, and lock the (\S+); the quill is free and sets Z$`)
	spindle   = regexp.MustCompile(`^spindle on at (\d+(?:\.\d+)?) rpm$`)
	feedOf    = regexp.MustCompile(`^feed (\d+)(\.5)? s a turn(?:;|$)`)
	dialTo    = regexp.MustCompile(`dial set to (back )?(\d+) turns? \+ (\d[\d./: ]*)(?:;|$)`)
	nutAt     = regexp.MustCompile(`^spindle off: set the stop nut .* to (\S+ (?:mm|in)) below zero`)
	gapAt     = regexp.MustCompile(`with the cutter still on the face leave a gap of (\S+ (?:mm|in)) at the nut(?:;|$)`)
	nutGap    = regexp.MustCompile(`(?:; |, so that )the gap at it is (?:then )?(\S+ (?:mm|in))(?:;| now(?:;|$))`)
	nutStands = regexp.MustCompile(`look at the stop nut: it stands at (\S+ (?:mm|in)) below zero`)
	nutBy     = regexp.MustCompile(`wind the nut by (\S+ (?:mm|in)) (deeper|shallower)(?:;|$)`)
	looksAt   = regexp.MustCompile(`^spindle off: (?:look|measure)\b`)
	nutSame   = regexp.MustCompile(`, the nut stays where it stands;`)
	noNut     = regexp.MustCompile(`^spindle off; the stop nut .* out of the way[,:]`)
	lockOf    = regexp.MustCompile(`^(lock|free) (.*)$`)
)

func (b *bed) row(row int, c []string) error {
	note := c[11]
	if c[3] == "" {
		return b.word(row, c[1], note)
	}
	if c[3] == rotorLabel {
		return b.table(row, c)
	}
	s := b.find(c[3])
	if s == nil {
		return fault(row, "%q is no wheel of this machine", c[3])
	}
	if c[9] != b.machine.Units.String() {
		return fault(row, "%q is not the machine's unit", c[9])
	}
	if c[4] == "" {
		return b.dial(row, s, c)
	}
	return b.movement(row, s, c)
}

// dial is a row that sets a dial: the slide was met on its approach side, so that
// wheel and slide are together.
func (b *bed) dial(row int, s *slide, c []string) error {
	m := dialTo.FindStringSubmatch(c[11])
	if m == nil {
		return fault(row, "a dial is named and nothing is said to be set or turned")
	}
	turns, err := strconv.ParseInt(m[2], 10, 64)
	if err != nil {
		return fault(row, "%s", err)
	}
	at, err := s.travel(turns, m[3])
	if err != nil {
		return fault(row, "%s", err)
	}
	if m[1] != "" {
		at.Neg(at)
	}
	if b.locked[strings.TrimPrefix(s.label, "Z ")] {
		return fault(row, "%s is touched off and is locked", s.label)
	}
	s.wheel.Set(at)
	s.at.Set(at)
	s.known = true
	if s.axis == 2 {
		b.z, b.onFace = s, true
		for _, o := range b.slides {
			if name := strings.TrimPrefix(o.label, "Z "); o != s && o.axis == 2 && !b.locked[name] {
				return fault(row, "Z is touched by the %s and the %s is not locked", strings.TrimPrefix(s.label, "Z "), name)
			}
		}
		if b.speed != 0 {
			return fault(row, "Z is touched with the spindle on")
		}
	}
	if err := s.shows(c[7]); err != nil {
		return fault(row, "%s", err)
	}
	b.put(s)
	b.set.Dials = append(b.set.Dials, Dial{row, s.axis, b.here(), b.op})
	return nil
}

func (b *bed) movement(row int, s *slide, c []string) error {
	turns, err := strconv.ParseInt(c[5], 10, 64)
	if err != nil || turns < 0 {
		return fault(row, "%q is no number of turns", c[5])
	}
	by, err := s.travel(turns, c[6])
	if err != nil {
		return fault(row, "%s", err)
	}
	switch c[4] {
	case s.plus:
	case s.minus:
		by.Neg(by)
	default:
		return fault(row, "%q is no way to turn the wheel of %s", c[4], s.label)
	}
	if !s.known || s.axis == 2 && b.z != s {
		return fault(row, "the wheel of %s is turned before its dial is set", s.label)
	}
	if b.locked[strings.TrimPrefix(s.label, "Z ")] {
		return fault(row, "the wheel of %s is turned and is locked", s.label)
	}
	s.wheel.Add(s.wheel, by)
	s.follow()
	b.onFace = false
	if err := s.shows(c[7]); err != nil {
		return fault(row, "%s", err)
	}
	if err := s.stands(c[8], b.machine.Units); err != nil {
		return fault(row, "%s", err)
	}
	if err := b.stopsAt(c); err != nil {
		return fault(row, "%s", err)
	}
	from := b.here()
	b.put(s)
	step := toolpath.Step{Kind: toolpath.Rapid, From: from, To: b.here(), Speed: b.speed, Line: row, Op: b.op}
	if m := feedOf.FindStringSubmatch(c[11]); m != nil {
		step.Kind = toolpath.Line
		if !from.AllKnown() || b.op < 0 {
			return fault(row, "a cut is fed from a place that is not known")
		}
		for _, o := range b.slides {
			if name := strings.TrimPrefix(o.label, "Z "); o != s && (o.axis < 2 || o == b.z) && !b.locked[name] {
				return fault(row, "a cut is fed and %s is not locked", name)
			}
		}
		if b.rotor != nil && b.rotor.known && !b.locked[rotorName] {
			return fault(row, "a cut is fed and the rotary table is not locked")
		}
		halves, err := halfSeconds(m)
		if err != nil {
			return fault(row, "%s", err)
		}
		// lead / (halves / 120) a minute
		f := new(big.Rat).Mul(s.lead, big.NewRat(120, halves))
		step.Feed = measure.Feed(nearest(f))
	}
	b.set.Trace.Steps = append(b.set.Trace.Steps, step)
	return nil
}

// halfSeconds is the time of a turn that a feed says.
func halfSeconds(m []string) (int64, error) {
	halves, err := strconv.ParseInt(m[1], 10, 32)
	if err != nil {
		return 0, err
	}
	halves *= 2
	if m[2] != "" {
		halves++
	}
	if halves == 0 {
		return 0, fmt.Errorf("a turn in no time")
	}
	return halves, nil
}

// stopsAt holds what a row says is left to the stop against the rows before it.
func (b *bed) stopsAt(c []string) error {
	if c[10] == "" {
		return nil
	}
	target, err := measure.ParseLength(c[8], b.machine.Units)
	if err != nil {
		return err
	}
	left, err := measure.ParseLength(c[10], b.machine.Units)
	if err != nil {
		return err
	}
	if b.op < 0 {
		return fmt.Errorf("a stop outside any cut")
	}
	cut, at := &b.set.Cuts[b.op], target-left
	if cut.Stop == nil {
		cut.Stop = &at
	}
	if off := (*cut.Stop - at).Abs(); off > 600 { // both are rounded to a millionth of an inch
		return fmt.Errorf("the stop stands at %s and the rows before have it at %s", at, *cut.Stop)
	}
	return nil
}

// put tells the cutter's place on a slide's axis, to the nearest tenth of a nanometre.
func (b *bed) put(s *slide) {
	at := measure.Length(nearest(s.at))
	switch s.axis {
	case 0:
		b.place.X = at
	case 1:
		b.place.Y = at
	case 2:
		b.place.Z = at
	}
	b.place.Known[s.axis] = true
}
