package measure

import (
	"fmt"
	"strconv"
	"strings"
)

// places is how many decimals of the unit are always whole tenths of a
// nanometre.
func (u Unit) places() int {
	switch u {
	case MM:
		return 7
	case In:
		return 6
	case InThou:
		return 3
	case Um:
		return 4
	}
	return -1
}

// fixed is n steps, each one of the last of so many decimals. It never gives a minus to
// nought.
func fixed(n int64, places int) string {
	sign, u := "", uint64(n)
	if n < 0 {
		sign, u = "-", -u
	}
	s := strconv.FormatUint(u, 10)
	if places == 0 {
		return sign + s
	}
	if len(s) <= places {
		s = strings.Repeat("0", places+1-len(s)) + s
	}
	return sign + s[:len(s)-places] + "." + s[len(s)-places:]
}

// shortest is fixed without noughts at its end.
func shortest(n int64, places int) string { return trimZeros(fixed(n, places)) }

// grid is how many steps of the places-th decimal of the unit go into l, rounded
// the way asked.
func (l Length) grid(u Unit, places int, way Rounding) int64 {
	if places < 0 || places > u.places() {
		panic(fmt.Sprintf("measure: %d decimals of %q", places, u))
	}
	step := int64(u.Size())
	for range places {
		step /= 10
	}
	return divide(int64(l), step, way)
}

// Format is the length in the unit with so many decimals, rounded the way
// asked, without the unit's name. The places go from 0 to 7 for [MM], 6 for
// [In], 4 for [Um] and 3 for [InThou]; others panic. Nought has no sign.
func (l Length) Format(u Unit, places int, way Rounding) string {
	return fixed(l.grid(u, places, way), places)
}

// MM is the length in millimetres, exact, without noughts at its end and
// without the unit's name.
func (l Length) MM() string { return shortest(int64(l), MM.places()) }

// Inches is the length in inches to the nearest of 0 to 6 places, without the
// unit's name.
func (l Length) Inches(places int) string { return l.Format(In, places, Nearest) }

// Thou is the length in thousandths of an inch to the nearest of 0 to 3 places,
// without the unit's name.
func (l Length) Thou(places int) string { return l.Format(InThou, places, Nearest) }

// String is the length in millimetres, to the nearest of four places, without
// noughts at its end: "5.959 mm".
func (l Length) String() string {
	return trimZeros(l.Format(MM, 4, Nearest)) + " mm"
}

// Fraction is the length as a fraction of an inch, "1-3/8 in", where it is a
// whole number of sixty-fourths.
func (l Length) Fraction() (string, bool) {
	const step = Inch / 64
	if l%step != 0 {
		return "", false
	}
	return fraction(int64(l/step), 64), true
}

// fraction is n/den inches in lowest terms, as it is written on a drawing.
func fraction(n, den int64) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	whole, r := n/den, NewRatio(n%den, den)
	switch {
	case r.Num == 0:
		return fmt.Sprintf("%s%d in", sign, whole)
	case whole == 0:
		return fmt.Sprintf("%s%d/%d in", sign, r.Num, r.Den)
	}
	return fmt.Sprintf("%s%d-%d/%d in", sign, whole, r.Num, r.Den)
}

// Both is the length for a person, in both units. A whole number of
// sixty-fourths of an inch is told so, "3/16 in (4.7625 mm)"; what is whole in
// ten-thousandths of an inch and not in micrometres, inches first; all else as
// "5.959 mm (0.2346 in)". Millimetres are to the nearest of 4 places, inches of
// 4.
func (l Length) Both() string {
	if f, ok := l.Fraction(); ok {
		return fmt.Sprintf("%s (%s)", f, l)
	}
	inches := l.Inches(4) + " in"
	if l%(Thou/10) == 0 && l%Micrometre != 0 {
		return fmt.Sprintf("%s (%s)", inches, l)
	}
	return fmt.Sprintf("%s (%s)", l, inches)
}

// BothFrom is the length for a person in both units, the one that they read first:
// "4.7625 mm (3/16 in)", "3/16 in (4.7625 mm)". Places are those of [Length.Both];
// nought is nought in any.
func (l Length) BothFrom(u Unit) string {
	if l == 0 {
		return "0 " + u.String()
	}
	if u == In {
		return fmt.Sprintf("%s (%s)", l.In(In), l)
	}
	return fmt.Sprintf("%s (%s)", l, l.In(In))
}

// In is the length for a person in a unit: "5.959 mm", "3/16 in", "0.2346 in".
func (l Length) In(u Unit) string {
	if u != In {
		return l.String()
	}
	if f, ok := l.Fraction(); ok {
		return f
	}
	return l.Inches(4) + " in"
}

// Number is the length as a drawing or a dial gives it, without the unit's name: to 3
// places of a millimetre or 4 of an inch.
func (l Length) Number(u Unit, way Rounding) string {
	if u == In {
		return l.Format(In, 4, way)
	}
	return l.Format(MM, 3, way)
}

// Shown is [Length.Number] with the unit's name: "5.959 mm", "0.2346 in".
func (l Length) Shown(u Unit, way Rounding) string {
	if u != In {
		u = MM
	}
	return l.Number(u, way) + " " + u.String()
}

// ShownBoth is [Length.Shown] in the unit, and in brackets in the other one.
func (l Length) ShownBoth(u Unit, way Rounding) string {
	if u == In {
		return l.Shown(In, way) + " (" + l.Shown(MM, way) + ")"
	}
	return l.Shown(MM, way) + " (" + l.Shown(In, way) + ")"
}
