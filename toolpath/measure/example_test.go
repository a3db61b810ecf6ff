package measure_test

import (
	"fmt"

	"stopshort/toolpath/measure"
)

// A depth is worked out in whole tenths of a nanometre and told in both units.
func Example() {
	pad, _ := measure.ParseLength("16.5 mm", measure.NoUnit)
	bore, _ := measure.ParseSize("3/4 in", measure.NoUnit)
	leave, _ := measure.ParseLength("40 thou", measure.NoUnit)
	depth := pad - bore.Half(measure.Floor) - leave
	fmt.Println(depth.Both())

	_, err := measure.ParseLength("1,250", measure.MM)
	fmt.Println(err)
	_, err = measure.ParseLength("12", measure.NoUnit)
	fmt.Println(err)
	// Output:
	// 5.959 mm (0.2346 in)
	// 1,250 has a comma: write 1.25 or 1250
	// 12 has no unit: write 12 mm or 12 in
}
