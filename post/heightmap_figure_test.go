package post_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
)

// figure is a length as it stands in a job's text, and in millimetres.
type figure struct {
	text string
	mm   float64
}

// figures writes lengths in every form that a job takes.
type figures struct {
	*rand.Rand
	units string // the job's own, for bare numbers
}

// length is about v, put on what its form can say.
func (f figures) length(v float64) figure {
	decimals := func(unit float64, places int, format string) figure {
		text := strconv.FormatFloat(v/unit, 'f', places, 64)
		back, _ := strconv.ParseFloat(text, 64)
		return figure{fmt.Sprintf(format, text), back * unit}
	}
	switch f.IntN(6) {
	case 0:
		return decimals(25.4, 4, `"%s in"`)
	case 1:
		return decimals(0.0254, 1, `"%s thou"`)
	case 2:
		return decimals(1, 4, `"%s mm"`)
	case 3:
		if f.units == "in" {
			return decimals(25.4, 4, "%s")
		}
		return decimals(1, 3, "%s")
	}
	return decimals(1, 3, `"%s mm"`)
}

// size is a diameter or a width, now and then in 64ths of an inch.
func (f figures) size(v float64) figure {
	n := int(math.Round(v / 25.4 * 64))
	if n < 1 || f.IntN(4) > 0 {
		return f.length(v)
	}
	mm, d := float64(n)/64*25.4, 64
	for n%2 == 0 && d > 1 {
		n, d = n/2, d/2
	}
	switch {
	case d == 1:
		return figure{fmt.Sprintf(`"%d in"`, n), mm}
	case n > d:
		return figure{fmt.Sprintf(`"%d-%d/%d in"`, n/d, n%d, d), mm}
	}
	return figure{fmt.Sprintf(`"%d/%d in"`, n, d), mm}
}

func list(fs ...figure) string {
	var s []string
	for _, f := range fs {
		s = append(s, f.text)
	}
	return "[" + strings.Join(s, ", ") + "]"
}

// cutter is what a tool of a job's text takes away: a disc, or a cone that rises
// so much for each millimetre from its axis.
type cutter struct{ r, slope float64 }

// cutterRadius finds the cutter of a job's one cut in the job's text.
func cutterRadius(text string) (float64, error) {
	_, cut, _ := strings.Cut(text, "[[setup.cut]]")
	want, _ := wordOf(cut, "tool")
	c, err := cutterOf(text, want)
	return c.r, err
}

// wordOf is a key's value in a block of a job's text.
func wordOf(block, key string) (string, bool) {
	for _, line := range strings.Split(block, "\n") {
		if k, v, ok := strings.Cut(line, "="); ok && strings.TrimSpace(k) == key {
			return strings.Trim(strings.TrimSpace(v), `"`), true
		}
	}
	return "", false
}

// cutterOf finds a tool in a job's text by its number: half of what it
// measures, else of its diameter, and its point where it is a drill (118 degrees
// where nothing is said, 90 a spot drill: common practice, no source).
func cutterOf(text, want string) (c cutter, err error) {
	units, _ := wordOf(text, "units")
	for _, block := range strings.Split(text, "[[")[1:] {
		if number, ok := wordOf(block, "number"); !ok || number != want {
			continue
		}
		v, ok := wordOf(block, "measured")
		if !ok {
			v, _ = wordOf(block, "diameter")
		}
		d, err := lengthOf(v, units)
		if err != nil {
			return c, err
		}
		c.r = d / 2
		kind, _ := wordOf(block, "kind")
		tip := map[string]float64{"drill": 118, "spot drill": 90}[kind]
		if v, ok := wordOf(block, "tip"); ok {
			if tip, err = strconv.ParseFloat(strings.TrimSuffix(v, " deg"), 64); err != nil {
				return c, err
			}
		}
		if tip > 0 {
			c.slope = 1 / math.Tan(tip/2*math.Pi/180)
		}
		return c, nil
	}
	return c, fmt.Errorf("the text has no tool %s", want)
}

// lengthOf is a length of a job's text in millimetres.
func lengthOf(v, units string) (float64, error) {
	number, unit, ok := strings.Cut(v, " ")
	if !ok {
		unit = units
	}
	sum := 0.0
	for _, part := range strings.Split(number, "-") {
		top, bottom, broken := strings.Cut(part, "/")
		n, err := strconv.ParseFloat(top, 64)
		if err != nil {
			return 0, err
		}
		if broken {
			d, err := strconv.ParseFloat(bottom, 64)
			if err != nil {
				return 0, err
			}
			n /= d
		}
		sum += n
	}
	return sum * map[string]float64{"mm": 1, "in": 25.4, "thou": 0.0254}[unit], nil
}
