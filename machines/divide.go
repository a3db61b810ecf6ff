package machines

import (
	"fmt"
	"math/big"

	"stopshort/toolpath/measure"
)

// Division is one of the places of a circle that is divided on a rotary table, counted
// from zero, so that what is rounded off at one does not add up at the next.
type Division struct {
	Angle  *big.Rat      // as asked for: seconds of arc
	Turns  int64         // whole turns of the wheel
	Rest   measure.Angle // by the dial: what is beyond them
	Spaces int64         // by a plate: spaces of its circle beyond them
	Off    *big.Rat      // how far the place that is set lies beyond the one asked for: seconds of arc
}

// mostDivisions bounds how finely a circle is divided.
const mostDivisions = 1000

func (r Rotary) places(n int64, start measure.Angle) ([]*big.Rat, error) {
	if n < 2 || n > mostDivisions {
		return nil, fmt.Errorf("%d divisions: write 2 to %d", n, mostDivisions)
	}
	if start < 0 || start >= measure.FullTurn {
		return nil, fmt.Errorf("a start of %s: write 0 deg or more, and less than 360 deg", start)
	}
	out := make([]*big.Rat, n)
	for k := range out {
		a := big.NewRat(int64(measure.FullTurn)/int64(measure.ArcSecond)*int64(k), n)
		out[k] = a.Add(a, big.NewRat(int64(start), int64(measure.ArcSecond)))
	}
	return out, nil
}

// turn is a turn of the wheel in seconds of arc.
func (r Rotary) turn() *big.Rat { return big.NewRat(int64(r.PerTurn()), int64(measure.ArcSecond)) }

// nearestWhole is a ratio that is not below nought as the nearest whole number, a half
// upwards.
func nearestWhole(v *big.Rat) int64 {
	n := new(big.Int).Mul(v.Num(), big.NewInt(2))
	n.Add(n, v.Denom())
	return n.Quo(n, new(big.Int).Mul(v.Denom(), big.NewInt(2))).Int64()
}

// ByDial divides a circle into n by the table's dial: each place to the nearest that it
// can be set to.
func (r Rotary) ByDial(n int64, start measure.Angle) ([]Division, error) {
	places, err := r.places(n, start)
	if err != nil {
		return nil, err
	}
	least := big.NewRat(int64(r.Least), int64(measure.ArcSecond))
	out := make([]Division, n)
	for k, a := range places {
		steps := nearestWhole(new(big.Rat).Quo(a, least))
		set := measure.Angle(steps) * r.Least
		d := Division{Angle: a}
		d.Turns, d.Rest = r.Turns(set)
		d.Off = new(big.Rat).Sub(big.NewRat(int64(set), int64(measure.ArcSecond)), a)
		out[k] = d
	}
	return out, nil
}

// ByPlate divides a circle into n by the holes of a dividing plate: simple indexing. It
// takes the circle of holes on which the worst place is out by the least, the one of
// fewer holes where two are as good: turns are the ratio divided by n, and where a
// circle holds the rest of them in whole spaces nothing is out ("Dividing head practice",
// "Plain indexing").
func (r Rotary) ByPlate(n int64, start measure.Angle) (circle int64, out []Division, err error) {
	places, err := r.places(n, start)
	if err != nil {
		return 0, nil, err
	}
	if len(r.Plates) == 0 {
		return 0, nil, fmt.Errorf("the rotary table has no plates: add plates = [...] to its table, or divide by its dial")
	}
	var worst *big.Rat
	for _, holes := range r.Plates {
		all, most := make([]Division, n), new(big.Rat)
		for k, a := range places {
			turns := new(big.Rat).Quo(a, r.turn())
			spaces := nearestWhole(new(big.Rat).Mul(turns, big.NewRat(holes, 1)))
			d := Division{Angle: a, Turns: spaces / holes, Spaces: spaces % holes}
			d.Off = new(big.Rat).Sub(big.NewRat(spaces, holes), turns)
			d.Off.Mul(d.Off, r.turn())
			if away := new(big.Rat).Abs(d.Off); away.Cmp(most) > 0 {
				most = away
			}
			all[k] = d
		}
		if worst == nil || most.Cmp(worst) < 0 || most.Cmp(worst) == 0 && holes < circle {
			worst, circle, out = most, holes, all
		}
	}
	return circle, out, nil
}

// OffAt is what a division is out by at a radius, rounded up. 355/113 is greater than pi
// by a ten-millionth of it.
func (d Division) OffAt(radius measure.Length) measure.Length {
	v := new(big.Rat).Mul(new(big.Rat).Abs(d.Off), big.NewRat(355, 113*648_000))
	v.Mul(v, big.NewRat(int64(radius), 1))
	n := new(big.Int).Add(v.Num(), new(big.Int).Sub(v.Denom(), big.NewInt(1)))
	return measure.Length(n.Quo(n, v.Denom()).Int64())
}
