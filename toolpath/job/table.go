package job

import (
	"golang.org/x/exp/slices"

	"stopshort/toolpath"
	"stopshort/toolpath/form"
)

// Table is the key table of a job file, with each recipe's own keys under the
// recipe's name.
func Table(recipes map[string]*form.Table) *form.Table {
	var names []string
	for name := range recipes {
		names = append(names, name)
	}
	slices.Sort(names)
	return &form.Table{
		Help: "One job is one part",
		Keys: []form.Key{
			{Name: "title", Kind: form.Text, Says: "the file's name", Help: "what the part is called"},
			{Name: "units", Kind: form.Word, Choices: []string{"mm", "in"}, Help: "the unit of bare numbers; without it a bare number is an error"},
			{Name: "material", Kind: form.Text, Required: true, Help: "what the stock is made of; speeds, feeds and steps follow it"},
			{Name: "machine", Kind: form.Text, Says: "the call's --machine, which overrides it", Help: "a built-in machine's name, or a machine file named from the job's folder"},
			{Name: "stock", Kind: form.Sub, Required: true, Table: stockTable, Help: "what the part is cut from, in the part's frame"},
			{Name: "bore", Kind: form.Subs, Table: boreTable, Help: "holes that are there or will be: no cut may come too near"},
			{Name: "tool", Kind: form.Subs, Required: true, Table: toolTable, Help: "the cutters, as they are held"},
			{Name: "setup", Kind: form.Subs, Required: true, Table: setupTable(names, recipes), Help: "the ways of holding the part, in order"},
			{Name: "accept", Kind: form.Subs, Table: acceptTable, Help: "warnings and worst cases that are taken on"},
		},
	}
}

var pieceKeys = []form.Key{
	{Name: "low", Kind: form.Lengths, Len: 3, Help: "least corner of a box: x, y, z"},
	{Name: "size", Kind: form.Lengths, Len: 3, Help: "size of a box along x, y, z"},
	{Name: "diameter", Kind: form.Size, Above: "0 mm", Help: "of a round bar"},
	{Name: "along", Kind: form.Word, Choices: []string{"x", "y", "z"}, Default: "z", Help: "the axis a round bar lies along"},
	{Name: "at", Kind: form.Lengths, Len: 2, Says: "0, 0", Help: "the round bar's axis: the other two coordinates"},
	{Name: "ends", Kind: form.Lengths, Len: 2, Help: "the round bar's ends along its axis, the lower first"},
}

var pieceTable = &form.Table{
	Help: "A piece of the stock, a box or a round bar, in the part's frame",
	Keys: pieceKeys,
}

var stockTable = &form.Table{
	Help: "The stock, a box or a round bar or some of them together, in the part's frame",
	Keys: append(pieceKeys[:len(pieceKeys):len(pieceKeys)],
		form.Key{Name: "pieces", Kind: form.Subs, Table: pieceTable, Help: "the boxes and round bars that a blank is made of together, where its outline is there already"}),
}

var boreTable = &form.Table{
	Help: "A bore, in the part's frame, as finished",
	Keys: []form.Key{
		{Name: "name", Kind: form.Text, Required: true, Help: "what cuts call it by"},
		{Name: "diameter", Kind: form.Size, Required: true, Above: "0 mm", Help: "as finished"},
		{Name: "along", Kind: form.Word, Choices: []string{"x", "y", "z"}, Required: true, Help: "the axis it runs along, or leans from"},
		{Name: "at", Kind: form.Lengths, Required: true, Help: "where its axis is: the two other coordinates; at an angle a point of the axis, x, y, z"},
		{Name: "ends", Kind: form.Lengths, Len: 2, Says: "through the stock", Help: "of a blind bore: both ends along its axis, the lower first; at an angle measured from the point"},
		{Name: "angle", Kind: form.Angle, Help: "how far it leans from its axis"},
		{Name: "towards", Kind: form.Word, Choices: directions, Help: "the way it leans"},
		{Name: "place_within", Kind: form.Length, Min: "0 mm", Says: "the machine's figure", Help: "how far its place may be out, each way"},
		{Name: "diameter_within", Kind: form.Length, Min: "0 mm", Says: "the machine's figure", Help: "how far its wall may be out, each way"},
	},
}

