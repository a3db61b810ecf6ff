package trade

import (
	"fmt"
	"strings"
	"testing"

	"stopshort/toolpath/measure"
)

// "BA threads encyclopaedia copy" and "BA note": 1.75 D; the inches are the
// usual trade figures, from memory. "BA0 spanner note": 10.5 mm for 0BA. Across
// corners to a tenth of a millimetre, by hand: 1.1547 times the flats.
func TestBAHeads(t *testing.T) {
	flats := strings.Fields("0.413 0.365 0.324 0.282 0.248 0.220 0.193 0.172 0.152 0.131 0.117")
	corners := map[int]string{0: "12.1", 2: "9.5", 4: "7.3", 6: "5.7", 8: "4.4", 10: "3.4"}
	for n, want := range flats {
		ba := named(t, fmt.Sprintf("%dBA", n))
		hex, err := ba.HeadShaped("Hexagon")
		if err != nil {
			t.Fatal(err)
		}
		if got := hex.Across.Inches(3); got != want {
			t.Errorf("%s: hexagon %s in, want %s", ba.Name, got, want)
		}
		if c, ok := corners[n]; ok && hex.Corners.Format(measure.MM, 1, measure.Nearest) != c {
			t.Errorf("%s: %s across corners, want %s mm", ba.Name, hex.Corners, c)
		}
		if ba.Head.Shape != Round || ba.Head.Across != hex.Across || ba.Head.Corners != 0 || ba.Head.KeyRoom != ba.Head.Across {
			t.Errorf("%s: %+v", ba.Name, ba.Head)
		}
	}
	zero, _ := named(t, "0BA").HeadShaped(Hexagon)
	if zero.Across != 10_500*um {
		t.Errorf("0BA: %s, want 10.5 mm", zero.Across)
	}
}

// From memory: a box spanner's wall is 0.8 mm up to 6BA, 1.2 mm for the larger; the spot
// face is half a millimetre over. 3.85 mm across flats is 4.4456 mm across corners by hand
// (times 1.154701), 6.3 mm is 7.2746 mm.
func TestSpannerRoom(t *testing.T) {
	for name, want := range map[string][3]measure.Length{ // thousandths: key room, bare, with the key
		"8BA": {6046, 4946, 6546},
		"4BA": {9675, 7775, 10175},
	} {
		h, err := named(t, name).HeadShaped(Hexagon)
		if err != nil {
			t.Fatal(err)
		}
		for i, got := range []measure.Length{h.KeyRoom, h.SpotBare, h.SpotFace} {
			if off := got - want[i]*um; off.Abs() > um {
				t.Errorf("%s, figure %d: %s, want %s", name, i, got, want[i]*um)
			}
		}
	}
	for n := range baThreads {
		h, _ := named(t, fmt.Sprintf("%dBA", n)).HeadShaped(Hexagon)
		want := measure.Length(1600) * um
		if n <= 5 { // 5BA stands between: the greater wall is taken
			want = 2400 * um
		}
		if h.KeyRoom-h.Corners != want || h.Key != "box spanner" {
			t.Errorf("%dBA: %s takes %s more than the corners, want %s", n, h.Key, h.KeyRoom-h.Corners, want)
		}
	}
}

// "Mechanical engineer's data handbook p.299" prints hexagons across corners.
func TestAcrossCorners(t *testing.T) {
	for flats, printed := range map[measure.Length]measure.Length{
		4000: 4600, 5000: 5800, 5500: 6400, 7000: 8100, 8000: 9200, 10000: 11500, 13000: 15000, 19000: 21900,
	} {
		if off := acrossCorners(flats*um) - printed*um; off.Abs() > 100*um {
			t.Errorf("%s: off the printed %s by %s", flats*um, printed*um, off)
		}
	}
	// Three times the square of the corners is four times that of the flats, or just more.
	for _, flats := range []measure.Length{2, 38_500_000, 105_000_000, 10 * in} {
		c := acrossCorners(flats)
		if c%2 != 0 || 3*c*c < 4*flats*flats || 3*(c-4)*(c-4) >= 4*flats*flats {
			t.Errorf("%d across flats: %d across corners", flats, c)
		}
	}
}

// "Fastener hole patterns" (M3, M6), and a head that is the larger of two that are
// printed: "Inch socket screws", 5/16 in.
func TestCounterbores(t *testing.T) {
	for name, want := range map[string][3]measure.Length{"M3": {6500, 3400, 6000}, "M6": {11500, 6400, 10500}} {
		h := named(t, name).Head
		if h.Counterbore != want[0]*um || h.CounterboreDeep != want[1]*um || h.SpotFace != want[2]*um {
			t.Errorf("%s: %+v", name, h)
		}
	}
	if h := named(t, "5/16-18").Head; h.Across != 469*measure.Thou || h.Shape != SocketCap {
		t.Errorf("%+v", h)
	}
	if h := named(t, "8BA").Head; h.Counterbore != 0 || h.CounterboreDeep != 0 {
		t.Errorf("no counterbore is known for BA: %+v", h)
	}
}
