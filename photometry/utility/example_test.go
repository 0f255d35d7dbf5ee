package utility_test

import (
	"fmt"

	"lampswap/photometry/utility"
)

// What 13,248 kWh saved a year are worth in Arizona, in money and in CO2.
func Example() {
	const saved = 13248.0 // kWh a year
	arizona, _ := utility.FindState("Arizona")
	fmt.Printf("%.0f dollars at the average price of %d\n", saved*arizona.PricePerKWh(), arizona.Year)
	for _, rate := range utility.RatesFor(arizona.Code, utility.NonBaseload) {
		fmt.Printf("%.0f kg of CO2 (%s)\n", saved*rate.KgPerKWh, rate.Label())
	}
	// Output:
	// 1562 dollars at the average price of 2023
	// 7242 kg of CO2 (eGRID subregion AZNM, non-baseload, 2022: 1205.2 lb/MWh)
}