var toolTable = &form.Table{
	Help: "A cutter, as it is held; sizes are diameters, lengths are from the tip",
	Keys: []form.Key{
		{Name: "number", Kind: form.Count, Required: true, Min: "1", Max: "99", Help: "what cuts call it by"},
		{Name: "kind", Kind: form.Word, Required: true, Choices: []string{string(toolpath.SlotDrill), string(toolpath.EndMill), string(toolpath.SpotDrill), string(toolpath.Drill)}, Help: "a slot drill cuts to its centre, an end mill only where centre_cutting says so"},
		{Name: "tip", Kind: form.Angle, Says: "118 deg of a drill, 90 deg of a spot drill", Help: "included angle of a drill's point"},
		{Name: "diameter", Kind: form.Size, Required: true, Above: "0 mm", Max: "100 mm", Help: "as marked"},
		{Name: "measured", Kind: form.Size, Above: "0 mm", Says: "the diameter", Help: "as measured; the path is worked out for it"},
		{Name: "flutes", Kind: form.Count, Default: "2", Min: "1", Max: "20", Help: "cutting edges"},
		{Name: "made_of", Kind: form.Word, Choices: []string{"HSS", "carbide"}, Default: "HSS", Help: "high-speed steel or carbide"},
		{Name: "flute_length", Kind: form.Length, Required: true, Above: "0 mm", Help: "how far up the teeth reach"},
		{Name: "stick_out", Kind: form.Length, Required: true, Above: "0 mm", Help: "from the holder's nose to the tip"},
		{Name: "shank", Kind: form.Size, Above: "0 mm", Says: "the diameter", Help: "diameter above the teeth"},
		{Name: "holder", Kind: form.Size, Default: "40 mm", Above: "0 mm", Help: "diameter of the holder's nose"},
		{Name: "holder_length", Kind: form.Length, Default: "60 mm", Above: "0 mm", Help: "how far up the holder is that wide"},
		{Name: "centre_cutting", Kind: form.Flag, Says: "by kind", Help: "whether it may be fed straight down into metal"},
	},
}

var acceptTable = &form.Table{
	Help: "A warning or a worst case that the job takes on, by the limit's name",
	Keys: []form.Key{
		{Name: "limit", Kind: form.Text, Required: true, Help: "the limit's name as check prints it"},
		{Name: "reason", Kind: form.Text, Required: true, Help: "why; it stands on every output"},
	},
}

func setupTable(names []string, recipes map[string]*form.Table) *form.Table {
	return &form.Table{
		Help: "One way of holding the part. Lengths under it are in its own frame: X right, Y away from the operator, Z up, from its zero",
		Keys: []form.Key{
			{Name: "name", Kind: form.Text, Says: "its number", Help: "what it is called"},
			{Name: "up", Kind: form.Word, Choices: directions, Default: "+z", Help: "which way of the part points up"},
			{Name: "right", Kind: form.Word, Choices: directions, Default: "+x", Help: "which way of the part points to the right"},
			{Name: "zero", Kind: form.Lengths, Len: 3, Required: true, Help: "the set-up's zero, in the part's frame: x, y, z"},
			{Name: "touch_at", Kind: form.Lengths, Len: 2, Required: true, Help: "where to touch off Z: X, Y, on metal that the set-up does not cut away"},
			{Name: "clearance", Kind: form.Length, Says: "5 mm above the highest thing, rounded up to half a millimetre", Help: "the height at which the cutter may cross"},
			{Name: "jaws", Kind: form.Sub, Table: jawsTable, Help: "a vice's jaws"},
			{Name: "packing", Kind: form.Sub, Table: packingTable, Help: "what the part stands on"},
			{Name: "clamp", Kind: form.Subs, Table: clampTable, Help: "clamps, each as a box"},
			{Name: "stud", Kind: form.Subs, Table: studTable, Help: "studs, each with its nut and perhaps a washer"},
			{Name: "covered", Kind: form.Subs, Table: coveredTable, Help: "areas that another part will cover: a hole there is warned of"},
			{Name: "room", Kind: form.Sub, Table: roomTable, Help: "how far each slide can go from the zero"},
			{Name: "cut", Kind: form.Subs, Required: true, Help: "the cuts, in order", Table: &form.Table{
				Help: "One cut: a recipe with its figures",
				Keys: []form.Key{
					{Name: "recipe", Kind: form.Word, Required: true, Choices: names, Help: "what sort of cut"},
					{Name: "name", Kind: form.Text, Says: "the recipe and its place", Help: "what it is called"},
					{Name: "depth_by", Kind: form.Word, Choices: []string{"head", "knee", "quill", "saddle"}, Says: "the machine's mill_by or drill_by", Help: "which wheel sets Z, on a machine that has two"},
				},
				By: "recipe", Variants: recipes,
			}},
		},
	}
}

