package trade

import (
	"fmt"
	"strings"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
)

// Cutting is what the handbook says of one material, cutter and diameter. The
// figures are for a light machine; a stiffer one gets the same.
type Cutting struct {
	Surface   measure.Figure[measure.SurfaceSpeed]
	PerTooth  measure.Figure[measure.Length]
	StepDown  measure.Figure[measure.Length] // of a slot as wide as the cutter
	Published string                         // the range of surface speeds that is printed, and where
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
	hint := ""
	if near := form.Nearest(plain(name), all); near != "" {
		hint = "; did you mean " + near + "?"
	}
	return MaterialRow{}, fmt.Errorf("%q is not in the handbook: it knows %s%s", name, form.Listed(known, "and"), hint)
}

// Milling is the handbook's figures for a cutter of a diameter above nought,
// made of HSS or carbide, in a material. The feed per tooth and the step-down
// are rounded down to a tenth of a nanometre.
func Milling(material, madeOf string, diameter measure.Length) (Cutting, error) {
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
	c := Cutting{
		Surface: measure.Figure[measure.SurfaceSpeed]{
			Value: speed.speed, From: measure.Handbook,
			Source: fmt.Sprintf("%s: %s", speed.Of, speed.speed),
		},
		PerTooth:  tooth.figure(diameter),
		StepDown:  step.figure(diameter),
		Published: speed.published(),
	}
	if diameter < leastChecked || diameter > mostChecked {
		c.PerTooth.Source += fmt.Sprintf(", beyond the %s to %s of the published tables", leastChecked, mostChecked)
	}
	return c, nil
}

// figure is the row's fraction of a diameter.
func (r fractionRow) figure(d measure.Length) measure.Figure[measure.Length] {
	of := fmt.Sprintf("%d D / %d", r.of.Num, r.of.Den)
	if r.of.Num == 1 {
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
