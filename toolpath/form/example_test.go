package form_test

import (
	"fmt"

	"stopshort/toolpath/form"
)

func ExampleRead() {
	table := &form.Table{
		Help: "A slot",
		Keys: []form.Key{
			{Name: "units", Kind: form.Word, Choices: []string{"mm", "in"}, Help: "of bare numbers"},
			{Name: "width", Kind: form.Size, Required: true, Above: "0 mm", Help: "as finished"},
			{Name: "spare", Kind: form.Length, Default: "1 mm", Help: "past each end"},
		},
	}
	n, err := form.Read("slot.toml", []byte(`width = "3/16 in"`), table)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(n.Figure("width").Source, int64(n.Length("width")))
	fmt.Println(n.Has("spare"), int64(n.Length("spare")))

	_, err = form.Read("slot.toml", []byte("widht = 3/16 in"), table)
	fmt.Println(err)
	_, err = form.Read("slot.toml", []byte("widht = 3\nspare = 1"), table)
	fmt.Println(err)
	// Output:
	// slot.toml:1: width 47625000
	// false 10000000
	// slot.toml:1: 3/16 in needs quotes: write widht = "3/16 in"
	// slot.toml:1: widht: unknown key "widht"; did you mean "width"?
	// slot.toml:2: spare: 1 has no unit: write 1 mm or 1 in, or give the file units = "mm" or "in"
}
