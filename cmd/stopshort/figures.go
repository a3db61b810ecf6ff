package main

import (
	"strconv"
	"strings"

	"stopshort/toolpath/limit"
	"stopshort/toolpath/measure"
)

// figures are those of a verdict as they stand beside each other, with their unit.
type figures struct{ left, worst, least string }

// toldOf rounds a verdict's figures so that they never say other than its word: what is
// left down, what is never less up. Where that would tell less left of a limit that holds
// than is asked, the two lie in one step, and are told as equal.
func toldOf(v limit.Verdict, u measure.Unit) figures {
	in := func(n int64, way measure.Rounding) string { return amount(n, v.Unit, u, way) }
	worst := v.NeverLess + v.MarginWorst
	t := figures{left: in(v.Planned, measure.Floor), worst: in(worst, measure.Floor), least: in(v.NeverLess, measure.Ceil)}
	down := in(v.NeverLess, measure.Floor)
	switch holds := v.Planned >= v.NeverLess; {
	case holds && v.MarginWorst >= 0 && (t.left == down || t.worst == down):
		t.least = down
	case holds && v.MarginWorst < 0 && t.left == down:
		t.left = t.least // refused for what is left at worst, and not for this
	}
	return t
}

// clearOf are two places of which none may lie below the other, each as a person reads
// it in both units: the lower one is rounded down, the bound up, so that they never say
// other than how they lie.
func clearOf(low, bound measure.Length, u measure.Unit) (l, b string) {
	in := func(u measure.Unit) (l, b string) {
		l, b = amount(int64(low), limit.Length, u, measure.Floor), amount(int64(bound), limit.Length, u, measure.Ceil)
		if down := amount(int64(bound), limit.Length, u, measure.Floor); low >= bound && l == down {
			b = down
		}
		return l, b
	}
	other := measure.MM
	if u == measure.MM {
		other = measure.In
	}
	l, b = in(u)
	l2, b2 := in(other)
	return l + " (" + l2 + ")", b + " (" + b2 + ")"
}

// amount is a verdict's figure with its unit.
func amount(n int64, unit limit.Unit, u measure.Unit, way measure.Rounding) string {
	s, name := figure(n, unit, u, way)
	return strings.TrimSpace(s + " " + name) // a count has no unit
}

// figure is a verdict's figure in a person's unit, and the unit's name.
func figure(n int64, unit limit.Unit, u measure.Unit, way measure.Rounding) (text, name string) {
	switch unit {
	case limit.Speed:
		return rpm(n), "rpm"
	case limit.Count:
		return strconv.FormatInt(n, 10), ""
	case limit.Feed:
		if u == measure.In {
			return measure.Length(n).Format(measure.In, 2, way), "in/min"
		}
		return measure.Length(n).Format(measure.MM, 1, way), "mm/min"
	}
	if u != measure.In {
		u = measure.MM
	}
	return measure.Length(n).Number(u, way), u.String()
}

// rpm is a speed without its unit.
func rpm(n int64) string { return strings.TrimSuffix(measure.Speed(n).String(), " rpm") }
