package write

import (
	"strings"

	"golang.org/x/exp/slices"

	"stopshort/toolpath"
	"stopshort/toolpath/measure"
)

// whence marks the program's figures as given, derived or from the handbook, a comment
// for each, and says where the source of each is told. A program whose figures say
// nothing of that gets none.
func (w *writer) whence(p toolpath.Program) []string {
	facts := append([]toolpath.Fact{{Name: "tool", From: measure.Given}}, p.Setup.Facts...)
	facts = append(facts, toolpath.Fact{Name: "places", From: measure.Derived}, toolpath.Fact{Name: "depths", From: measure.Derived})
	if p.SpinUp > 0 {
		facts = append(facts, toolpath.Fact{Name: "seconds", From: measure.Given})
	}
	for _, op := range p.Operations {
		if op.Look != nil {
			facts = append(facts, toolpath.Fact{Name: "reading", From: measure.Derived})
		}
		for _, f := range op.Facts {
			f.Source = op.Of
			facts = append(facts, f)
		}
	}
	if len(p.Setup.Facts) == 0 {
		return nil
	}
	var out []string
	for _, from := range []string{"given", "derived", "handbook"} {
		var names []string
		for _, f := range facts {
			if f.From.String() != from {
				continue
			}
			name := f.Name
			if mixed(facts, f) { // one cut has it from elsewhere
				name += " of " + f.Source
			}
			if !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
		if len(names) > 0 {
			out = append(out, strings.ToUpper(from)+" "+strings.Join(names, " - "))
		}
	}
	return append(out, "STOPSHORT CHECK TELLS THE SOURCE OF EACH FIGURE")
}

// mixed tells whether figures of one name come from more than one place.
func mixed(facts []toolpath.Fact, f toolpath.Fact) bool {
	return slices.ContainsFunc(facts, func(o toolpath.Fact) bool {
		return o.Name == f.Name && o.From.String() != f.From.String()
	})
}
