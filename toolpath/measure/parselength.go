package measure

import (
	"errors"
	"fmt"
	"strings"
)

// lengths is how a length is written.
var lengths = scale{
	what:    "a length",
	example: "12 mm",
	known:   `mm, in, ", thou or um`,
	marks: []mark{
		MM.mark("mm"), In.mark("in"), In.mark("inch"), In.mark("inches"), In.mark(`"`), InThou.mark("thou"),
		Um.mark("um"), Um.mark("µm"), Um.mark("μm"), // micro sign and Greek mu
	},
	grain:  "tenths of a nanometre",
	most:   int64(MaxLength),
	limit:  "100 m (100000 mm, 3937.007874 in)",
	signed: true,
}

func (u Unit) mark(name string) mark { return mark{name, int64(u.Size()), u.places()} }

// Unitless tells of a number that is a length in no unit.
type Unitless struct{ Number string }

func (e Unitless) Error() string {
	return fmt.Sprintf("%s has no unit: write %s mm or %s in", e.Number, e.Number, e.Number)
}

// ParseLength reads a length: "3/16 in", "1-1/2 in", "1 3/32 in", "20 thou",
// "0.260 in", "1.8 mm", "5/8\"", "-12 mm", ".5 mm". The units are mm, in, inch,
// inches, ", thou and um. A bare number takes the given unit, and is refused
// where that is [NoUnit].
//
// A sum joins lengths with a spaced + or -, each with its own unit: "1 3/32 in
// + 7/64 in + 15 thou + 3 mm".
//
// The length is exact and within plus and minus [MaxLength]. What is not a
// whole number of tenths of a nanometre is refused, as 1/3 in is; so is a
// comma, an exponent, a mark between digits and an improper mixed number.
func ParseLength(text string, bare Unit) (Length, error) {
	q := lengths
	if bare.String() != "" {
		q.example = "12 " + bare.String()
	}
	s, err := prepare(text, q.example)
	if err != nil {
		return 0, err
	}
	sum, sign := Length(0), Length(1)
	for rest := s; ; {
		first := len(rest) == len(s)
		n, m, after, err := q.term(rest)
		if err != nil {
			return 0, err
		}
		if n.signed && !first {
			return 0, fmt.Errorf("%s has a sign of its own behind a + or -: write one sign", n)
		}
		if m.name == "" {
			if !first || after != "" {
				return 0, fmt.Errorf("%s has no unit: in a sum each length has its own, as 1 in + 3 mm", n)
			}
			m, _ = q.mark(bare.String())
			if m.name == "" {
				return 0, Unitless{n.String()}
			}
		}
		v, err := q.value(n, m)
		if err != nil {
			return 0, err
		}
		sum += sign * Length(v) // each is at most 1e12 and there are at most maxText
		if after == "" {
			break
		}
		tail := strings.TrimLeft(after, " ")
		if !isSign(tail) {
			return 0, errors.New(q.trailing(s, after) + " or a sum as 1 in + 3 mm")
		}
		if tail == after || (len(tail) > 1 && tail[1] != ' ') {
			return 0, fmt.Errorf("the %c of a sum stands too close: write it with a space on each side, as 1 in %c 3 mm", tail[0], tail[0])
		}
		if len(tail) == 1 {
			return 0, fmt.Errorf("nothing follows the %c: write a length behind it, as 1 in %c 3 mm", tail[0], tail[0])
		}
		sign = 1
		if tail[0] == '-' {
			sign = -1
		}
		rest = strings.TrimLeft(tail[1:], " ")
	}
	if sum.Abs() > MaxLength {
		return 0, q.beyond(short(s))
	}
	return sum, nil
}

// ParseSize reads a length that is going to be halved, as a diameter or a width
// is: as [ParseLength], but an even number of tenths of a nanometre. 1/64 in
// is; 1/128 in is not.
func ParseSize(text string, bare Unit) (Length, error) {
	l, err := ParseLength(text, bare)
	if err != nil {
		return 0, err
	}
	if l%2 != 0 {
		return 0, fmt.Errorf("%s has no exact half: write %s mm or %s mm", short(strings.Trim(text, " \t")), (l - 1).MM(), (l + 1).MM())
	}
	return l, nil
}

// ParseUnits reads the units of a file or a machine: "mm" or "in".
func ParseUnits(text string) (Unit, error) {
	switch text {
	case "mm":
		return MM, nil
	case "in":
		return In, nil
	}
	return NoUnit, fmt.Errorf(`%q is not a unit for a file: write "mm" or "in"`, short(text))
}
