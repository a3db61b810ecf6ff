package recipe

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/form"
	"stopshort/toolpath/job"
	"stopshort/toolpath/solid"
)

// handMill is a mill with dials of different lines on X and Y.
const handMill = `kind = "mill"
units = "mm"
depth_by = "head"
[x]
wheel = "wheel"
travel = 300
lead = "2 mm"
lines = 100
clockwise = "+"
backlash = "0.13 mm"
[y]
wheel = "wheel"
travel = 300
lead = "0.100 in"
lines = 100
clockwise = "-"
backlash = "0.15 mm"
[z]
wheel = "wheel"
travel = 300
lead = "2.5 mm"
lines = 125
clockwise = "-"
backlash = 0.1
[spindle]
low = 40
high = 6000
[feeds]
low = 1
high = 300
down = 150
[errors]
touch_z = 0
touch_xy = 0
setting = 0
stop = 0
play = 0
lead = "0 mm in 100 mm"
tilt = "0 mm in 100 mm"
run_out = 0
bend = 0
place = 0
diameter = 0
[rotary_table]
ratio = 90
`

// handJob is an outline by wheels round a bore at nought, of stock 4 thick, to a floor 2
// down; in mm.
type handJob struct {
	bore, wall, cutter, off float64
	turned                  bool // on the rotary table
	low, high               [2]float64
	lugs                    string
}

func (h handJob) String() string {
	by := ""
	if h.turned {
		by = "profile_by = \"rotary table\"\n"
	}
	return fmt.Sprintf("units = \"mm\"\nmaterial = \"brass\"\nstock = { low = [%.4f, %.4f, -4], size = [%.4f, %.4f, 4] }\n", h.low[0], h.low[1], h.high[0]-h.low[0], h.high[1]-h.low[1]) +
		fmt.Sprintf("[[bore]]\nname = \"b\"\ndiameter = %.4f\nalong = \"z\"\nat = [0, 0]\n", h.bore) +
		fmt.Sprintf("[[tool]]\nnumber = 1\nkind = \"end mill\"\ndiameter = %.4f\nflutes = 4\nflute_length = 20\nstick_out = 40\n", h.cutter) +
		fmt.Sprintf("[[setup]]\nzero = [0, 0, 0]\ntouch_at = [%.4f, 0]\n[[setup.cut]]\nrecipe = \"profile\"\nname = \"o\"\ntool = 1\nbore = \"b\"\nwall = %.4f\ndepth = 2\nfile_off = %.4f\n", h.bore/2+h.wall/2, h.wall, h.off) +
		by + h.lugs
}

