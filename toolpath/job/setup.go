package job

import (
	"strconv"
	"strings"

	"stopshort/toolpath/form"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/solid"
)

// Setup is one way of holding the part. What holds it is in the set-up's own
// frame.
type Setup struct {
	Number    int // from 1
	Name      string
	Frame     Frame
	Touch     [2]measure.Length // where Z is touched off
	Holding   []Held
	Packing   *Packing
	Clearance *measure.Length // nil: worked out
	Low, High [3]*measure.Length
	Covered   []solid.Box // areas, seen from above, that another part will cover
	Cuts      []Cut
	Node      *form.Node
}

// Held is one solid that holds the part: a jaw, a clamp, a washer, a nut.
type Held struct {
	Name string
	Kind HeldKind
	Body solid.Body
	Top  measure.Length
	Jaw  Jaw // of a jaw
}

// HeldKind is what sort of thing holds the part.
type HeldKind uint8

const (
	HeldJaw HeldKind = iota
	HeldClamp
	HeldWasher
	HeldNut
)

// Jaw is the side of the metal that a jaw stands against.
type Jaw struct {
	Along solid.Axis
	High  bool
}

// Against is the jaw moved to where the metal of a set-up ends.
func (h Held) Against(metal solid.Box) Held {
	b := h.Body.(solid.Box)
	if h.Jaw.High {
		b.Low = b.Low.With(h.Jaw.Along, metal.High.Along(h.Jaw.Along))
	} else {
		b.High = b.High.With(h.Jaw.Along, metal.Low.Along(h.Jaw.Along))
	}
	h.Body = b
	return h
}

// Packing is what the part stands on.
type Packing struct {
	Top    measure.Length
	MayCut measure.Length // how far a cutter may go into it
}

func (j *Job) readSetup(number int, n *form.Node) Setup {
	s := Setup{Number: number, Name: n.Text("name"), Node: n}
	if strings.TrimSpace(s.Name) == "" {
		s.Name = "set-up " + strconv.Itoa(number)
	}
	zero := n.Lengths("zero")
	f, err := NewFrame(n.Word("up"), n.Word("right"), point(zero))
	if err != nil {
		n.Fault("right", "%s", err)
	}
	s.Frame = f
	touch := n.Lengths("touch_at")
	s.Touch = [2]measure.Length{touch[0], touch[1]}
	if n.Set("clearance") {
		v := n.Length("clearance")
		s.Clearance = &v
	}
	if p := n.Sub("packing"); p != nil {
		s.Packing = &Packing{Top: p.Length("top"), MayCut: p.Length("may_cut")}
	}
	if err == nil {
		s.readHolding(n, f.Box(j.Stock.Box))
	}
	s.readRoom(n.Sub("room"))
	for _, c := range n.Subs("covered") {
		low, size := c.Lengths("low"), c.Lengths("size")
		if size[0] <= 0 || size[1] <= 0 {
			c.Fault("size", "%s by %s is no area: each must be more than nought", size[0], size[1])
		}
		s.Covered = append(s.Covered, solid.Box{
			Low:  solid.Point{X: low[0], Y: low[1], Z: -solid.Far},
			High: solid.Point{X: low[0] + size[0], Y: low[1] + size[1], Z: solid.Far},
		})
	}
	for i, c := range n.Subs("cut") {
		cut := Cut{Number: i + 1, Recipe: c.Word("recipe"), Name: c.Text("name"), Node: c}
		if strings.TrimSpace(cut.Name) == "" {
			cut.Name = cut.Recipe + " " + strconv.Itoa(cut.Number)
		}
		s.Cuts = append(s.Cuts, cut)
	}
	if len(s.Cuts) == 0 {
		n.Fault("cut", "the set-up cuts nothing: add a [[setup.cut]]")
	}
	return s
}

