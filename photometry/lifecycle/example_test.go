package lifecycle_test

import (
	"fmt"

	"lampswap/photometry/lifecycle"
)

// 72 two-lamp strips of 158 W become 112 W ones, 4,000 hours a year at 0.11 a kWh and 9.00 a month for each kW of demand.
func Example() {
	keep := lifecycle.Plan{Name: "leave as is", EnergyPerYear: 72 * 0.158 * (4000*0.11 + 12*9)}
	swap := lifecycle.Plan{Name: "convert in place", Investment: 21000 - 4000, EnergyPerYear: 72 * 0.112 * (4000*0.11 + 12*9)}
	m := lifecycle.Compare(keep, swap, lifecycle.Terms{Years: 15, DiscountRate: 0.03})
	fmt.Printf("net savings %.0f, savings-to-investment %.2f, return %.1f %% a year, paid back after %.1f years\n",
		m.NetSavings, m.SIR, 100*m.AIRR, m.SimplePaybackYears)
	// Output: net savings 4667, savings-to-investment 1.27, return 4.7 % a year, paid back after 9.4 years
}
