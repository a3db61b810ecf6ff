package measure

import (
	"fmt"
	"math/big"
	"strings"
	"time"
)

// Format is the feed in the unit a minute, as [Length.Format] prints a length.
func (f Feed) Format(u Unit, places int, way Rounding) string {
	return Length(f).Format(u, places, way)
}

// String is the feed in millimetres a minute, to the nearest of four places,
// without noughts at its end: "150 mm/min".
func (f Feed) String() string { return Length(f).String() + "/min" }

// Format is the speed in turns a minute with 0 to 3 decimals, rounded the way
// asked, without the unit's name; other places panic.
func (s Speed) Format(places int, way Rounding) string {
	if places < 0 || places > 3 {
		panic(fmt.Sprintf("measure: %d decimals of a speed", places))
	}
	step := int64(RPM)
	for range places {
		step /= 10
	}
	return fixed(divide(int64(s), step, way), places)
}

// String is the speed, exact: "1200 rpm", "62.5 rpm".
func (s Speed) String() string { return shortest(int64(s), 3) + " rpm" }

// String is the speed in metres a minute, to the nearest of four places,
// without noughts at its end: "25 m/min".
func (s SurfaceSpeed) String() string {
	return shortest(divide(int64(s), int64(Metre)/10_000, Nearest), 4) + " m/min"
}

// String is the angle, exact: "30 deg", "36 deg 52' 12\"", "-30'".
func (a Angle) String() string {
	sign, left := "", uint64(a)
	if a < 0 {
		sign, left = "-", -left
	}
	deg, left := left/uint64(Degree), left%uint64(Degree)
	minute, second := left/uint64(ArcMinute), left%uint64(ArcMinute)
	var parts []string
	if deg > 0 || left == 0 {
		parts = append(parts, fmt.Sprintf("%d deg", deg))
	}
	if minute > 0 || (deg > 0 && second > 0) {
		parts = append(parts, fmt.Sprintf("%d'", minute))
	}
	if second > 0 {
		parts = append(parts, shortest(int64(second), 6)+`"`)
	}
	return sign + strings.Join(parts, " ")
}

// String is the ratio as a decimal where that ends within six places, "62.5",
// else as a fraction, "14/11". A ratio that was never set is "unset".
func (r Ratio) String() string {
	if r.Den == 0 {
		return "unset"
	}
	q := big.NewRat(r.Num, r.Den)
	if places, exact := q.FloatPrec(); exact && places <= 6 {
		return q.FloatString(places)
	}
	return q.RatString()
}

// FormatTime is the time, exact, in seconds or below one second in
// milliseconds: "3 s", "500 ms".
func FormatTime(t Time) string {
	if t != 0 && t > -time.Second && t < time.Second {
		return shortest(int64(t), 6) + " ms"
	}
	return shortest(int64(t), 9) + " s"
}
