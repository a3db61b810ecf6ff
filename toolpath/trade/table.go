package trade

import "stopshort/toolpath/form"

// rests are the keys that say what a row rests on.
func rests(keys ...form.Key) []form.Key {
	return append(keys,
		form.Key{Name: "basis", Kind: form.Word, Required: true, Help: "what the row's figure rests on",
			Choices: []string{string(Published), string(Chosen), string(Memory), string(CommonPractice)}},
		form.Key{Name: "source", Kind: form.Text, Required: true, Help: "titles of the sources, semicolons between them"},
		form.Key{Name: "note", Kind: form.Text, Help: "what else a reader ought to know"},
	)
}

// byDiameter are the keys of a figure that is a fraction of the diameter.
func byDiameter(help string) []form.Key {
	return rests(
		form.Key{Name: "material", Kind: form.Text, Required: true, Help: "the material's name"},
		form.Key{Name: "up_to", Kind: form.Length, Above: "0 mm", Says: "any diameter", Help: "the largest diameter it is for, included"},
		form.Key{Name: "under", Kind: form.Length, Above: "0 mm", Says: "any diameter", Help: "the diameter it is for all below of"},
		form.Key{Name: "fraction", Kind: form.Number, Required: true, Above: "0", Max: "1", Help: help},
	)
}

var cuttingTable = &form.Table{
	Help: "Cutting data",
	Keys: []form.Key{
		{Name: "material", Kind: form.Subs, Required: true, Help: "what is cut", Table: &form.Table{
			Help: "A material", Keys: rests(
				form.Key{Name: "name", Kind: form.Text, Required: true, Help: "its name"},
				form.Key{Name: "also", Kind: form.Text, Help: "its other names, commas between them"},
				form.Key{Name: "tough", Kind: form.Flag, Default: "false", Help: "whether it is hard on taps"},
			)}},
		{Name: "speed", Kind: form.Subs, Required: true, Help: "surface speeds", Table: &form.Table{
			Help: "A surface speed", Keys: rests(
				form.Key{Name: "material", Kind: form.Text, Required: true, Help: "the material's name"},
				form.Key{Name: "made_of", Kind: form.Word, Required: true, Choices: cutterStuffs, Help: "what the cutter is made of"},
				form.Key{Name: "speed", Kind: form.Surface, Required: true, Help: "to start with"},
				form.Key{Name: "low", Kind: form.Surface, Required: true, Help: "the least that the sources print"},
				form.Key{Name: "high", Kind: form.Surface, Required: true, Help: "the most that the sources print"},
			)}},
		{Name: "tooth", Kind: form.Subs, Required: true, Help: "feeds per tooth", Table: &form.Table{
			Help: "A feed per tooth", Keys: byDiameter("of the diameter, for one tooth"),
		}},
		{Name: "step", Kind: form.Subs, Required: true, Help: "step-down in a full slot", Table: &form.Table{
			Help: "A step-down", Keys: byDiameter("of the diameter, for one pass"),
		}},
		{Name: "side", Kind: form.Subs, Required: true, Help: "side cuts", Table: &form.Table{
			Help: "A side cut", Keys: rests(
				form.Key{Name: "material", Kind: form.Text, Required: true, Help: "the material's name"},
				form.Key{Name: "wide", Kind: form.Number, Required: true, Above: "0", Max: "1", Help: "of the diameter, at most"},
				form.Key{Name: "deep", Kind: form.Number, Required: true, Above: "0", Max: "2", Help: "of the diameter"},
			)}},
		{Name: "stiffness", Kind: form.Subs, Required: true, Help: "stiffness of the machine", Table: &form.Table{
			Help: "A stiffness", Keys: rests(
				form.Key{Name: "machine", Kind: form.Word, Required: true, Choices: stiffnesses, Help: "how stiff it is"},
				form.Key{Name: "times", Kind: form.Number, Required: true, Min: "1", Max: "10", Help: "what step and side cut are multiplied by"},
			)}},
		{Name: "bite", Kind: form.Subs, Required: true, Help: "what a tooth may take", Table: &form.Table{
			Help: "A rule for bites", Keys: rests(
				form.Key{Name: "least", Kind: form.Number, Required: true, Above: "0", Max: "1", Help: "of the feed per tooth"},
				form.Key{Name: "most", Kind: form.Number, Required: true, Min: "1", Max: "10", Help: "of the feed per tooth"},
			)}},
		{Name: "arc", Kind: form.Subs, Required: true, Help: "feed round an arc", Table: &form.Table{
			Help: "A rule for arcs", Keys: rests(
				form.Key{Name: "least", Kind: form.Number, Required: true, Above: "0", Max: "1", Help: "of the straight feed"},
				form.Key{Name: "most", Kind: form.Number, Required: true, Min: "1", Max: "10", Help: "of the straight feed"},
			)}},
		{Name: "plunge", Kind: form.Subs, Required: true, Help: "straight down into metal", Table: &form.Table{
			Help: "A plunge rule", Keys: rests(
				form.Key{Name: "share", Kind: form.Number, Required: true, Above: "0", Max: "1", Help: "of the side feed"},
			)}},
	},
}

// stiffnesses are those that a machine file may say.
var stiffnesses = []string{"light", "medium", "rigid"}

var cutterStuffs = []string{"HSS", "carbide"}
