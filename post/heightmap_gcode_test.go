package post_test

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

var (
	remark = regexp.MustCompile(`\([^)]*\)`)
	word   = regexp.MustCompile(`^([A-Z])([-+]?[0-9.]+)`)
)

// stroke is one move of a program, its arc about a centre.
type stroke struct {
	from, to, centre [3]float64
	motion           int // the G word
	feed             float64
	line             int
	said             []string // remarks since the move before
}

// cutBy cuts the map by a program's text, rapids as well as feeds.
func (m *heightMap) cutBy(text string, r float64) error {
	return strokes(text, m.high[2], func(s stroke) error { return m.stroke(s, cutter{r: r}) })
}

// stroke cuts by one move.
func (m *heightMap) stroke(s stroke, c cutter) error {
	if s.motion >= 2 && c.slope == 0 {
		m.cutArc(s.from, s.to, s.centre, s.motion == 2, c.r)
		return nil
	}
	a, b, z := [2]float64{s.from[0], s.from[1]}, [2]float64{s.to[0], s.to[1]}, min(s.from[2], s.to[2])
	switch {
	case c.slope == 0:
		m.cut(a, b, c.r, z)
	case a == b:
		m.cutPoint(a, c, z)
	case z < m.high[2]:
		return fmt.Errorf("a drill goes sideways in the metal at %.4f", z)
	}
	return nil
}

// strokes calls do for each move of a text whose place is known: a reader for
// what the height map needs, which refuses the rest. top is the metal's.
func strokes(text string, top float64, do func(stroke) error) error {
	var at [3]float64
	var said []string
	known, unit, motion, feed := [3]bool{}, 1.0, -1, 0.0
	for n, line := range strings.Split(text, "\n") {
		for _, r := range remark.FindAllString(line, -1) {
			said = append(said, r[1:len(r)-1])
		}
		rest := strings.ReplaceAll(remark.ReplaceAllString(line, ""), " ", "")
		words, to, centre := map[byte]bool{}, at, at
		for rest != "" {
			w := word.FindStringSubmatch(rest)
			if w == nil {
				return fmt.Errorf("line %d: %s is no word", n+1, rest)
			}
			v, err := strconv.ParseFloat(w[2], 64)
			if err != nil {
				return fmt.Errorf("line %d: %w", n+1, err)
			}
			rest = rest[len(w[0]):]
			words[w[1][0]] = true
			switch c := w[1][0]; c {
			case 'G':
				switch v {
				case 0, 1, 2, 3:
					motion = int(v)
				case 20, 21:
					unit = map[float64]float64{20: 25.4, 21: 1}[v]
				case 4:
					motion = 4
				case 17, 40, 49, 54, 80, 90, 94:
				default:
					return fmt.Errorf("line %d: G%g is not known", n+1, v)
				}
			case 'X', 'Y', 'Z':
				to[c-'X'], known[c-'X'] = v*unit, true
			case 'I', 'J':
				centre[c-'I'] = at[c-'I'] + v*unit
			case 'F':
				feed = v * unit
			case 'S', 'M', 'P':
			default:
				return fmt.Errorf("line %d: %c is not known", n+1, c)
			}
		}
		if !words['X'] && !words['Y'] && !words['Z'] {
			continue
		}
		if motion < 0 || motion > 3 {
			return fmt.Errorf("line %d: it moves without a word for it", n+1)
		}
		level := to[2] == at[2]
		switch {
		case !known[2]:
			return fmt.Errorf("line %d: it moves at an unknown height", n+1)
		case !known[0] || !known[1]: // nothing is cut before the cutter has a place
			if to[2] < top {
				return fmt.Errorf("line %d: it goes into the metal from an unknown place", n+1)
			}
		case !level && (words['X'] || words['Y']):
			return fmt.Errorf("line %d: it slants", n+1)
		default:
			if err := do(stroke{at, to, centre, motion, feed, n + 1, said}); err != nil {
				return fmt.Errorf("line %d: %w", n+1, err)
			}
			said = nil
		}
		at = to
	}
	return nil
}

// cutArc cuts round a centre in chords that bulge less than a micrometre.
func (m *heightMap) cutArc(from, to, centre [3]float64, clockwise bool, r float64) {
	x, y := from[0]-centre[0], from[1]-centre[1]
	radius, start := math.Hypot(x, y), math.Atan2(y, x)
	sweep := math.Atan2(to[1]-centre[1], to[0]-centre[0]) - start
	if clockwise && sweep >= 0 {
		sweep -= 2 * math.Pi
	} else if !clockwise && sweep <= 0 {
		sweep += 2 * math.Pi
	}
	n := math.Ceil(math.Abs(sweep) * math.Sqrt(radius/0.008))
	p := [2]float64{from[0], from[1]}
	for k := 1.0; k <= n; k++ {
		sin, cos := math.Sincos(start + sweep*k/n)
		q := [2]float64{centre[0] + radius*cos, centre[1] + radius*sin}
		m.cut(p, q, r, from[2])
		p = q
	}
}
