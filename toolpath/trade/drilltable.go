package trade

import "stopshort/toolpath/form"

func ofMaterial(keys ...form.Key) []form.Key {
	return rests(append([]form.Key{
		{Name: "material", Kind: form.Text, Required: true, Help: "the material's name, as in cutting.toml"},
	}, keys...)...)
}

// diameters is a key that counts diameters.
func diameters(name, help string) form.Key {
	return form.Key{Name: name, Kind: form.Number, Required: true, Above: "0", Max: "100", Help: help + ", in diameters"}
}

// pitches is a key that counts pitches.
func pitches(name, help string) form.Key {
	return form.Key{Name: name, Kind: form.Number, Required: true, Above: "0", Max: "100", Help: help + ", in pitches"}
}

var drillTable = &form.Table{
	Help: "Drilling",
	Keys: []form.Key{
		{Name: "point", Kind: form.Subs, Required: true, Help: "points of drills", Table: &form.Table{
			Help: "A point", Keys: rests(
				form.Key{Name: "kind", Kind: form.Text, Required: true, Help: "the kind of tool"},
				form.Key{Name: "included", Kind: form.Angle, Required: true, Above: "0 deg", Max: "180 deg", Help: "its included angle"},
			)}},
		{Name: "feed", Kind: form.Subs, Required: true, Help: "feeds a turn", Table: &form.Table{
			Help: "A feed a turn", Keys: byDiameter("of the diameter, for one turn"),
		}},
		{Name: "band", Kind: form.Subs, Required: true, Help: "feeds a turn that are printed", Table: &form.Table{
			Help: "A printed feed", Keys: rests(
				form.Key{Name: "under", Kind: form.Length, Required: true, Above: "0 mm", Help: "for drills under this"},
				form.Key{Name: "low", Kind: form.Length, Required: true, Above: "0 mm", Help: "the least that is printed"},
				form.Key{Name: "high", Kind: form.Length, Required: true, Above: "0 mm", Help: "the most that is printed"},
			)}},
		{Name: "surface", Kind: form.Subs, Required: true, Help: "surface speeds that are printed", Table: &form.Table{
			Help: "A printed surface speed", Keys: ofMaterial(
				form.Key{Name: "low", Kind: form.Surface, Required: true, Above: "0 m/min", Help: "the least that is printed"},
				form.Key{Name: "high", Kind: form.Surface, Required: true, Above: "0 m/min", Help: "the most that is printed"},
			)}},
		{Name: "peck", Kind: form.Subs, Required: true, Help: "pecks", Table: &form.Table{
			Help: "A rule for pecks", Keys: ofMaterial(
				form.Key{Name: "none_to", Kind: form.Number, Required: true, Min: "1", Max: "100", Help: "the deepest hole without pecks, in diameters"},
				diameters("first", "the first peck"),
				diameters("then", "the next ones"),
				diameters("then_to", "how deep the next ones go"),
				form.Key{Name: "last", Kind: form.Number, Required: true, Min: "1/20", Max: "100", Help: "the ones below that, in diameters"},
			)}},
		{Name: "re_entry", Kind: form.Subs, Required: true, Help: "after a peck", Table: &form.Table{
			Help: "A rule for coming back", Keys: rests(
				form.Key{Name: "gap", Kind: form.Length, Required: true, Above: "0 mm", Max: "5 mm", Help: "above the last depth"},
			)}},
		{Name: "engagement", Kind: form.Subs, Required: true, Help: "thread engagement", Table: &form.Table{
			Help: "An engagement", Keys: ofMaterial(
				form.Key{Name: "of_major", Kind: form.Number, Required: true, Above: "0", Max: "10", Help: "of the major diameter"},
			)}},
		{Name: "run_out", Kind: form.Subs, Required: true, Help: "threads that a tap cuts short", Table: &form.Table{
			Help: "A run-out", Keys: rests(
				form.Key{Name: "tap", Kind: form.Text, Required: true, Help: "the kind of tap"},
				pitches("least", "the least"),
				pitches("usual", "what is left as a rule"),
			)}},
		{Name: "edge", Kind: form.Subs, Required: true, Help: "from a hole to the edge", Table: &form.Table{
			Help: "A rule for edges", Keys: rests(
				diameters("warn", "under this it is told"),
				diameters("stop", "under this it is refused"),
			)}},
		{Name: "tapped_edge", Kind: form.Subs, Required: true, Help: "from a tapped hole to the edge", Table: &form.Table{
			Help: "A rule for tapped holes", Keys: rests(pitches("pitches", "beside half the major diameter")),
		}},
		{Name: "break_through", Kind: form.Subs, Required: true, Help: "beyond the far face", Table: &form.Table{
			Help: "A rule for through holes", Keys: rests(
				form.Key{Name: "least", Kind: form.Length, Required: true, Above: "0 mm", Help: "how far beyond at least"},
				form.Key{Name: "of_drill", Kind: form.Number, Required: true, Above: "0", Max: "10", Help: "and of the drill's diameter"},
			)}},
	},
}
