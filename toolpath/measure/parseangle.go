package measure

import (
	"errors"
	"fmt"
	"math/big"
	"strings"
)

var angles = scale{
	what:    "an angle",
	example: "30 deg",
	known:   `deg, ' or "`,
	// from the coarse to the fine: the order in which they may follow
	marks:  []mark{{"deg", int64(Degree), 8}, {"'", int64(ArcMinute), 7}, {`"`, int64(ArcSecond), 6}},
	grain:  "millionths of a second of arc",
	most:   int64(3600 * Degree),
	limit:  "3600 deg",
	signed: true,
}

// ParseAngle reads an angle: "30 deg", "22.5 deg", "-45 deg", "36 deg 52' 12\"".
// A sign in front holds for the whole angle. Before a finer part a part is
// whole, and behind a coarser one it is below 60. Within plus and minus 3600
// deg, in whole millionths of a second of arc.
func ParseAngle(text string) (Angle, error) {
	q := angles
	s, err := prepare(text, q.example)
	if err != nil {
		return 0, err
	}
	sum, last, neg := int64(0), -1, false
	var before string // a part that is not whole
	for rest := s; rest != ""; rest = strings.TrimLeft(rest, " ") {
		n, m, after, err := q.term(rest)
		if err != nil {
			return 0, err
		}
		if m.name == "" {
			if last < 0 && after == "" {
				return 0, fmt.Errorf("%s has no unit: write %s deg", n, n)
			}
			return 0, fmt.Errorf("%s has no unit: write an angle as 36 deg 52' 12\"", n)
		}
		rank := 0
		for q.marks[rank].name != m.name {
			rank++
		}
		switch {
		case last < 0:
			neg, n.neg = n.neg, false
		case n.signed:
			return 0, fmt.Errorf("%s has a sign inside an angle: write one sign in front", m.with(n.String()))
		case rank <= last:
			return 0, errors.New(q.trailing(s, rest) + ` or 36 deg 52' 12"`)
		case before != "":
			return 0, fmt.Errorf("%s is not whole and %s follows: write whole parts, as 36 deg 52' 12\"", before, m.with(n.String()))
		case n.mag.Cmp(big.NewRat(60, 1)) >= 0:
			return 0, fmt.Errorf("%s is not below 60: write the rest as the part before it", m.with(n.String()))
		}
		v, err := q.value(n, m)
		if err != nil {
			return 0, err
		}
		if !n.mag.IsInt() {
			before = m.with(n.String())
		}
		sum, last, rest = sum+v, rank, after
	}
	if sum > q.most {
		return 0, q.beyond(short(s))
	}
	if neg {
		sum = -sum
	}
	return Angle(sum), nil
}
