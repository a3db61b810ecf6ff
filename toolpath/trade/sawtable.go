package trade

import "stopshort/toolpath/form"

var sawTable = &form.Table{
	Help: "Slitting saws",
	Keys: []form.Key{
		{Name: "saw", Kind: form.Subs, Required: true, Help: "surface speeds", Table: &form.Table{
			Help: "A saw's surface speed", Keys: ofMaterial(
				form.Key{Name: "speed", Kind: form.Surface, Required: true, Above: "0 m/min", Help: "to start with"},
				form.Key{Name: "low", Kind: form.Surface, Required: true, Above: "0 m/min", Help: "the least that is printed"},
				form.Key{Name: "high", Kind: form.Surface, Required: true, Above: "0 m/min", Help: "the most that is printed"},
			)}},
		{Name: "tooth", Kind: form.Subs, Required: true, Help: "feed for one tooth", Table: &form.Table{
			Help: "A feed per tooth", Keys: rests(
				form.Key{Name: "feed", Kind: form.Length, Required: true, Above: "0 mm", Help: "to start with"},
				form.Key{Name: "low", Kind: form.Length, Required: true, Above: "0 mm", Help: "the least"},
				form.Key{Name: "high", Kind: form.Length, Required: true, Above: "0 mm", Help: "the most"},
			)}},
		{Name: "in_work", Kind: form.Subs, Required: true, Help: "teeth in the work", Table: &form.Table{
			Help: "A rule for teeth", Keys: rests(
				form.Key{Name: "teeth", Kind: form.Count, Required: true, Min: "1", Max: "100", Help: "at once"},
			)}},
		{Name: "kerf", Kind: form.Subs, Required: true, Help: "the slit's width", Table: &form.Table{
			Help: "How much wider than the saw", Keys: rests(
				form.Key{Name: "low", Kind: form.Length, Required: true, Min: "0 mm", Help: "at the least"},
				form.Key{Name: "high", Kind: form.Length, Required: true, Min: "0 mm", Help: "at the most"},
			)}},
	},
}
