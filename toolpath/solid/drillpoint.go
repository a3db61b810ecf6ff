package solid

import "stopshort/toolpath/measure"

// PointLength is how long the cone is at the end of a drill of diameter d whose
// point has that included angle: half of d over the tangent of half the angle.
// With [measure.Floor] it is never above the truth, with [measure.Ceil] never
// below it, and in each case within two tenths of a nanometre for d up to 100 mm
// and angles of 10 deg and more; a right angle gives exactly half of d.
//
// A flat end (180 deg and more) has no point. A needle without an end (nought
// and less) is given the longest that a length is held to, ten times
// [measure.MaxLength], so that whoever asks for it meets something. The length
// is nought where d is not above nought.
//
// The sum is geometry. A real drill is a little shorter at its chisel edge, so
// that the cone is the safe figure.
func PointLength(d measure.Length, included measure.Angle, way measure.Rounding) measure.Length {
	switch {
	case d <= 0 || included >= 180*measure.Degree:
		return 0
	case included <= 0:
		return 10 * measure.MaxLength
	case included == 90*measure.Degree:
		return d.Half(way)
	}
	// Half of an odd angle falls to the side that is safe: a wider point is
	// shorter.
	half := included / 2
	if way == measure.Floor {
		half = included - half
	}
	sin, cos := half.SinCos()
	return cos.Over(sin, d.Half(way), way)
}
