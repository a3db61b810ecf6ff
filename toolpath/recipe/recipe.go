package recipe

import (
	"fmt"
	"strings"

	"golang.org/x/exp/slices"

	"stopshort/machines"
	"stopshort/toolpath"
	"stopshort/toolpath/form"
	"stopshort/toolpath/job"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/plan"
	"stopshort/toolpath/solid"
	"stopshort/toolpath/trade"
)

// recipes are the recipes by name.
var recipes = map[string]struct {
	table  *form.Table
	expand func(*bench, job.Cut) error
}{
	"slot":       {slotTable, (*bench).slot},
	"spot face":  {spotFaceTable, (*bench).spotFace},
	"bolt holes": {boltTable, (*bench).boltHoles},
	"profile":    {profileTable, (*bench).profile},
}

// Tables is each recipe's key table by its name, for job.Load.
func Tables() map[string]*form.Table {
	t := map[string]*form.Table{}
	for name, r := range recipes {
		t[name] = r.table
	}
	return t
}

// bench is one set-up as its recipes find it.
type bench struct {
	job      *job.Job
	machine  *machines.Machine
	grid     plan.Grid // of the wheel that sets Z for the cut in hand
	by       string    // what sets Z for the cut in hand; empty on a machine with a controller
	material trade.MaterialRow
	setup    job.Setup
	options  Options
	stock    job.Stock    // what is left of it for this cut
	now      []solid.Body // the same, in the set-up's frame
	metal    solid.Box    // the box about it
	fillets  []solid.Box  // in the part's frame: metal that outlines have left besides
	bores    []bore
	made     []gone // what this set-up takes, for the ones that follow
	outlined int    // the cut of this set-up that took the metal's outside; 0 is none
	out      *toolpath.Setup
}

// bore is a bore in the set-up's frame.
type bore struct {
	job.Bore
	solid     solid.Cylinder
	uncertain []toolpath.Share
}

// approach is how far above the metal, and beside it, a cutter may come by a
// rapid; the judge asks for as much (own choice: far more than a touch-off errs).
const approach = measure.Millimetre

// overTop is the default height of the clearance plane above the highest thing (own
// choice: a hand sees daylight under the cutter; the job may say another).
const overTop = 5 * measure.Millimetre

// Plan works out every cut of a job for a machine. The error is form.Faults
// where the job's figures are wrong, toolpath.Refusal where a cut cannot be
// planned without breaking a limit.
func Plan(j *job.Job, m *machines.Machine, o Options) (*toolpath.Plan, error) {
	p := &toolpath.Plan{Title: j.Title, Digest: form.Digest([]byte(j.Digest), []byte(m.Digest))}
	p.Measured = o.digest(p.Digest)
	material, err := trade.Material(j.Material)
	if err != nil {
		j.Node.Fault("material", "%s", err)
		return nil, j.Node.Faults()
	}
	var refused error
	var before []gone
	stock, fillets := j.Stock, []solid.Box(nil)
	for _, s := range j.Setups {
		b := &bench{job: j, machine: m, grid: plan.ForMachine(m), material: material, setup: s, options: o, stock: stock, fillets: fillets}
		b.open()
		b.carried(before)
		for _, c := range s.Cuts {
			if !b.setBy(c) {
				continue
			}
			first := len(b.out.Operations)
			if err := recipes[c.Recipe].expand(b, c); err != nil && refused == nil {
				refused = err
			}
			b.finds(b.out.Operations[first:])
			asked(b.out.Operations[first:])
		}
		b.touches()
		if err := b.chorded(); err != nil && refused == nil {
			refused = err
		}
		b.out.Operations = plan.Order(b.out.Operations)
		before = append(before, b.made...)
		stock, fillets = b.stock, b.fillets
		p.Setups = append(p.Setups, *b.out)
	}
	inReach(j, p)
	inSlots(j, m, p)
	if err := j.Node.Faults(); err != nil {
		return nil, err
	}
	if refused != nil {
		return nil, refused
	}
	return p, nil
}

// drills are the recipes whose depth is set by what drills.
var drills = map[string]bool{"bolt holes": true}

// setBy settles what sets Z for a cut: as the job says, else as the machine does.
func (b *bench) setBy(c job.Cut) bool {
	m := b.machine
	if m.Controller != nil {
		return true
	}
	by, use := m.MillBy, "mill_by"
	if drills[c.Recipe] {
		by, use = m.DrillBy, "drill_by"
	}
	if w := c.Node.Word("depth_by"); w != "" {
		by = w
	}
	_, ok := m.ZAxis(by)
	switch {
	case by == "":
		c.Node.Fault("depth_by", "%s has two wheels that set Z, %s: say which with depth_by, or give the machine a %s",
			m.Name, strings.Join(m.Sources(), " and "), use)
	case !ok:
		c.Node.Fault("depth_by", "no %s sets Z on %s: write %s", by, m.Name, strings.Join(m.Sources(), " or "))
	case by == "head" && m.RoundColumn:
		c.Node.Fault("depth_by", "moving the head on a round column loses X and Y: write quill")
	default:
		b.by, b.grid = by, plan.ForSource(m, by)
		return true
	}
	return false
}

// plane is the clearance plane as the wheel in hand can set it, no lower.
func (b *bench) plane() measure.Length { return b.grid.Round(solid.Z, b.out.Clearance, measure.Ceil) }

