package recipe

import (
	"errors"
	"fmt"
	"strings"

	"stopshort/toolpath"
	"stopshort/toolpath/form"
	"stopshort/toolpath/job"
	"stopshort/toolpath/measure"
	"stopshort/toolpath/outline"
	"stopshort/toolpath/plan"
	"stopshort/toolpath/solid"
)

var profileTable = &form.Table{
	Help: "The outside of a part round a bore: a boss at an even wall, with lugs and pads",
	Keys: append([]form.Key{
		{Name: "bore", Kind: form.Text, Required: true, Help: "the bore that the boss stands about; it stands upright in this set-up"},
		{Name: "wall", Kind: form.Length, Required: true, Above: "0 mm", Help: "metal between the bore and the boss's outside"},
		{Name: "never_less", Kind: form.Length, Min: "0 mm", Says: "nine tenths of the wall", Help: "the least wall that may be left when the errors are counted"},
		{Name: "depth", Kind: form.Length, Required: true, Above: "0 mm", Help: "from the set-up's zero down; below the stock's underside it goes through"},
		{Name: "lug", Kind: form.Subs, Table: lugTable, Help: "lugs that stand out from the boss"},
		{Name: "pad", Kind: form.Subs, Table: lugTable, Help: "pads that stand out from the boss"},
		{Name: "corner", Kind: form.Length, Above: "0 mm", Says: "the cutter's radius", Help: "the largest radius that may be left in an inside corner"},
		{Name: "side_step", Kind: form.Length, Above: "0 mm", Says: "the cutter's radius", Help: "widest bite to the side while stock is cleared"},
		{Name: "allowance", Kind: form.Length, Min: "0 mm", Says: "0.04 of the cutter's diameter", Help: "what roughing leaves on for the finishing passes"},
		{Name: "profile_by", Kind: form.Word, Choices: []string{"nibbling", "rotary table"}, Says: "the machine's profile_by", Help: "by hand: how the boss is cut round"},
		// file_off: from memory, 0.1 to 0.2 mm is left for the file.
		{Name: "file_off", Kind: form.Length, Above: "0 mm", Default: "0.1 mm", Help: "by hand: the highest cusp that nibbling leaves for the file"},
		{Name: "wall_never_less", Kind: form.Length, Min: "0 mm", Says: "1 mm or half the cutter's diameter, the less", Help: "least metal to other bores, holes and the floor"},
	}, append(millingKeys[:len(millingKeys):len(millingKeys)], measureKey)...),
}

var lugTable = &form.Table{
	Help: "A block that stands out from the boss in one direction",
	Keys: []form.Key{
		{Name: "name", Kind: form.Text, Says: "its kind and place", Help: "what it is called"},
		{Name: "towards", Kind: form.Word, Required: true, Choices: []string{"+x", "-x", "+y", "-y"}, Help: "the way it stands out, in the set-up's frame"},
		{Name: "reach", Kind: form.Length, Required: true, Above: "0 mm", Help: "from the bore's centre to its end"},
		{Name: "across", Kind: form.Size, Required: true, Above: "0 mm", Help: "its width"},
		{Name: "aside", Kind: form.Length, Default: "0 mm", Help: "how far its middle is aside of the bore's centre, towards +x or +y"},
	},
}

// profile is one outline, being worked out.
type profile struct {
	*bench
	cut       job.Cut
	node      *form.Node
	tool      toolpath.Cutter
	bore      bore
	boss      outline.Shape
	lugs      []lug
	wall      figure // of the boss
	thin      figure // least to anything else
	allow     figure
	side      figure
	floor     measure.Length // on the grid
	through   bool
	cutting   cutting
	cameFrom  plan.Side      // the side that the last closed way was led to from
	loose     bool           // stock comes loose by what holds the part
	blockedBy *outline.Point // where an offset ends before something that holds the part
	nibs      int            // by hand: places round the boss
	trips     int            // by hand: to clear the stock, over all levels
	cusp      measure.Length // by hand: the highest between them

	arcsTurned []turn // by hand: the arcs on a rotary table

	look   *toolpath.Look // before the last level
	finish int            // the first pass after it

	wallLook bool // the wall is looked at before the last finishing pass
}

