package plan

import (
	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
)

// Waste is the stock seen from above, as squares that are metal until some way of the
// cutter has taken the whole of them. It decides which lanes are worth a trip, and
// tells what metal all of them have left; what may be cut it does not decide.
type Waste struct {
	low    outline.Point
	cell   measure.Length
	nx, ny int
	metal  []bool
}

// finestCell and mostCells bound the squares: a tenth of a millimetre, and at most so
// many along each axis.
const (
	finestCell = measure.Millimetre / 10
	mostCells  = 700
)

// NewWaste is the union of shapes.
func NewWaste(stock []outline.Shape) *Waste {
	low, high := stock[0].Bounds()
	for _, s := range stock[1:] {
		a, b := s.Bounds()
		low = outline.Point{X: min(low.X, a.X), Y: min(low.Y, a.Y)}
		high = outline.Point{X: max(high.X, b.X), Y: max(high.Y, b.Y)}
	}
	w := &Waste{low: low, cell: max(finestCell, max(high.X-low.X, high.Y-low.Y)/mostCells+1)}
	w.nx, w.ny = int((high.X-low.X)/w.cell)+1, int((high.Y-low.Y)/w.cell)+1
	w.metal = make([]bool, w.nx*w.ny)
	for j := range w.ny {
		for i := range w.nx {
			a, b := w.square(i, j)
			for _, s := range stock {
				x, y := float64(max(s.Low.X-b.X, a.X-s.High.X, 0)), float64(max(s.Low.Y-b.Y, a.Y-s.High.Y, 0))
				r := float64(s.Radius)
				if s.Radius == 0 && a.X < s.High.X && s.Low.X < b.X && a.Y < s.High.Y && s.Low.Y < b.Y || float64(x*x)+float64(y*y) < r*r {
					w.metal[j*w.nx+i] = true
				}
			}
		}
	}
	return w
}

// Cell is the side of a square.
func (w *Waste) Cell() measure.Length { return w.cell }

func (w *Waste) square(i, j int) (low, high outline.Point) {
	low = outline.Point{X: w.low.X + measure.Length(i)*w.cell, Y: w.low.Y + measure.Length(j)*w.cell}
	return low, outline.Point{X: low.X + w.cell, Y: low.Y + w.cell}
}

// Take takes what a cutter of radius r takes on a straight way along X or Y.
func (w *Waste) Take(from, to outline.Point, r measure.Length) {
	w.under(from, to, r, func(n int, _, _ outline.Point) { w.metal[n] = false })
}

// Would is how many squares [Waste.Take] would take, of those that count.
func (w *Waste) Would(from, to outline.Point, r measure.Length, counts func(low, high outline.Point) bool) (n int) {
	w.under(from, to, r, func(_ int, low, high outline.Point) {
		if counts(low, high) {
			n++
		}
	})
	return n
}

// under goes through the squares of metal that a cutter covers on a way.
func (w *Waste) under(from, to outline.Point, r measure.Length, do func(n int, low, high outline.Point)) {
	low := outline.Point{X: min(from.X, to.X), Y: min(from.Y, to.Y)}
	high := outline.Point{X: max(from.X, to.X), Y: max(from.Y, to.Y)}
	clampTo := func(v measure.Length, n int) int { return int(max(0, min(v, measure.Length(n)))) }
	i0, i1 := clampTo((low.X-r-w.low.X)/w.cell-1, w.nx), clampTo((high.X+r-w.low.X)/w.cell+1, w.nx)
	j0, j1 := clampTo((low.Y-r-w.low.Y)/w.cell-1, w.ny), clampTo((high.Y+r-w.low.Y)/w.cell+1, w.ny)
	rr := float64(r) * float64(r)
	for j := j0; j < j1; j++ {
		for i := i0; i < i1; i++ {
			if !w.metal[j*w.nx+i] {
				continue
			}
			a, b := w.square(i, j)
			// The corner that is furthest from the way.
			x := float64(max(b.X-high.X, low.X-a.X, 0))
			y := float64(max(b.Y-high.Y, low.Y-a.Y, 0))
			if float64(x*x)+float64(y*y) > rr {
				continue
			}
			do(j*w.nx+i, a, b)
		}
	}
}

// Left is a square of metal that keep does not hold for: of those the one that is
// found first.
func (w *Waste) Left(keep func(low, high outline.Point) bool) (at outline.Point, left bool) {
	for j := range w.ny {
		for i := range w.nx {
			if !w.metal[j*w.nx+i] {
				continue
			}
			if a, b := w.square(i, j); !keep(a, b) {
				return outline.Point{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}, true
			}
		}
	}
	return at, false
}
