package measure

import "time"

// Feed is a rate of travel: tenths of a nanometre a minute. It is never
// negative. Written "150 mm/min", "6 in/min".
type Feed int64

// Speed is a spindle speed: thousandths of a turn a minute. It is never
// negative. Written "1200 rpm".
type Speed int64

// RPM is one turn a minute.
const RPM Speed = 1000

// SurfaceSpeed is the speed of an edge through the metal: tenths of a
// nanometre a minute. Written "25 m/min", "100 ft/min".
type SurfaceSpeed int64

// Angle is a turn: millionths of a second of arc, anticlockwise positive.
// Written "30 deg", "36 deg 52' 12\"".
type Angle int64

// Exact angles.
const (
	ArcSecond Angle = 1_000_000
	ArcMinute Angle = 60 * ArcSecond
	Degree    Angle = 60 * ArcMinute
	FullTurn  Angle = 360 * Degree
)

// Time is a duration in whole milliseconds or finer, as the standard library
// holds it. Written "3 s", "500 ms".
type Time = time.Duration
