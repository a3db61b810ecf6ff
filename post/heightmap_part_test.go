package post_test

import "math"

// part is a random block with bores, as it lies in its set-up: what the words of
// a job say, and the same figures in millimetres in the set-up's frame, for the
// map.
type part struct {
	figures
	turn      [3][3]float64 // the set-up's X, Y and Z, in the part's frame
	right, up string
	zero      [3]figure
	size, lo  [3]figure // of the stock, in the part's frame
	low, high [3]float64
	bores     []rod
	boreText  []string
}

// random is between lo and hi.
func (j *part) random(lo, hi float64) float64 { return lo + (hi-lo)*j.Float64() }

// chance is true in n of a hundred.
func (j *part) chance(n int) bool { return j.IntN(100) < n }

// axisWord is a direction of the part, such as +y, as a vector.
func axisWord(w string) (v [3]float64) {
	v[w[1]-'x'] = 1
	if w[0] == '-' {
		v[w[1]-'x'] = -1
	}
	return v
}

// turned chooses which way the part lies, and its zero.
func (j *part) turned() {
	words := []string{"+x", "-x", "+y", "-y", "+z", "-z"}
	j.up = words[j.IntN(6)]
	for j.right = j.up; j.right[1] == j.up[1]; {
		j.right = words[j.IntN(6)]
	}
	u, r := axisWord(j.up), axisWord(j.right)
	away := [3]float64{u[1]*r[2] - u[2]*r[1], u[2]*r[0] - u[0]*r[2], u[0]*r[1] - u[1]*r[0]} // up x right
	j.turn = [3][3]float64{r, away, u}
	for i := range j.zero {
		j.zero[i] = j.length(j.random(-20, 20))
	}
}

// place is about a place of the set-up's frame as figures of the part's frame,
// and the place that those say.
func (j *part) place(p [3]float64) (text [3]figure, said [3]float64) {
	for i := range text {
		v := j.zero[i].mm
		for a := range j.turn {
			v += j.turn[a][i] * p[a]
		}
		text[i] = j.length(v)
	}
	for a := range said {
		for i := range text {
			said[a] += j.turn[a][i] * (text[i].mm - j.zero[i].mm)
		}
	}
	return text, said
}

// block is about a box of metal as figures of the part's frame; the bores that
// run through it get their ends.
func (j *part) block(low, high [3]float64) {
	one, p := j.place(low)
	two, q := j.place(high)
	for i := range one {
		if one[i].mm > two[i].mm {
			one[i], two[i] = two[i], one[i]
		}
		j.lo[i], j.size[i] = one[i], j.length(two[i].mm-one[i].mm)
	}
	// The size is a figure of its own: where the part's axis comes out as a
	// low side of the set-up, the high side is what it says.
	for a := range 3 {
		for i := range 3 {
			if w := j.turn[a][i]; w != 0 {
				e := [2]float64{w * (j.lo[i].mm - j.zero[i].mm), w * (j.lo[i].mm + j.size[i].mm - j.zero[i].mm)}
				p[a], q[a] = min(e[0], e[1]), max(e[0], e[1])
			}
		}
	}
	j.low, j.high = p, q
	for i := range j.bores {
		b := &j.bores[i]
		if math.IsNaN(b.low) {
			a := 0
			for b.along[a] == 0 {
				a++
			}
			one, two := b.along[a]*(p[a]-b.at[a]), b.along[a]*(q[a]-b.at[a])
			b.low, b.high = min(one, two), max(one, two)
		}
	}
}
