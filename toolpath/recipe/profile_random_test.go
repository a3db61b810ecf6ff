package recipe

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/form"
	"stopshort/toolpath/job"
	"stopshort/toolpath/solid"
)

// drawn is a random profile: its job, and its shapes in millimetres, a disc about
// nought and boxes.
type drawn struct {
	text   string
	boss   float64
	boxes  [][4]float64 // low X, low Y, high X, high Y
	stock  [4]float64
	cutter float64
}

// far is the distance of a place from the part, seen from above.
func (d drawn) far(x, y float64) float64 {
	least := math.Hypot(x, y) - d.boss
	for _, b := range d.boxes {
		dx, dy := math.Max(math.Max(b[0]-x, x-b[2]), 0), math.Max(math.Max(b[1]-y, y-b[3]), 0)
		least = math.Min(least, math.Hypot(dx, dy))
	}
	return least
}

// farFromStock is the distance of a place from the block.
func (d drawn) farFromStock(x, y float64) float64 {
	return math.Hypot(math.Max(math.Max(d.stock[0]-x, x-d.stock[2]), 0), math.Max(math.Max(d.stock[1]-y, y-d.stock[3]), 0))
}

func drawProfile(t *rapid.T) drawn {
	hundredths := func(name string, low, high int) float64 {
		return float64(rapid.IntRange(low, high).Draw(t, name)) / 100
	}
	bore, wall := hundredths("bore", 800, 2500), hundredths("wall", 50, 800)
	d := drawn{boss: bore/2 + wall, cutter: hundredths("cutter", 300, 1000)}
	d.stock = [4]float64{-d.boss, -d.boss, d.boss, d.boss}
	lugs := ""
	for range rapid.IntRange(0, 4).Draw(t, "lugs") {
		kind := rapid.SampledFrom([]string{"lug", "pad"}).Draw(t, "kind")
		side := rapid.SampledFrom([]string{"+x", "-x", "+y", "-y"}).Draw(t, "towards")
		reach, half := d.boss+hundredths("reach", 20, 2500), hundredths("half", 50, 1000)
		aside := hundredths("aside", -700, 700) * float64(rapid.IntRange(0, 1).Draw(t, "is aside"))
		b := map[string][4]float64{
			"+x": {0, aside - half, reach, aside + half}, "-x": {-reach, aside - half, 0, aside + half},
			"+y": {aside - half, 0, aside + half, reach}, "-y": {aside - half, -reach, aside + half, 0},
		}[side]
		d.boxes = append(d.boxes, b)
		d.stock = [4]float64{math.Min(d.stock[0], b[0]), math.Min(d.stock[1], b[1]), math.Max(d.stock[2], b[2]), math.Max(d.stock[3], b[3])}
		lugs += fmt.Sprintf("[[setup.cut.%s]]\ntowards = %q\nreach = %.4f\nacross = %.4f\naside = %.4f\n", kind, side, reach, 2*half, aside)
	}
	for i := range d.stock {
		over := hundredths("over", 1, 1000)
		if i < 2 {
			over = -over
		}
		d.stock[i] += over
	}
	cut := fmt.Sprintf("depth = %.4f\n", hundredths("depth", 40, 1400))
	if rapid.Bool().Draw(t, "given") {
		cut += fmt.Sprintf("allowance = %.4f\nside_step = %.4f\n", hundredths("allowance", 0, 100), hundredths("of the radius", 40, 101)*d.cutter/2)
	}
	setup := rapid.SampledFrom([]string{
		"", `stud = [{ at = [0, 0], washer = 4, washer_top = 2, nut = 3, top = 9 }]`,
		`clamp = [{ low = [8, 8, 0], size = [40, 40, 10] }]`,
		`clamp = [{ low = [-50, -5, -12], size = [30, 10, 22] }]`,
	}).Draw(t, "holding")
	d.text = fmt.Sprintf(`units = "mm"
material = "bronze"
stock = { low = [%.4f, %.4f, -12], size = [%.4f, %.4f, 12] }
[[bore]]
name = "b"
diameter = %.4f
along = "z"
at = [0, 0]
[[tool]]
number = 1
kind = "end mill"
diameter = %.4f
flutes = 4
flute_length = 16
stick_out = 30
holder = 25
[[setup]]
zero = [0, 0, 0]
touch_at = [0, 0]
%s
[[setup.cut]]
recipe = "profile"
tool = 1
bore = "b"
wall = %.4f
%s%s`, d.stock[0], d.stock[1], d.stock[2]-d.stock[0], d.stock[3]-d.stock[1], bore, d.cutter, setup, wall, cut, lugs)
	return d
}

