package addup

import (
	"fmt"
	"strconv"
	"strings"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// word is a row without a wheel.
func (b *bed) word(row int, cut, note string) error {
	if m := beginsCut.FindStringSubmatch(note); m != nil {
		n, err1 := strconv.Atoi(m[1])
		tool, err2 := strconv.Atoi(m[2])
		if err1 != nil || err2 != nil || n != b.op+2 {
			return fault(row, "cut %s begins after cut %d", m[1], b.op+1)
		}
		b.op++
		b.set.Cuts = append(b.set.Cuts, Cut{Name: cut, Tool: tool})
		return nil
	}
	if fitsTool.MatchString(note) {
		b.z, b.speed, b.place.Known[2] = nil, 0, false
		b.nut, b.onFace = nil, false
		for _, s := range b.slides { // X and Y may stay locked while a tool is tightened
			if s.axis == 2 {
				delete(b.locked, strings.TrimPrefix(s.label, "Z "))
			}
		}
	}
	if err := b.wheelsStand(note); err != nil {
		return fault(row, "%s", err)
	}
	if strings.HasPrefix(note, "spindle off") {
		b.speed = 0
	}
	if looksAt.MatchString(note) {
		b.set.Trace.Steps = append(b.set.Trace.Steps, toolpath.Step{Kind: toolpath.Stop, From: b.place, To: b.place, Line: row, Op: b.op})
	}
	if m := nutAt.FindStringSubmatch(note); m != nil && b.op >= 0 {
		v, err := measure.ParseLength(m[1], measure.NoUnit)
		if err != nil {
			return fault(row, "%s", err)
		}
		v = -v
		if err := b.nutIsSet(note, v); err != nil {
			return fault(row, "%s", err)
		}
		b.nut = &v
		b.set.Cuts[b.op].Nut = &v
	}
	if m := spindle.FindStringSubmatch(note); m != nil {
		v, err := measure.ParseSpeed(m[1] + " rpm")
		if err != nil {
			return fault(row, "%s", err)
		}
		b.speed = v
	}
	for _, part := range strings.Split(note, "; ") {
		if m := lockOf.FindStringSubmatch(part); m != nil {
			rest, _, _ := strings.Cut(m[2], " and read")
			for _, w := range strings.Split(rest, " and ") {
				b.locked[w] = m[1] == "lock"
			}
		}
	}
	return nil
}

// nutIsSet holds how a sentence says that a nut is set against where it says that it then
// stands: by the gap from the face, with the cutter there, or from where it stood, with
// the cutter above it.
func (b *bed) nutIsSet(note string, at measure.Length) error {
	length := func(text string) (measure.Length, error) { return measure.ParseLength(text, measure.NoUnit) }
	if m := gapAt.FindStringSubmatch(note); m != nil {
		gap, err := length(m[1])
		if err != nil {
			return err
		}
		if !b.onFace || !b.place.Known[2] || gap > b.place.Z-at+told || gap < b.place.Z-at-told {
			return fmt.Errorf("the gap at the nut is %s, and the cutter does not stand on the face that far above it", m[1])
		}
		return nil
	}
	if b.onFace {
		return fmt.Errorf("the nut is set with the cutter on the face, and the gap at it is not told")
	}
	if m := nutBy.FindStringSubmatch(note); m != nil {
		by, err := length(m[2])
		if err != nil {
			return err
		}
		if m[1] == "on" {
			by = -by
		}
		if b.nut == nil || (*b.nut+by-at).Abs() > told {
			return fmt.Errorf("the nut is wound %s by %s, which does not bring it to %s", m[1], m[2], at.MM())
		}
	}
	return nil
}
