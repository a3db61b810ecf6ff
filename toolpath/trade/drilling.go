package trade

import (
	"fmt"

	"stopshort/toolpath/measure"
)

// Drill is what the handbook says of one material and twist drill. The figures
// are for a light machine; a stiffer one gets the same.
type Drill struct {
	Surface   measure.Figure[measure.SurfaceSpeed] // milling's for HSS, or the most that is printed for drilling
	PerRev    measure.Figure[measure.Length]       // feed for one turn
	Published string                               // what is printed for both, and where

	SpeedLow, SpeedHigh measure.SurfaceSpeed // the range that is printed for drilling
	Band                *DrillBand           // what is printed for the feed; nil where nothing is

	SpeedRow, PrintedRow, FeedRow Row // milling's speed, what is printed for drilling, the feed
}

// DrillBand is the feeds a turn that are printed for drills under a diameter.
type DrillBand struct {
	Row
	Under, Low, High measure.Length
}

// The feed a turn was fitted to the published bands for these diameters.
const (
	leastDrillChecked = 1 * measure.Millimetre
	mostDrillChecked  = 12 * measure.Millimetre
)

// Drilling is the handbook's figures for a twist drill of diameter d above
// nought, made of HSS or carbide, in a material. The surface speed is the one
// for milling with HSS, for carbide too, since the handbook has none for carbide
// drills; it is no more than what is printed for drilling. The feed is rounded down to a tenth of a nanometre.
func Drilling(material, madeOf string, d measure.Length) (Drill, error) {
	milling, err := Milling(material, madeOf, d)
	if err != nil {
		return Drill{}, err
	}
	m, err := Material(material)
	if err != nil {
		return Drill{}, err
	}
	c, b := book(), drills()
	// readBook and readDrills have seen to it that these are there.
	speed, _ := c.speed(m.Name, "HSS")
	feed, _ := fraction(b.feeds, m.Name, d)
	drill := Drill{
		Surface: measure.Figure[measure.SurfaceSpeed]{
			Value: speed.speed, From: milling.Surface.From,
			Source: fmt.Sprintf("%s: %s, milling's figure for HSS", m.Name, speed.speed),
		},
		PerRev:   feed.figure(d),
		SpeedRow: speed.Row, FeedRow: feed.Row,
	}
	if d < leastDrillChecked || d > mostDrillChecked {
		drill.PerRev.Source += fmt.Sprintf(", beyond the %s to %s that it was fitted to", leastDrillChecked, mostDrillChecked)
	}
	for _, s := range b.surfaces {
		if s.material == m.Name {
			drill.SpeedLow, drill.SpeedHigh = s.low, s.high
			drill.PrintedRow = s.Row
			if s.high < drill.Surface.Value {
				drill.Surface.Value = s.high
				drill.Surface.Source = fmt.Sprintf("%s: %s, the most that is printed for drilling", m.Name, s.high)
			}
			drill.Published = fmt.Sprintf("published for drilling with HSS %s to %s: %s", s.low, s.high, s.Source)
			if s.Note != "" {
				drill.Published += " (" + s.Note + ")"
			}
		}
	}
	for _, band := range b.bands {
		if d < band.under {
			drill.Band = &DrillBand{band.Row, band.under, band.low, band.high}
			drill.Published += fmt.Sprintf("; %s to %s a turn under %s: %s", band.low, band.high, band.under, band.Source)
			break
		}
	}
	return drill, nil
}

// DrillFeed is the feed of a drill at speed n: the feed a turn times n, rounded
// down to a tenth of a nanometre a minute. It is nought where either is not
// above nought.
//
// The sum: University lab, Speeds and Feeds.
func DrillFeed(perRev measure.Length, n measure.Speed) measure.Feed { return FeedRate(perRev, 1, n) }

// mostPecks bounds how many pecks a hole gets; no drill is so long that it is
// met.
const mostPecks = 1000

// Pecks is how deep each peck of a drill of diameter d goes, from where it meets
// metal: each deeper than the one before, the last exactly depth. One alone
// means a hole without pecks. There is none where depth is not above nought; a
// hole of no diameter is drilled in one.
//
// A material that the handbook does not know gets the rule of the one that
// starts soonest. Depths and diameters lie within [measure.MaxLength]; in a hole
// deeper than some 500 diameters the pecks grow, so that they stay countable.
func Pecks(depth, d measure.Length, material string) []measure.Length {
	if depth <= 0 {
		return nil
	}
	r := peckRule(material)
	if d <= 0 || d >= depth || depth <= r.noneTo.Of(d, measure.Floor) {
		return []measure.Length{depth}
	}
	least := depth.MulDiv(1, mostPecks, measure.Ceil)
	turn := r.thenTo.Of(d, measure.Floor)
	var pecks []measure.Length
	for at := max(r.first.Of(d, measure.Floor), least); at < depth; {
		pecks = append(pecks, at)
		if next := at + max(r.then.Of(d, measure.Floor), least); at < turn {
			at = max(min(next, turn), at+least)
		} else {
			at += max(r.last.Of(d, measure.Floor), least)
		}
	}
	return append(pecks, depth)
}

func peckRule(material string) peckRow {
	b := drills()
	soonest := b.pecks[0]
	m, err := Material(material)
	for _, r := range b.pecks {
		if err == nil && r.material == m.Name {
			return r
		}
		if less(r.noneTo, soonest.noneTo) {
			soonest = r
		}
	}
	return soonest
}

// PeckRule is the material's rule for pecks in words, for a plan's list of
// figures. A material that the handbook does not know is an error as
// [Material]'s.
func PeckRule(material string) (string, error) {
	m, err := Material(material)
	if err != nil {
		return "", err
	}
	r := peckRule(m.Name)
	return fmt.Sprintf("%s: no pecks to %s D; else first to %s D, then %s D each to %s D, then %s D (%s)",
		m.Name, r.noneTo, r.first, r.then, r.thenTo, r.last, r.rests()), nil
}

// PeckWords is the material's rule for pecks in a few words, with its row.
func PeckWords(material string) (first, deeper string, row Row, err error) {
	m, err := Material(material)
	if err != nil {
		return "", "", Row{}, err
	}
	r := peckRule(m.Name)
	return fmt.Sprintf("none to %s D deep", r.noneTo), fmt.Sprintf("%s D, then %s D to %s D, then %s D", r.first, r.then, r.thenTo, r.last), r.Row, nil
}

// PeckGap is how far above its last depth a drill comes back by a rapid after a
// peck.
func PeckGap() measure.Figure[measure.Length] {
	g := drills().gap
	return measure.Figure[measure.Length]{Value: g.gap, From: measure.Handbook,
		Source: fmt.Sprintf("after a peck: %s above the last depth (%s)", g.gap, g.rests())}
}