// Whatever a profile asks: it is planned, or told what is wrong with it. What is
// planned goes sideways by a rapid on the clearance plane only, comes down by a
// rapid in the metal's heights nowhere but clear of the stock, keeps the cutter's
// radius off every shape as long as it is lower than the top, and has the part on
// its left all the way round: only the arcs that lead to the outline turn
// clockwise. At the last the cutter has come to the part.
func TestRandomProfiles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawProfile(t)
		m, err := machines.Find(rapid.SampledFrom([]string{"stepper-mill-mm", "stepper-mill-inch"}).Draw(t, "machine"))
		if err != nil {
			t.Fatal(err)
		}
		j, err := job.Read("x.toml", []byte(d.text), Tables())
		var p *toolpath.Plan
		if err == nil {
			p, err = Plan(j, m, Options{})
		}
		var faults form.Faults
		var refusal toolpath.Refusal
		if errors.As(err, &faults) || errors.As(err, &refusal) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		s := p.Setups[0]
		op, clearance, here := s.Operations[0], s.Clearance, solid.Point{Z: s.Clearance}
		const hair = 1e-5 // of a millimetre: a tenth of a step
		mmOf := func(p solid.Point) (x, y float64) { return float64(p.X) / float64(mm), float64(p.Y) / float64(mm) }
		r, nearest := float64(op.Tool.Diameter)/2/float64(mm), math.Inf(1)
		for _, pass := range op.Passes {
			for i, move := range pass.Moves {
				from, to := here, move.To
				here = to
				x, y := mmOf(to)
				if move.Kind == toolpath.Rapid {
					if sideways := from.X != to.X || from.Y != to.Y; sideways && (from.Z < clearance || to.Z < clearance) {
						t.Fatalf("%s, move %d: a rapid sideways at %s", pass.Name, i, to.Z)
					}
					if to.Z < from.Z && to.Z < 0 && d.farFromStock(x, y) < r+0.9 {
						t.Fatalf("%s, move %d: a rapid down at %v, %v, %v from the stock", pass.Name, i, x, y, d.farFromStock(x, y))
					}
					continue
				}
				if from.Z != to.Z && (from.X != to.X || from.Y != to.Y) {
					t.Fatalf("%s, move %d goes down and sideways at once", pass.Name, i)
				}
				if from.Z != to.Z || to.Z >= 0 {
					continue
				}
				led := turns(move) || i+1 < len(pass.Moves) && turns(pass.Moves[i+1])
				for _, part := range []float64{0, 0.1, 0.35, 0.5, 0.8, 1} {
					x, y, lx, ly := along(from, move, part)
					off := d.far(x, y)
					nearest = math.Min(nearest, off)
					if off < r-hair {
						t.Fatalf("%s, move %d, at %v, %v: the cutter is %v in the part", pass.Name, i, x, y, r-off)
					}
					if aside := d.far(x+lx*0.2, y+ly*0.2); !led && aside > off-0.1 {
						t.Fatalf("%s, move %d, at %v, %v: the part is not on the left", pass.Name, i, x, y)
					}
				}
			}
		}
		if step := float64(m.Units.Size()) / 10_000 / float64(mm); nearest > r+3*step {
			t.Fatalf("the cutter stays %v off the part", nearest-r)
		}
		if here.Z != clearance {
			t.Fatalf("it ends at %s", here.Z)
		}
		if !strings.HasPrefix(op.Passes[0].Name, "pass") && !strings.HasPrefix(op.Passes[0].Name, "finish") {
			t.Fatalf("the first pass is called %q", op.Passes[0].Name)
		}
	})
}

// turns tells an arc that leads to the outline or away from it.
func turns(m toolpath.Move) bool { return m.Kind == toolpath.Arc && m.Sense == toolpath.Clockwise }

// along is a place a part of the way along a move in the plane, in millimetres, and
// the direction to its left.
func along(from solid.Point, m toolpath.Move, part float64) (x, y, leftX, leftY float64) {
	f := func(p solid.Point) (x, y float64) { return float64(p.X) / float64(mm), float64(p.Y) / float64(mm) }
	fx, fy := f(from)
	tx, ty := f(m.To)
	if m.Kind == toolpath.Line {
		l := math.Hypot(tx-fx, ty-fy)
		return fx + (tx-fx)*part, fy + (ty-fy)*part, -(ty - fy) / l, (tx - fx) / l
	}
	cx, cy := f(m.Centre)
	start, end := math.Atan2(fy-cy, fx-cx), math.Atan2(ty-cy, tx-cx)
	way := -1.0 // to the left: inwards
	if m.Sense == toolpath.Clockwise {
		way = 1
		if end >= start {
			end -= 2 * math.Pi
		}
	} else if end <= start {
		end += 2 * math.Pi
	}
	a := start + (end-start)*part
	r := math.Hypot(fx-cx, fy-cy) + (math.Hypot(tx-cx, ty-cy)-math.Hypot(fx-cx, fy-cy))*part
	return cx + r*math.Cos(a), cy + r*math.Sin(a), way * math.Cos(a), way * math.Sin(a)
}
