package trade

import (
	"math/big"

	"stopshort/toolpath/measure"
)

// baRule is the pitch and the major diameter of the BA thread of a number from 0
// to 16 by the rule of its standard: the pitch is 0.9 mm to the power of the
// number, the diameter 6 mm times the pitch (not rounded) to the power of 1.2,
// each rounded to two figures, a half upwards. Both are nought for another
// number. They are worked out exactly, without a root: D = 6 p^(6/5) is compared
// with a bound by their fifth powers.
//
// The rule: BA thread specification; BA thread system letter (BS 93).
func baRule(number int) (pitch, major measure.Length) {
	if number < 0 || number > 16 {
		return 0, 0
	}
	p := new(big.Rat).SetFrac(pow(9, number), pow(10, number))
	fifth := big.NewRat(7776, 1) // 6^5
	for i := 0; i < 6; i++ {
		fifth.Mul(fifth, p)
	}
	return twoFigures(func(bound *big.Rat) bool { return p.Cmp(bound) >= 0 }),
		twoFigures(func(bound *big.Rat) bool {
			b := new(big.Rat).Set(bound)
			for i := 0; i < 4; i++ {
				b.Mul(b, bound)
			}
			return fifth.Cmp(b) >= 0
		})
}

// twoFigures is the number of millimetres, from 0.1 to below 9.95, rounded to two
// figures; atLeast tells whether the number is a bound or more.
func twoFigures(atLeast func(*big.Rat) bool) measure.Length {
	unit := int64(10) // of a millimetre: the second figure
	if !atLeast(big.NewRat(1, 1)) {
		unit = 100
	}
	k := int64(0)
	for atLeast(big.NewRat(2*k+1, 2*unit)) {
		k++
	}
	return measure.Length(k) * measure.Millimetre / measure.Length(unit)
}

func pow(base int64, n int) *big.Int {
	return new(big.Int).Exp(big.NewInt(base), big.NewInt(int64(n)), nil)
}
