package uncertainty_test

import (
	"context"
	"fmt"

	"lampswap/photometry/job"
	"lampswap/photometry/study"
	"lampswap/photometry/uncertainty"
	"lampswap/photometry/wording"
)

// How sure it is that the light after a swap meets a level, and what makes it unsure.
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
ballast = "is-low"
[calculation]
spacing = 1.0
interreflection = false
[uncertainty]
samples = 2000
[[criteria]]
name = "lease"
at_least = 200.0
`
	j, err := job.Read("bay.toml", []byte(text), nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := study.Run(context.Background(), j, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	u, err := uncertainty.Run(context.Background(), j, r.Sides, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	after := u.Sides[1]
	fmt.Printf("predicted %s, between %s and %s\n", j.Light(after.Average.Predicted), j.Light(after.Average.Low), j.Light(after.Average.High))
	fmt.Println("met with a probability of", wording.Probability(after.AllMet))
	fmt.Println("what matters most:", u.Inputs[0].Name())
	// Output:
	// predicted 202 lx, between 173 lx and 227 lx
	// met with a probability of 44 percent
	// what matters most: photometry
}