// open lays out the set-up: its metal, its clearance plane, the limits that
// hold for every cut.
func (b *bench) open() {
	b.take(b.stock)
	b.setup.Holding = slices.Clone(b.setup.Holding)
	for i, h := range b.setup.Holding {
		if h.Kind == job.HeldJaw {
			b.setup.Holding[i] = h.Against(b.metal)
		}
	}
	b.out = &toolpath.Setup{
		Number: b.setup.Number, Name: b.setup.Name,
		Metal:   b.now,
		Touch:   b.setup.Touch,
		Covered: b.setup.Covered,
		Room:    toolpath.Room{Low: b.setup.Low, High: b.setup.High},
	}
	for _, f := range b.fillets {
		b.out.Beside = append(b.out.Beside, b.setup.Frame.Box(f))
	}
	b.out.Top = b.touched()
	b.clearance()
	b.boresHere()
	b.holding()
	b.head()
	b.facts()
}

// take makes a stock the one that the next cuts find.
func (b *bench) take(s job.Stock) {
	b.stock = s
	b.metal = b.setup.Frame.Box(s.Box)
	b.now = s.Bodies(b.setup.Frame)
}

// inTheWay is all metal that a cutter that comes down must keep clear of: what the
// set-up began with, since what is cut of it is not counted.
func (b *bench) inTheWay() []solid.Body { return append(slices.Clone(b.out.Metal), b.out.Beside...) }

// finds notes with operations what metal they find, where it is no longer the
// set-up's. A profile itself finds what was there before it.
func (b *bench) finds(ops []toolpath.Operation) {
	for i := range ops {
		if b.outlined > 0 && ops[i].Cut > b.outlined {
			ops[i].Metal = b.now
		}
	}
}

// touched is the height of the face that is touched off: the highest piece of
// metal there, which need not be the highest of all; of a lying bar its crest,
// where alone it is touched. Beside the metal it is the metal's top, and the
// judge refuses.
func (b *bench) touched() measure.Length {
	at, top := solid.Point{X: b.setup.Touch[0], Y: b.setup.Touch[1]}, -solid.Far
	for _, m := range b.now {
		if _, over := solid.TopOver(m, at); over {
			top = max(top, solid.Bounds(m).High.Z)
		}
	}
	if top == -solid.Far {
		return b.metal.High.Z
	}
	return top
}

// clearance sets the height at which cutters may cross: as given, or above
// everything, rounded up.
func (b *bench) clearance() {
	if c := b.setup.Clearance; c != nil {
		b.out.Clearance = b.grid.Round(solid.Z, *c, measure.Ceil)
		return
	}
	top := b.metal.High.Z
	for _, h := range b.setup.Holding {
		top = max(top, h.Top)
	}
	b.out.Clearance = b.grid.Round(solid.Z, (top+overTop).Round(measure.Millimetre/2, measure.Ceil), measure.Ceil)
}

// boresHere takes the bores into the set-up's frame, with what is not known of
// them.
func (b *bench) boresHere() {
	for _, x := range b.job.Bores {
		place := toolpath.Share{Name: "place of the bore", Of: b.machine.Errors.Place}
		wall := toolpath.Share{Name: "size of the bore", Of: b.machine.Errors.Diameter}
		if x.PlaceWithin != nil {
			place.Of, place.Source = *x.PlaceWithin, x.Node.At("place_within").String()
		}
		if x.DiameterWithin != nil {
			wall.Of, wall.Source = *x.DiameterWithin, x.Node.At("diameter_within").String()
		}
		b.bores = append(b.bores, bore{x, b.setup.Frame.Cylinder(x.Solid), []toolpath.Share{place, wall}})
		if at := b.bores[len(b.bores)-1]; at.upright() && at.solid.From.X == 0 && at.solid.From.Y == 0 && b.out.Over == "" {
			b.out.Over = x.Name
		}
	}
}

// upright tells whether the bore stands along Z in this set-up.
func (b bore) upright() bool {
	a, ok := b.solid.Axis()
	return ok && a == solid.Z
}

// named is the bore of that name, with a fault listing the known ones.
func (b *bench) named(n *form.Node, key string) (bore, bool) {
	want := n.Text(key)
	var known []string
	for _, x := range b.bores {
		if x.Name == want {
			return x, true
		}
		known = append(known, x.Name)
	}
	hint := ""
	if near := form.Nearest(want, known); near != "" {
		hint = fmt.Sprintf("; did you mean %s?", near)
	}
	n.Fault(key, "no bore is called %q: the job has %s%s", want, form.Listed(known, "and"), hint)
	return bore{}, false
}

// inReach adds a fault for each set-up that goes further than lengths are held.
func inReach(j *job.Job, p *toolpath.Plan) {
	for i, s := range p.Setups {
		far := s.Clearance.Abs()
		for _, m := range s.Metal {
			box := solid.Bounds(m)
			for _, a := range []solid.Axis{solid.X, solid.Y, solid.Z} {
				far = max(far, box.Low.Along(a).Abs(), box.High.Along(a).Abs())
			}
		}
		for _, op := range s.Operations {
			for _, pass := range op.Passes {
				for _, m := range pass.Moves {
					far = max(far, m.To.X.Abs(), m.To.Y.Abs(), m.To.Z.Abs())
				}
			}
		}
		if far > measure.MaxLength {
			j.Setups[i].Node.Fault("zero", "the set-up reaches %s from its zero: %s at most", far, measure.MaxLength)
		}
	}
}
