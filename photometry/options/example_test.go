package options_test

import (
	"context"
	"fmt"

	"lampswap/photometry/job"
	"lampswap/photometry/options"
	"lampswap/photometry/wording"
)

// What four-foot T8 lamps, four in a fixture, would do in place of two eight-foot T12 lamps.
func Example() {
	const text = `units = "metric"
[room]
length = 24.0
width = 12.0
height = 5.0
[layout]
mounting_height = 4.5
rows = 3
columns = 8
[existing]
fixture = "strip-4in"
lamp = "F96T12"
lamps = 2
ballast = "magnetic"
[proposed]
fixture = "strip-4in"
lamp = "F32T8/800"
lamps = 4
ballast = "is-normal"
[calculation]
spacing = 2.0
interreflection = false
[[criteria]]
name = "lease"
at_least = 200.0
`
	j, err := job.Read("bay.toml", []byte(text), nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	found, err := options.Find(context.Background(), j, options.Narrow{Lamps: []string{"F32T8"}, Counts: []int{4}}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(wording.Options(found)[0])
	for _, o := range found.List {
		if o.Front {
			fmt.Printf("%s: %.2f kW, %s\n", wording.Option(&o), o.KW, j.Light(o.Average()))
		}
	}
	// Output:
	// Least energy that meets every criterion: 4 x F32T8/HL on premium-low (96 W a luminaire, 2.30 kW in all), 211 lx maintained, 8 percent less than the existing 231 lx. Mind note w.
	// 4 x F32T8/HL on premium-low: 2.30 kW, 211 lx
	// 4 x F32T8/HL on is-low: 2.35 kW, 214 lx
	// 4 x F32T8/HL on premium-normal: 2.59 kW, 238 lx
	// 4 x F32T8/HL on is-normal: 2.69 kW, 241 lx
	// 4 x F32T8/HL on premium-high: 3.50 kW, 323 lx
}
