package trade

import "stopshort/toolpath/form"

// The sorts of stock drills.
const (
	NumberDrill   = "number"
	LetterDrill   = "letter"
	FractionDrill = "fraction"
	MetricDrill   = "metric"
)

var stockTable = &form.Table{
	Help: "Stock drills",
	Keys: []form.Key{
		{Name: "steps", Kind: form.Subs, Required: true, Help: "sizes by a rule", Table: &form.Table{
			Help: "Sizes by a rule", Keys: rests(
				form.Key{Name: "sort", Kind: form.Word, Required: true, Choices: []string{FractionDrill, MetricDrill}, Help: "the sort of drill"},
				form.Key{Name: "from", Kind: form.Size, Required: true, Above: "0 mm", Help: "the smallest"},
				form.Key{Name: "to", Kind: form.Size, Required: true, Above: "0 mm", Max: "100 mm", Help: "the largest"},
				form.Key{Name: "step", Kind: form.Size, Required: true, Min: "0.01 mm", Help: "from one to the next"},
			)}},
		{Name: "drill", Kind: form.Subs, Required: true, Help: "sizes with a name", Table: &form.Table{
			Help: "A size with a name", Keys: rests(
				form.Key{Name: "sort", Kind: form.Word, Required: true, Choices: []string{NumberDrill, LetterDrill}, Help: "the sort of drill"},
				form.Key{Name: "name", Kind: form.Text, Required: true, Help: "its name: #29, F"},
				form.Key{Name: "diameter", Kind: form.Size, Required: true, Above: "0 mm", Help: "its diameter"},
			)}},
	},
}
