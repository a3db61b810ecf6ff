package toolpath

import (
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// Hole is an upright hole that an operation makes: a drilled one with its
// point, a sunk face with a flat floor. Heights are Z in the set-up's frame.
type Hole struct {
	At       solid.Point    // X and Y of its axis, on the grid; Z is the metal's top there
	Start    measure.Length // height where it is said to start
	Diameter measure.Length
	Shoulder measure.Length // height where the full diameter ends
	Tip      measure.Length // lowest height; the shoulder of a flat one
	Through  bool           // it goes out through the metal's underside
	Screw    measure.Length // major diameter of the screw it is for; nought is none
	Thread   measure.Length // outside of the thread that is tapped in it; nought is none
	ThreadTo measure.Length // height where the full thread ends
}

// Sweeps is the hole's volume as convex solids: its full diameter, its point,
// and the outside of its thread.
func (h Hole) Sweeps() []solid.Sweep {
	stand := func(from, to, low, high measure.Length) solid.Sweep {
		at := h.At.With(solid.Z, from)
		return solid.Sweep{Part: solid.Part{High: to - from, LowRadius: low, HighRadius: high}, From: at, To: at}
	}
	r := h.Diameter / 2
	out := []solid.Sweep{stand(h.Shoulder, h.At.Z, r, r)}
	if h.Tip < h.Shoulder {
		out = append(out, stand(h.Tip, h.Shoulder, 0, r))
	}
	if h.Thread > h.Diameter {
		out = append(out, stand(h.ThreadTo, h.At.Z, h.Thread/2, h.Thread/2))
	}
	return out
}

// Wide is the hole's diameter, or its thread's outside where that is more.
func (h Hole) Wide() measure.Length { return max(h.Diameter, h.Thread) }

// Feature is metal that is gone: what an earlier cut of this set-up makes, or
// an earlier set-up has made. Later cuts keep a wall to it.
type Feature struct {
	Name     string
	Cut      int // the cut that makes it; 0 is an earlier set-up
	Bodies   []solid.Body
	Diameter measure.Length // the smaller measure across, for the least wall
	Drilled  bool           // by a drill, for a screw
	Wider    measure.Length // how much wider than itself the drill may have cut
	Threaded bool           // the last body is the outside of its thread
	Through  bool
	Axis     *solid.Point // of an upright hole: X, Y
}
