package measure

import (
	"errors"
	"fmt"
	"math/big"
	"strings"
)

// mark is a unit as it is written, with its size in the smallest step of the
// quantity and how many decimals of it are always whole steps.
type mark struct {
	name   string
	size   int64
	places int
}

// with is a number with the unit behind it.
func (m mark) with(number string) string {
	if m.name == "'" || m.name == `"` {
		return number + m.name
	}
	return number + " " + m.name
}

// scale is how one quantity is written: a number and a unit.
type scale struct {
	what    string // "a length"
	example string // one that is right
	marks   []mark // every spelling
	known   string // the spellings that are told
	grain   string // the smallest step, more than one of it
	most    int64  // the greatest size, in steps
	limit   string // the same for a person
	signed  bool   // whether it may be below nought
}

func (q scale) mark(name string) (mark, bool) {
	for _, m := range q.marks {
		if m.name == name {
			return m, true
		}
	}
	return mark{}, false
}

// term reads the number and the unit that s begins with. The mark is empty
// where no unit follows; the rest keeps its leading space.
func (q scale) term(s string) (n number, m mark, rest string, err error) {
	n, rest, err = readNumber(s, q.example)
	if err != nil {
		return n, m, "", err
	}
	tail := strings.TrimLeft(rest, " ")
	end := strings.IndexAny(tail, ` +-'"`+digits)
	if end < 0 {
		end = len(tail)
	}
	if end == 0 && tail != "" && (tail[0] == '\'' || tail[0] == '"') {
		end = 1 // these stand alone
	}
	if end == 0 {
		return n, m, rest, nil
	}
	m, ok := q.mark(tail[:end])
	if !ok {
		return n, m, "", fmt.Errorf("%q is not a unit of %s: write %s", short(tail[:end]), q.what, q.known)
	}
	return n, m, tail[end:], nil
}

// value is the number in steps. It is refused where it is beyond the bounds or
// not a whole number of steps.
func (q scale) value(n number, m mark) (int64, error) {
	written := m.with(n.String())
	if n.neg && !q.signed && n.mag.Sign() != 0 {
		return 0, fmt.Errorf("%s is below nought: write %s", written, m.with(n.bare()))
	}
	v := new(big.Rat).Mul(n.mag, big.NewRat(m.size, 1))
	if v.Cmp(big.NewRat(q.most, 1)) > 0 {
		return 0, q.beyond(written)
	}
	if !v.IsInt() {
		low, high := around(n, m.places)
		return 0, fmt.Errorf("%s is not a whole number of %s: write %s or %s", written, q.grain, m.with(low), m.with(high))
	}
	if n.neg {
		return -v.Num().Int64(), nil
	}
	return v.Num().Int64(), nil
}

func (q scale) beyond(written string) error {
	return fmt.Errorf("%s is beyond what is read: write %s of at most %s", written, q.what, q.limit)
}

// one reads a text that is one number and one unit. A bare number takes the
// unit of the given name; where that is empty it is refused.
func (q scale) one(text, bare, hint string) (int64, error) {
	s, err := prepare(text, q.example)
	if err != nil {
		return 0, err
	}
	n, m, rest, err := q.term(s)
	if err != nil {
		return 0, err
	}
	if m.name == "" && rest == "" {
		m, _ = q.mark(bare)
		if m.name == "" {
			return 0, fmt.Errorf("%s has no unit: %s", n, hint)
		}
	}
	if rest != "" {
		return 0, errors.New(q.trailing(s, rest))
	}
	return q.value(n, m)
}

// trailing tells of what stands behind a whole quantity.
func (q scale) trailing(s, rest string) string {
	before := strings.TrimSpace(s[:len(s)-len(rest)])
	return fmt.Sprintf("%s is followed by %q: write one figure, as %s", short(before), short(strings.TrimSpace(rest)), q.example)
}

// around is the decimals next below and above a number, with so many places.
func around(n number, places int) (low, high string) {
	p := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil)
	v := new(big.Rat).Mul(n.mag, new(big.Rat).SetInt(p))
	below := new(big.Int).Quo(v.Num(), v.Denom()).Int64() // bounded by value
	above := below + 1
	if n.neg {
		below, above = -above, -below
	}
	return shortest(below, places), shortest(above, places)
}
