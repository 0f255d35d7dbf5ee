package survey_test

import (
	"fmt"
	"math"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/metrology"
	"lampswap/photometry/survey"
)

// From the plan of a room to what its readings prove.
func Example() {
	// 4 rows of 5 luminaires in a room of 50 by 24 m.
	plan, err := survey.NewPlan(survey.Lattice{Length: 50, Width: 24, WorkPlane: 0.76, Rows: 4, Columns: 5})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(plan.Arrangement, len(plan.Stations), "stations, the first", plan.Stations[0].Place)

	// The form comes back filled in.
	var file strings.Builder
	file.WriteString("station,reading_fc\n")
	shown := map[survey.Role]float64{survey.R: 22.4, survey.Q: 18.1, survey.T: 19.0, survey.P: 14.6}
	for _, s := range plan.Stations {
		fmt.Fprintf(&file, "%s,%v\n", s.Name, shown[s.Role])
	}
	readings, err := survey.Read("bay.csv", strings.NewReader(file.String()))
	if err != nil {
		fmt.Println(err)
		return
	}
	average, err := plan.Average(readings.Means())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("average %.2f fc\n", average.Value/photometry.Footcandle)

	// A class A meter, and the bound of the station method.
	meter, _ := metrology.ClassMeter("A")
	budget := append(meter.Budget(), survey.StationMethod())
	d := metrology.Decide(average.Value, budget.Standard()*average.Value, math.Inf(1), 20*photometry.Footcandle, true, 0.95)
	fmt.Printf("at least 20 fc: %v, probability %.2f, accepted from %.1f fc\n", d.Outcome, d.Probability, d.AcceptanceLimit/photometry.Footcandle)
	// Output:
	// two or more rows of single luminaires 18 stations, the first under a luminaire
	// average 20.64 fc
	// at least 20 fc: not proven, probability 0.68, accepted from 22.2 fc
}