var jawsTable = &form.Table{
	Help: "A vice's jaws, against the stock on both sides",
	Keys: []form.Key{
		{Name: "along", Kind: form.Word, Required: true, Choices: []string{"x", "y"}, Help: "the direction of the squeeze"},
		{Name: "top", Kind: form.Length, Required: true, Help: "height of their tops"},
	},
}

var packingTable = &form.Table{
	Help: "What the part stands on",
	Keys: []form.Key{
		{Name: "top", Kind: form.Length, Required: true, Help: "height of its top"},
		{Name: "may_cut", Kind: form.Length, Min: "0 mm", Default: "0 mm", Help: "how far a cutter may go into it"},
	},
}

var clampTable = &form.Table{
	Help: "A clamp, as the box it fills",
	Keys: []form.Key{
		{Name: "name", Kind: form.Text, Says: "its number", Help: "what it is called"},
		{Name: "low", Kind: form.Lengths, Len: 3, Required: true, Help: "least corner"},
		{Name: "size", Kind: form.Lengths, Len: 3, Required: true, Help: "size along X, Y, Z"},
	},
}

var studTable = &form.Table{
	Help: "A stud through the part, standing on the stock's top",
	Keys: []form.Key{
		{Name: "at", Kind: form.Lengths, Len: 2, Required: true, Help: "where it stands: X, Y"},
		{Name: "nut", Kind: form.Size, Required: true, Above: "0 mm", Help: "the nut across its corners"},
		{Name: "top", Kind: form.Length, Required: true, Help: "height of the top of nut and stud, whichever is higher"},
		{Name: "washer", Kind: form.Size, Above: "0 mm", Help: "the washer's diameter"},
		{Name: "washer_top", Kind: form.Length, Help: "height of the washer's top"},
	},
}

var coveredTable = &form.Table{
	Help: "An area that another part will cover, seen from above",
	Keys: []form.Key{
		{Name: "low", Kind: form.Lengths, Len: 2, Required: true, Help: "its least corner: X, Y"},
		{Name: "size", Kind: form.Lengths, Len: 2, Required: true, Help: "its size along X and Y"},
	},
}

var roomTable = &form.Table{
	Help: "How far each slide can go from the set-up's zero; what is not said is not checked but against the machine's whole travel",
	Keys: []form.Key{
		{Name: "left", Kind: form.Length, Min: "0 mm", Help: "the cutter to the left"},
		{Name: "right", Kind: form.Length, Min: "0 mm", Help: "to the right"},
		{Name: "front", Kind: form.Length, Min: "0 mm", Help: "towards the operator"},
		{Name: "back", Kind: form.Length, Min: "0 mm", Help: "away from the operator"},
		{Name: "down", Kind: form.Length, Min: "0 mm", Help: "down"},
		{Name: "up", Kind: form.Length, Min: "0 mm", Help: "up: the headroom"},
	},
}
