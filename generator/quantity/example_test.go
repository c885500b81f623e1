package quantity_test

import (
	"fmt"

	"asleft/generator/quantity"
)

func ExampleJudge() {
	value, _ := quantity.Parse("0.011 in")
	gauge, _ := quantity.ParseGauge("0.001 in")
	for _, text := range []string{"<= 0.3 mm", "<= 0.4 mm", "<= 0.2 mm"} {
		limit, _ := quantity.ParseLimit(text)
		verdict, _ := quantity.Judge(value, gauge, limit)
		fmt.Println(value, limit, verdict)
	}
	// Output:
	// 0.011 in <= 0.3 mm too close to call
	// 0.011 in <= 0.4 mm inside the limit
	// 0.011 in <= 0.2 mm outside the limit
}

func ExampleQuantity_In() {
	compression, _ := quantity.Parse("60 psi")
	metric, _ := compression.In(quantity.Kilopascal)
	fmt.Printf("%s (%s)\n", compression, metric)
	// Output: 60 psi (414 kPa)
}

func ExampleParse_mistake() {
	_, err := quantity.Parse("8.2 K")
	fmt.Println(err)
	// Output: read "8.2 K", expected a unit after the number; "K" alone says too little; write 8.2 kohm or 8.2 kelvin, whichever it was
}
