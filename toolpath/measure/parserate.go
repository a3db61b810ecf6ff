package measure

import "time"

var feeds = scale{
	what:    "a feed",
	example: "150 mm/min",
	known:   "mm/min or in/min",
	marks:   []mark{{"mm/min", int64(Millimetre), 7}, {"in/min", int64(Inch), 6}},
	grain:   "tenths of a nanometre a minute",
	most:    int64(1000 * Metre),
	limit:   "1000 m a minute (1000000 mm/min)",
}

// ParseFeed reads a feed: "150 mm/min", "6 in/min". A bare number takes the
// given unit a minute, [MM] or [In], and is refused where that is neither. From
// 0 to 1000 m a minute.
func ParseFeed(text string, bare Unit) (Feed, error) {
	unit := ""
	if bare == MM || bare == In {
		unit = bare.String() + "/min"
	}
	v, err := feeds.one(text, unit, "write mm/min or in/min behind it")
	return Feed(v), err
}

var speeds = scale{
	what:    "a speed",
	example: "1200 rpm",
	known:   "rpm",
	marks:   []mark{{"rpm", int64(RPM), 3}, {"RPM", int64(RPM), 3}},
	grain:   "thousandths of a turn a minute",
	most:    int64(1_000_000 * RPM),
	limit:   "1000000 rpm",
}

// ParseSpeed reads a spindle speed: "1200 rpm", or "1200", as the trade has one
// unit for it. From 0 to 1 000 000 rpm, in whole thousandths.
func ParseSpeed(text string) (Speed, error) {
	v, err := speeds.one(text, "rpm", "")
	return Speed(v), err
}

var surfaces = scale{
	what:    "a surface speed",
	example: "25 m/min",
	known:   "m/min or ft/min",
	marks:   []mark{{"m/min", int64(Metre), 7}, {"ft/min", int64(Foot), 6}},
	grain:   "tenths of a nanometre a minute",
	most:    int64(10_000 * Metre),
	limit:   "10000 m/min (32808 ft/min)",
}

// ParseSurface reads the speed of an edge through the metal: "25 m/min", "100
// ft/min". From 0 to 10 000 m a minute.
func ParseSurface(text string) (SurfaceSpeed, error) {
	v, err := surfaces.one(text, "", "write m/min or ft/min behind it")
	return SurfaceSpeed(v), err
}

var times = scale{
	what:    "a time",
	example: "3 s",
	known:   "s or ms",
	marks:   []mark{{"s", 1000, 3}, {"ms", 1, 0}},
	grain:   "milliseconds",
	most:    int64(time.Hour / time.Millisecond),
	limit:   "3600 s",
}

// ParseTime reads a time: "3 s", "500 ms", "0.5 s". From 0 to 1 hour, in whole
// milliseconds.
func ParseTime(text string) (Time, error) {
	v, err := times.one(text, "", "write s or ms behind it")
	return Time(v) * time.Millisecond, err
}
