package addup

import (
	"fmt"
	"regexp"
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
			if name := strings.TrimPrefix(s.label, "Z "); s.axis == 2 && b.locked[name] && !b.stays(name) {
				return fault(row, "a tool is changed and the %s is locked", name)
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
	if err := b.nutIsSet(note); err != nil {
		return fault(row, "%s", err)
	}
	if m := spindle.FindStringSubmatch(note); m != nil {
		v, err := measure.ParseSpeed(m[1] + " rpm")
		if err != nil {
			return fault(row, "%s", err)
		}
		b.speed = v
	}
	if err := b.locks(note); err != nil {
		return fault(row, "%s", err)
	}
	return nil
}

// locks takes in what a row locks and frees: one of nothing else, one that fits a tool, or one
// that sets what the quill hangs from. Names of cuts stand in other rows.
func (b *bed) locks(note string) error {
	if m := fitsUp.FindStringSubmatch(note); m != nil {
		b.locked[m[1]] = true
	}
	if m := setsHead.FindStringSubmatch(note); m != nil && m[1] == m[2] {
		b.locked[m[1]] = true
	}
	if !strings.HasPrefix(note, "lock ") && !strings.HasPrefix(note, "free ") {
		return nil
	}
	for _, part := range strings.Split(note, "; ") {
		if m := lockOf.FindStringSubmatch(part); m != nil {
			rest, _, _ := strings.Cut(m[2], " and read")
			for _, w := range strings.Split(rest, " and ") {
				if b.locked[w] = m[1] == "lock"; !b.locked[w] && b.stays(w) {
					return fmt.Errorf("the %s is freed on a round column", w)
				}
			}
		}
	}
	return nil
}

// stays tells whether something that could set Z must not move within a set-up.
func (b *bed) stays(name string) bool { return name == "head" && b.machine.RoundColumn }

// nutIsSet takes in where a sentence has a nut stand: where it says so, by the gap from the
// face, with the cutter there, by the way from where it stood, with the cutter above it,
// and by the gap that there is then or now.
func (b *bed) nutIsSet(note string) error {
	length := func(text string) (measure.Length, error) { return measure.ParseLength(text, measure.NoUnit) }
	if noNut.MatchString(note) {
		b.nut = nil
	}
	var at []measure.Length
	for _, says := range []struct {
		re   *regexp.Regexp
		from func(told measure.Length, way string) (measure.Length, error)
	}{
		{nutAt, func(told measure.Length, _ string) (measure.Length, error) { return -told, nil }},
		{nutStands, func(told measure.Length, _ string) (measure.Length, error) { return -told, nil }},
		{gapAt, func(told measure.Length, _ string) (measure.Length, error) {
			if !b.onFace {
				return 0, fmt.Errorf("a nut is set with the cutter on the face, and it is not there")
			}
			return b.place.Z - told, nil
		}},
		{nutBy, func(told measure.Length, way string) (measure.Length, error) {
			if b.nut == nil || b.onFace {
				return 0, fmt.Errorf("a nut is wound from where it stood, which is not told")
			}
			if way == "deeper" {
				told = -told
			}
			return *b.nut + told, nil
		}},
		{nutGap, func(told measure.Length, _ string) (measure.Length, error) { return b.place.Z - told, nil }},
	} {
		m := says.re.FindStringSubmatch(note)
		if m == nil {
			continue
		}
		told, err := length(m[1])
		if err != nil {
			return err
		}
		way := ""
		if len(m) > 2 {
			way = m[2]
		}
		v, err := says.from(told, way)
		if err != nil {
			return err
		}
		if !b.place.Known[2] || b.op < 0 {
			return fmt.Errorf("a nut is set with Z unknown")
		}
		at = append(at, v)
	}
	if nutAt.MatchString(note) {
		if b.onFace && !gapAt.MatchString(note) {
			return fmt.Errorf("the nut is set with the cutter on the face, and the gap at it is not told")
		}
		if nutSame.MatchString(note) && (b.nut == nil || *b.nut != at[0]) {
			return fmt.Errorf("the nut stays where it stands, and that is not told")
		}
		b.nut = &at[0]
	}
	if len(at) > 0 {
		b.set.Cuts[b.op].Nut = append(b.set.Cuts[b.op].Nut, at...)
	}
	return nil
}
