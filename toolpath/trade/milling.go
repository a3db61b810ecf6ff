package trade

import (
	"fmt"
	"strings"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
)

// Cutting is what the handbook says of one material, cutter, diameter and
// stiffness of the machine.
type Cutting struct {
	Surface   measure.Figure[measure.SurfaceSpeed]
	PerTooth  measure.Figure[measure.Length]
	StepDown  measure.Figure[measure.Length] // of a slot as wide as the cutter
	SideWide  measure.Figure[measure.Length] // of a side cut, at most
	SideDeep  measure.Figure[measure.Length]
	Published string // the range of surface speeds that is printed, and where

	SpeedLow, SpeedHigh                  measure.SurfaceSpeed // that range
	SpeedRow, ToothRow, StepRow, SideRow Row
	StiffRow, PlungeRow                  Row
}

// The feeds per tooth were held against the published tables for cutters of
// these diameters.
const (
	leastChecked = 1 * measure.Millimetre
	mostChecked  = 16 * measure.Millimetre
)

// Material finds a material by its name or by another name of the trade. Small
// and large letters, hyphens and spaces do not matter. An unknown name is an
// error that lists the known ones and the nearest.
func Material(name string) (MaterialRow, error) {
	b := book()
	if m, ok := b.material(plain(name)); ok {
		return m, nil
	}
	var known, all []string
	for _, m := range b.materials {
		known = append(known, m.Name)
		all = append(append(all, m.Name), m.Also...)
	}
	if sorts := b.sortsOf(plain(name)); len(sorts) > 1 {
		return MaterialRow{}, fmt.Errorf("%q fits %s: write one of them", name, form.Listed(sorts, "and"))
	}
	hint := ""
	if near := form.Nearest(plain(name), all); near != "" {
		hint = "; did you mean " + near + "?"
	}
	return MaterialRow{}, fmt.Errorf("%q is not in the handbook: it knows %s%s", name, form.Listed(known, "and"), hint)
}

// sortsOf is the materials one of whose names has that word in it: "steel".
func (b *handbook) sortsOf(word string) (sorts []string) {
	for _, m := range b.materials {
		for _, name := range append([]string{m.Name}, m.Also...) {
			if word != "" && strings.Contains(" "+name+" ", " "+word+" ") {
				sorts = append(sorts, m.Name)
				break
			}
		}
	}
	return sorts
}

// Milling is [MillingOn] a light machine.
func Milling(material, madeOf string, diameter measure.Length) (Cutting, error) {
	return MillingOn(material, madeOf, diameter, "light")
}

// MillingOn is the handbook's figures for a cutter of a diameter above nought,
// made of HSS or carbide, in a material, on a light, medium or rigid machine. The
// stiffness bears on step-down and side cut alone. Lengths are rounded down to a
// tenth of a nanometre.
func MillingOn(material, madeOf string, diameter measure.Length, stiffness string) (Cutting, error) {
	m, err := Material(material)
	if err != nil {
		return Cutting{}, err
	}
	stuff := ""
	for _, s := range cutterStuffs {
		if strings.EqualFold(s, madeOf) {
			stuff = s
		}
	}
	if stuff == "" {
		return Cutting{}, fmt.Errorf("%q is no cutter that the handbook knows: write %s", madeOf, strings.Join(cutterStuffs, " or "))
	}
	if diameter <= 0 {
		return Cutting{}, fmt.Errorf("%s is no diameter of a cutter: it must be more than nought", diameter)
	}
	b := book()
	// readBook has seen to it that these three are there.
	speed, _ := b.speed(m.Name, stuff)
	tooth, _ := fraction(b.tooth, m.Name, diameter)
	step, _ := fraction(b.step, m.Name, diameter)
	stiff, ok := b.stiffness(stiffness)
	if !ok {
		return Cutting{}, fmt.Errorf("%q is no stiffness that the handbook knows: write %s", stiffness, form.Listed(stiffnesses, "or"))
	}
	side, _ := b.side(m.Name)
	c := Cutting{
		Surface: measure.Figure[measure.SurfaceSpeed]{
			Value: speed.speed, From: measure.Handbook,
			Source: fmt.Sprintf("%s: %s", speed.Of, speed.speed),
		},
		PerTooth:  tooth.figure(diameter),
		StepDown:  step.stiffer(stiff, measure.Ratio{Num: 1, Den: 2}).figure(diameter),
		SideWide:  fractionRow{Row: side.Row, of: side.wide}.stiffer(stiff, measure.Ratio{Num: 2, Den: 3}).figure(diameter),
		SideDeep:  fractionRow{Row: side.Row, of: side.deep}.figure(diameter),
		Published: speed.published(),
		SpeedLow:  speed.low, SpeedHigh: speed.high,
		SpeedRow: speed.Row, ToothRow: tooth.Row, StepRow: step.Row, SideRow: side.Row,
		StiffRow: stiff.Row, PlungeRow: b.plunge.Row,
	}
	if diameter < leastChecked || diameter > mostChecked {
		c.PerTooth.Source += fmt.Sprintf(", beyond the %s to %s of the published tables", leastChecked, mostChecked)
	}
	return c, nil
}

// stiffer is the row for a machine of a stiffness, kept to the most that is
// published, or to what it was where that is more.
func (r fractionRow) stiffer(s stiffRow, most measure.Ratio) fractionRow {
	if s.times.Num == s.times.Den {
		return r
	}
	// Numbers that were read have at most 100 000 below the line, these at most 7
	// above it, so that the products fit.
	of := measure.NewRatio(r.of.Num*s.times.Num, r.of.Den*s.times.Den)
	if less(most, of) {
		of = most
	}
	if less(r.of, of) {
		r.of = of
		r.Of += ", " + s.machine + " machine"
	}
	return r
}

// figure is the row's fraction of a diameter.
func (r fractionRow) figure(d measure.Length) measure.Figure[measure.Length] {
	of := fmt.Sprintf("%d D / %d", r.of.Num, r.of.Den)
	if r.of.Num == r.of.Den {
		of = "D"
	} else if r.of.Num == 1 {
		of = fmt.Sprintf("D / %d", r.of.Den)
	}
	return measure.Figure[measure.Length]{
		Value: r.of.Of(d, measure.Floor), From: measure.Handbook,
		Source: fmt.Sprintf("%s: %s", r.Of, of),
	}
}

func (r speedRow) published() string {
	s := fmt.Sprintf("published %s to %s: %s", r.low, r.high, r.Source)
	if r.Note != "" {
		s += "; " + r.Note
	}
	return s
}
