package handwheel

import (
	"fmt"
	"strings"

	"stopshort/machines"
	"stopshort/toolpath/measure"
)

// fewAgain is the least number of rows that are worth sending a person back for
// (own choice: fewer are read sooner than looked up).
const fewAgain = 12

// again is a stretch of rows that are those of another pass, at another depth.
type again struct {
	first, past     int  // places of the rows: the first, and past the last
	asFirst, asPast int  // of the rows that they are
	down            *Row // the row that goes down to the depth
	near            *Row // the way down to where it is fed from, if the other pass was not fed; nil is none
	up              *Row // the row that lifts; nil is none
}

// passesAgain finds, by the place of each pass's first row, the rows at its end that are
// the rows of a pass before it, which is printed in full: every movement of X and Y is
// the same, with the same readings; Z goes down to the pass's own depth and comes up to
// the same place, by a way of its own. The text then sends the person back to those rows
// and tells both ways, so each must be the same every time; the CSV and the adding up
// have them all.
func (t *Table) passesAgain() map[int]again {
	out := map[int]again{}
	var full [2]int // the pass that was printed in full last: from, past its end
	for i := 0; i < len(t.Rows); {
		r := &t.Rows[i]
		end := i + 1
		for end < len(t.Rows) && t.Rows[end].Setup == r.Setup && t.Rows[end].Cut == r.Cut && t.Rows[end].Pass == r.Pass && !t.Rows[end].begins {
			end++
		}
		switch {
		case r.Pass == "" || r.Cut == "":
			if r.begins {
				full = [2]int{}
			}
		case full[1] == 0:
			full = [2]int{i, end}
		default:
			if a, ok := t.same(full, [2]int{i, end}); ok {
				out[i] = a
			} else {
				full = [2]int{i, end}
			}
		}
		i = end
	}
	return out
}

// same matches a pass with another from their ends.
func (t *Table) same(was, now [2]int) (again, bool) {
	old, down := t.deepestRow(was), t.deepestRow(now)
	if old == nil || down == nil {
		return again{}, false
	}
	a := again{past: now[1], asPast: was[1]}
	i, k := was[1], now[1]
	for i > was[0] && k > now[0] {
		x, y := &t.Rows[i-1], &t.Rows[k-1]
		switch {
		case t.alike(x, y, old, down):
			if !a.sameWay(y, nil) {
				return again{}, false
			}
			i, k = i-1, k-1
			continue
		case k-2 >= now[0] && t.fedDown(x, &t.Rows[k-2], y, old, down):
			if !a.sameWay(y, &t.Rows[k-2]) {
				return again{}, false
			}
			i, k = i-1, k-2
			continue
		}
		break
	}
	a.first, a.asFirst = k, i
	// What is left of it must hold no cut: only the way to the first of them.
	for n := now[0]; n < k; n++ {
		if t.Rows[n].Feed != "" {
			return again{}, false
		}
	}
	return a, a.down != nil && a.asPast-a.asFirst >= fewAgain
}

// sameWay takes a row of Z in and tells whether it turns the wheel by as much as the
// others of its kind; near is the way down before a feed.
func (a *again) sameWay(r, near *Row) bool {
	same := func(known **Row, r *Row) bool {
		if *known == nil {
			*known = r
		}
		return alikeWay(*known, r)
	}
	switch {
	case r.Wheel == "" || r.Wheel[0] != 'Z':
		return true
	case isLift(r):
		return same(&a.up, r)
	}
	if a.down != nil && (near == nil) != (a.near == nil) {
		return false
	}
	return same(&a.down, r) && (near == nil || same(&a.near, near))
}

// alikeWay tells whether two rows turn their wheel by as much, to the same place.
func alikeWay(a, b *Row) bool {
	return a.Wheel == b.Wheel && a.Turn == b.Turn && a.Turns == b.Turns && a.Lines == b.Lines && a.Total == b.Total && a.Target == b.Target && a.Feed == b.Feed
}

// isLift tells whether a row of Z gets the cutter out of the work.
func isLift(r *Row) bool { return strings.HasSuffix(r.Note, ", clear") }

