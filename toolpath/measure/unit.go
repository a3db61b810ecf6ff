package measure

// Unit is a unit of length that a person may write.
type Unit uint8

const (
	NoUnit Unit = iota
	MM          // millimetre
	In          // inch
	InThou      // thousandth of an inch
	Um          // micrometre
)

// Size is the length of one of the unit; nought for [NoUnit].
func (u Unit) Size() Length {
	switch u {
	case MM:
		return Millimetre
	case In:
		return Inch
	case InThou:
		return Thou
	case Um:
		return Micrometre
	}
	return 0
}

// String is the unit as it is written behind a number.
func (u Unit) String() string {
	switch u {
	case MM:
		return "mm"
	case In:
		return "in"
	case InThou:
		return "thou"
	case Um:
		return "um"
	}
	return ""
}