// onHandMill is its plan on a mill that is turned by hand.
func (h handJob) onHandMill(t *testing.T) *toolpath.Plan {
	t.Helper()
	m, err := machines.Read("hand.toml", []byte(handMill))
	if err != nil {
		t.Fatal(err)
	}
	j, err := job.Read("hand-job.toml", []byte(h.String()), Tables())
	if err != nil {
		t.Fatal(err)
	}
	p, err := Plan(j, m, Options{})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Outlines by wheels, looked at by another method: no place of a trip is nearer to the
// part than the cutter's radius, everything within a trip's reach is along X or Y, and at
// the floor no metal stands higher over the boss than file_off wherever the cutter has
// room.
func TestNibbledOutlines(t *testing.T) {
	m, err := machines.Read("hand.toml", []byte(handMill))
	if err != nil {
		t.Fatal(err)
	}
	planned, refused := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		mm := func(name string, low, high int) float64 {
			return float64(rapid.IntRange(low, high).Draw(t, name)) / 100
		}
		bore, wall, cutter := mm("bore", 800, 2500), mm("wall", 100, 800), mm("cutter", 300, 1000)
		boss, off := bore/2+wall, mm("file off", 8, 40)
		turned := rapid.Bool().Draw(t, "rotary table")
		var boxes [][4]float64
		stock := [4]float64{-boss, -boss, boss, boss}
		lugs := ""
		for range rapid.IntRange(0, 3).Draw(t, "lugs") {
			side := rapid.SampledFrom([]string{"+x", "-x", "+y", "-y"}).Draw(t, "towards")
			reach, half := boss+mm("reach", 20, 1500), mm("half", 50, 1000)
			aside := mm("aside", -500, 500)
			b := map[string][4]float64{
				"+x": {0, aside - half, reach, aside + half}, "-x": {-reach, aside - half, 0, aside + half},
				"+y": {aside - half, 0, aside + half, reach}, "-y": {aside - half, -reach, aside + half, 0},
			}[side]
			boxes = append(boxes, b)
			stock = [4]float64{math.Min(stock[0], b[0]), math.Min(stock[1], b[1]), math.Max(stock[2], b[2]), math.Max(stock[3], b[3])}
			lugs += fmt.Sprintf("[[setup.cut.lug]]\ntowards = %q\nreach = %.4f\nacross = %.4f\naside = %.4f\n", side, reach, 2*half, aside)
		}
		over := mm("over", 1, 600)
		text := handJob{bore: bore, wall: wall, cutter: cutter, off: off, turned: turned, lugs: lugs,
			low: [2]float64{stock[0] - over, stock[1] - over}, high: [2]float64{stock[2] + over, stock[3] + over}}.String()
		j, err := job.Read("random.toml", []byte(text), Tables())
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		p, err := Plan(j, m, Options{})
		if err != nil {
			refused++
			if _, ok := err.(toolpath.Refusal); !ok {
				if _, ok := err.(form.Faults); !ok {
					t.Fatalf("%v\n%s", err, text)
				}
			}
			return
		}
		planned++
		unit := 1e7
		var at solid.Point
		type stretch struct{ x0, y0, x1, y1 float64 }
		var cut []stretch
		floor := 0.0
		for _, pass := range p.Setups[0].Operations[0].Passes {
			for _, mv := range pass.Moves {
				floor = math.Min(floor, float64(mv.To.Z))
			}
		}
		for _, pass := range p.Setups[0].Operations[0].Passes {
			for _, mv := range pass.Moves {
				from := at
				at = mv.To
				if mv.Kind == toolpath.Rapid {
					continue
				}
				if mv.Kind == toolpath.Line && !mv.Polar.On && from.X != at.X && from.Y != at.Y {
					t.Fatalf("a cut at an angle to %v\n%s", at, text)
				}
				if float64(at.Z) != floor && from.Z == at.Z {
					continue // every level has the same trips
				}
				looks := 25
				if mv.Kind == toolpath.Arc {
					looks = 400
				}
				var px, py float64
				for k := range looks + 1 {
					f := float64(k) / float64(looks)
					x, y := float64(from.X)+f*float64(at.X-from.X), float64(from.Y)+f*float64(at.Y-from.Y)
					if mv.Kind == toolpath.Arc {
						a := math.Atan2(float64(from.Y), float64(from.X))
						sweep := math.Mod(math.Atan2(float64(at.Y), float64(at.X))-a+4*math.Pi, 2*math.Pi)
						r := math.Hypot(float64(from.X), float64(from.Y))
						x, y = r*math.Cos(a+f*sweep), r*math.Sin(a+f*sweep)
					}
					x, y = x/unit, y/unit
					far := math.Hypot(x, y) - boss
					for _, b := range boxes {
						far = math.Min(far, math.Hypot(math.Max(math.Max(b[0]-x, x-b[2]), 0), math.Max(math.Max(b[1]-y, y-b[3]), 0)))
					}
					if far < cutter/2-2e-7 {
						t.Fatalf("at X %.5f Y %.5f the cutter is %.6f from the part\n%s", x, y, far, text)
					}
					if k == 0 {
						px, py = x, y
					} else if mv.Kind == toolpath.Arc || k == looks {
						cut = append(cut, stretch{px, py, x, y})
						px, py = x, y
					}
				}
			}
		}
		for k := range 720 {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / 720)
			x, y := (boss+cutter/2)*cos, (boss+cutter/2)*sin
			room := true
			for _, b := range boxes {
				if math.Hypot(math.Max(math.Max(b[0]-x, x-b[2]), 0), math.Max(math.Max(b[1]-y, y-b[3]), 0)) < cutter/2+0.06 {
					room = false // a line of the dials for the corner itself
				}
			}
			if !room {
				continue
			}
			x, y = (boss+off+1e-4)*cos, (boss+off+1e-4)*sin
			least := math.Inf(1)
			for _, s := range cut {
				dx, dy := s.x1-s.x0, s.y1-s.y0
				f := 0.0
				if l := dx*dx + dy*dy; l > 0 {
					f = math.Max(0, math.Min(1, ((x-s.x0)*dx+(y-s.y0)*dy)/l))
				}
				least = math.Min(least, math.Hypot(x-s.x0-f*dx, y-s.y0-f*dy))
			}
			if least > cutter/2 {
				t.Fatalf("metal stands over the boss by more than %.3f at %.1f deg: the cutter passes at %.4f\n%s", off, float64(k)*360/720, least, text)
			}
		}
	})
	t.Logf("%d outlines, %d refused", planned, refused)
	if planned < 4*refused || planned == 0 { // -short draws a fifth as many
		t.Errorf("%d outlines are too few to tell", planned)
	}
}