// fedDown tells whether a row that goes down near a depth without a feed has become two: a way
// down, and a feed.
func (t *Table) fedDown(was, near, fed, deepA, deepB *Row) bool {
	return was.Wheel != "" && was.Wheel == near.Wheel && was.Wheel == fed.Wheel && was.Wheel[0] == 'Z' && was.Feed == "" && near.Feed == "" && fed.Feed != "" &&
		was.Target == deepA.Target && fed.Target == deepB.Target && was.Turn == near.Turn && was.Turn == fed.Turn && was.Note == near.Note && fed.Note == ""
}

// deepestRow is the row of a pass that goes down the furthest.
func (t *Table) deepestRow(pass [2]int) (low *Row) {
	for i := pass[0]; i < pass[1]; i++ {
		r := &t.Rows[i]
		if strings.HasPrefix(r.Wheel, "Z") && (low == nil || r.Target < low.Target) {
			low = r
		}
	}
	return low
}

// alike tells whether two rows ask for the same but for the depth.
func (t *Table) alike(a, b, deepA, deepB *Row) bool {
	if a.Wheel != b.Wheel || a.Turn != b.Turn || a.Feed != b.Feed {
		return false
	}
	if a.Wheel == "" {
		return strings.ReplaceAll(a.Note, readAgain(deepA), readAgain(deepB)) == b.Note
	}
	where := a.Reading == b.Reading && a.Total == b.Total && a.Target == b.Target
	if a.angle != nil || b.angle != nil {
		return where && a.Turns == b.Turns && a.Note == b.Note && a.angle != nil && b.angle != nil && *a.angle == *b.angle
	}
	if a.Wheel[0] != 'Z' {
		return where && a.Turns == b.Turns && a.Lines == b.Lines && a.Note == b.Note
	}
	if isLift(a) {
		return where && a.Note == b.Note
	}
	return a.Note == b.Note && a.Target == deepA.Target && b.Target == deepB.Target && b.Total == deepB.Total
}

func readAgain(r *Row) string { return "read it again: " + machines.LinesText(r.Reading) + ";" }

// text is the stretch for a person: which rows, and the ways of Z, which are not theirs.
func (a again) text(t *Table) string {
	r := a.down
	words := wordsOfZ(t.Machine, strings.TrimPrefix(r.Wheel, "Z "))
	down := words.down
	s := fmt.Sprintf("rows %d to %d: rows %d to %d again, done to%s, but %s %s ", t.Rows[a.first].Number, t.Rows[a.past-1].Number,
		t.Rows[a.asFirst].Number, t.Rows[a.asPast-1].Number, a.boxes(t), r.Wheel, words.goes)
	fed := ""
	if n := a.near; n != nil {
		s += fmt.Sprintf("%s by %s to %s, dial %s, then ", down, n.by(), n.Total, machines.LinesText(n.Reading))
		fed = " at " + r.Feed + " s/turn"
	}
	s += fmt.Sprintf("%s by %s%s to %s each time, dial %s, also where it is read again, %s %s", down, r.by(), fed, r.Total, machines.LinesText(r.Reading), t.target(r), t.Machine.Units)
	if r.ToStop != nil {
		s += ", " + t.short(*r.ToStop, measure.Floor) + " to the stop"
	}
	if u := a.up; u != nil {
		way, _, _ := strings.Cut(u.Note, ",")
		s += fmt.Sprintf("; and %s by %s each time, to %s, dial %s", way, u.by(), u.Total, machines.LinesText(u.Reading))
	}
	if a.near != nil {
		s += "; each way " + down + " is two rows here"
	}
	return "     " + wrap(s, 5)
}

// boxes are where to tick that it was come to: the rows that lift, and the last.
func (a again) boxes(t *Table) (s string) {
	for i := a.asFirst; i < a.asPast; i++ {
		if r := &t.Rows[i]; i == a.asPast-1 || r.Wheel != "" && r.Wheel[0] == 'Z' && isLift(r) {
			s += fmt.Sprintf(" %d[ ]", r.Number)
		}
	}
	return s
}

// againReading tells how rows to do again are read.
const againReading = "rows again: tick the box of each row that is come to in them; all but Z is as it stands in them, and how far Z is turned is told with the boxes"

// by is how far a row turns its wheel: "6 + 70".
func (r *Row) by() string { return fmt.Sprintf("%d + %s", r.Turns, machines.LinesText(r.Lines)) }
