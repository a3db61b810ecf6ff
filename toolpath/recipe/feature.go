package recipe

import (
	"stopshort/toolpath"
	"stopshort/toolpath/job"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
	"stopshort/toolpath/trade"
)

// gone is metal that an earlier set-up has taken, in the part's frame: a later
// set-up keeps its walls to it, and does not touch off there.
type gone struct {
	name     string
	box      *solid.Box
	rod      *solid.Cylinder
	diameter measure.Length
	drilled  bool
	through  bool
	wider    measure.Length
}

// feature notes a hole as gone for the cuts and the set-ups that follow. A
// later set-up takes it as a rod down to its tip, which is no less than it.
func (b *bench) feature(c job.Cut, h toolpath.Hole, drilled bool) {
	f := toolpath.Feature{Name: c.Name, Cut: c.Number, Diameter: h.Wide(), Drilled: drilled, Through: h.Through, Threaded: h.Thread > h.Diameter}
	if drilled {
		f.Wider = trade.Oversize(h.Diameter).Value
	}
	at := h.At
	f.Axis = &at
	for _, s := range h.Sweeps() {
		f.Bodies = append(f.Bodies, s)
	}
	b.out.Features = append(b.out.Features, f)
	top := h.At.Z // where the metal stands higher, the cutter went through that too
	for _, m := range b.now {
		if t, over := solid.TopOver(m, h.At); over {
			top = max(top, t)
		}
	}
	rod := solid.Cylinder{From: h.At.With(solid.Z, h.Tip), To: h.At.With(solid.Z, top), Radius: h.Wide() / 2}
	rod.From, rod.To = b.setup.Frame.Back(rod.From), b.setup.Frame.Back(rod.To)
	g := gone{name: c.Name, rod: &rod, diameter: h.Wide(), drilled: drilled, through: h.Through}
	if !f.Threaded { // the rod is the thread's outside
		g.wider = f.Wider
	}
	b.made = append(b.made, g)
}

// featureSlot notes a slot as gone: its box up to the metal's top.
func (s *slot) featureSlot(t *track) {
	half := s.width / 2
	from, to := t.ends[0], t.ends[1]
	box := solid.Box{
		Low:  solid.Point{X: min(from.X, to.X) - half, Y: min(from.Y, to.Y) - half, Z: s.floor},
		High: solid.Point{X: max(from.X, to.X) + half, Y: max(from.Y, to.Y) + half, Z: s.top},
	}
	body := solid.Sweep{
		Part: solid.Part{High: s.top - s.floor, LowRadius: half, HighRadius: half},
		From: from.With(solid.Z, s.floor), To: to.With(solid.Z, s.floor),
	}
	s.out.Features = append(s.out.Features, toolpath.Feature{
		Name: s.cut.Name, Cut: s.cut.Number, Diameter: s.width, Bodies: []solid.Body{body},
	})
	part := solid.Corners(s.setup.Frame.Back(box.Low), s.setup.Frame.Back(box.High))
	s.made = append(s.made, gone{name: s.cut.Name, box: &part, diameter: s.width})
}

// carried is what earlier set-ups have taken, in this set-up's frame.
func (b *bench) carried(before []gone) {
	f := b.setup.Frame
	for _, g := range before {
		x := toolpath.Feature{Name: g.name, Diameter: g.diameter, Drilled: g.drilled, Through: g.through, Wider: g.wider}
		if g.box != nil {
			x.Bodies = append(x.Bodies, f.Box(*g.box))
		} else {
			rod := f.Cylinder(*g.rod)
			x.Bodies = append(x.Bodies, rod)
			if a, ok := rod.Axis(); ok && a == solid.Z {
				x.Axis = &rod.From
			}
		}
		b.out.Features = append(b.out.Features, x)
	}
}