func (b *bench) profile(c job.Cut) error {
	n := c.Node
	p := &profile{bench: b, cut: c, node: n, wall: n.Figure("wall")}
	var ok bool
	if p.tool, ok = b.job.CutTool(n, "tool"); !ok {
		return nil
	}
	p.thin = wallRule().For(p.tool.Diameter)
	if n.Set("wall_never_less") {
		p.thin = n.Figure("wall_never_less")
	}
	if p.tool.Point > 0 {
		n.Fault("tool", "tool %d is a %s: an outline is cut with an end mill or a slot drill", p.tool.Number, p.tool.Kind)
		return nil
	}
	if p.bore, ok = b.named(n, "bore"); !ok {
		return nil
	}
	if !p.bore.upright() {
		n.Fault("bore", "bore %s does not stand upright in this set-up: turn the part with up, or name another", p.bore.Name)
		return nil
	}
	if !p.readOutline() || !p.rotaryStands() {
		return nil
	}
	if p.cutting, ok = b.cuttingOf(n, p.tool); !ok {
		return nil
	}
	if !p.figures() {
		return nil
	}
	if err := p.fits(); err != nil {
		return err
	}
	return p.lay()
}

// figures reads what is left of the table.
func (p *profile) figures() bool {
	n, d := p.node, p.tool.Measured
	// Two finishing passes of the most that thinFinish allows (own choice: the second takes
	// off what the first was pushed aside by).
	p.allow = figure{Value: p.tool.Diameter.MulDiv(4, 100, measure.Floor), From: measure.Default, Source: "0.04 of the cutter's diameter"}
	if n.Set("allowance") {
		p.allow = n.Figure("allowance")
		if p.allow.Value > d/2 {
			n.Fault("allowance", "%s is more than the cutter's radius of %s: finishing passes are thin", p.allow.Value, p.both(d/2))
			return false
		}
	}
	p.side = figure{Value: d / 2, From: measure.Default, Source: "the cutter's radius"}
	if n.Set("side_step") {
		p.side = n.Figure("side_step")
		if p.side.Value > d/2 {
			n.Fault("side_step", "%s is more than the cutter's radius of %s: write that or less", p.side.Value, p.both(d/2))
			return false
		}
	}
	step, many, hint := p.grid.Step(solid.X), measure.Length(100), ""
	if p.byHand() {
		step, many = max(step, p.grid.Step(solid.Y)), 8
	} else {
		hint = fmt.Sprintf(", or take a controller of more places than %d", p.machine.Controller.Places)
	}
	if p.side.Value < many*step && !n.Set("side_step") {
		n.Fault("tool", "a cutter of %s is too fine for steps of %s: take one of %s or more%s", p.both(d), step, 2*many*step, strings.Replace(hint, "take ", "", 1))
		return false
	}
	if p.side.Value < many*step {
		n.Fault("side_step", "%s is too fine for steps of %s: write %s or more%s", p.side.Value, step, many*step, hint)
		return false
	}
	low, high := p.outlineBox()
	if small := min(high.X-low.X, high.Y-low.Y); d > small {
		n.Fault("tool", "a cutter of %s is larger than the part, which is %s across: take a smaller one", p.both(d), p.both(small))
		return false
	}
	if n.Set("never_less") {
		if v := n.Length("never_less"); v > p.wall.Value {
			n.Fault("never_less", "%s is more than the wall of %s: never_less is the least, wall the aim", v, p.wall.Value)
			return false
		}
	}
	depth := n.Length("depth")
	if top := p.metal.High.Z; -depth >= top {
		n.Fault("depth", "%s down from the zero is above the metal's top at %s: the outline cuts nothing", depth, top)
		return false
	}
	p.through = -depth < p.metal.Low.Z
	way := measure.Ceil // a blind outline is shallower, one that goes through goes through
	if p.through {
		way = measure.Floor
	}
	p.floor = p.grid.Round(solid.Z, -depth, way)
	return true
}

// refusal is a cut that cannot be planned.
func (p *profile) refusal(limit, planned, allowed, do string) error {
	return toolpath.Refusal{Setup: p.setup.Name, Cut: p.cut.Name, Limit: limit, Planned: planned, Allowed: allowed, Do: do}
}

// fits asks that the stock holds the outline, and the corners the cutter.
func (p *profile) fits() error {
	for i, s := range p.shapes() {
		name := "the boss"
		if i > 0 {
			name = p.lugs[i-1].name
		}
		if over := p.stockOver(s); over < 0 {
			return p.refusal("stock over the outline", fmt.Sprintf("%s at %s", p.both(over), name), "0 or more",
				"take larger stock, or move the outline on it")
		}
	}
	if p.node.Set("corner") {
		if c := p.node.Length("corner"); c < p.radius() && p.hasCorners() {
			return p.refusal("radius of the inside corners", p.both(p.radius()), p.both(c)+" or less",
				fmt.Sprintf("take a cutter of %s or less", p.both(2*c)))
		}
	}
	return nil
}

