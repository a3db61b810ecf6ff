package trade

import (
	"strings"
	"testing"

	"stopshort/toolpath/measure"
)

// Chosen here: a light machine's figures by 1.5 and 2, never over the half of the
// diameter that "Personal shop guide" prints for a slot. By hand for 4 mm.
func TestStiffness(t *testing.T) {
	for _, c := range []struct {
		material             string
		light, medium, rigid measure.Length // step-down, micrometres
	}{
		{"mild steel", 400, 600, 800}, {"bronze", 600, 900, 1200}, {"brass", 1000, 1500, 2000},
		{"aluminium", 1200, 1800, 2000}, {"acetal", 2000, 2000, 2000},
	} {
		for i, want := range []measure.Length{c.light, c.medium, c.rigid} {
			got, err := MillingOn(c.material, "HSS", 4*mm, stiffnesses[i])
			if err != nil || got.StepDown.Value != want*um {
				t.Errorf("%s, %s: %s, want %s, %v", c.material, stiffnesses[i], got.StepDown.Value, want*um, err)
			}
			if got.SideWide.Value != []measure.Length{400, 600, 800}[i]*um {
				t.Errorf("%s, %s: side cut %s", c.material, stiffnesses[i], got.SideWide.Value)
			}
		}
	}
	if _, err := MillingOn("brass", "HSS", mm, "limp"); err == nil || err.Error() != `"limp" is no stiffness that the handbook knows: write light, medium or rigid` {
		t.Error(err)
	}
	got, err := MillingOn("bronze", "HSS", 4*mm, "medium")
	if err != nil || got.StepDown.Source != "bronze, medium machine: 9 D / 40" {
		t.Errorf("%q %v", got.StepDown.Source, err)
	}
}

// The starting figures, chosen by the sources that stand in their rows; in m/min, in
// thousandths of a millimetre for 3 and 10 mm, in diameters.
func TestOtherMaterials(t *testing.T) {
	for material, want := range map[string]struct {
		hss, carbide          int
		tooth3, tooth10, step measure.Length
		drill6                measure.Length // tenths of a micrometre
	}{
		"stainless": {12, 35, 9, 29, 1000, 375}, "tool steel": {12, 35, 9, 29, 1000, 375}, "cast iron": {15, 40, 10, 40, 1500, 750},
		"free-cutting steel": {25, 50, 10, 40, 1000, 750}, "phosphor bronze": {18, 36, 15, 50, 1500, 750}, "copper": {25, 60, 15, 50, 1500, 750},
		"acetal": {60, 100, 15, 67, 5000, 750},
	} {
		for i, stuff := range cutterStuffs {
			c, err := Milling(material, stuff, 10*mm)
			if err != nil || c.Surface.Value != measure.SurfaceSpeed([]int{want.hss, want.carbide}[i])*mMin {
				t.Errorf("%s, %s: %s, %v", material, stuff, c.Surface.Value, err)
			}
			if c.PerTooth.Value.Round(um, measure.Nearest) != want.tooth10*um || c.StepDown.Value != want.step*um {
				t.Errorf("%s: %s, %s", material, c.PerTooth.Value, c.StepDown.Value)
			}
		}
		if got := milling(t, material, 3*mm).PerTooth.Value.Round(um, measure.Nearest); got != want.tooth3*um {
			t.Errorf("%s: %s for 3 mm", material, got)
		}
		if got := drilling(t, material, 6*mm).PerRev.Value; got != want.drill6*um/10 {
			t.Errorf("%s: %s a turn", material, got)
		}
	}
	for material, deepest := range map[string]measure.Length{"stainless": 2, "copper": 2, "tool steel": 3, "cast iron": 3, "acetal": 3} {
		if len(Pecks(deepest*mm, mm, material)) != 1 || len(Pecks(deepest*mm+1, mm, material)) == 1 {
			t.Errorf("%s: pecks do not begin after %d D", material, deepest)
		}
	}
	// "Machine Tool Speeds and Feeds": 70 ft/min, which is under milling's 25 m/min.
	if d := drilling(t, "copper", 3*mm); d.Surface.Value != 70*ftMn || !strings.Contains(d.Surface.Source, "the most that is printed") {
		t.Errorf("%+v", d.Surface)
	}
}
