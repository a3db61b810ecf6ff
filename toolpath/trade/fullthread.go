package trade

import (
	"fmt"
	"math/big"

	"stopshort/toolpath/measure"
)

// FullThread is how much of the full thread's depth a drill leaves.
type FullThread struct {
	Percent int64  // to the nearest whole
	Text    string // "71 per cent", with decimals where whole ones would hide on which side of a bound it lies
	Base    string // what is a hundred: "1.299 pitches"
	Refused string // why such a hole is not tapped, "" where it is
	Warning string // what to look out for, "" where nothing
	Row     Row    // of the bounds that refuse and warn
}

// threadBounds are the bounds of the full thread, in per cent, by their row.
func threadBounds() (stopThin, thin, tough, heavy, stopHeavy int64, row Row) {
	b := proportions()
	n := b.nodes["full_thread"]
	return n.Count("stop_thin"), n.Count("thin"), n.Count("tough"), n.Count("heavy"), n.Count("stop_heavy"), b.rows["full_thread"]
}

// FullThread is the share of the full thread that is left in a hole of that
// diameter: the major diameter less the hole, over the base of the series (1.299
// pitches for 60 degrees, 1.2 for BA, 1.2807 for Whitworth form). By the handbook's
// bounds it is refused, under 40 and over 95 per cent, or warned of, under 45 and over
// 85, and in tough metal over 75. The verdict is on exact fractions, not on the per
// cent that is told.
func (t Thread) FullThread(hole measure.Length, tough bool) FullThread {
	deep := new(big.Rat).SetFrac64(t.Base.Num, t.Base.Den)
	deep.Mul(deep, new(big.Rat).SetFrac64(t.Lead.Num, t.Lead.Den))
	share := new(big.Rat).SetInt64(100 * int64(t.Major-hole)) // lengths of [measure.MaxLength] fit
	share.Quo(share, deep)
	leastThread, thinThread, toughThread, heavyThread, mostThread, row := threadBounds()
	f := FullThread{Percent: nearest(share), Base: t.Base.String() + " pitches", Row: row,
		Text: percentText(share, leastThread, mostThread, thinThread, heavyThread, toughThread)}
	at := func(bound int64) int { return share.Cmp(big.NewRat(bound, 1)) }
	switch {
	case share.Sign() <= 0:
		f.Refused = fmt.Sprintf("no thread is left: the hole is as wide as the thread's outside, %s", t.Major)
	case at(leastThread) < 0:
		f.Refused = fmt.Sprintf("%s of the full thread, never under %d: the thread would strip", f.Text, leastThread)
	case at(mostThread) > 0:
		f.Refused = fmt.Sprintf("%s of the full thread, never over %d: the tap would break", f.Text, mostThread)
	case at(thinThread) < 0:
		f.Warning = fmt.Sprintf("under %d per cent: engage more of it", thinThread)
	case at(heavyThread) > 0:
		f.Warning = fmt.Sprintf("over %d per cent: hard on the tap", heavyThread)
	case tough && at(toughThread) > 0:
		f.Warning = fmt.Sprintf("over %d per cent in tough metal: hard on the tap", toughThread)
	}
	return f
}

func percentText(share *big.Rat, bounds ...int64) string {
	text := share.FloatString(0)
	for _, bound := range bounds {
		b := big.NewRat(bound, 1)
		if share.Cmp(b) == 0 {
			break
		}
		for places := 1; places < 20; places++ {
			if shown, _ := new(big.Rat).SetString(text); shown.Cmp(b) != 0 {
				break
			}
			text = share.FloatString(places)
		}
	}
	return text + " per cent"
}

// ToughAim is the share of the full thread, in per cent, at which a tapping drill for tough
// metal is sought where no table has one.
func ToughAim() int64 { return proportions().nodes["full_thread"].Count("aim") }

// HoleFor is the diameter that leaves that many per cent of the full thread,
// rounded up to an even number of tenths of a nanometre.
func (t Thread) HoleFor(percent int64) measure.Length {
	deep := t.Base.Of(t.Pitch, measure.Ceil).MulDiv(percent, 100, measure.Floor)
	return (t.Major - deep).Round(2, measure.Ceil)
}

// nearest is a fraction to the nearest whole number, a half upwards; one too
// large to hold is nought, which no thread and drill of the trade give.
func nearest(r *big.Rat) int64 {
	n := new(big.Int).Mul(r.Num(), big.NewInt(2))
	n.Add(n, r.Denom())
	n.Div(n, new(big.Int).Mul(r.Denom(), big.NewInt(2))) // Euclidean: down
	if !n.IsInt64() {
		return 0
	}
	return n.Int64()
}
