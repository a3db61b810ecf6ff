package measure

import (
	"errors"
	"fmt"
	"math/big"
	"strings"
)

// Bounds of [ParseLead]. With these no count of lines within [MaxLength]
// overflows, and a lead over a number that was read fits: see [Ratio.Over].
const (
	maxLead    = 100 * Millimetre
	minLead    = Micrometre
	maxLeadDen = 10_000
)

const tpi = "TPI"

// leads is how a lead is written; its TPI has no size, as it stands below the
// line.
var leads = scale{
	what:    "a lead",
	example: "2.5 mm",
	known:   "TPI, mm, in, thou or um, for one turn",
	marks:   append([]mark{{name: tpi}, {name: "tpi"}}, lengths.marks...),
}

// ParseLead reads the travel for one turn: "8 TPI", "2.5 mm", "14/11 mm",
// "0.100 in", "1/8 in". The ratio is in tenths of a nanometre for a turn and
// exact: 14/11 mm is 140000000/11. From 0.001 mm to 100 mm, with at most 10 000
// below the line.
func ParseLead(text string) (Ratio, error) {
	q := leads
	s, err := prepare(text, q.example)
	if err != nil {
		return Ratio{}, err
	}
	n, m, rest, err := q.term(s)
	switch {
	case err != nil:
		return Ratio{}, err
	case m.name == "" && rest == "":
		return Ratio{}, fmt.Errorf("%s has no unit: write %s mm, %s in or %s TPI", n, n, n, n)
	case rest != "":
		return Ratio{}, errors.New(q.trailing(s, rest))
	case n.mag.Sign() == 0 || n.neg:
		return Ratio{}, fmt.Errorf("%s is not above nought: write the travel for one turn, as %s", m.with(n.String()), q.example)
	}
	lead := new(big.Rat)
	if m.size == 0 {
		lead.Quo(big.NewRat(int64(Inch), 1), n.mag)
	} else {
		lead.Mul(big.NewRat(m.size, 1), n.mag)
	}
	switch {
	case lead.Cmp(big.NewRat(int64(maxLead), 1)) > 0:
		return Ratio{}, fmt.Errorf("%s is too long for one turn: write at most 100 mm", m.with(n.String()))
	case lead.Cmp(big.NewRat(int64(minLead), 1)) < 0:
		return Ratio{}, fmt.Errorf("%s is too short for one turn: write at least 0.001 mm", m.with(n.String()))
	case lead.Denom().Cmp(big.NewInt(maxLeadDen)) > 0:
		return Ratio{}, fmt.Errorf("%s is too fine to hold: write fewer decimals, or a fraction as 14/11 mm", m.with(n.String()))
	}
	return Ratio{lead.Num().Int64(), lead.Denom().Int64()}, nil
}

// ParseRate reads a length for a length: "0.02 mm in 300 mm", "1 thou in 12
// in", or "0". From 0 to 1, exact.
func ParseRate(text string) (Ratio, error) {
	const form = "0.02 mm in 300 mm"
	q := lengths
	q.example = form
	s, err := prepare(text, form)
	if err != nil {
		return Ratio{}, err
	}
	n, m, rest, err := q.term(s)
	if err != nil {
		return Ratio{}, err
	}
	if m.name == "" {
		if rest == "" && n.mag.Sign() == 0 {
			return NewRatio(0, 1), nil
		}
		return Ratio{}, fmt.Errorf("%s has no unit: write a length in a length, as %s, or 0", n, form)
	}
	slip, err := q.value(n, m)
	if err != nil {
		return Ratio{}, err
	}
	if slip < 0 {
		return Ratio{}, fmt.Errorf("%s is below nought: write %s", m.with(n.String()), m.with(n.bare()))
	}
	second, ok := strings.CutPrefix(strings.TrimLeft(rest, " "), "in ")
	if !ok {
		return Ratio{}, fmt.Errorf("%s is not in a length: write %s in 300 mm", m.with(n.String()), m.with(n.String()))
	}
	n, m, rest, err = q.term(strings.TrimLeft(second, " "))
	if err != nil {
		return Ratio{}, err
	}
	if m.name == "" && rest == "" {
		return Ratio{}, fmt.Errorf("%s has no unit: write a length in a length, as %s", n, form)
	}
	if rest != "" {
		return Ratio{}, errors.New(q.trailing(s, rest))
	}
	along, err := q.value(n, m)
	if err != nil {
		return Ratio{}, err
	}
	switch {
	case along <= 0:
		return Ratio{}, fmt.Errorf("%s is not above nought: write the length in which the error arises, as %s", m.with(n.String()), form)
	case slip > along:
		return Ratio{}, fmt.Errorf("%s is more than 1 in 1: write the error first, as %s", short(s), form)
	}
	return NewRatio(slip, along), nil
}
