package write

import (
	"fmt"
	"math/big"

	"stopshort/toolpath/measure"
)

// slack is the most by which the two radii of an arc may differ: 0.002 mm or
// 0.0002 in (NISTIR 6556, 3.5.3.2).
func (w *writer) slack() measure.Length {
	if w.unit == measure.In {
		return measure.Thou / 5
	}
	return 2 * measure.Micrometre
}

// closes looks at an arc by its centre seen from its start (i, j) and from its
// end (k, l). The radii a and b are roots of whole numbers; with a the longer,
// a-b <= s is a*a - b*b - s*s <= 2*s*b, which is decided on whole numbers.
func (w *writer) closes(i, j, k, l measure.Length) error {
	square := func(x, y measure.Length) *big.Int {
		a, b := big.NewInt(int64(x)), big.NewInt(int64(y))
		return a.Add(a.Mul(a, a), b.Mul(b, b))
	}
	long, short := square(i, j), square(k, l)
	if long.Cmp(short) < 0 {
		long, short = short, long
	}
	if short.Sign() == 0 {
		return fmt.Errorf("an arc without a radius")
	}
	s := big.NewInt(int64(w.slack()))
	over := new(big.Int).Sub(long, short)
	over.Sub(over, new(big.Int).Mul(s, s))
	if over.Sign() <= 0 {
		return nil
	}
	most := new(big.Int).Mul(s, s)
	most.Mul(most.Lsh(most, 2), short) // (2*s*b) squared
	if over.Mul(over, over).Cmp(most) > 0 {
		return fmt.Errorf("an arc whose two radii differ by more than %s %s", w.figure(w.slack()), w.unit)
	}
	return nil
}
