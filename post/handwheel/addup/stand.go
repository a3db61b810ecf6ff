package addup

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"stopshort/toolpath/measure"
)

// standsAt is where a sentence says that the wheels stand, for a person who turned them
// between two rows.
var standsAt = regexp.MustCompile(`(?:then back to|where it stood:) (X .*)$`)

// wheelsStand holds where a sentence says that the wheels stand against where they stand.
func (b *bed) wheelsStand(note string) error {
	m := standsAt.FindStringSubmatch(note)
	if m == nil {
		return nil
	}
	names := map[string]bool{}
	for _, part := range strings.Split(m[1], ", ") {
		name, total, _ := strings.Cut(part, " ")
		if rest, ok := strings.CutPrefix(part, "rotary table "); ok {
			if b.rotor == nil || !b.rotor.counts(rest) {
				return fmt.Errorf("the rotary table does not stand at %s", rest)
			}
			names["rotary table"] = true
			continue
		}
		s := b.find(name)
		if s == nil {
			s = b.find("Z " + name)
		}
		if s == nil || s.axis == 2 && s != b.z || !s.known {
			return fmt.Errorf("%q is no wheel that is set", name)
		}
		if err := s.counts(total, b.machine.Sides()[s.axis]); err != nil {
			return err
		}
		names[axisOf[s.axis]] = true
	}
	b.handsLeft()
	if !names["X"] || !names["Y"] || b.z != nil && !names["Z"] || b.rotor != nil && b.rotor.known && !names["rotary table"] {
		return fmt.Errorf("where the wheels stand is not told of each")
	}
	return nil
}

// handsLeft lets the slides of X and Y, and a rotary table that is free, lie where hands may have left them that brought the
// wheels back from the other side: the play away from where their places are met. Where
// they stood before is where a way begins: nothing is told of hands.
func (b *bed) handsLeft() {
	for _, s := range b.slides {
		if s.axis == 2 || !s.known {
			continue
		}
		s.at.Set(s.wheel)
		if s.upper {
			s.at.Add(s.at, s.back)
		} else {
			s.at.Sub(s.at, s.back)
		}
	}
	if r := b.rotor; r != nil && r.known && !b.locked[rotorName] {
		r.at = r.wheel + r.play
	}
}

// counts tells whether turns and the rest from zero are where the table's wheel stands:
// "80 + 2:01:10".
func (r *rotor) counts(total string) bool {
	total, back := strings.CutSuffix(total, " back")
	turns, rest, ok := strings.Cut(total, " + ")
	n, err := strconv.ParseInt(turns, 10, 64)
	by, wrong := angle(rest)
	if !ok || err != nil || wrong != nil || n < 0 || n > mostTurns || by < 0 || by >= r.perTurn {
		return false
	}
	if by += measure.Angle(n) * r.perTurn; back {
		by = -by
	}
	return r.known && by == r.wheel
}

var axisOf = [3]string{"X", "Y", "Z"}

// counts holds turns and lines from zero against where the wheel stands: "2 + 34 down".
func (s *slide) counts(total string, sides [2]string) error {
	f := strings.Fields(total)
	side := 0
	if n := len(f); n > 0 && (f[n-1] == sides[0] || f[n-1] == sides[1]) {
		side = 1
		if f[n-1] == sides[0] {
			side = -1
		}
		f = f[:n-1]
	}
	if len(f) < 3 || f[1] != "+" {
		return fmt.Errorf("%q is no turns and lines", total)
	}
	turns, err := strconv.ParseInt(f[0], 10, 64)
	if err != nil || turns < 0 {
		return fmt.Errorf("%q is no number of turns", f[0])
	}
	at, err := s.travel(turns, strings.Join(f[2:], " "))
	if err != nil {
		return err
	}
	if side < 0 {
		at.Neg(at)
	}
	if at.Sign() != side || at.Cmp(s.wheel) != 0 {
		return fmt.Errorf("the wheel of %s does not stand at %s", s.label, total)
	}
	return nil
}