// readHolding makes solids of jaws, clamps and studs. The jaws stand against
// the stock on both sides of the squeeze and reach out of sight.
func (s *Setup) readHolding(n *form.Node, stock solid.Box) {
	if j := n.Sub("jaws"); j != nil {
		a, _ := direction("+" + j.Word("along"))
		top := j.Length("top")
		far := solid.Box{
			Low:  solid.Point{X: -solid.Far, Y: -solid.Far, Z: -solid.Far},
			High: solid.Point{X: solid.Far, Y: solid.Far, Z: top},
		}
		low, high := far, far
		low.High = low.High.With(a, stock.Low.Along(a))
		high.Low = high.Low.With(a, stock.High.Along(a))
		names := map[solid.Axis][2]string{solid.X: {"left jaw", "right jaw"}, solid.Y: {"front jaw", "back jaw"}}[a]
		s.Holding = append(s.Holding,
			Held{Name: names[0], Kind: HeldJaw, Body: low, Top: top, Jaw: Jaw{Along: a}},
			Held{Name: names[1], Kind: HeldJaw, Body: high, Top: top, Jaw: Jaw{Along: a, High: true}})
		if top > stock.High.Z {
			j.Fault("top", "%s is above the stock, whose top is at %s: a jaw's top is measured from the set-up's zero", top, stock.High.Z)
		}
	}
	for i, c := range n.Subs("clamp") {
		low, size := c.Lengths("low"), c.Lengths("size")
		for _, v := range size {
			if v <= 0 {
				c.Fault("size", "%s is no size: each must be more than nought", v)
			}
		}
		b := solid.Box{Low: point(low), High: point(low).Plus(point(size))}
		if !inReach(b) {
			c.Fault("size", "the clamp reaches beyond %s: look at low and size", measure.MaxLength)
		}
		name := c.Text("name")
		if name == "" {
			name = "clamp " + strconv.Itoa(i+1)
		}
		s.Holding = append(s.Holding, Held{Name: name, Kind: HeldClamp, Body: b, Top: b.High.Z})
	}
	for i, c := range n.Subs("stud") {
		s.readStud(c, i+1, stock.High.Z)
	}
}

// readStud makes a washer and a nut with its stud, both standing on the
// stock's top.
func (s *Setup) readStud(c *form.Node, number int, floor measure.Length) {
	at := c.Lengths("at")
	post := func(kind HeldKind, name, across, top string, from measure.Length) measure.Length {
		to := c.Length(top)
		if to <= from {
			c.Fault(top, "%s is not above %s, on which it stands: measure it from the set-up's zero", to, from)
			return from
		}
		s.Holding = append(s.Holding, Held{
			Name: name + " " + strconv.Itoa(number), Kind: kind,
			Body: solid.Cylinder{
				From:   solid.Point{X: at[0], Y: at[1], Z: from},
				To:     solid.Point{X: at[0], Y: at[1], Z: to},
				Radius: c.Length(across) / 2,
			},
			Top: to,
		})
		return to
	}
	if c.Set("washer") != c.Set("washer_top") {
		c.Fault("washer", "washer and washer_top go together: give both or neither")
	} else if c.Set("washer") {
		floor = post(HeldWasher, "washer", "washer", "washer_top", floor)
	}
	post(HeldNut, "nut", "nut", "top", floor)
}

// rooms are the keys of a set-up's room, by axis and end.
var rooms = [3][2]string{{"left", "right"}, {"front", "back"}, {"down", "up"}}

func (s *Setup) readRoom(n *form.Node) {
	if n == nil {
		return
	}
	for a, pair := range rooms {
		if n.Set(pair[0]) {
			v := -n.Length(pair[0])
			s.Low[a] = &v
		}
		if n.Set(pair[1]) {
			v := n.Length(pair[1])
			s.High[a] = &v
		}
	}
}

// sameNames adds a fault for each set-up or cut that bears a name already
// taken, since the command line calls them by name.
func sameNames(setups []Setup) {
	seen := map[string]bool{}
	for _, s := range setups {
		if seen[s.Name] {
			s.Node.Fault("name", "%q names a set-up above: give each its own name", s.Name)
		}
		seen[s.Name] = true
		cuts := map[string]bool{}
		for _, c := range s.Cuts {
			if cuts[c.Name] {
				c.Node.Fault("name", "%q names a cut above: give each its own name", c.Name)
			}
			cuts[c.Name] = true
		}
	}
}
