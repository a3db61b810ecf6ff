package trade

import (
	"math"
	"math/big"
	"strconv"
	"strings"

	"stopshort/toolpath/measure"
)

// The sums below divide and multiply whole numbers of any size and round once,
// so that they are the same on every processor.

// overPi is pi times 10^20, rounded up: pi is 3.14159 26535 89793 23846 26...
// It lies above pi by less than 10^-20, so that a speed worked out by dividing
// by it is never above the true one, and below it by less than one part in
// 3 * 10^20 before it is rounded down.
var overPi, _ = new(big.Int).SetString("314159265358979323847", 10)

var ten20 = new(big.Int).Exp(big.NewInt(10), big.NewInt(20), nil)

// SpindleSpeed is the speed at which the edge of a cutter of diameter d runs at
// surface speed v: v/(pi d), rounded down to a thousandth of a turn a minute,
// so that the edge never runs faster than v. It is nought where v or d is not
// above nought.
//
// The sum: Milling speed tips; Solid carbide end-mill technical page; Formulas
// for milling, metric.
func SpindleSpeed(v measure.SurfaceSpeed, d measure.Length) measure.Speed {
	if v <= 0 || d <= 0 {
		return 0
	}
	n := new(big.Int).Mul(big.NewInt(int64(v)), ten20)
	n.Mul(n, big.NewInt(int64(measure.RPM)))
	by := new(big.Int).Mul(overPi, big.NewInt(int64(d)))
	return measure.Speed(held(n.Quo(n, by)))
}

// WholeTurns is a spindle speed rounded down to whole turns a minute.
func WholeTurns(n measure.Speed) measure.Speed { return n - n%measure.RPM }

// FeetPerMinute is a surface speed in whole feet a minute, to the nearest,
// without the unit's name.
func FeetPerMinute(v measure.SurfaceSpeed) string {
	return strconv.FormatInt((int64(v)/1000+int64(measure.Foot)/2000)/(int64(measure.Foot)/1000), 10)
}

// SpeedSpan is a range of surface speeds as it is printed: in whole metres a minute, to
// the nearest, and in feet where it was printed in whole ones.
func SpeedSpan(low, high measure.SurfaceSpeed) string {
	const metre, foot = measure.SurfaceSpeed(measure.Metre), measure.SurfaceSpeed(measure.Foot)
	span := func(of func(v measure.SurfaceSpeed) string, unit string) string {
		if low == high {
			return of(low) + " " + unit
		}
		return of(low) + " to " + of(high) + " " + unit
	}
	s := span(func(v measure.SurfaceSpeed) string {
		if v < 10*metre { // a tenth is a good part of it
			return strings.TrimSuffix(v.String(), " m/min")
		}
		return strconv.FormatInt(int64((v+metre/2)/metre), 10)
	}, "m/min")
	if low%foot == 0 && high%foot == 0 {
		s += " (" + span(FeetPerMinute, "ft/min") + ")"
	}
	return s
}

// EdgeSpeed is the surface speed at which the edge of a cutter of diameter d
// runs at n: pi d n, rounded up to a tenth of a nanometre a minute, so that the
// edge never runs faster than is told. It is nought where n or d is not above
// nought.
func EdgeSpeed(n measure.Speed, d measure.Length) measure.SurfaceSpeed {
	if n <= 0 || d <= 0 {
		return 0
	}
	v := new(big.Int).Mul(big.NewInt(int64(n)), big.NewInt(int64(d)))
	v.Mul(v, overPi)
	by := new(big.Int).Mul(ten20, big.NewInt(int64(measure.RPM)))
	return measure.SurfaceSpeed(held(quoUp(v, by)))
}

// FeedRate is the feed that gives each of the flutes its share at speed n: the
// feed per tooth times flutes times n, rounded down to a tenth of a nanometre a
// minute. It is nought where any of them is not above nought.
//
// The sum: Milling speed tips; Formulas for milling, metric.
func FeedRate(perTooth measure.Length, flutes int, n measure.Speed) measure.Feed {
	if perTooth <= 0 || flutes <= 0 || n <= 0 {
		return 0
	}
	f := turnsBy(perTooth, n)
	f.Mul(f, big.NewInt(int64(flutes)))
	return measure.Feed(held(f.Quo(f, big.NewInt(int64(measure.RPM)))))
}

// ToothFeed is what each tooth takes at a feed: feed/(flutes n), rounded up to
// a tenth of a nanometre, so that no tooth takes more than is told. It is
// nought where any of them is not above nought.
func ToothFeed(feed measure.Feed, flutes int, n measure.Speed) measure.Length {
	if feed <= 0 || flutes <= 0 || n <= 0 {
		return 0
	}
	f := new(big.Int).Mul(big.NewInt(int64(feed)), big.NewInt(int64(measure.RPM)))
	by := new(big.Int).Mul(big.NewInt(int64(flutes)), big.NewInt(int64(n)))
	return measure.Length(held(quoUp(f, by)))
}

// PlungeFeed is the feed straight down into metal: the lesser of the handbook's
// share of the side feed and the feed per tooth taken as a feed per turn,
// rounded down to a tenth of a nanometre a minute. It is nought where any of
// the figures is not above nought.
//
// The feed per turn: Carbide feed-per-tooth table 1-25 mm. The share stands
// with its source in cutting.toml.
func PlungeFeed(perTooth measure.Length, flutes int, n measure.Speed) measure.Feed {
	if perTooth <= 0 || flutes <= 0 || n <= 0 {
		return 0
	}
	share := book().plunge.share
	f := turnsBy(perTooth, n)
	side := new(big.Int).Mul(f, big.NewInt(int64(flutes)))
	side.Mul(side, big.NewInt(share.Num))
	side.Quo(side, big.NewInt(share.Den))
	if side.Cmp(f) < 0 {
		f = side
	}
	return measure.Feed(held(f.Quo(f, big.NewInt(int64(measure.RPM)))))
}

// PlungeShare is the handbook's share of a feed, rounded down to a tenth of a nanometre a
// minute, beyond which nothing is fed straight down. It is nought where the feed is not
// above nought.
func PlungeShare(feed measure.Feed) measure.Feed {
	if feed <= 0 {
		return 0
	}
	share := book().plunge.share
	f := new(big.Int).Mul(big.NewInt(int64(feed)), big.NewInt(share.Num))
	return measure.Feed(held(f.Quo(f, big.NewInt(share.Den))))
}

// PlungeShareText is the handbook's share of the feed in words: "a quarter of the feed".
func PlungeShareText() string {
	share := book().plunge.share
	text := share.String()
	if share == measure.NewRatio(1, 4) {
		text = "a quarter"
	}
	return text + " of the feed"
}

// turnsBy is l times n, in thousandths of a tenth of a nanometre a minute.
func turnsBy(l measure.Length, n measure.Speed) *big.Int {
	return new(big.Int).Mul(big.NewInt(int64(l)), big.NewInt(int64(n)))
}

// quoUp is n/d rounded up, for n and d above nought.
func quoUp(n, d *big.Int) *big.Int {
	q, r := new(big.Int).QuoRem(n, d, new(big.Int))
	if r.Sign() > 0 {
		q.Add(q, big.NewInt(1))
	}
	return q
}

// held is n, or the largest whole number there is where n does not fit: a
// figure so large is far outside any machine and is lowered or refused by it.
func held(n *big.Int) int64 {
	if !n.IsInt64() {
		return math.MaxInt64
	}
	return n.Int64()
}
