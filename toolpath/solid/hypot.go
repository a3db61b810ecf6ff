package solid

import "stopshort/toolpath/measure"

// Hypot is the long side over two short ones, rounded down, and whether that is
// exact. It is worked out in whole numbers.
func Hypot(a, b measure.Length) (long measure.Length, exact bool) {
	r := wideRoot(wideProduct(int64(a), int64(a)).plus(wideProduct(int64(b), int64(b))))
	return measure.Length(r.floor), r.whole
}
