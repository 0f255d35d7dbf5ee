package metrology_test

import (
	"fmt"
	"math"

	"lampswap/photometry/metrology"
)

// What a reading of 230 lx by a class A meter proves about a limit of 200 lx.
func Example() {
	meter, _ := metrology.ClassMeter("A")
	budget := append(meter.Budget(), metrology.Limit("position of the sensor", 0.02, "within 0.1 m, by the computed field"))
	d := metrology.Decide(230, budget.Standard()*230, math.Inf(1), 200, true, 0.95)
	fmt.Printf("standard uncertainty %.1f percent: %v, accepted from %.0f lx\n", 100*budget.Standard(), d.Outcome, d.AcceptanceLimit)
	// Output:
	// standard uncertainty 3.1 percent: met, accepted from 212 lx
}

// A class promises that the error as a whole stays within its total. Error by error it may be less, where the errors are known.
func ExampleClassErrors() {
	for _, class := range metrology.MeterClasses() {
		whole, _ := metrology.ClassMeter(class)
		parts := metrology.Meter{Class: class, Errors: metrology.ClassErrors(class)}
		fmt.Printf("%s: %.1f percent as a whole, %.1f percent error by error, not known: %v\n", class, 100*whole.Budget().Standard(), 100*parts.Budget().Standard(), parts.Unknown())
	}
	// Output:
	// L: 1.7 percent as a whole, 0.9 percent error by error, not known: [cosine]
	// A: 2.9 percent as a whole, 2.8 percent error by error, not known: []
	// B: 5.8 percent as a whole, 5.1 percent error by error, not known: []
	// C: 11.5 percent as a whole, 8.9 percent error by error, not known: []
}
