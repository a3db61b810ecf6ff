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
	Body solid.Body
	Top  measure.Length
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
		s.Holding = append(s.Holding, Held{names[0], low, top}, Held{names[1], high, top})
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
		s.Holding = append(s.Holding, Held{name, b, b.High.Z})
	}
	for i, c := range n.Subs("stud") {
		s.readStud(c, i+1, stock.High.Z)
	}
}

// readStud makes a washer and a nut with its stud, both standing on the
// stock's top.
func (s *Setup) readStud(c *form.Node, number int, floor measure.Length) {
	at := c.Lengths("at")
	post := func(name, across, top string, from measure.Length) measure.Length {
		to := c.Length(top)
		if to <= from {
			c.Fault(top, "%s is not above %s, on which it stands: measure it from the set-up's zero", to, from)
			return from
		}
		s.Holding = append(s.Holding, Held{
			Name: name + " " + strconv.Itoa(number),
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
		floor = post("washer", "washer", "washer_top", floor)
	}
	post("nut", "nut", "top", floor)
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
