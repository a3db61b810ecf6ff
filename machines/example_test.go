package machines_test

import (
	"fmt"

	"stopshort/machines"
	"stopshort/toolpath/measure"
)

// The depth of the demo part's slot on the leadscrew wheel of a lathe: rounded
// down, so that the slot is shallower and never deeper.
func ExampleAxis_Dial() {
	m, err := machines.Find("lathe-slide-inch")
	if err != nil {
		fmt.Println(err)
		return
	}
	depth, err := measure.ParseLength("5.959 mm", measure.NoUnit)
	if err != nil {
		fmt.Println(err)
		return
	}
	r := m.Axes[2].Dial(depth, measure.Floor)
	fmt.Println(r.Text(), "is", r.At)
	// Output: 1 turn + 109 is 5.9436 mm
}
