package solid

func wideOf[T ~int64](n T) wide { return wideProduct(int64(n), 1) }

// interval holds x. The three parts and their scales are exact; the sums round
// outward.
func (x wide) interval() interval {
	if x.hi < 0 {
		return x.neg().interval().neg()
	}
	h := whole(x.hi).times(point(0x1p64))
	m := whole(int64(x.lo >> 32)).times(point(0x1p32))
	return h.plus(m).plus(whole(int64(x.lo & (1<<32 - 1))))
}

// within is the interval of a number that is known as a surd too: a point
// where that is whole.
func (x interval) within(s surd) interval {
	k := whole(s.floor)
	if s.whole {
		return k
	}
	return interval{max(x.lo, k.lo), min(x.hi, k.plus(point(1)).hi)}
}

// root holds the square root of x, which is not negative; of a whole root it is
// one point.
func (x wide) root() interval {
	return x.interval().root().within(wideRoot(x))
}

// over holds n divided by the square root of d; where that is whole it is one
// point. The result must be below 2^48: see [wideRatio].
func (n wide) over(d wide) interval {
	if n.sign() < 0 {
		return n.neg().over(d).neg()
	}
	return n.interval().over(d.interval().root()).within(wideRatio(n, d))
}
