package form

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestReference(t *testing.T) {
	sides := &Table{Help: "One side", Keys: []Key{
		{Name: "leave", Kind: Length, Required: true, Above: "0 mm", Help: "what is left"},
	}}
	root := &Table{Help: "One job", Keys: []Key{
		{Name: "units", Kind: Word, Choices: []string{"mm", "in"}, Help: "of bare | numbers"},
		{Name: "low", Kind: Lengths, Len: 3, Required: true, Help: "least corner"},
		{Name: "speeds", Kind: Speeds, Says: "any", Help: "of the spindle"},
		{Name: "flag", Kind: Flag, Default: "true", Help: "or not"},
		{Name: "cut", Kind: Subs, Help: "the cuts", Table: &Table{
			Help: "One cut",
			Keys: []Key{
				{Name: "recipe", Kind: Word, Required: true, Help: "what sort"},
				{Name: "tool", Kind: Count, Min: "1", Max: "99", Default: "1", Help: "its number"},
			},
			By: "recipe", Variants: map[string]*Table{
				"slot": {Help: "A slot", Keys: []Key{{Name: "ends", Kind: Word, Choices: []string{"open", "closed"}, Default: "open", Help: "of it"},
					{Name: "under", Kind: Sub, Table: sides, Help: "below"}}},
				"face": {Help: "A face", Keys: []Key{{Name: "over", Kind: Size, Min: "0 mm", Says: "half the cutter", Help: "past the edge"},
					{Name: "beside", Kind: Sub, Table: sides, Help: "to the side"}}},
				"drop": {Help: "Nothing more"},
			},
		}},
	}}
	const want = `### top of the file

One job.

| key | takes | default | meaning |
| --- | --- | --- | --- |
| ` + "`units`" + ` | "mm" or "in" | none | of bare \| numbers |
| ` + "`low`" + ` | list of 3 lengths | required | least corner |
| ` + "`speeds`" + ` | list of speeds | any | of the spindle |
| ` + "`flag`" + ` | true or false | true | or not |
| ` + "`cut`" + ` | list of tables | none | the cuts |

### ` + "`[[cut]]`" + `

One cut.

| key | takes | default | meaning |
| --- | --- | --- | --- |
| ` + "`recipe`" + ` | "drop", "face" or "slot" | required | what sort |
| ` + "`tool`" + ` | whole number, 1 to 99 | 1 | its number |

### ` + "`[[cut]] recipe = \"drop\"`" + `

Nothing more.

No keys of its own.

### ` + "`[[cut]] recipe = \"face\"`" + `

A face.

| key | takes | default | meaning |
| --- | --- | --- | --- |
| ` + "`over`" + ` | length, 0 mm or more | half the cutter | past the edge |
| ` + "`beside`" + ` | table | none | to the side |

### ` + "`[cut.beside] recipe = \"face\"`" + `

One side.

| key | takes | default | meaning |
| --- | --- | --- | --- |
| ` + "`leave`" + ` | length, more than 0 mm | required | what is left |

### ` + "`[[cut]] recipe = \"slot\"`" + `

A slot.

| key | takes | default | meaning |
| --- | --- | --- | --- |
| ` + "`ends`" + ` | "open" or "closed" | "open" | of it |
| ` + "`under`" + ` | table | none | below |

### ` + "`[cut.under] recipe = \"slot\"`" + `

As under ` + "`[cut.beside] recipe = \"face\"`" + `.
`
	for range 20 { // the variants are a map
		if d := cmp.Diff(want, Reference(root)); d != "" {
			t.Fatal(d)
		}
	}
}