// lay works out the passes and the limits, and adds them to the set-up.
func (p *profile) lay() error {
	lay := p.path
	if p.byHand() {
		lay = p.nibbled
	}
	passes, levels, err := lay()
	if refused := p.byHandRefused(err); refused != nil {
		return refused
	}
	var coarse plan.TooCoarse
	var far plan.TooFar
	var loose plan.LoosePocket
	var gap narrowGap
	var many plan.TooManyPasses
	var moves tooManyMoves
	switch {
	case errors.As(err, &gap):
		d := p.tool.Measured
		return p.refusal("gaps that only the finish comes into", gap.Error()+", which roughing leaves closed",
			fmt.Sprintf("more than %s, or clearly less than %s", p.both(d+2*p.allow.Value), p.both(d)),
			"take a smaller cutter or a smaller allowance, or make the gap wider")
	case errors.As(err, &loose):
		return p.refusal("metal that comes loose", loose.Error(), "none", "take a smaller cutter, close the bay, or open its mouth")
	case errors.Is(err, errNoWayIn):
		return p.refusal("a way in to the outline", "something that holds the part on all four sides", "one side free",
			"move what holds the part, or take a smaller cutter")
	case errors.As(err, &far):
		key := "tool"
		if p.node.Set("side_step") {
			key = "side_step"
		}
		p.node.Fault(key, "%s", err)
		return nil
	case errors.As(err, &coarse):
		p.node.Fault("file_off", "%s", err)
		return nil
	case errors.As(err, &many), errors.As(err, &moves):
		p.node.Fault("step", "%s", err)
		return nil
	case len(passes) == 0 && err == nil:
		p.node.Fault("depth", "the stock is the outline already: nothing would be cut")
		return nil
	case err != nil:
		p.node.Fault("tool", "%s", err)
		return nil
	}
	p.cutting.roundArcs(p.bench, p.node, p.tool, passes)
	c := p.cutting
	op := toolpath.Operation{
		Cut: p.cut.Number, Of: p.cut.Name, Name: p.cut.Name, Tool: p.tool, Speed: c.speed.Value, DepthBy: p.by, Passes: passes, Wall: wallOf(p.node),
		Frees: p.through, HeldBy: p.heldBy(), Loose: p.loose, Warns: c.warns(p.cut.Name),
	}
	switch {
	case !p.byHand():
		op.LastBite = p.lastBite()
	case p.byRotary():
		op.Round = toolpath.Turned
	default:
		op.Round = toolpath.Nibbled
	}
	op.Facts = append(p.facts(levels), c.facts(p.machine.Units)...)
	left, err := p.metalLeft()
	if err != nil {
		p.node.Fault("wall", "%s", err)
		return nil
	}
	if p.blockedBy != nil {
		op.Notes = append(op.Notes, fmt.Sprintf("stock is left by %s, where %s stands; saw it off", p.place(p.blockedBy.X, p.blockedBy.Y), p.holdingBy(*p.blockedBy)))
	}
	if p.byHand() {
		op.Notes = append(op.Notes, p.fileNotes()...)
		if p.trips > manyTrips {
			op.Warns = append(op.Warns, fmt.Sprintf("%d trips, derived, clear the stock: saw it near to the outline and give it as pieces, or take a larger cutter or a deeper step", p.trips))
		}
	}
	for _, m := range left {
		if m.told != "" {
			op.Notes = append(op.Notes, m.told)
		}
	}
	p.out.Operations = append(p.out.Operations, p.inParts(op, p.look, p.finish)...)
	p.guard()
	p.leave(left)
	return nil
}

// guard adds the limits of the cut.
func (p *profile) guard() {
	short := shortOf{bore: p.bore.Name, leave: p.wall, neverLess: mostOfLeave(p.wall)}
	if p.node.Set("never_less") {
		short.neverLess = p.node.Figure("never_less")
	}
	p.guardBores(p.cut, short, p.thin)
	step := figure{Value: -p.grid.Step(solid.X), From: measure.Default, Source: "one step of the machine's grid"}
	if p.byHand() { // every place is outside
		step = figure{From: measure.Default, Source: "nought: each place on the dials' lines leaves metal"}
	}
	if p.byRotary() { // the ends of an arc are told to a tenth of a nanometre
		step = figure{Value: -10 * measure.TenthNanometre, From: measure.Default, Source: "a nanometre: how the ends of an arc are told"}
	}
	add := func(name string, body solid.Body) {
		p.out.Limits = append(p.out.Limits, toolpath.Limit{
			Name: name, Kind: toolpath.Outline, Cut: p.cut.Number, Solid: body, NeverLess: step,
		})
	}
	add("outline of boss", p.upright(p.boss))
	for _, l := range p.lugs {
		add("outline of "+l.name, p.upright(l.shape))
	}
	if !p.through {
		p.out.Limits = append(p.out.Limits, toolpath.Limit{
			Name: "floor", Kind: toolpath.Floor, Cut: p.cut.Number, Solid: below(p.metal.Low.Z), NeverLess: p.thin,
		})
	}
}
