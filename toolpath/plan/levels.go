package plan

import (
	"fmt"

	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// MaxPasses is the most passes one cut may take: more is a slip of the pen.
const MaxPasses = 1000

// TooManyPasses tells that a step is too small for a depth.
type TooManyPasses struct {
	Passes      int64 // nought where the step is less than the controller's places hold
	Depth, Step measure.Length
	Least       measure.Length // the least step that would do, rounded up to a micrometre
}

func (e TooManyPasses) Error() string {
	if e.Passes == 0 {
		return fmt.Sprintf("a step of %s is less than one step of the controller's places, %s: a step of that or more would do, or a controller of more places", e.Step, e.Least)
	}
	return fmt.Sprintf("%d passes of %s mm for %s: at most %d passes; a step of %s or more would do",
		e.Passes, e.Step.MM(), e.Depth, MaxPasses, e.Least)
}

// Levels is the heights of a cut's passes from top down to floor, the last at
// floor, each on the grid and none more than step below the one before. It
// takes the least number of passes: equal ones on a controller; on dials whole
// lines, the last taking the rest, unless the rest is under a quarter of a
// step: then the lines are shared out. Everything is counted in whole numbers.
//
// floor must be on the grid and below top; step must be positive.
func (g Grid) Levels(top, floor, step measure.Length) ([]measure.Length, error) {
	depth := top - floor
	if g.Dial {
		return g.dialLevels(top, floor, step)
	}
	if s := g.Step(solid.Z); step < s && depth > step && depth <= MaxPasses*step {
		return nil, TooManyPasses{Depth: depth, Step: step, Least: s}
	}
	for n := int64((depth + step - 1) / step); ; n++ {
		if n > MaxPasses {
			return nil, tooMany(n, depth, step)
		}
		levels := make([]measure.Length, n)
		for k := range levels {
			at := top - depth.MulDiv(int64(k+1), n, measure.Floor)
			levels[k] = g.Round(solid.Z, at, measure.Ceil)
		}
		levels[n-1] = floor
		// Rounding up can leave the next pass up to one step of the grid more.
		if widest(top, levels) <= step {
			return levels, nil
		}
	}
}

func (g Grid) dialLevels(top, floor, step measure.Length) ([]measure.Length, error) {
	// Lines are counted from nought, where the dial was set; the first pass
	// takes what stands above the first whole line too.
	first, last := g.step[solid.Z].Steps(top, measure.Ceil), g.step[solid.Z].Steps(floor, measure.Nearest)
	lines, each := first-last, g.Lines(solid.Z, step)
	if each < 1 {
		return nil, fmt.Errorf("a step of %s is less than one line of the dial (%s): one line or more would do", step, g.Step(solid.Z))
	}
	n := (lines + each - 1) / each
	if n > MaxPasses {
		return nil, tooMany(n, top-floor, step)
	}
	levels := make([]measure.Length, n)
	rest := lines - (n-1)*each
	at := first
	for k := range levels {
		take := each
		switch {
		case 4*rest < each: // share out
			take = lines / n
			if int64(k) < lines%n {
				take++
			}
		case int64(k) == n-1:
			take = rest
		}
		at -= take
		levels[k] = g.step[solid.Z].Times(at, measure.Floor)
	}
	levels[n-1] = floor
	return levels, nil
}

func tooMany(n int64, depth, step measure.Length) error {
	least := depth.MulDiv(1, MaxPasses, measure.Ceil).Round(measure.Micrometre, measure.Ceil)
	return TooManyPasses{Passes: n, Depth: depth, Step: step, Least: least}
}

// widest is the deepest bite of a row of levels.
func widest(top measure.Length, levels []measure.Length) measure.Length {
	var w measure.Length
	for _, l := range levels {
		w = max(w, top-l)
		top = l
	}
	return w
}
