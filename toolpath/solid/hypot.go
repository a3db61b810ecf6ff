package solid

import (
	"math/big"

	"stopshort/toolpath/measure"
)

// Hypot is the long side over two short ones, rounded down, and whether that is
// exact. It is worked out in whole numbers.
func Hypot(a, b measure.Length) (long measure.Length, exact bool) {
	r := wideRoot(wideProduct(int64(a), int64(a)).plus(wideProduct(int64(b), int64(b))))
	return measure.Length(r.floor), r.whole
}

// HypotUp is [Hypot] rounded up.
func HypotUp(a, b measure.Length) measure.Length {
	long, exact := Hypot(a, b)
	if !exact {
		long++
	}
	return long
}

// RootUp is the square root of a whole number, rounded up; nought of one below nought.
func RootUp(n *big.Int) measure.Length {
	if n.Sign() <= 0 {
		return 0
	}
	r := new(big.Int).Sqrt(n)
	if new(big.Int).Mul(r, r).Cmp(n) < 0 {
		r.Add(r, big.NewInt(1))
	}
	return measure.Length(r.Int64())
}
