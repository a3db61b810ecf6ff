package trade

import (
	"fmt"
	"math/big"

	"stopshort/toolpath/measure"
)

// Running is a cutter at work: the handbook's figures put on what a machine has.
type Running struct {
	Speed   measure.Speed
	Surface measure.SurfaceSpeed // of the edge at that speed, rounded up
	Feed    measure.Feed
	Plunge  measure.Feed
	Bite    measure.Length // of one tooth at that feed, rounded up
	Warning string         // the bite is too thin or too thick, "" where it is neither
}

// Run is the cutter of a diameter at a speed that the machine has: its feed is
// the feed per tooth times flutes and speed, kept from low to high, the plunge at
// most down; a bound of nought is none. Feeds are rounded down to a tenth of a
// nanometre a minute. Diameter, flutes and speed are above nought.
func (c Cutting) Run(d measure.Length, flutes int, n measure.Speed, low, high, down measure.Feed) Running {
	r := Running{Speed: n, Surface: EdgeSpeed(n, d)}
	r.Feed = max(FeedRate(c.PerTooth.Value, flutes, n), low)
	if high > 0 {
		r.Feed = min(r.Feed, high)
	}
	r.Plunge = min(PlungeFeed(c.PerTooth.Value, flutes, n), PlungeShare(r.Feed))
	if down > 0 {
		r.Plunge = min(r.Plunge, down)
	}
	r.Bite, r.Warning = c.Bite(r.Feed, flutes, n)
	return r
}

// Bite is what one tooth takes at a feed and a speed, rounded up to a tenth of a
// nanometre, and what is wrong with it: under three quarters of the handbook's it
// rubs, over twice that it overloads the cutter.
func (c Cutting) Bite(feed measure.Feed, flutes int, n measure.Speed) (bite measure.Length, warning string) {
	bite = ToothFeed(feed, flutes, n)
	r := book().bite
	least, most := r.least.Of(c.PerTooth.Value, measure.Floor), r.most.Of(c.PerTooth.Value, measure.Ceil)
	switch {
	case bite < least:
		warning = fmt.Sprintf("%s a tooth is under %s, %s of the handbook's: it rubs and does not cut (%s)", bite, least, r.least, r.rests())
	case bite > most:
		warning = fmt.Sprintf("%s a tooth is over %s, %s times the handbook's: it overloads the cutter (%s)", bite, most, r.most, r.rests())
	}
	return bite, warning
}

// FeedKept is a feed for one speed at another speed, so that a tooth takes the
// same: feed*to/from, rounded down to a tenth of a nanometre a minute. It is
// nought where any of them is not above nought.
func FeedKept(feed measure.Feed, from, to measure.Speed) measure.Feed {
	if feed <= 0 || from <= 0 || to <= 0 {
		return 0
	}
	f := new(big.Int).Mul(big.NewInt(int64(feed)), big.NewInt(int64(to)))
	return measure.Feed(held(f.Quo(f, big.NewInt(int64(from)))))
}

// ArcFeed is the feed of a cutter's centre round an arc whose edge is to keep the
// feed it has on a straight line: feed*(D-d)/D inside a round of diameter D,
// feed*(D+d)/D outside one, for a cutter of diameter d; kept from a quarter to
// three halves of the feed and rounded down to a tenth of a nanometre a minute. A
// round of no diameter has the lower bound inside and the upper one outside. It is
// nought where feed or d is not above nought.
//
// The sum is geometry: the edge and the centre turn about one point.
func ArcFeed(feed measure.Feed, round, d measure.Length, inside bool) measure.Feed {
	if feed <= 0 || d <= 0 {
		return 0
	}
	r := book().arc
	of := func(num, den int64) measure.Feed {
		f := new(big.Int).Mul(big.NewInt(int64(feed)), big.NewInt(num))
		return measure.Feed(held(f.Quo(f, big.NewInt(den))))
	}
	least, most := of(r.least.Num, r.least.Den), of(r.most.Num, r.most.Den)
	switch {
	case inside && round <= d:
		return least
	case inside:
		return max(of(int64(round-d), int64(round)), least)
	case round <= 0:
		return most
	}
	return min(of(int64(round+d), int64(round)), most)
}

// ArcRule is how [ArcFeed] goes, in words, with its source.
func ArcRule() string {
	r := book().arc
	return fmt.Sprintf("so that the edge keeps its bite, from %s to %s of the feed (%s)", r.least, r.most, r.rests())
}
