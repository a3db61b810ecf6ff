package post_test

// part of the cutter: from so far above its tip to so far, with a radius.
type stretchOf struct{ low, high, r float64 }

func (j *profileJob) cutterParts() []stretchOf {
	out := []stretchOf{{0, j.flutes, j.r}}
	if j.out > j.flutes {
		out = append(out, stretchOf{j.flutes, j.out, j.shank})
	}
	return append(out, stretchOf{j.out, j.out + 60, j.noses}) // a holder's nose is 60 mm high where the job says nothing
}

// blocks is how far the cutter's centre must stay off an obstacle when it cuts
// the floor; nought where it passes over it.
func (j *profileJob) blocks(h obstacle) (r float64) {
	for _, p := range j.cutterParts() {
		if -j.depth.mm+p.low < h.high {
			r = max(r, p.r)
		}
	}
	return r
}
